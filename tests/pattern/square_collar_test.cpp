// Patterns of a rectangular collar's panels: both faces' corners, how the knife leans along each side.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/pattern/pattern.hpp"
#include "linerwright/sheet/panels.hpp"
#include "support/square_to_rounds.hpp"

namespace linerwright {
namespace {

const Pattern& pattern_of(const std::vector<Pattern>& patterns, const std::string& id) {
  return *std::find_if(patterns.begin(), patterns.end(), [&](const Pattern& each) { return each.id == id; });
}

double area_of(const Ring& ring) {
  double twice = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) twice += cross(ring[i], ring[(i + 1) % ring.size()]);
  return 0.5 * std::fabs(twice);
}

}  // namespace

// 600 x 400 to 400 over 400, 25 thick: the sides that are 400 long narrow by 1 in 4, their panels meet the
// flats 25 tan(atan(1/4) / 2) = 3.077641 down; the others stand upright.
TEST(SquareCollarPatterns, FacesAndTilts) {
  const Fitting fitting =
      support::square_to_round(support::with(support::k_square_to_round, {{"square_collar", "150"}}));
  const std::vector<Pattern> patterns = make_patterns(fitting);
  ASSERT_EQ(patterns.size(), 8U);
  for (int side = 0; side < 4; ++side) {
    const Pattern& panel = pattern_of(patterns, "panel" + std::to_string(side + 1));
    const double across = side % 2 == 0 ? 400.0 : 600.0;
    const double down = side % 2 == 0 ? 3.077641 : 0.0;
    EXPECT_NEAR(area_of(panel.duct.outer), across * 150.0, 1e-2);
    // a panel that stands higher than its neighbours follows their flats at its upper corners: triangles as
    // high as that and, where it ends, 25 (S - 1) wide beside a flat that narrows
    const double lean = std::hypot(1.0, 0.25) - 1.0;
    const double ears = side % 2 == 0 ? 0.0 : 25.0 * lean * 3.077641;
    EXPECT_NEAR(area_of(panel.air.outer), (across - 50.0) * (150.0 - down) - ears, 1e-2) << panel.id;
    EXPECT_NEAR(panel.stretch_out, 2.0 * (across + 150.0), 1e-9);
    EXPECT_NEAR(panel.max_tilt, 0.25 * k_pi, 1e-6);
    int square = 0;
    for (const TiltRow& row : panel.tilts) {
      const double tilt = std::fabs(row.tilt);
      const double top = std::atan2(down, 25.0);
      EXPECT_LT(std::min({std::fabs(tilt - 0.25 * k_pi), std::fabs(tilt - top), tilt}), 1e-6) << panel.id;
      if (tilt < 1e-9) ++square;
    }
    EXPECT_GT(square, 0);
  }
}

}  // namespace linerwright
