// Stations of steep tapers: in order, on the true air face, narrowest where the section is.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>

#include "fitting/helpers.hpp"

using namespace linerwright;

namespace {

const std::vector<Station>& stations_of(const Fitting& fitting) {
  return fitting.passages.at(0).stations;
}

const Station& narrowest_of(const Fitting& fitting) {
  const std::vector<Station>& all = stations_of(fitting);
  return *std::min_element(all.begin(), all.end(), [](const Station& a, const Station& b) {
    return a.lined_area < b.lined_area * (1.0 - 1e-9);
  });
}

// The section in a plane at a depth, straight from the walls: every ruling of every wall that passes the
// plane there gives a point of its outline; area of the polygon through them, in order around its middle.
double section_of(const Fitting& fitting, const PlaneTarget& plane, int rulings, double depth) {
  const Vec3 x = normalised(cross(Vec3{0.0, 1.0, 0.0}, plane.normal));
  const Vec3 y = cross(plane.normal, x);
  std::vector<Vec2> outline;
  Vec2 sum{};
  for (std::size_t w = 0; w < fitting.walls.size(); ++w) {
    const Sheet& sheet = fitting.walls[w].sheet;
    const int wall = static_cast<int>(w);
    for (int i = 0; i < rulings; ++i) {
      const double theta = k_two_pi * (i + 0.37) / rulings;
      const Vec3 foot = sheet.point(theta, 0.0, depth);
      const Vec3 along = sheet.point(theta, 1.0, depth) - foot;
      const double v = dot(plane.point - foot, plane.normal) / dot(along, plane.normal);
      if (v < shell_end(fitting, wall, End::low, theta, depth) - 1e-9 ||
          v > shell_end(fitting, wall, End::high, theta, depth) + 1e-9)
        continue;
      const Vec3 p = foot + v * along - plane.point;
      outline.push_back({dot(p, x), dot(p, y)});
      sum = sum + outline.back();
    }
  }
  const Vec2 middle = (1.0 / static_cast<double>(outline.size())) * sum;
  const auto angle = [&](Vec2 p) { return std::atan2(p.y - middle.y, p.x - middle.x); };
  std::sort(outline.begin(), outline.end(), [&](Vec2 a, Vec2 b) { return angle(a) < angle(b); });
  double area = 0.0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i];
    const Vec2 b = outline[(i + 1) % outline.size()];
    area += 0.5 * (a.x * b.y - a.y * b.x);
  }
  return area;
}

double section_of(const Fitting& fitting, double z, int rulings) {
  return section_of(fitting, {{0.0, 0.0, z}, {0.0, 0.0, 1.0}}, rulings, fitting.liner.thickness);
}

Flags steep(const std::string& from, const std::string& to, const std::string& length,
            const std::string& liner) {
  return {{"diameter", from}, {"to_diameter", to},  {"length", length},
          {"collar", "100"},  {"to_collar", "100"}, {"thickness", liner}};
}

}  // namespace

// phi = atan(50/25): the corners of the air face lie 50 tan(phi/2) = 30.902 mm before those of the metal,
// at 69.1 and 94.1 mm; the bore is narrowest in the small collar, 400 - 2 x 50.
TEST(SteepTaper, air_face_lies_before_the_metal) {
  const Fitting fitting = fitting_from("reducer", steep("500", "400", "25", "50"));
  const std::vector<Station>& all = stations_of(fitting);
  const double walk = 50.0 * std::tan(0.5 * std::atan2(50.0, 25.0));
  int seams = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (i > 0) {
      EXPECT_GT(all[i].distance, all[i - 1].distance);
    }
    if (all[i].place == "first seam") {
      EXPECT_NEAR(all[i].distance, 100.0 - walk, 1e-9);
      EXPECT_NEAR(all[i].distance, 69.1, 0.05);
      EXPECT_NEAR(all[i].lined_diameter, 400.0, 1e-9);
      ++seams;
    }
    if (all[i].place == "second seam") {
      EXPECT_NEAR(all[i].distance, 125.0 - walk, 1e-9);
      EXPECT_NEAR(all[i].distance, 94.1, 0.05);
      EXPECT_NEAR(all[i].lined_diameter, 300.0, 1e-9);
      EXPECT_NEAR(all[i].bare_diameter, 500.0, 1e-9) << "the metal has not begun to taper";
      ++seams;
    }
  }
  EXPECT_EQ(seams, 2);
  EXPECT_NEAR(narrowest_of(fitting).lined_diameter, 300.0, 1e-9);
  // the other way round it is the same bore, read backwards
  const Fitting back = fitting_from("reducer", steep("400", "500", "25", "50"));
  EXPECT_NEAR(narrowest_of(back).lined_diameter, 300.0, 1e-9);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Station& other = stations_of(back)[all.size() - 1 - i];
    EXPECT_NEAR(other.distance, 225.0 - all[i].distance, 1e-9);
    EXPECT_NEAR(other.lined_area / all[i].lined_area, 1.0, 1e-12);
  }
}

TEST(SteepTaper, narrowest_is_the_small_collar) {
  for (const char* length : {"10", "15", "20", "40"}) {
    const Fitting fitting = fitting_from("reducer", steep("929.12", "302.219", length, "50.8"));
    EXPECT_NEAR(narrowest_of(fitting).lined_diameter, 302.219 - 101.6, 1e-9) << length;
    for (const Station& station : stations_of(fitting))
      EXPECT_LE(station.lined_diameter, station.bare_diameter) << length << ' ' << station.distance;
  }
}

// An open taper, 24 to 20 in over 4 in, lined 1 in: t / cos(atan(2/4)) is lost in radius at either end.
TEST(SteepTaper, open_ends) {
  const Fitting fitting = fitting_from(
      "reducer", {{"diameter", "24in"}, {"to_diameter", "20in"}, {"length", "4in"}, {"thickness", "1in"}});
  const double lost = 1.0 / std::cos(std::atan2(2.0, 4.0));
  EXPECT_NEAR(stations_of(fitting).front().lined_diameter / k_inch, 24.0 - 2.0 * lost, 1e-9);
  EXPECT_NEAR(stations_of(fitting).back().lined_diameter / k_inch, 20.0 - 2.0 * lost, 1e-9);
}

// Steep tapers of all sizes, on centre and off it, against sections taken straight from the walls: the
// stations are in order and show the section where they say, and nowhere is the bore narrower than the
// narrowest.
TEST(SteepTaper, random_tapers_against_their_sections) {
  Dice dice(20261);
  const auto between = [&](double a, double b) { return dice.between(a, b); };
  int made = 0;
  int overlapping = 0;
  int sideways = 0;
  int leaning = 0;
  for (int n = 0; n < cases(200); ++n) {
    const double d1 = between(80, 1200);
    const double d2 = n % 5 == 0 ? d1 : between(80, 1200);
    const double liner = between(3, 0.2 * std::min(d1, d2));
    const double length = std::exp(between(std::log(5.0), std::log(500.0)));
    const double offset = n % 3 == 0 && d1 != d2 ? 0.0 : between(0.5, 0.4 * std::min(d1, d2));
    Flags flags{{"diameter", mm(d1)},
                {"to_diameter", mm(d2)},
                {"length", mm(length)},
                {"thickness", mm(liner)},
                {"offset", mm(offset)}};
    if (n % 4 != 1) flags["collar"] = mm(between(20, 300));
    if (n % 4 != 2) flags["to_collar"] = mm(between(20, 300));
    Fitting fitting;
    try {
      fitting = fitting_from("reducer", flags);
    } catch (const InputError&) {
      continue;
    }
    ++made;
    SCOPED_TRACE(written("reducer", flags));
    const std::vector<Station>& all = stations_of(fitting);
    const double narrowest = narrowest_of(fitting).lined_area;
    for (std::size_t i = 1; i + 1 < all.size(); ++i) {
      EXPECT_GT(all[i].distance, all[i - 1].distance);
      const double z = all[i].plane.point.z;
      const PlaneTarget near{all[i].plane.point + 1e-9 * all[i].plane.normal, all[i].plane.normal};
      EXPECT_NEAR(section_of(fitting, near, 600, liner) / all[i].lined_area, 1.0, 2e-4) << z;
      EXPECT_NEAR(section_of(fitting, near, 600, 0.0) / (k_pi / 4 * square(all[i].bare_diameter)), 1.0, 2e-4)
          << z;
      leaning += std::fabs(all[i].plane.normal.x) > 1e-6 ? 1 : 0;
      EXPECT_LE(all[i].lined_area, k_pi / 4 * square(all[i].bare_diameter));
      overlapping += all[i].place == "taper" && (z < 0.0 || z > length) ? 1 : 0;
      sideways += all[i].place == "passing the seam" ? 1 : 0;
    }
    const double begin = all.front().plane.point.z;
    const double end = all.back().plane.point.z;
    for (int i = 1; i < 24; ++i)
      EXPECT_GT(section_of(fitting, begin + (end - begin) * i / 24, 300), narrowest * (1.0 - 1e-3)) << i;
  }
  EXPECT_GT(made, cases(200) * 70 / 200);
  EXPECT_GT(overlapping, cases(200) * 30 / 200);
  EXPECT_GE(sideways, cases(200) * 3 / 200);
  EXPECT_GT(leaning, cases(200) * 100 / 200);
}

// The same metal seen from its other end has the same bore: a taper that grows, flat on one side, against the
// one that reduces.
TEST(SteepTaper, a_flat_taper_that_grows_has_the_bore_of_the_one_that_reduces) {
  for (const auto& [small, large, length, t] : {std::array{400.0, 500.0, 400.0, 25.0},
                                                {697.473, 746.389, 521.452, 37.978},
                                                {300.0, 600.0, 150.0, 40.0},
                                                {200.0, 900.0, 700.0, 60.0}}) {
    const auto stations = [&, &length = length, &t = t, collars = std::pair{"120", "60"}](
                              double from, double to, bool turned) {
      return fitting_from("reducer", {{"diameter", mm(from)},
                                      {"to_diameter", mm(to)},
                                      {"length", mm(length)},
                                      {"collar", turned ? collars.second : collars.first},
                                      {"to_collar", turned ? collars.first : collars.second},
                                      {"flat", "yes"},
                                      {"thickness", mm(t)}})
          .passages.at(0)
          .stations;
    };
    const std::vector<Station> grows = stations(small, large, false);
    const std::vector<Station> reduces = stations(large, small, true);
    ASSERT_EQ(grows.size(), reduces.size());
    for (std::size_t i = 0; i < grows.size(); ++i) {
      const Station& other = reduces[reduces.size() - 1 - i];
      EXPECT_NEAR(grows[i].lined_area / other.lined_area, 1.0, 1e-9) << small << ' ' << i;
      // flat: the line of centres leans by the difference of the radii
      const double way = std::hypot(length, 0.5 * (large - small));
      EXPECT_NEAR(grows[i].distance, way + 180.0 - other.distance, 1e-6) << small << ' ' << i;
    }
  }
}

// 500 to 250 mm over 350 mm, moved aside by 200 mm: the line of centres is hypot(350, 200) = 403.1 mm long
// and leans by atan(200/350) = 29.7 degrees. A plane square to it, z = z0 - (4/7) (x - x0), shows an ellipse
// of the metal's oblique cone: (x - 4/7 z)^2 + y^2 = (250 - 5/14 z)^2, summed here in strips. Halfway along
// it is a tenth smaller than the circle of 187.5 mm radius in the plane square to the first axis.
TEST(OffsetTaper, is_cut_square_to_the_line_of_centres) {
  const Flags flags{
      {"diameter", "500"}, {"to_diameter", "250"}, {"length", "350"}, {"offset", "200"}, {"thickness", "25"}};
  const Fitting fitting = fitting_from("reducer", flags);
  const std::vector<Station>& all = stations_of(fitting);
  EXPECT_NEAR(all.back().distance, 403.1129, 1e-4);
  const double lean = 200.0 / 350.0;
  const auto ellipse = [&](double x0, double z0) {
    double area = 0.0;
    constexpr int k_strips = 400000;
    for (int i = 0; i < k_strips; ++i) {
      const double x = -300.0 + 800.0 * (i + 0.5) / k_strips;
      const double z = z0 - lean * (x - x0);
      area += 2.0 * std::sqrt(std::max(0.0, square(250.0 - 125.0 / 350.0 * z) - square(x - lean * z)));
    }
    return area * 800.0 / k_strips * std::hypot(1.0, lean);
  };
  EXPECT_NEAR(ellipse(100.0, 175.0) / (k_pi * square(187.5)), 0.9, 0.01);
  int square_to_it = 0;
  for (const Station& station : all) {
    if (std::fabs(station.plane.normal.x / station.plane.normal.z - lean) > 1e-9) continue;
    ++square_to_it;
    EXPECT_NEAR(
        k_pi / 4 * square(station.bare_diameter) / ellipse(station.plane.point.x, station.plane.point.z), 1.0,
        1e-6);
    EXPECT_NEAR(station.plane.point.x, lean * station.plane.point.z, 1e-9) << "on the line of centres";
  }
  EXPECT_GE(square_to_it, 5);
  EXPECT_EQ(all.front().plane.normal.x, 0.0);
  EXPECT_EQ(all.back().plane.normal.x, 0.0);
}
