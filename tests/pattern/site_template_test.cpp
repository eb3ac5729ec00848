// Templates of the hole that a tap needs: each as it is seen from its own side of the duct's wall.
#include <gtest/gtest.h>

#include <cmath>

#include "linerwright/pattern/pattern.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::fitting_from;
using support::Flags;
using support::with;

const Flags k_tap{
    {"diameter", "600"}, {"branch_diameter", "250"}, {"branch_length", "900"}, {"thickness", "25"}};

TEST(SiteTemplates, LieOnTheirOwnSides) {
  const auto at = [](const Pattern& pattern, std::size_t i) { return pattern.hole_ordinates.at(i).duct; };
  const Fitting tap = fitting_from(
      "tap", with(k_tap, {{"angle", "45"}, {"branch_length", "900"}, {"gauge", "2"}, {"offset", "50"}}));
  const std::vector<Pattern> templates = site_templates(tap);
  ASSERT_EQ(templates.size(), 2U);
  EXPECT_EQ(templates[0].id, "hole-metal");
  EXPECT_EQ(templates[1].id, "hole-liner");
  const struct { double rho, R, sign; } sides[] = {{125, 302, 1.0}, {100, 275, -1.0}};
  for (std::size_t k = 0; k < 2; ++k) {
    const Pattern& pattern = templates[k];
    ASSERT_EQ(pattern.hole_ordinates.size(), 12U);
    // off-centre by 50: y = 50 - rho sin(theta), theta from the side that faces the far end
    const auto exact = [&](std::size_t i) {
      const double theta = k_two_pi * static_cast<double>(i) / 12;
      const double y = 50 - sides[k].rho * std::sin(theta);
      const double x = std::sqrt(sides[k].R * sides[k].R - y * y);
      const double z = (x + sides[k].rho * std::cos(theta) * std::cos(k_pi / 4)) / std::tan(k_pi / 4) +
                       sides[k].rho * std::cos(theta) * std::sin(k_pi / 4);
      return Vec2{sides[k].sign * sides[k].R * std::asin(y / sides[k].R), z};
    };
    for (std::size_t i = 1; i < 12; ++i) {
      const Vec2 made = at(pattern, i) - at(pattern, 0);
      const Vec2 wanted = exact(i) - exact(0);
      EXPECT_NEAR(made.x, wanted.x, 1e-6) << k << ' ' << i;
      EXPECT_NEAR(made.y, wanted.y, 1e-6) << k << ' ' << i;
    }
    // one hole in a rectangle
    EXPECT_EQ(pattern.cut.holes.size(), 1U);
    EXPECT_LT(signed_area(pattern.cut.holes.front()), 0.0);
    EXPECT_GT(signed_area(pattern.cut.outer), 0.0);
  }
  EXPECT_TRUE(site_templates(fitting_from("tee", with(k_tap, {{"length", "2000"}}))).empty());
}

// A tap square to its duct and in the middle of it, 250 on 600: in half a turn the outside of the hole spans
// 2 R asin(r / R) around the metal and 2 r along it; of the liner what its joint asks for.
TEST(SiteTemplates, HolesOfASquareTap) {
  const struct {
    const char* joint;
    double liner;  // radius of its hole on the air face, 275 from the axis
  } rows[] = {{"mitre", 100.0}, {"over", 100.0}, {"through", 125.0}};
  for (const auto& row : rows) {
    const std::vector<Pattern> templates =
        site_templates(fitting_from("tap", with(k_tap, {{"joint", row.joint}, {"gauge", "1"}})));
    const struct { double rho, R; } sides[] = {{125.0, 301.0}, {row.liner, 275.0}};
    for (std::size_t k = 0; k < 2; ++k) {
      const auto at = [&](std::size_t station) { return templates.at(k).hole_ordinates.at(station).duct; };
      EXPECT_NEAR(std::fabs(at(9).x - at(3).x), 2.0 * sides[k].R * std::asin(sides[k].rho / sides[k].R),
                  1e-9);
      EXPECT_NEAR(at(0).y - at(6).y, 2.0 * sides[k].rho, 1e-9);
    }
  }
}

}  // namespace
}  // namespace linerwright
