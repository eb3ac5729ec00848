// Patterns of panels: parts of the whole development.
#include <gtest/gtest.h>

#include <cmath>

#include "made.hpp"

namespace linerwright {
namespace {

using testing::fitting_of;
using testing::Flags;
using testing::pattern_of;

// 400 to 250 over 300: a sector of radii 824.62113 and 515.38820 and 87.312825 degrees (by the formulas
// slant = hypot(h, R - r), radius = slant R / (R - r), angle = 360 (R - r) / slant). A third of it has the
// same radii and a third of the angle.
TEST(Panel, ThreeSectorsMakeTheWholeOne) {
  const Flags taper{{"diameter", "400"},    {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"},
                    {"fit_allowance", "0"}, {"panels", "3"},        {"cut", "duct"}};
  const std::vector<Pattern> patterns = make_patterns(fitting_of("reducer", taper));
  ASSERT_EQ(patterns.size(), 3u);
  const double third = 87.312825 / 3.0 / 180.0 * k_pi;
  for (const Pattern& pattern : patterns) {
    // ordinates run from seam to seam along the large edge
    const Vec2 first = pattern.ordinates.front().at;
    const Vec2 last = pattern.ordinates.back().at;
    EXPECT_NEAR(distance(first, last), 2.0 * 824.62113 * std::sin(0.5 * third), 1e-4) << pattern.id;
    EXPECT_NEAR(pattern.stretch_out, 400.0 * k_pi / 3.0, 1e-9) << pattern.id;
    const double area = 0.5 * third * (824.62113 * 824.62113 - 515.38820 * 515.38820);
    EXPECT_NEAR(pattern.duct_area, area, 5e-4 * area) << pattern.id;  // chords within 0.05 mm
    EXPECT_NEAR(first.y, last.y, 1e-9) << pattern.id;                 // laid down with its middle upright
  }
}

// The boards of an oblique taper's panels make up the board of the whole taper.
TEST(Panel, AnObliqueTapersPanelsMakeUpItsBoard) {
  const Flags taper{{"diameter", "600"}, {"to_diameter", "350"}, {"length", "500"},
                    {"offset", "90"},    {"thickness", "25"},    {"cut", "duct"}};
  const std::vector<Pattern> whole = make_patterns(fitting_of("reducer", taper));
  Flags divided = taper;
  divided["panels"] = "5";
  const std::vector<Pattern> panels = make_patterns(fitting_of("reducer", divided));
  ASSERT_EQ(panels.size(), 5u);
  double area = 0.0;
  double stretch = 0.0;
  for (const Pattern& pattern : panels) {
    area += pattern.duct_area;
    stretch += pattern.stretch_out;
  }
  EXPECT_NEAR(area, whole.front().duct_area, 1e-4 * area);
  EXPECT_NEAR(stretch, whole.front().stretch_out, 1e-9 * stretch);
}

}  // namespace
}  // namespace linerwright
