// Fittings to the edges of what the kinds allow: ducts of 30 to 5000 mm, thick board, tangent and conical
// branches, any number of notches, all allowances. What is accepted becomes a clean pattern.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "chance.hpp"
#include "linerwright/units/error.hpp"
#include "made.hpp"

namespace linerwright {
namespace {

using testing::cases;
using testing::Chance;
using testing::Flags;
using testing::mm;

void ask_elbow(Chance& chance, Flags& flags) {
  flags["angle"] = fixed(chance.between(1.0, 180.0), 3);
  flags["pieces"] = std::to_string(chance.whole(2, 12));
  flags["radius_ratio"] = fixed(chance.between(0.5, 4.0), 3);
  flags["collar"] = mm(chance.pick({0.0, chance.between(1.0, 150.0)}));
  flags["form"] = chance.pick({"gored", "smooth"});
  flags["seam"] = chance.pick({"throat", "heel"});
}

void ask_reducer(Chance& chance, Flags& flags, double d) {
  flags["to_diameter"] = mm(d * chance.pick({1.0, chance.between(0.2, 3.0), chance.between(0.97, 1.03)}));
  flags["length"] = mm(chance.between(0.05, 3.0) * d);
  flags["collar"] = mm(chance.pick({0.0, 20.0, 120.0}));
  flags["to_collar"] = mm(chance.pick({0.0, 20.0, 120.0}));
  if (chance.one_in(3))
    flags["flat"] = "true";
  else if (chance.one_in(2))
    flags["offset"] = mm(d * chance.between(0.0, 1.0) * chance.pick({0.1, 0.5, 1.0}));
  flags["flat_at"] = fixed(chance.between(0.0, 360.0), 2);
  if (!chance.one_in(2)) return;
  flags["pattern"] = "notched";
  flags["split"] = chance.pick({"none", "seam"});
  if (chance.one_in(2)) flags["notches"] = std::to_string(chance.pick({2, 3, 5, 8, 20, 60, 400}));
  if (chance.one_in(2)) flags["trim"] = mm(chance.pick({0.0, 1.0, 50.0}));
  if (chance.one_in(3)) flags["kerf_pitch"] = mm(chance.pick({1.0, 10.0, 50.0, 200.0}));
}

void ask_tee(Chance& chance, Flags& flags, double d) {
  const double degrees = chance.pick({chance.between(15.0, 165.0), 90.0, 45.0});
  const double angle = degrees * k_pi / 180.0;
  const double r = d * chance.pick({0.1, 0.3, 0.6, 0.9, 0.99, 0.9999, 0.999999, 1.0});
  const double reach = d / std::sin(angle) + r / std::tan(std::min(angle, k_pi - angle));
  flags["branch_diameter"] = mm(r);
  flags["angle"] = fixed(degrees, 3);
  flags["length"] = mm(2.0 * reach + 200.0);
  flags["branch_length"] = mm(1.2 * reach + 150.0);
  flags["offset"] = mm(0.5 * (d - r) * chance.pick({-1.0, -0.9999, -0.5, 0.0, 0.7, 1.0}));
  flags["joint"] = chance.pick({"mitre", "over", "through"});
  flags["around"] = fixed(chance.between(-180.0, 180.0), 1);
  if (chance.one_in(3)) flags["branch_seam"] = fixed(chance.between(0.0, 360.0), 1);
  if (chance.one_in(4)) flags["branch_base"] = mm(r * chance.between(1.0, 1.5));
}

std::pair<std::string, Flags> wide_fitting(Chance& chance) {
  const double d = chance.log_between(30.0, 5000.0);
  Flags flags{{"diameter", mm(d)}, {"thickness", mm(chance.between(1.0, std::min(100.0, 0.4 * d)))}};
  flags["face_up"] = chance.pick({"duct", "air"});
  flags["cut"] = chance.pick({"outer", "mid", "duct", "air", "tilt"});
  flags["fit_allowance"] = mm(chance.between(0.0, 0.05 * d));
  flags["stations"] = std::to_string(chance.pick({4, 7, 12, 16, 36, 120}));
  if (chance.one_in(3)) flags["neutral_factor"] = fixed(chance.between(0.0, 1.0), 3);
  if (chance.one_in(3)) flags["end_allowance"] = mm(chance.between(0.5, 100.0));
  if (chance.one_in(3)) flags["butt_allowance"] = mm(chance.between(0.5, 10.0));
  if (chance.one_in(3)) flags["pins_above"] = "0mm";
  const std::string kind = chance.pick({"straight", "elbow", "reducer", "reducer", "tee", "tee"});
  if (kind == "straight")
    flags["length"] = mm(chance.log_between(20.0, 10000.0));
  else if (kind == "elbow")
    ask_elbow(chance, flags);
  else if (kind == "reducer")
    ask_reducer(chance, flags, d);
  else
    ask_tee(chance, flags, d);
  return {kind, flags};
}

double distance_to_ring(Vec2 p, const Ring& ring) {
  double nearest = 1e300;
  for (std::size_t i = 0; i < ring.size(); ++i)
    nearest = std::min(nearest, distance_to_segment(p, ring[i], ring[(i + 1) % ring.size()]));
  return nearest;
}

void expect_clean(const Pattern& pattern) {
  EXPECT_EQ(testing::audited(pattern, Units::metric), "");
  ASSERT_EQ(pattern.marks.size(), pattern.mark_names.size());
  for (std::size_t i = 0; i < pattern.marks.size(); ++i) {
    EXPECT_GT(polyline_length(pattern.marks[i], false), 0.05) << pattern.mark_names[i];
    for (const Vec2 p : pattern.marks[i]) {
      // a pen beyond the cut would draw on the next piece of the board
      EXPECT_TRUE(point_in_polygon(p, pattern.cut.outer) ||
                  distance_to_ring(p, pattern.cut.outer) <= 2.0 * k_chord_error)
          << "mark '" << pattern.mark_names[i] << "' leaves the piece at " << p.x << ", " << p.y;
    }
  }
  for (const TiltRow& row : pattern.tilts) {
    EXPECT_TRUE(std::isfinite(row.heading));
    EXPECT_LT(std::fabs(row.tilt), 0.5 * k_pi);
  }
  EXPECT_GT(signed_area(pattern.cut.outer), 0.0);
  // a notched blank without collar falls into tabs once trimmed: each is an outline of its own
  std::vector<Ring> outlines{pattern.duct.outer, pattern.air.outer};
  for (const auto* rest : {&pattern.duct_rest, &pattern.air_rest})
    outlines.insert(outlines.end(), rest->begin(), rest->end());
  for (const Ring& outline : outlines) {
    EXPECT_GT(signed_area(outline), 0.0);
    EXPECT_FALSE(self_intersects(outline, true));
  }
}

class WidePatterns : public ::testing::TestWithParam<unsigned> {};

TEST_P(WidePatterns, AreCleanOrRefused) {
  Chance chance(GetParam());
  const int wanted = cases(150);
  int made = 0;
  for (int tried = 0; made < wanted && tried < 4 * wanted; ++tried) {
    const auto [kind, flags] = wide_fitting(chance);
    const std::string what = testing::shown(kind, flags);
    SCOPED_TRACE(what);
    Fitting fitting;
    try {
      fitting = testing::fitting_of(kind, flags);
    } catch (const InputError&) {
      continue;  // refused with a reason
    }
    std::vector<Pattern> patterns;
    ASSERT_NO_THROW(patterns = make_patterns(fitting)) << what;
    ++made;
    for (const Pattern& pattern : patterns) {
      SCOPED_TRACE(pattern.id);
      expect_clean(pattern);
    }
    if (HasFailure()) return;
  }
  EXPECT_EQ(made, wanted);
}

INSTANTIATE_TEST_SUITE_P(Seeds, WidePatterns, ::testing::Values(31u, 32u, 33u));

}  // namespace
}  // namespace linerwright
