// Taps: a branch alone on a duct that is already lined. Saddles, holes, volumes and what is refused.
#include <gtest/gtest.h>

#include "fitting/helpers.hpp"
#include "linerwright/fitting/port.hpp"

using namespace linerwright;

namespace {

// 250 on 600, liner 25.
const Flags k_tap{
    {"diameter", "600"}, {"branch_diameter", "250"}, {"branch_length", "700"}, {"thickness", "25"}};

const Joint& saddle(const Fitting& fitting) {
  return fitting.joint(joint_on_duct(fitting).value());
}

// Coping of two cylinders whose axes cross, in any book on pattern drafting, on a body of radius R: a line of
// the branch at psi (0 on the obtuse side) and rho from its axis stands z along the body from where the axes
// cross, asin(y / R) around it, and s along the branch.
struct Coped {
  double z, around, s;
};
Coped coped(double rho, double R, double beta, double psi) {
  const double y = rho * std::sin(psi);
  const double x = std::sqrt(R * R - y * y);
  const double s = (x - rho * std::cos(psi) * std::cos(beta)) / std::sin(beta);
  return {s * std::cos(beta) - rho * std::cos(psi) * std::sin(beta), std::asin(y / R), s};
}

// Its own angles run from the side that faces the far end, where the crotch is acute.
double own_angle(double psi) {
  return k_pi - psi;
}

// Volume of a straight branch of radius r at beta beyond the cylinder R, to L along its axis from the axis.
double beyond(double r, double R, double L, double beta) {
  return branch_outside(R, r, L, beta, 0.0);
}

}  // namespace

TEST(Tap, saddles_of_the_worked_values) {
  // values of the coping by hand, 250 on 600, lined 25: rho and R, then z and s at psi 0, 30 ... 180
  struct Row {
    double rho, R;
    const char* angle;
    double z[7], s[7];
  };
  const Row rows[] = {
      {125,
       300,
       "45",
       {123.2233, 140.3243, 191.3995, 272.7178, 368.1762, 446.5105, 476.7767},
       {299.2641, 306.7016, 333.1798, 385.6812, 458.1798, 523.2080, 549.2641}},
      {100,
       275,
       "45",
       {133.5786, 147.9419, 190.2970, 256.1738, 331.7183, 392.8908, 416.4214},
       {288.9087, 295.8239, 319.1206, 362.2844, 419.1206, 469.0290, 488.9087}},
      {125,
       275,
       "45",
       {98.2233, 114.7105, 164.4085, 244.9490, 341.1852, 420.8967, 451.7767},
       {263.9087, 270.4783, 295.0087, 346.4102, 420.0087, 486.9846, 513.9087}},
      {100,
       300,
       "45",
       {158.5786, 173.3295, 216.5175, 282.8427, 357.9388, 418.2785, 441.4214},
       {324.2641, 331.7275, 356.2019, 400.0, 456.2019, 504.9326, 524.2641}},
      {125,
       300,
       "90",
       {-125, -108.2532, -62.5, 0, 62.5, 108.2532, 125},
       {300, 293.4174, 279.7879, 272.7178, 279.7879, 293.4174, 300}},
  };
  for (const Row& row : rows) {
    const Fitting tap = fitting_from("tap", with(k_tap, {{"angle", row.angle}, {"branch_length", "900"}}));
    const Joint& joint = saddle(tap);
    const DepthPair depths{125 - row.rho, 300 - row.R};
    const double beta = row.angle[0] == '4' ? k_pi / 4 : k_pi / 2;
    for (int i = 0; i < 7; ++i) {
      const double psi = k_pi * i / 6;
      const double theta = own_angle(psi);
      const Coped exact = coped(row.rho, row.R, beta, psi);
      EXPECT_NEAR(exact.z, row.z[i], 6e-5);
      EXPECT_NEAR(exact.s, row.s[i], 6e-5);
      EXPECT_NEAR(point_of(joint, theta, depths).z, row.z[i], 6e-5);
      EXPECT_NEAR(height_on_lead(joint, theta, depths), row.s[i], 6e-5);
      EXPECT_NEAR(std::fabs(std::remainder(place_on(joint, Side::follow, theta, depths).theta, k_two_pi)),
                  std::fabs(exact.around), 1e-12);
    }
  }
}

TEST(Tap, liner_ends_where_its_joint_says) {
  // duct face and air face end on these radii of the duct: R, R - t mitred; both R over; both R - t through
  const struct {
    const char* joint;
    double duct, air;
  } rows[] = {{"mitre", 300, 275}, {"over", 300, 300}, {"through", 275, 275}};
  for (const auto& row : rows) {
    const Fitting tap =
        fitting_from("tap", with(k_tap, {{"joint", row.joint}, {"angle", "45"}, {"branch_length", "900"}}));
    for (int i = 0; i < 12; ++i) {
      const double psi = k_two_pi * i / 12;
      EXPECT_NEAR(liner_end(tap, 0, End::low, own_angle(psi), 0.0), coped(125, row.duct, k_pi / 4, psi).s,
                  1e-9);
      EXPECT_NEAR(liner_end(tap, 0, End::low, own_angle(psi), 25.0), coped(100, row.air, k_pi / 4, psi).s,
                  1e-9);
    }
  }
}

TEST(Tap, volumes_by_sections_of_the_branch) {
  const double g = 1.5;
  for (const char* angle : {"90", "45", "120"}) {
    const double beta = parse_quantity(Quantity::angle, angle, Units::metric);
    const double L = 900;
    const auto made = [&](const char* joint) {
      return fitting_from(
          "tap",
          with(k_tap, {{"angle", angle}, {"branch_length", "900"}, {"joint", joint}, {"gauge", "1.5"}}));
    };
    const Fitting over = made("over");
    EXPECT_NEAR(shell_volume(over, 0) / beyond(125, 300, L, beta), 1.0, 1e-9);
    EXPECT_NEAR(shell_volume(over, 25) / beyond(100, 300, L, beta), 1.0, 1e-9);
    const Fitting through = made("through");
    EXPECT_NEAR(shell_volume(through, 0) / beyond(125, 275, L, beta), 1.0, 1e-9);
    EXPECT_NEAR(shell_volume(through, 25) / beyond(100, 275, L, beta), 1.0, 1e-9);
    const Fitting mitre = made("mitre");
    EXPECT_NEAR(shell_volume(mitre, 25) / beyond(100, 275, L, beta), 1.0, 1e-9);
    // the metal stands on the outside of the duct's, whatever the liner does
    for (const Fitting* tap : {&over, &through, &mitre})
      EXPECT_NEAR(metal_volume(*tap) / (beyond(125 + g, 300 + g, L, beta) - beyond(125, 300 + g, L, beta)),
                  1.0, 1e-8);
    // A mitre's end is ruled from the one curve to the other. Half way through the liner it is not the curve
    // of equal depth, but near it: by first principles, thin rings between the cylinders (125 - w) and (100).
    const double liner = shell_volume(mitre, 0) - shell_volume(mitre, 25);
    const double equal_depths = integrate(
        [&](double w) {
          double girth = 0.0;
          constexpr int k_places = 720;
          for (int i = 0; i < k_places; ++i)
            girth += L - coped(125 - w, 300 - w, beta, k_two_pi * (i + 0.5) / k_places).s;
          return girth * (125 - w) * k_two_pi / k_places;
        },
        0, 25, 2);
    EXPECT_NEAR(liner / equal_depths, 1.0, 2e-3) << angle;
  }
}

// The tee of the same sizes has the same branch: its liner's pieces alike, ruling by ruling.
TEST(Tap, branch_is_that_of_a_tee) {
  for (const char* joint : {"mitre", "over", "through"})
    for (const char* offset : {"0", "60", "-60"}) {
      const Flags branch{{"angle", "60"}, {"offset", offset}, {"joint", joint}, {"branch_length", "800"}};
      const Fitting tap = fitting_from("tap", with(k_tap, branch));
      const Fitting tee = fitting_from("tee", with(with(k_tap, branch), {{"length", "2000"}}));
      ASSERT_EQ(tap.pieces.size(), 1U);
      for (int i = 0; i < 24; ++i)
        for (const double w : {0.0, 25.0})
          EXPECT_NEAR(liner_end(tap, 0, End::low, k_two_pi * i / 24, w),
                      liner_end(tee, 1, End::low, k_two_pi * i / 24, w), 1e-9);
      // the hole in the metal, bare: the tee's
      EXPECT_NEAR(fact(tap, "hole_area"), hole_area(tee, 0, 0, 0.0), 1e-6 * fact(tap, "hole_area"));
    }
}

TEST(Tap, has_one_end_and_a_way_to_it) {
  const Fitting tap = fitting_from("tap", k_tap);
  const std::vector<Port> ports = ports_of(tap);
  ASSERT_EQ(ports.size(), 1U);
  EXPECT_NEAR(ports[0].frame.origin.x, 700, 1e-9);
  EXPECT_NEAR(ports[0].bare_diameter, 250, 1e-9);
  ASSERT_EQ(tap.passages.size(), 1U);
  EXPECT_NEAR(tap.passages[0].stations.front().distance, 275, 1e-6);  // the saddle's top, mitred
  EXPECT_NEAR(tap.passages[0].stations.back().lined_diameter, 200, 1e-9);
}

TEST(Tap, says_what_cannot_be) {
  EXPECT_TRUE(
      has(refusal("tap", with(k_tap, {{"branch_diameter", "601"}})), "the branch is larger than the body"));
  EXPECT_TRUE(has(refusal("tap", with(k_tap, {{"offset", "180"}})), "reaches past the side"));
  EXPECT_TRUE(has(refusal("tap", with(k_tap, {{"thickness", "125"}})), "closes a"));
  EXPECT_TRUE(has(refusal("tap", with(k_tap, {{"branch_length", "300"}})), "left on its metal"));
  EXPECT_TRUE(
      has(refusal("tap", with(k_tap, {{"branch_base", "200"}})), "larger at the body than at its end"));
  EXPECT_TRUE(has(refusal("tap", with(k_tap, {{"branch_diameter", "590"}, {"joint", "through"}})),
                  "cannot pass through to the air face"));
  // a cone wider than the duct where it comes to the liner's air face
  const std::string wide = refusal("tap", with(k_tap, {{"branch_base", "540"}, {"joint", "through"}}));
  EXPECT_TRUE(has(wide, "branch_base") || has(wide, "branch-base")) << wide;
  EXPECT_TRUE(has(wide, "past the side of the body")) << wide;
  EXPECT_EQ(refusal("tap", with(k_tap, {{"branch_diameter", "600"}})), "(made)");
}
