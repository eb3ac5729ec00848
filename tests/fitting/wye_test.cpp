// Wyes and breeches: volumes, stations and corners of twelve of them, worked out beside the program from the
// sphere that all walls touch, and again here by cuts across the fitting; refusals that the geometry asks
// for.
#include <gtest/gtest.h>

#include <functional>

#include "fitting/helpers.hpp"
#include "linerwright/fitting/port.hpp"

using namespace linerwright;

namespace {

const Flags k_wye{{"diameter", "500"}, {"inlet_length", "300"}, {"thickness", "25"}, {"fit_allowance", "0"}};

Flags wye(const char* ends, const char* lengths, const char* angles, const char* around = "") {
  Flags flags = with(k_wye, {{"leg_diameter", ends}, {"leg_length", lengths}, {"angle", angles}});
  if (*around != '\0') flags["around"] = around;
  const std::string all = ends;
  flags["legs"] = std::to_string(1 + std::count(all.begin(), all.end(), '&'));
  return flags;
}

// Liner 25 and 50 thick by Gauss's quadrature of the closed form V(R) = sum over walls of (2 pi R/3)(R cos p
// v - sin p v^2/2) + pi L r^2/3, less K R^3, V(R) - V(R - t).
struct Row {
  Flags flags;
  double liner_25, liner_50;
};
const std::vector<Row>& table() {
  static const std::vector<Row> rows{{wye("500&500", "600", "30"), 43155156, 82971269},
                                     {wye("500&500", "600", "45"), 45636624, 87439743},
                                     {wye("400&400", "600", "30"), 40053495, 76456976},
                                     {wye("400&400", "600", "45"), 41684293, 79393616},
                                     {wye("400&300", "600", "30"), 38504442, 73206656},
                                     {wye("400&300", "700&500", "20&45"), 39405881, 74910612},
                                     {wye("400&300", "600&500", "0&45", "0&0"), 34436566, 65690503},
                                     {wye("500&500&500", "800", "0&40&40", "0&0&180"), 65593885, 127585651},
                                     {wye("300&300&300", "600", "0&40&40", "0&0&180"), 40780796, 78023560},
                                     {wye("250&300&300", "600", "0&40&40", "0&0&180"), 40535017, 77348630},
                                     {wye("300&300&300", "600", "35"), 43454505, 82838208},
                                     {wye("150&150", "1000", "10"), 43575819, 81067987}};
  return rows;
}

double liner_volume(const Fitting& fitting) {
  return shell_volume(fitting, 0.0) - shell_volume(fitting, fitting.liner.bore_depth());
}

std::vector<double> numbers(const Flags& flags, const char* key, std::size_t count) {
  std::vector<double> values;
  const std::string& text = flags.at(key);
  for (std::size_t at = 0; at <= text.size();) {
    const std::size_t end = std::min(text.find('&', at), text.size());
    values.push_back(std::stod(text.substr(at, end - at)));
    at = end + 1;
  }
  values.resize(count, values.front());
  return values;
}

// A wall by its axis, half angle and length alone: f(x) = (a.x - R sin p)/cos p.
struct Arm {
  Vec3 axis;
  double half, length;
  double f(Vec3 x, double radius) const { return (dot(axis, x) - radius * std::sin(half)) / std::cos(half); }
};

std::vector<Arm> arms_of(const Flags& flags, double radius) {
  const auto count = static_cast<std::size_t>(std::stoi(flags.at("legs")));
  const std::vector<double> ends = numbers(flags, "leg_diameter", count);
  const std::vector<double> lengths = numbers(flags, "leg_length", count);
  const std::vector<double> angles = numbers(flags, "angle", count);
  std::vector<Arm> arms{{{0, 0, -1}, 0.0, std::stod(flags.at("inlet_length"))}};
  for (std::size_t i = 0; i < count; ++i) {
    const double turn = flags.count("around") != 0
                            ? numbers(flags, "around", count)[i] * k_degree
                            : k_two_pi * static_cast<double>(i) / static_cast<double>(count);
    const double b = angles[i] * k_degree;
    const double r = 0.5 * ends[i];
    const double half = std::asin(radius / std::hypot(lengths[i], r)) - std::atan2(r, lengths[i]);
    arms.push_back(
        {{std::sin(b) * std::cos(turn), std::sin(b) * std::sin(turn), std::cos(b)}, half, lengths[i]});
  }
  return arms;
}

// The volume within depth w by cuts through the fitting: a point belongs to the wall whose f is the greatest,
// F; it lies inside where |x|^2 <= (R - w)^2 + F^2, before that wall's end. Where all axes lie in one plane F
// is the same across it, and what is inside reaches as far to both sides as a root says.
double volume_by_cuts(const std::vector<Arm>& arms, double radius, double w, bool in_plane, int steps) {
  const double rho = radius - w;
  double reach = 0.0;
  for (const Arm& arm : arms) reach = std::max(reach, arm.length + radius);
  const double h = 2.0 * reach / steps;
  double sum = 0.0;
  const auto add = [&](Vec3 x) {
    const Arm* owner = nullptr;
    double most = -1e300;
    for (const Arm& arm : arms)
      if (const double f = arm.f(x, rho); f > most) {
        most = f;
        owner = &arm;
      }
    // of a square that the end's plane cuts, its share before it
    const Vec3 a = owner->axis;
    const double wide = h * (std::fabs(a.x) + std::fabs(a.z) + (in_plane ? 0.0 : std::fabs(a.y)));
    const double share = std::clamp(0.5 + (owner->length - dot(a, x)) / wide, 0.0, 1.0);
    const double room = rho * rho + most * most - dot(x, x);
    if (room > 0.0) sum += share * (in_plane ? 2.0 * std::sqrt(room) : h);
  };
  for (int i = 0; i < steps; ++i)
    for (int k = 0; k < steps; ++k) {
      const double x = -reach + h * (i + 0.5);
      const double z = -reach + h * (k + 0.5);
      for (int j = 0; j < (in_plane ? 1 : steps); ++j) add({x, in_plane ? 0.0 : -reach + h * (j + 0.5), z});
    }
  return sum * h * h;
}

const Wall& wall_of(const Fitting& fitting, std::size_t index) {
  return fitting.walls.at(index);
}

}  // namespace

TEST(Wye, volumes_of_twelve) {
  int number = 0;
  for (const Row& row : table()) {
    SCOPED_TRACE(++number);
    EXPECT_NEAR(liner_volume(fitting_from("wye", row.flags)) / row.liner_25, 1.0, 1e-6);
    EXPECT_NEAR(liner_volume(fitting_from("wye", with(row.flags, {{"thickness", "50"}}))) / row.liner_50, 1.0,
                1e-6);
  }
}

TEST(Wye, volumes_by_cuts_through_the_fitting) {
  int number = 0;
  for (const Row& row : table()) {
    SCOPED_TRACE(++number);
    const Fitting fitting = fitting_from("wye", row.flags);
    const bool in_plane = number != 11;
    for (const double w : {0.0, 25.0}) {
      const double cuts = volume_by_cuts(arms_of(row.flags, 250), 250, w, in_plane, in_plane ? 1200 : 160);
      EXPECT_NEAR(shell_volume(fitting, w) / cuts, 1.0, in_plane ? 1e-4 : 2e-3);
    }
  }
}

// R G at stations 0 (heel) to 180 (crotch) by 30 degrees: where rulings begin, from the circle that touches
// the sphere; the inlet's run the other way.
TEST(Wye, stations) {
  const auto expect = [](const Row& row, std::size_t wall, std::vector<double> starts) {
    const Fitting fitting = fitting_from("wye", row.flags);
    const End end = wall == 0 ? End::high : End::low;
    for (std::size_t i = 0; i < starts.size(); ++i)
      for (const double w : {0.0, 25.0}) {
        const double theta = 30.0 * static_cast<double>(i) * k_degree;
        const double found = shell_end(fitting, static_cast<int>(wall), end, theta, w);
        EXPECT_NEAR(-outward(end) * found, starts[i] * (250 - w) / 250, 1e-4) << wall << " " << i;
      }
  };
  expect(table()[0], 1, {66.9873, 58.0127, 33.4936, 0.0, 216.5064, 375.0000, 433.0127});
  expect(table()[2], 1, {55.7699, 47.1514, 23.3410, -9.8235, 181.9332, 313.8560, 359.0502});
  expect(table()[2], 0, {55.7699, 46.7780, 22.2119, -11.3461, 22.2119, 46.7780, 55.7699});
  expect(table()[4], 1, {55.7699, 47.1514, 23.3410, -9.8235, 144.8161, 281.1887, 327.8443});
  expect(table()[4], 2, {44.5174, 36.2179, 13.0339, 0.3144, 184.9940, 292.8403, 327.8443});
}

// Where walls meet, a point of the one at depth w is a point of the other at depth w; and no third wall lies
// farther out there.
TEST(Wye, walls_meet_at_equal_depths) {
  int number = 0;
  for (const Row& row : table()) {
    SCOPED_TRACE(++number);
    const Fitting fitting = fitting_from("wye", row.flags);
    const std::vector<Arm> arms = arms_of(row.flags, 250);
    for (const Joint& joint : fitting.joints) {
      if (joint.open()) continue;
      for (const Arc& arc : arcs_of(joint))
        for (int i = 0; i <= 8; ++i)
          for (const double w : {0.0, 12.5, 25.0, 50.0}) {
            const double s = arc.from + (arc.to - arc.from) * i / 8;
            const Vec3 point = point_of(joint, s, shell_depths(w));
            const Sheet::Place there = place_on(joint, Side::follow, s, shell_depths(w));
            EXPECT_LT(distance(point, joint.follow[0].point(there.theta, there.v, w)), 1e-9);
            double most = -1e300;
            for (const Arm& arm : arms) most = std::max(most, arm.f(point, 250 - w));
            EXPECT_NEAR(dot(point, point), square(250 - w) + most * most, 1e-6);
          }
    }
  }
}

// Corners of three walls: f_i = f_j = f_k and |x|^2 = R^2 + f^2. With equal half angles all walls of a plane
// meet in the two poles; a middle leg narrower than 273.93 at its end does not reach the inlet.
TEST(Wye, corners) {
  const auto corners = [](const Row& row) {
    const Fitting fitting = fitting_from("wye", row.flags);
    std::map<int, Vec3> found;
    for (const Joint& joint : fitting.joints)
      if (joint.stretch) {
        found[joint.stretch->from_corner] = point_of(joint, joint.splits.front(), shell_depths(0));
        const Vec3 last = point_of(joint, joint.splits.back(), shell_depths(0));
        const auto other = found.emplace(joint.stretch->to_corner, last);
        EXPECT_LT(distance(other.first->second, last), 1e-9);
      }
    return found;
  };
  const auto holds = [&](const Row& row, Vec3 wanted) {
    for (const auto& [number, corner] : corners(row))
      if (distance(corner, wanted) < 1e-4) return true;
    return false;
  };
  const double signs[] = {-1.0, 1.0};
  for (const double y : signs) {
    EXPECT_TRUE(holds(table()[0], {0, y * 250, 0}));
    EXPECT_TRUE(holds(table()[2], {0, y * 250, 11.3461}));
    EXPECT_TRUE(holds(table()[3], {0, y * 250, 12.4046}));
    EXPECT_TRUE(holds(table()[4], {-21.6376, y * 249.0619, 17.1550}));
    EXPECT_TRUE(holds(table()[5], {-35.7468, y * 247.4311, 15.6263}));
    EXPECT_TRUE(holds(table()[6], {47.7647, y * 245.3946, 10.5847}));
    EXPECT_TRUE(holds(table()[7], {0, y * 250, 0}));
    EXPECT_TRUE(holds(table()[8], {7.8059, y * 249.8781, 21.4466}));
    EXPECT_TRUE(holds(table()[8], {-7.8059, y * 249.8781, 21.4466}));
    EXPECT_TRUE(holds(table()[9], {0, y * 250, 24.3114}));
    EXPECT_TRUE(holds(table()[9], {0, y * 245.8442, 46.0016}));
    EXPECT_TRUE(holds(table()[11], {0, y * 250, 22.3664}));
  }
  EXPECT_TRUE(holds(table()[10], {0, 0, 354.7542}));
  EXPECT_TRUE(holds(table()[10], {-250, 0, -16.1355}));
  EXPECT_EQ(corners(table()[7]).size(), 2U);  // four walls, two poles
  EXPECT_EQ(corners(table()[8]).size(), 4U);
  EXPECT_EQ(corners(table()[10]).size(), 4U);
  const auto meets_inlet = [](const char* middle) {
    const Fitting fitting = fitting_from("wye", wye(middle, "600", "0&40&40", "0&0&180"));
    return share_a_joint(wall_of(fitting, 0), wall_of(fitting, 1));
  };
  EXPECT_TRUE(meets_inlet("274.0&300&300"));
  EXPECT_FALSE(meets_inlet("273.8&300&300"));
}

// Crotch of equal legs (R - w)/sin(b + p) from the centre; half angles from the ends.
// Two legs would share a cut where one's edge and the other's, turned end for end, leave the same board
// between them all the way around: the heights' sum is one number at some turn, either way around. It never
// is.
TEST(Wye, legs_share_no_cut) {
  for (const Flags& flags : {wye("500&500", "600", "30"), wye("500&500", "600", "45"),
                             wye("500&500", "700", "60"), wye("400&400", "600", "30")}) {
    const Fitting fitting = fitting_from("wye", flags);
    const auto edge = [&](double theta) { return liner_end(fitting, 1, End::low, theta, 0.0); };
    double best = 1e300;
    for (int turn = 0; turn < 180; ++turn)
      for (const double way : {1.0, -1.0}) {
        double least = 1e300, most = -1e300;
        for (int i = 0; i < 90; ++i) {
          const double theta = k_two_pi * i / 90;
          const double sum = edge(theta) + edge(way * theta + k_two_pi * turn / 180);
          least = std::min(least, sum);
          most = std::max(most, sum);
        }
        best = std::min(best, most - least);
      }
    EXPECT_GT(best, 50.0) << support::written("wye", flags);
  }
}

TEST(Wye, facts) {
  const double crotches[4][2] = {
      {500, 450}, {353.5534, 318.1981}, {437.5123, 393.7611}, {327.0773, 294.3696}};
  for (std::size_t i = 0; i < 4; ++i) {
    const Fitting fitting = fitting_from("wye", table()[i].flags);
    EXPECT_NEAR(fact(fitting, "leg1_crotch"), crotches[i][0], 1e-4);
    EXPECT_NEAR(fact(fitting, "leg2_crotch_of_bore"), crotches[i][1], 1e-4);
  }
  const Fitting uneven = fitting_from("wye", table()[5].flags);
  EXPECT_NEAR(fact(uneven, "leg1_half_angle") / k_degree, 4.138846, 1e-6);
  EXPECT_NEAR(fact(uneven, "leg2_half_angle") / k_degree, 11.915197, 1e-6);
}

TEST(Wye, ports_and_ways) {
  const Fitting fitting = fitting_from("wye", table()[5].flags);
  const std::vector<Port> ports = ports_of(fitting);
  ASSERT_EQ(ports.size(), 3U);
  EXPECT_EQ(ports[0].name, "start");
  EXPECT_EQ(ports[1].name, "leg1");
  EXPECT_EQ(ports[2].name, "leg2");
  EXPECT_NEAR(distance(ports[0].frame.origin, {0, 0, -300}), 0.0, 1e-9);
  EXPECT_NEAR(
      distance(ports[1].frame.origin, 700.0 * Vec3{std::sin(20 * k_degree), 0, std::cos(20 * k_degree)}), 0.0,
      1e-9);
  EXPECT_NEAR(
      distance(ports[2].frame.origin, 500.0 * Vec3{-std::sin(45 * k_degree), 0, std::cos(45 * k_degree)}),
      0.0, 1e-9);
  EXPECT_NEAR(ports[2].bare_diameter, 300.0, 1e-9);
  EXPECT_NEAR(ports[2].lined_diameter, 300.0 - 50.0 / std::cos(11.915197 * k_degree), 1e-5);
  ASSERT_EQ(fitting.passages.size(), 3U);
  EXPECT_EQ(fitting.passages[0].name, "inlet");
}

TEST(Wye, two_layers_fill_what_one_as_thick_fills) {
  const Fitting two = fitting_from("wye", with(table()[4].flags, {{"second_layer", "25"}}));
  EXPECT_EQ(two.pieces.size(), 6U);
  EXPECT_NEAR(liner_volume(two) / table()[4].liner_50, 1.0, 1e-6);
}

// The shortest equal legs: r cot b, where the circles of their ends touch; cylinders R cot b.
TEST(Wye, legs_too_short) {
  const auto refused = [](const char* ends, double shortest, const char* angle) {
    const Flags longer = wye(ends, mm(shortest + 5.0).c_str(), angle);
    const Flags shorter = wye(ends, mm(shortest - 5.0).c_str(), angle);
    EXPECT_EQ(refusal("wye", longer), "(made)") << written("wye", longer);
    EXPECT_TRUE(has(refusal("wye", shorter), "inside what it meets")) << refusal("wye", shorter);
  };
  refused("500&500", 433.0127, "30");
  refused("500&500", 250.0, "45");
  refused("400&400", 346.4102, "30");
  refused("400&400", 200.0, "45");
  // by how much: the crotch of the two cylinders stands 433.0127 along either, and 1 mm has to be left
  EXPECT_EQ(
      refusal("wye", wye("500&500", "400", "30")),
      "wye: --leg-length = 400: the end of leg1 would lie 35.4 mm inside what it meets (allowed: longer)\n"
      "wye: --leg-length = 400: the end of leg2 would lie 35.4 mm inside what it meets (allowed: longer)");
  EXPECT_TRUE(has(refusal("wye", with(wye("500&500", "900", "100"), {{"inlet_length", "100"}})),
                  "the end of the inlet would lie"));
}

TEST(Wye, refusals) {
  EXPECT_EQ(refusal("wye", wye("250&250", "200", "60")),
            "wye: --leg-length = 200: leg1 would end within the 500 mm sphere in which inlet and legs meet "
            "(allowed: longer)\n"
            "wye: --leg-length = 200: leg2 would end within the 500 mm sphere in which inlet and legs meet "
            "(allowed: longer)");
  EXPECT_TRUE(has(refusal("wye", wye("800&800", "600", "10")), "leg1 and leg2 never part: 20 degrees"));
  EXPECT_TRUE(has(refusal("wye", with(wye("400&300", "600", "30"), {{"legs", "3"}})), "2 values for 3 legs"));
  EXPECT_TRUE(has(refusal("wye", wye("400&45", "600", "30")), "closes a 45 mm bore (leg_diameter)"));
}
