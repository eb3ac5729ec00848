// Reducers: sectors of the pattern books, frusta, and tapers with a flat side.
#include <gtest/gtest.h>

#include <algorithm>

#include "fitting/helpers.hpp"

using namespace linerwright;

namespace {

const Flags k_plain{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}};
const Flags k_collars = with(k_plain, {{"collar", "80"}, {"to_collar", "60"}});

// The same in any plane square to the x-z plane: the polygon of the lines in which so many tangent planes,
// moved in by w, cut it.
double section_by_lines(double r1, double r2, double H, double e, double w, const PlaneTarget& plane) {
  constexpr int k_lines = 8000;
  const Vec3 x = normalised(cross(Vec3{0.0, 1.0, 0.0}, plane.normal));
  struct Line {
    double u, v, g;
  };
  const auto line = [&](int i) -> Line {
    const double theta = k_two_pi * i / k_lines;
    const double c = (r1 - r2 - e * std::cos(theta)) / H;
    const Vec3 n{std::cos(theta), std::sin(theta), c};
    return {dot(n, x), n.y, r1 - w * std::sqrt(1.0 + c * c) - dot(n, plane.point)};
  };
  const auto corner = [&](int i) -> Vec2 {
    const Line a = line(i);
    const Line b = line(i + 1);
    const double d = a.u * b.v - a.v * b.u;
    return {(a.g * b.v - a.v * b.g) / d, (a.u * b.g - a.g * b.u) / d};
  };
  double area = 0.0;
  for (int i = 0; i < k_lines; ++i) area += 0.5 * cross(corner(i), corner(i + 1));
  return area;
}

int taper_wall(const Fitting& fitting) {
  for (const Piece& piece : fitting.pieces)
    if (piece.role == "taper") return piece.wall;
  throw std::logic_error("no taper");
}

// Section of a taper's layer at height z: every tangent plane n(theta) of the wall, moved in by w, cuts the
// plane in a line whose distance from the axis is h = R(z) + e z/H cos theta - w sqrt(1 + c^2), c = (r1 - r2
// - e cos theta)/H; the section is those lines' envelope, area 1/2 closed integral of (h^2 - h'^2) dtheta.
double section_by_tangents(double r1, double r2, double H, double e, double w, double z) {
  const auto support = [=](double theta) {
    const double c = (r1 - r2 - e * std::cos(theta)) / H;
    return r1 + (r2 - r1) * z / H + e * z / H * std::cos(theta) - w * std::sqrt(1 + c * c);
  };
  return around([&](double theta) { return 0.5 * (square(support(theta)) - square(slope(support, theta))); },
                720);
}

}  // namespace

TEST(Reducer, sector_of_two_ducts) {
  // ceemrr.com, Geometry 2, drawing nets 6: ducts of 8 and 5 in, 4 in apart: 7.12 and 11.39 in, 126.4
  // degrees; further digits from s = sqrt(h^2 + (R - r)^2), s R/(R - r), s r/(R - r), 360 (R - r)/s.
  const Fitting fitting = fitting_from(
      "reducer", {{"diameter", "8in"}, {"to_diameter", "5in"}, {"length", "4in"}, {"thickness", "0.25in"}});
  EXPECT_NEAR(fact(fitting, "sector_inner_radius") / k_inch, 7.12, 0.005);
  EXPECT_NEAR(fact(fitting, "sector_outer_radius") / k_inch, 11.39, 0.005);
  EXPECT_NEAR(fact(fitting, "sector_angle") / k_degree, 126.4, 0.05);
  EXPECT_NEAR(fact(fitting, "sector_inner_radius") / k_inch, 7.1200031, 5e-8);
  EXPECT_NEAR(fact(fitting, "sector_outer_radius") / k_inch, 11.392005, 5e-7);
  EXPECT_NEAR(fact(fitting, "sector_angle") / k_degree, 126.40444, 5e-6);
  EXPECT_NEAR(fact(fitting, "slant") / k_inch, 4.2720019, 5e-8);
  EXPECT_NEAR(wall_area(fitting, 0, 0) / square(k_inch), 87.235783, 5e-7);
  EXPECT_NEAR(shell_volume(fitting, 0) / std::pow(k_inch, 3), 135.08848, 5e-6);
}

TEST(Reducer, truncated_cones_of_longfield) {
  // E. M. Longfield, Sheet Metal Drafting, p. 128: dimensions; lateral area s (C1 + C2)/2, p. 91.
  struct Case {
    const char *large, *small, *height;
    double slant, area, degrees;
  };
  for (const Case& c : {Case{"6in", "3in", "3in", 3.3541020, 47.417499, 160.99689},
                        Case{"8in", "4in", "4in", 4.4721360, 84.297777, 160.99689}}) {
    const Fitting fitting = fitting_from(
        "reducer",
        {{"diameter", c.large}, {"to_diameter", c.small}, {"length", c.height}, {"thickness", "5"}});
    EXPECT_NEAR(fact(fitting, "slant") / k_inch, c.slant, 5e-8);
    EXPECT_NEAR(fact(fitting, "sector_angle") / k_degree, c.degrees, 5e-6);
    EXPECT_NEAR(wall_area(fitting, 0, 0) / square(k_inch), c.area, 5e-7);
  }
}

TEST(Reducer, metric_taper) {
  const Fitting fitting = fitting_from("reducer", k_plain);
  EXPECT_NEAR(fact(fitting, "slant"), 309.23292, 5e-6);
  EXPECT_NEAR(fact(fitting, "sector_outer_radius"), 824.62113, 5e-6);
  EXPECT_NEAR(fact(fitting, "sector_inner_radius"), 515.38820, 5e-6);
  EXPECT_NEAR(fact(fitting, "sector_angle") / k_degree, 87.312825, 5e-7);
  EXPECT_NEAR(fact(fitting, "half_angle") / k_degree, 14.036243, 5e-7);
  EXPECT_NEAR(fact(fitting, "radius_lost"), 25.769410, 5e-7);
  EXPECT_NEAR(fact(fitting, "corner_walk"), 25 * std::tan(0.5 * std::atan2(75.0, 300.0)), 1e-12);
  EXPECT_NEAR(wall_area(fitting, 0, 0), 315732.26, 0.005);
  EXPECT_NEAR(shell_volume(fitting, 0), 25329091, 0.5);
  // the other way round the figures are the same
  const Fitting growing =
      fitting_from("reducer", with(k_plain, {{"diameter", "250"}, {"to_diameter", "400"}}));
  for (const Fact& each : fitting.facts) EXPECT_NEAR(fact(growing, each.key), each.value, 1e-10) << each.key;
  for (const double w : {-0.8, 0.0, 25.0})
    EXPECT_NEAR(shell_volume(growing, w) / shell_volume(fitting, w), 1.0, 1e-10);
  // girth of the large end on the reference fibre
  EXPECT_NEAR(stretch_out(fitting, 0), k_two_pi * 200, 1e-9);
  EXPECT_NEAR(stretch_out(growing, 0), k_two_pi * 200, 1e-9);
}

TEST(Reducer, layers_of_a_bare_taper_are_frusta) {
  // Both ends in their planes: radii R - w / cos phi and r - w / cos phi over the same height.
  const Fitting fitting = fitting_from("reducer", k_plain);
  const double cosine = 300 / std::hypot(300.0, 75.0);
  for (const double w : {-0.8, 0.0, 12.0, 25.0}) {
    EXPECT_NEAR(shell_volume(fitting, w) / frustum_volume(200 - w / cosine, 125 - w / cosine, 300), 1.0,
                1e-10);
    // lateral area pi s (R + r)
    EXPECT_NEAR(wall_area(fitting, 0, w) / (k_pi * 300 / cosine * (325 - 2 * w / cosine)), 1.0, 1e-10);
  }
}

TEST(Reducer, layers_between_collars_meet_at_walked_corners) {
  // Layer w turns at w tan(phi/2) before either seam, on the collars' own radii R - w and r - w: cylinder,
  // frustum of the full taper length, cylinder.
  for (const bool growing : {false, true}) {
    const Fitting fitting = fitting_from(
        "reducer", growing ? with(k_collars, {{"diameter", "250"}, {"to_diameter", "400"}}) : k_collars);
    const double r1 = growing ? 125 : 200;
    const double r2 = growing ? 200 : 125;
    const double phi = std::atan2(r1 - r2, 300.0);
    for (const double w : {-0.8, 0.0, 10.0, 25.0}) {
      const double walk = w * std::tan(0.5 * phi);
      EXPECT_NEAR(shell_volume(fitting, w) /
                      (k_pi * square(r1 - w) * (80 - walk) + frustum_volume(r1 - w, r2 - w, 300) +
                       k_pi * square(r2 - w) * (60 + walk)),
                  1.0, 1e-10)
          << w;
      EXPECT_NEAR(total_wall_area(fitting, w) /
                      (k_two_pi * (r1 - w) * (80 - walk) + k_pi * 300 / std::cos(phi) * (r1 + r2 - 2 * w) +
                       k_two_pi * (r2 - w) * (60 + walk)),
                  1.0, 1e-10)
          << w;
      // the corner is the collar's circle
      const Joint& joint = fitting.joint(fitting.walls[0].high.joint);
      EXPECT_NEAR(joint_length(joint, shell_depths(w)), k_two_pi * (r1 - w), 1e-8);
    }
  }
}

TEST(Reducer, flat_on_one_side) {
  // R 200, r 125, h 300, offset 75 = R - r: volume as the concentric one (Cavalieri), lateral area 320 068.54
  // mm^2 by triangles under the elements, R/2 closed integral of sqrt(H^2 + (R - a cos phi)^2) dphi (1 -
  // (r/R)^2) with the apex at height H 800 over a 200.
  const Fitting fitting = fitting_from("reducer", with(k_plain, {{"flat", ""}}));
  EXPECT_EQ(fitting.walls[0].sheet.offset(), 75);
  EXPECT_NEAR(shell_volume(fitting, 0), 25329091, 0.5);
  EXPECT_NEAR(wall_area(fitting, 0, 0), 320068.54, 0.005);
  const Fitting asked = fitting_from("reducer", with(k_plain, {{"offset", "75"}}));
  EXPECT_EQ(asked.walls[0].sheet.offset(), 75);
  // the wall runs straight along the axis at the flat
  EXPECT_LT(distance(fitting.walls[0].sheet.direction(0.0), {0, 0, 1}), 1e-14);
  // the seam lies on the far side, opposite the flat
  EXPECT_NEAR(fitting.pieces[0].seam, k_pi, 1e-15);
  EXPECT_EQ(fitting.pieces[0].seam_place, "far side");
  EXPECT_THROW(fact(fitting, "half_angle"), std::out_of_range);
}

TEST(Reducer, flat_may_look_any_way_around) {
  const Fitting plain = fitting_from("reducer", with(k_collars, {{"flat", ""}}));
  const Fitting turned = fitting_from("reducer", with(k_collars, {{"flat", ""}, {"flat_at", "130"}}));
  const Vec3 toward{std::cos(130 * k_degree), std::sin(130 * k_degree), 0};
  const auto& taper = turned.walls[static_cast<std::size_t>(taper_wall(turned))].sheet;
  EXPECT_LT(distance(taper.point(0, taper.ruling(0).length, 0), 200 * toward + Vec3{0, 0, 300}), 1e-9);
  for (const double w : {0.0, 25.0})
    EXPECT_NEAR(shell_volume(turned, w) / shell_volume(plain, w), 1.0, 1e-12);
}

TEST(Reducer, lined_volume_of_an_oblique_taper_by_its_sections) {
  // V(w) = integral over the height of the sections' areas.
  for (const double offset : {20.0, 75.0, 140.0}) {
    const Fitting fitting = fitting_from("reducer", with(k_plain, {{"offset", mm(offset)}}));
    for (const double w : {-0.8, 12.0, 25.0}) {
      const double exact =
          integrate([&](double z) { return section_by_tangents(200, 125, 300, offset, w, z); }, 0, 300, 2);
      EXPECT_NEAR(shell_volume(fitting, w) / exact, 1.0, 1e-9) << offset << ' ' << w;
    }
  }
}

TEST(Reducer, stations_of_the_bore) {
  // Concentric: circles of R(z) - t / cos phi; eccentric: the tangents' envelope.
  for (const double offset : {0.0, 75.0}) {
    const Fitting fitting = fitting_from("reducer", with(k_collars, {{"offset", mm(offset)}}));
    ASSERT_EQ(fitting.passages.size(), 1U);
    const std::vector<Station>& stations = fitting.passages[0].stations;
    ASSERT_EQ(stations.size(), 11U);
    EXPECT_NEAR(stations.front().lined_area, k_pi * square(175), 1e-8);
    EXPECT_NEAR(stations.back().lined_area, k_pi * square(100), 1e-8);
    // along the line of centres: hypot(300, offset) between the collars of 80 and 60
    const double way = std::hypot(300.0, offset);
    EXPECT_NEAR(stations.back().distance, 140 + way, 1e-9);
    EXPECT_EQ(stations.front().place, "first end");
    EXPECT_EQ(stations.back().place, "second end");
    int checked = 0;
    for (std::size_t i = 1; i + 1 < stations.size(); ++i) {
      const double z = stations[i].plane.point.z;
      EXPECT_NEAR(stations[i].distance,
                  80 + (z < 0.0     ? z
                        : z > 300.0 ? way + z - 300.0
                                    : z * way / 300.0),
                  1e-9);
      EXPECT_GT(stations[i].distance, stations[i - 1].distance);
      // up to the air face's corner the collar's bore goes on
      if (offset == 0.0) {
        EXPECT_LT(stations[i].lined_area, stations[i - 1].lined_area * (i == 1 ? 1.0 + 1e-9 : 1.0));
      }
      EXPECT_NEAR(stations[i].plane.point.x, offset * z / 300, 1e-9);
      if (stations[i].plane.normal.x == 0.0) {
        EXPECT_NEAR(stations[i].lined_area / section_by_tangents(200, 125, 300, offset, 25, z), 1.0, 1e-9);
      }
      EXPECT_NEAR(stations[i].lined_area / section_by_lines(200, 125, 300, offset, 25, stations[i].plane),
                  1.0, 1e-6);
      EXPECT_NEAR(k_pi / 4 * square(stations[i].lined_diameter), stations[i].lined_area, 1e-7);
      if (offset == 0.0) {
        const double radius = 200 - 75 * z / 300 - 25 / std::cos(std::atan2(75.0, 300.0));
        EXPECT_NEAR(stations[i].lined_area, k_pi * square(radius), 1e-6);
      }
      if (z >= 0 && z <= 300) {
        EXPECT_NEAR(k_pi / 4 * square(stations[i].bare_diameter) /
                        section_by_lines(200, 125, 300, offset, 0, stations[i].plane),
                    1.0, 1e-6);
        if (offset == 0.0) {
          EXPECT_NEAR(stations[i].bare_diameter, 400 - 150 * z / 300, 1e-9);
        }
        ++checked;
      }
    }
    EXPECT_GE(checked, 7);
  }
}

TEST(Reducer, goes_in_from_the_large_end) {
  // what lies deepest goes in first: the lined large collar is too narrow for the taper's piece to pass
  const auto roles = [](const Fitting& fitting) {
    std::string all;
    for (const int i : fitting.insertion) all += fitting.piece(i).role + ", ";
    return all;
  };
  EXPECT_EQ(roles(fitting_from("reducer", k_collars)), "small collar, taper, large collar, ");
  EXPECT_EQ(roles(fitting_from("reducer", with(k_collars, {{"diameter", "250"}, {"to_diameter", "400"}}))),
            "small collar, taper, large collar, ");
  EXPECT_EQ(roles(fitting_from("reducer", k_plain)), "taper, ");
  EXPECT_EQ(roles(fitting_from("reducer", with(k_plain, {{"to_collar", "60"}}))), "small collar, taper, ");
}

TEST(Reducer, equal_ends_moved_sideways_are_a_reducer_too) {
  // An oblique cylinder: pi R^2 h whatever the offset (Cavalieri).
  const Fitting fitting = fitting_from("reducer", with(k_plain, {{"to_diameter", "400"}, {"offset", "60"}}));
  EXPECT_NEAR(shell_volume(fitting, 0) / (k_pi * 200 * 200 * 300), 1.0, 1e-10);
}

TEST(Reducer, notched_blank_closes_the_difference_of_the_stretch_outs) {
  // 24 to 20 in: pi (24 - 20) = 12.566 in to close. Rule of thumb (common practice, no source): two notches
  // an inch of difference, 1.5 in wide: 8 notches, 12.0 in.
  const Fitting fitting = fitting_from("reducer", {{"diameter", "24in"},
                                                   {"to_diameter", "20in"},
                                                   {"length", "18in"},
                                                   {"collar", "4in"},
                                                   {"thickness", "1in"},
                                                   {"pattern", "notched"}});
  ASSERT_EQ(fitting.notched.size(), 1U);
  EXPECT_EQ(fitting.notched[0].notches, 8);
  EXPECT_EQ(fact(fitting, "notches"), 8);
  EXPECT_NEAR(fact(fitting, "closing_width") / k_inch, 4 * k_pi, 1e-9);
  EXPECT_NEAR(fact(fitting, "mouth_width") / k_inch, k_pi / 2, 1e-9);
  EXPECT_NEAR(fact(fitting, "rule_of_thumb_width") / k_inch, 12.0, 1e-9);
  EXPECT_NEAR(fact(fitting, "rule_of_thumb_leaves") / k_inch, 4 * k_pi - 12.0, 1e-9);
  // 43 mouths of 1.5 in are 64.5 in, for a closing of pi 4 in
  const Fitting many = fitting_from("reducer", {{"diameter", "24in"},
                                                {"to_diameter", "20in"},
                                                {"length", "18in"},
                                                {"thickness", "1in"},
                                                {"pattern", "notched"},
                                                {"notches", "43"}});
  EXPECT_NEAR(fact(many, "rule_of_thumb_takes") / k_inch, 64.5 - 4 * k_pi, 1e-9);
  EXPECT_EQ(fitting.piece(fitting.notched[0].taper).role, "taper");
  EXPECT_EQ(fitting.piece(fitting.notched[0].collar.value()).role, "large collar");
  const auto notches = [](const Flags& more) {
    return fitting_from("reducer", with(with(k_collars, {{"pattern", "notched"}}), more)).notched.at(0);
  };
  EXPECT_EQ(notches({{"notches", "11"}}).notches, 11);
  EXPECT_EQ(notches({{"to_diameter", "390"}}).notches, 4);  // never fewer than four
  EXPECT_FALSE(notches({{"split", "seam"}}).collar);
  EXPECT_FALSE(notches({{"collar", "0"}}).collar);
  EXPECT_TRUE(fitting_from("reducer", k_collars).notched.empty());
}

// A tab goes on narrowing to where the air face ends, at a collar t tan(phi / 2) farther than the duct face:
// 300 to 200 over 20 mm, 40 notches, the girth at the air face kept. Beside the seam half a pitch of pi (300
// - 2 t) / 40 is left, less half a mouth of pi 100 / 40 that has grown by 1 + t tan(phi / 2) / slant.
TEST(Reducer, notched_tabs_are_as_wide_as_where_they_end) {
  const auto tab = [](double t) {
    const double grown = 1.0 + t * std::tan(0.5 * std::atan2(50.0, 20.0)) / std::hypot(50.0, 20.0);
    return 0.5 * k_pi / 40.0 * (300.0 - 2.0 * t - 100.0 * grown);
  };
  const auto steep = [](const char* thickness) {
    return Flags{{"diameter", "300"},     {"to_diameter", "200"},   {"length", "20"},       {"collar", "100"},
                 {"to_collar", "100"},    {"thickness", thickness}, {"pattern", "notched"}, {"notches", "40"},
                 {"neutral_factor", "1"}, {"fit_allowance", "0mm"}, {"trim", "200"}};
  };
  ASSERT_GT(tab(53.0), 1.0);
  EXPECT_EQ(fitting_from("reducer", steep("53")).notched.size(), 1U);
  ASSERT_NEAR(tab(55.0), 0.82, 0.005);
  EXPECT_TRUE(
      has(refusal("reducer", steep("55")), "a tab between notches would be 0.82 mm wide where it ends"));
  ASSERT_LT(tab(70.0), 0.0);
  EXPECT_TRUE(
      has(refusal("reducer", steep("70")), "run into each other or off the board before the tabs end"));
}

TEST(Reducer, short_tapers_are_warned_of) {
  // under 12 in: common practice, no source
  const Fitting fitting = fitting_from("reducer", k_plain);
  ASSERT_EQ(fitting.warnings.size(), 1U);
  EXPECT_EQ(fitting.warnings[0],
            "the taper is 300 mm long; under 304.8 mm it is hard to close by hand (usual in the trade; your "
            "board maker's instructions decide)");
  EXPECT_TRUE(fitting_from("reducer", with(k_plain, {{"length", "304.8"}})).warnings.empty());
  EXPECT_TRUE(fitting_from("reducer", with(k_plain, {{"min_taper", "200"}})).warnings.empty());
  // 1 in between 24 and 20 in slopes by 63 degrees; 2 in would be 45
  const Flags steep{{"diameter", "24in"}, {"to_diameter", "20in"}, {"length", "1in"}, {"thickness", "0.5in"}};
  const Fitting flat = make_fitting(request_from_flags("reducer", steep, Units::inch, job_schema()));
  ASSERT_EQ(flat.warnings.size(), 1U);
  EXPECT_EQ(flat.warnings[0],
            "the taper is 1 in long; under 2 in (a slope of 45 degrees) it cannot be rolled, under 12 in it "
            "is hard to "
            "close by hand (usual in the trade; your board maker's instructions decide)");
}
