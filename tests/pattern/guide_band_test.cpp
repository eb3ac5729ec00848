// Guide bands: rolled around the liner their edges are the closed forms of mitres and saddles, and each is
// made once.
#include "linerwright/pattern/guide_band.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "linerwright/units/error.hpp"
#include "made.hpp"

namespace linerwright {
namespace {

using testing::fitting_of;
using testing::Flags;

const Flags k_elbow{{"diameter", "400mm"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25mm"}};
const Flags k_tee{{"diameter", "600mm"}, {"length", "1600mm"},       {"branch_diameter", "250mm"},
                  {"angle", "60"},       {"branch_length", "900mm"}, {"thickness", "25mm"}};

// A place of the flat band, bent around the liner: the girth of the sheet's middle, 2 pi (r + s/2), closes.
struct Bent {
  double theta, v;
};
Bent bent(const GuideBand& band, Vec2 flat) {
  const Vec2 at = flat - band.pattern.placement.shift;
  return {band.begins + at.x / (0.5 * band.outside + 0.5 * band.sheet), at.y};
}

// Corners of the edge that is cut along, and the middles between them.
template <class Each>
int along_edge(const GuideBand& band, double straight, Each&& each) {
  const Ring& ring = band.pattern.cut.outer;
  int count = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Bent a = bent(band, ring[i]);
    const Bent b = bent(band, ring[(i + 1) % ring.size()]);
    // not along the straight edge, nor at the lap's ends
    if (std::fabs(a.v - straight) < 1e-6 || std::fabs(b.v - straight) < 1e-6) continue;
    each(a);
    each(Bent{0.5 * (a.theta + b.theta), 0.5 * (a.v + b.v)});
    ++count;
  }
  return count;
}

double straight_edge(const GuideBand& band) {
  return -band.pattern.placement.shift.y + (band.uses.front().end == End::high ? 0.0 : band.pattern.board.y);
}

}  // namespace

// The plane of a mitre of angle a cuts a cylinder of radius r at r tan(a) cos(theta) beside its middle: the
// high end of the first piece lies R tan(a) - r tan(a) cos(theta) from where its axis begins.
TEST(GuideBands, RollToTheMitreOfAnElbow) {
  const std::vector<Fitting> fittings{fitting_of("elbow", k_elbow)};
  for (const double sheet : {0.5, 0.8, 2.0}) {
    const std::vector<GuideBand> bands = guide_bands(fittings, {sheet, 60.0, 40.0, 7.0});
    ASSERT_EQ(bands.size(), 1u);
    const GuideBand& band = bands.front();
    EXPECT_EQ(band.id, "mitre-400-11.25");
    EXPECT_EQ(band.uses.size(), 8u);  // both sides of four mitres
    const double a = k_pi / 16;
    double worst = 0.0;
    const int corners = along_edge(band, straight_edge(band), [&](const Bent& at) {
      worst = std::max(worst, std::fabs(at.v - (600 - 200 * std::cos(at.theta)) * std::tan(a)));
    });
    EXPECT_GT(corners, 40);
    EXPECT_LT(worst, k_chord_error);
    EXPECT_LT(edge_error(band, fittings), k_chord_error);
    // its girth is the sheet's own, outside the liner, and the lap
    const double girth = k_two_pi * (200 + 0.5 * sheet);
    EXPECT_NEAR(band.pattern.board.x, girth + 40, 1e-6);
    EXPECT_NEAR(band.pattern.board.y, 60 + 400 * std::tan(a), k_chord_error);
    // bolt on bolt, once around
    ASSERT_EQ(band.pattern.cut.holes.size(), 4u);
    for (const std::size_t i : {0u, 1u})
      EXPECT_NEAR(distance(band.pattern.cut.holes[i].front() + Vec2{girth, 0.0},
                           band.pattern.cut.holes[i + 2].front()),
                  0.0, 1e-9);
  }
}

// The clamp stands aside of throat and heel, where all seams lie; where seams are elsewhere it makes way.
TEST(GuideBands, AreClampedAwayFromEverySeam) {
  for (const char* seam : {"throat", "heel"}) {
    Flags flags = k_elbow;
    flags["seam"] = seam;
    const std::vector<GuideBand> bands = guide_bands({fitting_of("elbow", flags)}, {});
    for (const BandUse& use : bands.front().uses) EXPECT_NEAR(use.from_seam, 200 * k_pi / 2, 0.01);
  }
  for (const char* seam : {"0", "45", "90", "270"}) {
    Flags flags = k_tee;
    flags["branch_seam"] = seam;
    const std::vector<GuideBand> bands = guide_bands({fitting_of("tee", flags)}, {});
    ASSERT_EQ(bands.size(), 2u);  // and the body's hole
    EXPECT_GE(bands[0].uses.front().from_seam, 125 * k_pi / 2 - 0.01) << seam;
  }
}

// Coping: a line of the branch at theta from the side that faces the far end leaves the body of radius R at
// (sqrt(R^2 - r^2 sin^2 theta) + r cos theta cos b) / sin b from where the axes cross.
TEST(GuideBands, RollToTheSaddleOfABranch) {
  const std::vector<Fitting> fittings{fitting_of("tee", k_tee)};
  const GuideBand band = guide_bands(fittings, {}).front();
  EXPECT_EQ(band.id, "saddle-250-on-600-60");
  const double b = k_pi / 3;
  double worst = 0.0;
  along_edge(band, straight_edge(band), [&](const Bent& at) {
    const double y = 125 * std::sin(at.theta);
    const double s = (std::sqrt(300.0 * 300 - y * y) + 125 * std::cos(at.theta) * std::cos(b)) / std::sin(b);
    worst = std::max(worst, std::fabs(at.v - s));
  });
  EXPECT_LT(worst, k_chord_error);
  EXPECT_LT(edge_error(band, fittings), k_chord_error);
  // what is cut wrong is seen, however far off it is
  for (const double off : {0.2, 3.0, 30.0}) {
    GuideBand wrong = band;
    Vec2& corner = wrong.pattern.cut.outer[wrong.pattern.cut.outer.size() / 4];
    corner = corner + Vec2{0.0, -off};
    EXPECT_GT(edge_error(wrong, fittings), 0.5 * off) << off;
  }
}

// Bent around the body, the window lies on the branch: every place of it at the branch's radius from its
// axis, at the depth where the joint's style has the hole's edge on the liner's outer face.
TEST(GuideBands, RollToTheHoleOfABody) {
  for (const auto& [joint, radius] : {std::make_pair("mitre", 125.0), {"over", 100.0}, {"through", 125.0}}) {
    Flags flags = k_tee;
    flags["joint"] = joint;
    flags["offset"] = "60mm";
    const std::vector<Fitting> fittings{fitting_of("tee", flags)};
    const std::vector<GuideBand> bands = guide_bands(fittings, {1.0, 60.0, 40.0, 7.0});
    ASSERT_EQ(bands.size(), 2u);
    const GuideBand& band = bands[1];
    ASSERT_TRUE(band.uses.front().hole.has_value());
    ASSERT_EQ(band.pattern.cut.holes.size(), 5u);
    const Frame& branch =
        fittings[0].joints[static_cast<std::size_t>(fittings[0].walls[0].holes[0].joint)].lead.frame();
    double worst = 0.0;
    const Ring& window = band.pattern.cut.holes.front();
    EXPECT_GT(window.size(), 40u);
    for (std::size_t i = 0; i < window.size(); ++i)
      for (const double share : {0.0, 0.5}) {
        const Bent at = bent(band, window[i] + share * (window[(i + 1) % window.size()] - window[i]));
        const Vec3 p = fittings[0].walls[0].sheet.frame().point(
            {300.0 * std::cos(at.theta), 300.0 * std::sin(at.theta), at.v});
        const Vec3 local = branch.local_point(p);
        worst = std::max(worst, std::fabs(std::hypot(local.x, local.y) - radius));
      }
    EXPECT_LT(worst, k_chord_error) << joint;
    EXPECT_LT(edge_error(band, fittings), k_chord_error) << joint;
    EXPECT_NEAR(band.pattern.board.x, k_two_pi * 300.5 + 40.0, 1e-6);
    EXPECT_GT(band.uses.front().from_seam, 100.0) << joint;
    GuideBand wrong = band;
    Vec2& corner = wrong.pattern.cut.holes.front()[window.size() / 3];
    corner = corner + Vec2{0.0, 0.3};
    EXPECT_GT(edge_error(wrong, fittings), 0.1) << joint;
  }
  Flags equal = k_tee;
  equal["branch_diameter"] = "600mm";
  equal["angle"] = "90";
  // a hole half way around the body
  const std::vector<Fitting> fittings{fitting_of("tee", equal)};
  const std::vector<GuideBand> bands = guide_bands(fittings, {});
  ASSERT_EQ(bands.size(), 2u);
  EXPECT_LT(edge_error(bands[1], fittings), k_chord_error);
}

// A blade in the mitre's plane leans from square by atan(tan a cos theta), most at heel and throat.
TEST(GuideBands, SayHowTheBladeLeans) {
  const GuideBand band = guide_bands({fitting_of("elbow", k_elbow)}, {}).front();
  ASSERT_EQ(band.stations.size(), 12u);
  double most = 0.0;
  for (const BandStation& station : band.stations) {
    const double theta = band.begins + station.around;
    EXPECT_NEAR(station.lean, std::atan(std::tan(k_pi / 16) * std::cos(theta)), 1e-9);
    most = std::max(most, std::fabs(station.lean));
    EXPECT_NEAR(bent(band, station.at).theta, theta, 1e-9);
  }
  EXPECT_NEAR(most, k_pi / 16, 1e-3);
}

TEST(GuideBands, AreMadeOncePerSizeAndAngle) {
  Flags three = k_elbow;
  three["pieces"] = "3";
  three["angle"] = "45";  // mitred by 11.25 degrees as well
  Flags wider = k_elbow;
  wider["diameter"] = "450mm";
  Flags offset{
      {"diameter", "400mm"}, {"angle", "45"}, {"offset", "700mm"}, {"pieces", "3"}, {"thickness", "40mm"}};
  const std::vector<GuideBand> bands = guide_bands(
      {fitting_of("elbow", k_elbow), fitting_of("elbow", three), fitting_of("offset", offset),
       fitting_of("elbow", wider),
       fitting_of("straight", {{"diameter", "400mm"}, {"length", "900mm"}, {"thickness", "25mm"}})},
      {});
  ASSERT_EQ(bands.size(), 2u);
  EXPECT_EQ(bands[0].uses.size(), 8u + 4u + 8u);
  EXPECT_EQ(bands[1].id, "mitre-450-11.25");
  // branches beside the axis to one side and the other are each other's mirror image
  Flags left = k_tee;
  Flags right = k_tee;
  left["offset"] = "80mm";
  right["offset"] = "-80mm";
  const std::vector<GuideBand> saddles =
      guide_bands({fitting_of("tee", k_tee), fitting_of("tee", left), fitting_of("tee", right)}, {});
  ASSERT_EQ(saddles.size(), 4u);
  EXPECT_EQ(saddles[1].id, "saddle-250-on-600-60-2");
  EXPECT_EQ(saddles[1].uses.size(), 2u);
  EXPECT_EQ(saddles[2].id, "hole-250-in-600-60");
  EXPECT_EQ(saddles[3].id, "hole-250-in-600-60-2");
  EXPECT_EQ(saddles[3].uses.size(), 2u);
}

// Legs of a wye, straight and conical, end on several walls at once.
TEST(GuideBands, RollToTheCornersOfAWye) {
  for (const char* end : {"500mm", "350mm"}) {
    const std::vector<Fitting> fittings{fitting_of("wye", {{"diameter", "500mm"},
                                                           {"inlet_length", "400mm"},
                                                           {"leg_diameter", end},
                                                           {"leg_length", "800mm"},
                                                           {"angle", "30"},
                                                           {"thickness", "25mm"}})};
    const std::vector<GuideBand> bands = guide_bands(fittings, {});
    ASSERT_EQ(bands.size(), 2u) << end;  // the inlet's, and the legs' in common
    EXPECT_EQ(bands[1].uses.size(), 2u);
    for (const GuideBand& band : bands) EXPECT_LT(edge_error(band, fittings), k_chord_error) << band.id;
  }
}

TEST(GuideBands, ThatCannotBeAreRefused) {
  const std::vector<Fitting> small{
      fitting_of("elbow", {{"diameter", "100mm"}, {"angle", "90"}, {"pieces", "4"}, {"thickness", "10mm"}})};
  try {
    guide_bands(small, {0.8, 60.0, 120.0, 7.0});
    FAIL() << "a lap of more than a quarter of the girth";
  } catch (const InputError& error) {
    EXPECT_NE(one_line(error.problems().front()).find("more than a quarter"), std::string::npos);
  }
}

}  // namespace linerwright
