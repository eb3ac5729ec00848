// Every kind from its own sample, and the straight length.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "fitting/helpers.hpp"

using namespace linerwright;

namespace {

// Indices that point nowhere, joints nobody uses, pieces that are never inserted.
void expect_whole(const Fitting& fitting) {
  const int walls = static_cast<int>(fitting.walls.size());
  const int joints = static_cast<int>(fitting.joints.size());
  std::vector<int> uses(fitting.joints.size(), 0);
  for (const Wall& wall : fitting.walls) {
    for (const JointUse& use : joints_of(wall)) {
      ASSERT_GE(use.joint, 0);
      ASSERT_LT(use.joint, joints);
      ++uses[static_cast<std::size_t>(use.joint)];
    }
  }
  for (std::size_t i = 0; i < uses.size(); ++i)
    EXPECT_EQ(uses[i],
              fitting.joints[i].open() || fitting.joints[i].on_duct || fitting.joints[i].is_centre() ? 1 : 2);
  std::set<std::string> ids;
  std::set<int> lined;
  for (const Piece& piece : fitting.pieces) {
    EXPECT_GE(piece.wall, 0);
    EXPECT_LT(piece.wall, walls);
    EXPECT_TRUE(ids.insert(piece.id).second) << piece.id;
    lined.insert(piece.wall);
    EXPECT_TRUE(piece.full_turn() || fitting.kind == "square_to_round");
    EXPECT_FALSE(piece.role.empty());
    EXPECT_FALSE(piece.seam_place.empty());
  }
  EXPECT_EQ(static_cast<int>(lined.size()), walls);
  for (const Piece& piece : fitting.pieces)
    for (const std::string& next : piece.next) EXPECT_EQ(ids.count(next), 1U) << next;
  std::vector<int> order = fitting.insertion;
  std::sort(order.begin(), order.end());
  ASSERT_EQ(order.size(), fitting.pieces.size());
  for (std::size_t i = 0; i < order.size(); ++i) EXPECT_EQ(order[i], static_cast<int>(i));
  EXPECT_FALSE(fitting.steps.empty());
  EXPECT_FALSE(fitting.passages.empty());
  for (const Passage& passage : fitting.passages) EXPECT_GE(passage.stations.size(), 2U);
}

}  // namespace

TEST(Kinds, every_sample_is_made_as_it_stands) {
  ASSERT_EQ(fitting_kinds().size(), 10U);
  for (const Kind& kind : fitting_kinds()) {
    SCOPED_TRACE(kind.schema.kind);
    const Job job = read_job_text(sample_job(job_schema(), kind.schema.kind), "sample.toml", job_schema());
    EXPECT_TRUE(job.problems.empty());
    ASSERT_EQ(job.fittings.size(), 1U);
    const Fitting fitting = make_fitting(job.fittings[0]);
    EXPECT_EQ(fitting.kind, kind.schema.kind);
    EXPECT_EQ(fitting.tag, job.fittings[0].tag);
    EXPECT_EQ(fitting.units, Units::inch);
    EXPECT_NEAR(fitting.liner.thickness, k_inch, 1e-12);  // the sample's 1in
    EXPECT_NEAR(fitting.liner.fit_allowance, 0.75 * k_inch, 1e-12);
    expect_whole(fitting);
  }
  const Job all = read_job_text(sample_job(job_schema(), ""), "sample.toml", job_schema());
  EXPECT_EQ(all.fittings.size(), fitting_kinds().size());
  for (const FittingRequest& request : all.fittings) expect_whole(make_fitting(request));
}

TEST(Kinds, an_unknown_kind_is_refused) {
  FittingRequest request =
      support::request_from("straight", {{"diameter", "300"}, {"length", "500"}, {"thickness", "25"}});
  request.kind = "hood";
  EXPECT_TRUE(has(refusal(request), "unknown kind of fitting")) << refusal(request);
}

TEST(Kinds, keys_say_what_they_are) {
  for (const KindSchema& kind : job_schema().kinds) {
    EXPECT_FALSE(kind.summary.empty());
    std::set<std::string> names;
    for (const std::vector<KeySpec>& keys : {kind.keys, job_schema().liner_keys})
      for (const KeySpec& key : keys) {
        EXPECT_TRUE(names.insert(key.name).second) << kind.kind << ' ' << key.name;
        EXPECT_FALSE(key.help.empty()) << key.name;
        if (key.min && key.max) {
          EXPECT_LT(*key.min, *key.max) << key.name;
        }
      }
  }
}

TEST(Kinds, liner_choices_arrive) {
  const Fitting fitting = fitting_from("straight", {{"diameter", "300"},
                                                    {"length", "500"},
                                                    {"thickness", "40"},
                                                    {"gauge", "1.2"},
                                                    {"fit_allowance", "12"},
                                                    {"end_allowance", "5"},
                                                    {"butt_allowance", "3"},
                                                    {"neutral_factor", "0.25"},
                                                    {"face_up", "air"},
                                                    {"cut", "tilt"},
                                                    {"joint", "over"},
                                                    {"stations", "16"},
                                                    {"pins_above", "1000"}});
  const LinerSpec& liner = fitting.liner;
  EXPECT_EQ(liner.thickness, 40);
  EXPECT_EQ(liner.gauge, 1.2);
  EXPECT_EQ(liner.fit_allowance, 12);
  EXPECT_EQ(liner.end_allowance, 5);
  EXPECT_EQ(liner.butt_allowance, 3);
  EXPECT_EQ(liner.reference_depth(), 10);
  EXPECT_EQ(liner.face_up, Face::air);
  EXPECT_EQ(liner.cut, CutPolicy::tilt);
  EXPECT_EQ(liner.joint, JointStyle::over);
  EXPECT_EQ(liner.stations, 16);
  EXPECT_EQ(liner.pins_above, 1000);
  // stretch-out on the fibre a quarter deep: 2 pi (R - k t); the allowance is taken off it
  EXPECT_NEAR(stretch_out(fitting, 0), k_two_pi * 140, 1e-10);
  EXPECT_NEAR(fit_scale(fitting, 0) * k_two_pi * 140, k_two_pi * 140 - 12, 1e-10);
}

TEST(Straight, is_a_cylinder) {
  // V = pi (R - w)^2 L, wall 2 pi (R - w) L; free area ((D - 2t)/D)^2.
  const Fitting fitting =
      fitting_from("straight", {{"diameter", "315"}, {"length", "1200"}, {"thickness", "25"}});
  for (const double w : {-0.8, 0.0, 10.0, 25.0}) {
    EXPECT_NEAR(shell_volume(fitting, w) / (k_pi * square(157.5 - w) * 1200), 1.0, 1e-10);
    EXPECT_NEAR(wall_area(fitting, 0, w) / (k_two_pi * (157.5 - w) * 1200), 1.0, 1e-12);
  }
  const Station& end = fitting.passages.at(0).stations.back();
  EXPECT_EQ(end.distance, 1200);
  EXPECT_EQ(end.lined_diameter, 265);
  EXPECT_NEAR(end.lined_area / (k_pi * square(157.5)), 0.707735, 5e-7);
  EXPECT_EQ(fitting.count, 1);
}

TEST(Straight, lined_free_areas_of_common_sizes) {
  // ((D - 2t)/D)^2: 12 in with 1 in 0.694444, 10 with 1 0.64, 24 with 1 0.840278, 24 with 2 0.694444; 200 mm
  // with 25 0.5625, 500 with 50 0.64, 160 with 13 0.701406.
  const double table[][3] = {{12 * k_inch, k_inch, 0.694444},
                             {10 * k_inch, k_inch, 0.640000},
                             {24 * k_inch, k_inch, 0.840278},
                             {24 * k_inch, 2 * k_inch, 0.694444},
                             {200, 25, 0.562500},
                             {500, 50, 0.640000},
                             {160, 13, 0.701406}};
  for (const auto& row : table) {
    const Fitting fitting =
        fitting_from("straight", {{"diameter", mm(row[0])}, {"length", "1000"}, {"thickness", mm(row[1])}});
    EXPECT_NEAR(fitting.passages[0].stations[0].lined_area / (k_pi / 4 * square(row[0])), row[2], 5e-7);
  }
}

TEST(Straight, fasteners_are_asked_for_over_60_inches_only) {
  // over 60 in: common practice, no source
  const Flags flags{{"length", "1000"}, {"thickness", "25"}};
  EXPECT_TRUE(fitting_from("straight", with(flags, {{"diameter", "60in"}})).warnings.empty());
  const Fitting large = fitting_from("straight", with(flags, {{"diameter", "60.1in"}}));
  ASSERT_EQ(large.warnings.size(), 1U);
  EXPECT_EQ(
      large.warnings[0],
      "over 1524 mm the liner needs mechanical fasteners: marks on the patterns show where (usual in the "
      "trade; your board maker's instructions decide)");
  EXPECT_TRUE(
      fitting_from("straight", with(flags, {{"diameter", "70in"}, {"pins_above", "80in"}})).warnings.empty());
}
