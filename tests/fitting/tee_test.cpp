// Tees and laterals: volumes, walls and holes against closed forms.
#include <gtest/gtest.h>

#include <algorithm>

#include "fitting/helpers.hpp"
#include "support/elliptic.hpp"

using namespace linerwright;

namespace {

// R 150, r 100, branch end 300 from the body's axis; made bare enough for the books' sizes.
const Flags k_tee{{"diameter", "300"},
                  {"length", "1000"},
                  {"branch_diameter", "200"},
                  {"branch_length", "300"},
                  {"thickness", "25"}};
const Flags k_lateral = with(k_tee, {{"angle", "45"}, {"branch_length", "600"}, {"length", "2000"}});

const Joint& saddle(const Fitting& fitting, std::size_t branch = 0) {
  return fitting.joint(fitting.walls[0].holes.at(branch).joint);
}

// Area of the part of a circle's disk beyond a chord at distance d from the centre.
double segment(double r, double d) {
  return d >= r ? 0.0 : r * r * std::acos(d / r) - d * std::sqrt(r * r - d * d);
}

}  // namespace

TEST(Tee, published_volumes_of_150_and_100) {
  // Hubbell: common volume 8 867 013.7 mm^3 at 90 degrees, 12 539 851.1 at 45; the branch adds pi r^2 L less
  // half of it: 4 991 271.1 at L = 300.
  EXPECT_NEAR(common_volume(100, 150, k_pi / 2), 8867013.7, 0.05);
  EXPECT_NEAR(common_volume(100, 150, k_pi / 4), 12539851.1, 0.05);
  const Fitting tee = fitting_from("tee", k_tee);
  EXPECT_NEAR(shell_volume(tee, 0) - k_pi * 150 * 150 * 1000, 4991271.1, 0.06);
  const Fitting lateral = fitting_from("tee", k_lateral);
  EXPECT_NEAR(shell_volume(lateral, 0) - k_pi * 150 * 150 * 2000, k_pi * 100 * 100 * 600 - 6269925.5, 0.06);
}

TEST(Tee, volumes_by_hubbell) {
  // v(k) computed from his form and from 8 times the integral of k E(k).
  const double v[][2] = {{0.10, 0.062753214773}, {0.20, 0.250064412097}, {0.25, 0.389606670303},
                         {0.30, 0.559051287012}, {0.40, 0.984779688031}, {0.50, 1.52003998817},
                         {0.60, 2.15496262022},  {0.70, 2.87634974088},  {0.75, 3.26414570577},
                         {0.80, 3.66641308490},  {0.90, 4.49991287796},  {1.00, 16.0 / 3.0}};
  for (const auto& row : v) {
    EXPECT_NEAR(common_volume(row[0], 1.0, k_pi / 2), row[1], 1e-11);
    for (const char* angle : {"90", "60", "45", "120"}) {
      // R 500, bare of allowances; depth 20 lined: radii R - 20 and r - 20 of other ratio k
      const double r = 500 * row[0];
      const Fitting fitting = fitting_from("tee", {{"diameter", "1000"},
                                                   {"length", "5000"},
                                                   {"branch_diameter", mm(2 * r)},
                                                   {"branch_length", "1600"},
                                                   {"angle", angle},
                                                   {"thickness", "20"},
                                                   {"fit_allowance", "0"}});
      const double beta = std::stod(angle) * k_degree;
      const double exact =
          k_pi * 500 * 500 * 5000 + k_pi * r * r * 1600 - 0.5 * std::pow(500, 3) * row[1] / std::sin(beta);
      EXPECT_NEAR(shell_volume(fitting, 0) / exact, 1.0, 1e-9) << row[0] << ' ' << angle;
      const double lined =
          k_pi * 480 * 480 * 5000 + k_pi * square(r - 20) * 1600 - 0.5 * common_volume(r - 20, 480, beta);
      EXPECT_NEAR(shell_volume(fitting, 20) / lined, 1.0, 1e-9) << row[0] << ' ' << angle;
    }
  }
}

TEST(Tee, walls_and_holes_of_150_and_100) {
  // Branch wall 2 pi r L - 4 r R E(k); hole 4 R^2 (E(k) - (1 - k^2) K(k)); k = r/R.
  const Fitting fitting = fitting_from("tee", k_tee);
  EXPECT_NEAR(hole_area(fitting, 0, 0, 0), 33545.980, 5e-4);
  EXPECT_NEAR(fact(fitting, "hole_area"), 33545.980, 5e-4);
  EXPECT_NEAR(wall_area(fitting, 1, 0), 105809.32, 0.005);
  EXPECT_NEAR(wall_area(fitting, 0, 0), k_two_pi * 150 * 1000 - 33545.980, 5e-4);
  EXPECT_NEAR(fact(fitting, "saddle_depth"), 38.196601, 5e-7);
  for (const double w : {-0.8, 0.0, 10.0, 25.0}) {
    const double r = 100 - w;
    const double R = 150 - w;
    EXPECT_NEAR(hole_area(fitting, 0, 0, w) / hole_of(r, R, k_pi / 2), 1.0, 1e-9);
    EXPECT_NEAR(wall_area(fitting, 1, w) / (k_two_pi * r * 300 - 4 * r * R * support::elliptic_e(r / R)), 1.0,
                1e-9);
  }
  EXPECT_NEAR(fact(fitting, "opening_area"), hole_of(75, 125, k_pi / 2), 1e-4);
  // a lateral's hole and its branch's inner part grow by 1/sin beta
  const Fitting lateral = fitting_from("tee", k_lateral);
  EXPECT_NEAR(hole_area(lateral, 0, 0, 0), 33545.980 * std::sqrt(2.0), 1e-3);
  EXPECT_NEAR(wall_area(lateral, 1, 0) /
                  (k_two_pi * 100 * 600 - 4 * 100 * 150 * support::elliptic_e(2.0 / 3) * std::sqrt(2.0)),
              1.0, 1e-9);
}

TEST(Tee, equal_branch) {
  // r = R = 100: common volume 16 r^3/3 (mathsbyagirl.wordpress.com, Steinmetz), hole 4 r^2, edge 4 r sqrt 2
  // E(k^2 = 1/2): two half ellipses with semi-axes r and r sqrt 2.
  const Fitting fitting = fitting_from("tee", with(k_tee, {{"diameter", "200"}, {"branch_diameter", "200"}}));
  EXPECT_NEAR(shell_volume(fitting, 0) / (k_pi * 1e4 * 1300 - 8e6 / 3), 1.0, 1e-10);
  EXPECT_NEAR(hole_area(fitting, 0, 0, 0), 40000, 1e-4);
  EXPECT_NEAR(wall_area(fitting, 1, 0) / (k_two_pi * 100 * 300 - 40000), 1.0, 1e-9);
  for (const double w : {0.0, 25.0}) {
    const double exact = 4 * (100 - w) * std::sqrt(2.0) * support::elliptic_e(std::sqrt(0.5));
    EXPECT_NEAR(joint_length(saddle(fitting), shell_depths(w)) / exact, 1.0, 1e-9);
  }
}

TEST(Tee, sizes_that_differ_by_rounding_are_meant_equal) {
  // within 1e-7 of the body's radius: 0.000015 mm here
  const Fitting equal = fitting_from("tee", with(k_tee, {{"branch_diameter", "300.00001"}}));
  EXPECT_EQ(equal.walls[1].sheet.r1(), equal.walls[0].sheet.r1());
  EXPECT_NE(refusal("tee", with(k_tee, {{"branch_diameter", "300.0001"}})), "(made)");
  const Fitting tangent = fitting_from("tee", with(k_tee, {{"offset", "-50.00001"}}));
  EXPECT_EQ(tangent.walls[1].sheet.frame().origin.y, -50);
  EXPECT_NE(refusal("tee", with(k_tee, {{"offset", "-50.0001"}})), "(made)");
}

TEST(Tee, edge_of_the_saddle) {
  // w(phi) = (sqrt(R^2 - r^2 sin^2 phi) + r cos phi cos beta)/sin beta: length = closed integral of sqrt(r^2
  // + w'^2).
  for (const double beta : {90.0, 45.0, 130.0}) {
    const Fitting fitting = fitting_from("tee", with(k_lateral, {{"angle", mm(beta)}}));
    for (const double w : {0.0, 25.0}) {
      const double R = 150 - w;
      const double r = 100 - w;
      const double exact = around(
          [&](double phi) {
            const double root = std::sqrt(R * R - square(r * std::sin(phi)));
            const double rate = (-r * r * std::sin(phi) * std::cos(phi) / root -
                                 r * std::sin(phi) * std::cos(beta * k_degree)) /
                                std::sin(beta * k_degree);
            return std::hypot(r, rate);
          },
          2000);
      EXPECT_NEAR(joint_length(saddle(fitting), shell_depths(w)) / exact, 1.0, 1e-9) << beta << ' ' << w;
      if (w == 25.0) {
        EXPECT_NEAR(fact(fitting, "sealant_length") / exact, 1.0, 1e-9);
      }
    }
  }
}

TEST(Tee, branch_beside_the_axis) {
  // One integral over the branch's section; the last ones touch the body's side.
  for (const char* offset : {"10", "-30", "49.9", "50", "-50"})
    for (const char* angle : {"90", "55", "125"}) {
      const Fitting fitting = fitting_from("tee", with(k_lateral, {{"offset", offset}, {"angle", angle}}));
      const double beta = std::stod(angle) * k_degree;
      const double e = std::fabs(std::stod(offset));
      for (const double w : {0.0, 25.0}) {
        const double exact = k_pi * square(150 - w) * 2000 + branch_outside(150 - w, 100 - w, 600, beta, e);
        EXPECT_NEAR(shell_volume(fitting, w) / exact, 1.0, 1e-9) << offset << ' ' << angle << ' ' << w;
      }
    }
}

TEST(Tee, conical_branch_by_slices_along_its_axis) {
  // 90 degrees: base 240 where the axis enters the body at x = R, 160 at the end, x = 400. The slice at x is
  // a disk of radius rho(x) less what lies inside the body, the strip |y| < sqrt(R^2 - x^2). Layer w: rho -
  // w/cos phi, R - w.
  const Fitting fitting = fitting_from(
      "tee", with(k_tee, {{"branch_base", "240"}, {"branch_diameter", "160"}, {"branch_length", "400"}}));
  const double cosine = 250 / std::hypot(250.0, 40.0);
  for (const double w : {-0.8, 0.0, 25.0}) {
    const double R = 150 - w;
    const auto rho = [&](double x) { return 120 - 40 * (x - 150) / 250 - w / cosine; };
    // lowest slice: the strip's half width equals the radius
    double low = 0.0;
    double high = R;
    for (int i = 0; i < 200; ++i) {
      const double middle = 0.5 * (low + high);
      (square(rho(middle)) < R * R - middle * middle ? low : high) = middle;
    }
    const auto sliced = [&](double from, double to, const auto& area) {
      return integrate(
          [&](double psi) {
            const double x = 0.5 * (from + to) - 0.5 * (to - from) * std::cos(psi);
            return area(x) * 0.5 * (to - from) * std::sin(psi);
          },
          0, k_pi, 60);
    };
    const double exact =
        k_pi * R * R * 1000 +
        sliced(low, R, [&](double x) { return 2 * segment(rho(x), std::sqrt(R * R - x * x)); }) +
        sliced(R, 400, [&](double x) { return k_pi * square(rho(x)); });
    EXPECT_NEAR(shell_volume(fitting, w) / exact, 1.0, 1e-9) << w;
  }
  EXPECT_NEAR(fitting.walls[1].sheet.r1(), 120, 1e-12);
  EXPECT_NEAR(fitting.walls[1].sheet.r2(), 80, 1e-12);
}

TEST(Tee, turning_the_branch_around_changes_nothing_but_its_place) {
  const Fitting plain = fitting_from("tee", with(k_lateral, {{"offset", "20"}}));
  const Fitting turned = fitting_from("tee", with(k_lateral, {{"offset", "20"}, {"around", "-77"}}));
  for (const double w : {0.0, 25.0})
    EXPECT_NEAR(shell_volume(turned, w) / shell_volume(plain, w), 1.0, 1e-10);
  for (const Fact& each : plain.facts)
    EXPECT_NEAR(fact(turned, each.key), each.value, 1e-9 * each.value) << each.key;
  for (int i = 0; i < 12; ++i) {
    const Vec3 p = point_of(saddle(plain), i, shell_depths(0));
    const Vec3 q = point_of(saddle(turned), i, shell_depths(0));
    const double turn = -77 * k_degree;
    EXPECT_LT(distance(q, {p.x * std::cos(turn) - p.y * std::sin(turn),
                           p.x * std::sin(turn) + p.y * std::cos(turn), p.z}),
              1e-9);
  }
  EXPECT_NEAR(std::remainder(turned.walls[0].face_start - (k_pi - 77 * k_degree), k_two_pi), 0.0, 1e-12);
}

TEST(Tee, offset_moves_the_branch_toward_growing_around) {
  // Branch toward +x with the body along z: positive offsets lie on the +y side, and the hole with them,
  // between asin((e - r)/R) and asin((e + r)/R) around.
  for (const double offset : {40.0, -40.0}) {
    const Fitting fitting = fitting_from("tee", with(k_tee, {{"offset", mm(offset)}}));
    EXPECT_LT(distance(fitting.walls[1].sheet.frame().origin, {0, offset, 500}), 1e-9);
    double low = 1e9;
    double high = -1e9;
    for (int i = 0; i < 360; ++i) {
      const double theta = place_on(saddle(fitting), Side::follow, i * k_degree, shell_depths(0)).theta;
      low = std::min(low, theta);
      high = std::max(high, theta);
    }
    EXPECT_NEAR(low, std::asin((offset - 100) / 150), 1e-9);
    EXPECT_NEAR(high, std::asin((offset + 100) / 150), 1e-9);
  }
}

TEST(Tee, branch_leans_toward_the_bodys_far_end) {
  // angle 45: the branch's end is nearer to the far end; theta = 0 is the crotch.
  const Fitting fitting = fitting_from("tee", k_lateral);
  const Vec3 axis = fitting.walls[1].sheet.frame().z;
  EXPECT_LT(distance(axis, {std::sqrt(0.5), 0, std::sqrt(0.5)}), 1e-12);
  const Station& end = fitting.passages.at(1).stations.back();
  EXPECT_LT(distance(end.plane.point, Vec3{0, 0, 1000} + 600 * axis), 1e-9);
  EXPECT_NEAR(end.distance, 600, 1e-9);
  EXPECT_NEAR(end.lined_area, k_pi * square(75), 1e-9);
  EXPECT_EQ(end.place, "branch end");
  EXPECT_EQ(fitting.pieces[1].marks[0].name, "A crotch");
  EXPECT_EQ(fitting_from("tee", with(k_lateral, {{"angle", "135"}})).pieces[1].marks[2].name, "C crotch");
  EXPECT_EQ(fitting_from("tee", k_tee).pieces[1].marks[0].name, "A far side");
  // the first station of the bore lies clear of the crotch: the whole air face is above it
  const Station& crotch = fitting.passages.at(1).stations.front();
  double top = -1e9;
  for (int i = 0; i < 360; ++i)
    top = std::max(top,
                   dot(point_of(saddle(fitting), i * k_degree, shell_depths(25)) - Vec3{0, 0, 1000}, axis));
  EXPECT_NEAR(crotch.distance, top, 1e-6);
}

TEST(Tee, hole_and_branch_carry_the_same_letters) {
  const Fitting fitting = fitting_from("tee", k_lateral);
  ASSERT_EQ(fitting.pieces[0].hole_marks.size(), 4U);
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ(fitting.pieces[0].hole_marks[i].name, fitting.pieces[1].marks[i].name);
    EXPECT_EQ(fitting.pieces[0].hole_marks[i].s, fitting.pieces[1].marks[i].theta);
  }
}

TEST(Tee, hole_to_end_is_the_narrowest_strip) {
  // 200 mm branch in the middle of 1000 mm; the metal's hole (gauge 0.8) is the largest: 400 - 0.8. A
  // lateral's hole reaches r/sin beta + the lean of its ends further.
  EXPECT_NEAR(fact(fitting_from("tee", k_tee), "hole_to_end"), 400 - 0.8, 1e-9);
  EXPECT_NEAR(fact(fitting_from("tee", with(k_tee, {{"position", "300"}})), "hole_to_end"), 200 - 0.8, 1e-9);
}

TEST(Tee, several_branches) {
  const Fitting cross = fitting_from("tee", with(k_tee, {{"branch_diameter", "200&120"},
                                                         {"around", "0&180"},
                                                         {"branch_length", "300&400"},
                                                         {"position", "500&450"}}));
  ASSERT_EQ(cross.pieces.size(), 3U);
  EXPECT_EQ(cross.pieces[1].id, "branch1");
  EXPECT_EQ(cross.pieces[2].id, "branch2");
  ASSERT_EQ(cross.walls[0].holes.size(), 2U);
  for (const double w : {0.0, 25.0}) {
    const double exact = k_pi * square(150 - w) * 1000 + k_pi * square(100 - w) * 300 +
                         k_pi * square(60 - w) * 400 - 0.5 * common_volume(100 - w, 150 - w, k_pi / 2) -
                         0.5 * common_volume(60 - w, 150 - w, k_pi / 2);
    EXPECT_NEAR(shell_volume(cross, w) / exact, 1.0, 1e-9);
    EXPECT_NEAR(hole_area(cross, 0, 1, w) / hole_of(60 - w, 150 - w, k_pi / 2), 1.0, 1e-9);
  }
  EXPECT_NEAR(fact(cross, "branch1_saddle_depth"), 38.196601, 5e-7);
  EXPECT_NEAR(fact(cross, "branch2_saddle_depth"), 150 - std::sqrt(150.0 * 150 - 60 * 60), 1e-9);
  // no straight seam opposite the first branch: it moves clear of both holes, by at least 5 mm
  const double seam = cross.pieces[0].seam;
  for (const auto& [middle, half] :
       {std::pair{0.0, std::asin(100.0 / 150)}, std::pair{k_pi, std::asin(60.0 / 150)}})
    EXPECT_GT(std::fabs(std::remainder(seam - middle, k_two_pi)) - half, 5.0 / 150);
  EXPECT_EQ(cross.pieces[0].seam_place, "clear of the branches");
  EXPECT_EQ(fitting_from("tee", k_tee).pieces[0].seam_place, "opposite the branch");
  EXPECT_NEAR(std::fabs(fitting_from("tee", k_tee).pieces[0].seam), k_pi, 1e-12);
}

TEST(Tee, every_joint_style_fills_the_space_between_duct_and_bore) {
  // Branch layer w, radius r - w, ends on the body's layer of its style; the body's layer w has the hole of
  // the branch's layer of that style. Together they fill what lies between cavity and bore: pi R^2 L + pi r^2
  // L_b - V/2 with radii less nothing and less t. (cylinders: layer areas by closed form or along the joint;
  // closed integrals over 0 to t by Gauss' rule.)
  const double t = 25;
  const double beta = 60 * k_degree;
  for (const char* style : {"mitre", "over", "through"}) {
    const Fitting fitting = fitting_from("tee", with(k_lateral, {{"angle", "60"}, {"joint", style}}));
    const JointStyle joint = saddle(fitting).style;
    const double branch = integrate(
        [&](double w) {
          return around(
              [&](double theta) {
                return (100 - w) * (liner_end(fitting, 1, End::high, theta, w) -
                                    liner_end(fitting, 1, End::low, theta, w));
              },
              400);
        },
        0, t, 3);
    const double body = integrate(
        [&](double w) {
          const DepthPair depths = liner_depths(joint, Side::follow, w, t);
          return k_two_pi * (150 - w) * 2000 - hole_of(100 - depths.lead, 150 - depths.follow, beta);
        },
        0, t, 3);
    const double cavity =
        k_pi * 150 * 150 * 2000 + k_pi * 100 * 100 * 600 - 0.5 * common_volume(100, 150, beta);
    const double bore = k_pi * 125 * 125 * 2000 + k_pi * 75 * 75 * 600 - 0.5 * common_volume(75, 125, beta);
    EXPECT_NEAR((branch + body) / (cavity - bore), 1.0, 1e-10) << style;
    EXPECT_NEAR((shell_volume(fitting, 0) - shell_volume(fitting, t)) / (cavity - bore), 1.0, 1e-8) << style;
  }
}
