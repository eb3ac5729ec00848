// Taper to collar: the corner where both walls' layers of equal depth meet.
#include <gtest/gtest.h>

#include "joint/joints.hpp"
#include "linerwright/units/error.hpp"

using namespace linerwright;

TEST(Collar, corner_of_a_right_cone_walks_by_w_tan_half_phi) {
  // Two planes whose normals differ by phi: their offsets at distance w meet w tan(phi/2) from the old
  // corner, along either. tan(phi/2) = (1 - cos phi)/sin phi; the sign follows the taper.
  for (const double r2 : {125.0, 199.0, 201.0, 320.0}) {
    const Sheet taper = Sheet::cone(Frame{}, 200, r2, 300);
    const double phi = std::atan2(200 - r2, 300.0);
    for (const double w : {-0.8, 0.0, 10.0, 25.0, 80.0}) {
      const double walk = w * (1 - std::cos(phi)) / std::sin(phi);
      for (int i = 0; i < 12; ++i) {
        const Joint low = collar_joint(taper, End::low);
        const Joint high = collar_joint(taper, End::high);
        EXPECT_NEAR(height_on_lead(low, i, shell_depths(w)), walk, 1e-11);
        EXPECT_NEAR(height_on_lead(high, i, shell_depths(w)), taper.ruling(0).length + walk, 1e-11);
        // on the collar the corner moves by the same amount the other way along the axis
        EXPECT_NEAR(point_of(low, i, shell_depths(w)).z, -walk, 1e-11);
        EXPECT_NEAR(point_of(high, i, shell_depths(w)).z, 300 - walk, 1e-11);
      }
    }
  }
}

TEST(Collar, edge_is_the_collars_circle_on_a_right_cone) {
  const Sheet taper = Sheet::cone(Frame{}, 200, 125, 300);
  EXPECT_NEAR(length_around(collar_joint(taper, End::low), 25.0), k_two_pi * 175, 1e-8);
  EXPECT_NEAR(length_around(collar_joint(taper, End::high), 25.0), k_two_pi * 100, 1e-8);
}

TEST(Collar, stays_exact_where_taper_and_collar_run_on_smoothly) {
  // Half angles down to 1e-12: the walk w tan(phi/2) goes to zero with phi and keeps all its digits.
  for (const double phi : {1e-3, 1e-6, 1e-9, 1e-12}) {
    const double drop = 300 * std::tan(phi);
    const Sheet taper = Sheet::cone(Frame{}, 200, 200 - drop, 300);
    const double exact_phi = std::atan2(taper.r1() - taper.r2(), 300.0);
    const double walk = height_on_lead(collar_joint(taper, End::low), 0.7, shell_depths(25.0));
    EXPECT_NEAR(walk / (25.0 * std::tan(0.5 * exact_phi)), 1.0, 1e-12) << phi;
  }
  // The flat side of an eccentric taper: no corner there at any depth.
  const Sheet flat = Sheet::cone(Frame{}, 200, 125, 300, 75);
  for (const double w : {5.0, 25.0}) {
    EXPECT_NEAR(height_on_lead(collar_joint(flat, End::low), 0.0, shell_depths(w)), 0.0, 1e-14);
    EXPECT_NEAR(height_on_lead(collar_joint(flat, End::high), 0.0, shell_depths(w)), 300.0, 1e-12);
  }
}

TEST(Collar, eccentric_goes_over_into_concentric) {
  // The height changes in proportion to the offset e as e goes to zero.
  for (const End end : k_both_ends)
    for (int i = 0; i < 12; ++i) {
      const double theta = i * 30 * k_degree + 0.1;
      const auto height = [&](double e) {
        return height_on_lead(collar_joint(Sheet::cone(Frame{}, 200, 125, 300, e), end), theta,
                              shell_depths(25.0));
      };
      const double rate = (height(1e-2) - height(0.0)) / 1e-2;
      EXPECT_GT(std::fabs(rate), 1e-4);
      for (const double e : {1e-3, 1e-5, 1e-7})
        EXPECT_NEAR(height(e) - height(0.0), e * rate, 2e-4 * e + 1e-12) << i << ' ' << e;
    }
}

TEST(Collar, points_lie_on_both_walls_at_equal_depth) {
  Dice dice(32);
  int oblique = 0;
  for (int i = 0; i < cases(1500); ++i) {
    const Sheet taper = random_sheet(dice);
    if (taper.is_cylinder()) continue;
    oblique += taper.offset() != 0.0 ? 1 : 0;
    const double w = dice.between(0.0, 0.3) * std::min(taper.r1(), taper.r2());
    const double s = dice.between(0, k_two_pi);
    SCOPED_TRACE(describe(taper) + ", w " + std::to_string(w) + ", s " + std::to_string(s));
    for (const End end : k_both_ends) {
      const Joint joint = collar_joint(taper, end);
      const Vec3 p = point_of(joint, s, shell_depths(w));
      EXPECT_NEAR(distance_from_axis(joint.follow[0], p), joint.follow[0].r1() - w, 1e-9);
      EXPECT_NEAR(distance_from_wall(taper, p, s), w, 1e-9);
      // and near the seam: a corner does not walk further than w times the lean's size
      const Sheet::Ruling r = taper.ruling(s);
      EXPECT_LE(std::fabs(height_on_lead(joint, s, shell_depths(w)) - (end == End::high ? r.length : 0.0)),
                w * std::fabs(r.lean) + 1e-9);
    }
  }
  EXPECT_GT(oblique, cases(1500) / 5);
}

TEST(Collar, a_layer_deeper_than_the_collar_is_refused) {
  const Joint joint = collar_joint(Sheet::cone(Frame{}, 200, 125, 300), End::high);
  EXPECT_NO_THROW(height_on_lead(joint, 0, shell_depths(120)));
  EXPECT_THROW(height_on_lead(joint, 0, shell_depths(130)), GeometryError);
}
