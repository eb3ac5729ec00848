// Lines of centres and the bore along them, fitting by fitting.
#include <gtest/gtest.h>

#include <cmath>

#include "helpers.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::fitting_from;
using support::Flags;

struct Case {
  std::string kind;
  Flags flags;
};

// The way from start to end has the length that the bore's own stations have, ends at the ports, and is made
// of what lies between.
TEST(Way, LengthIsThatOfTheStations) {
  const Case cases[] = {
      {"straight", {{"diameter", "600"}, {"length", "2000"}}},
      {"straight", {{"diameter", "600"}, {"length", "2000"}, {"board_width", "700"}}},
      {"elbow", {{"diameter", "600"}, {"angle", "90"}, {"pieces", "5"}, {"collar", "60"}}},
      {"elbow", {{"diameter", "600"}, {"angle", "37"}, {"pieces", "2"}, {"collar", "200"}}},
      {"reducer",
       {{"diameter", "600"},
        {"to_diameter", "400"},
        {"length", "500"},
        {"collar", "80"},
        {"to_collar", "50"}}},
      {"offset", {{"pieces", "3"}, {"diameter", "400"}, {"offset", "500"}, {"angle", "45"}}},
      {"tee",
       {{"diameter", "600"}, {"branch_diameter", "300"}, {"length", "900"}, {"branch_length", "550"}}}};
  int checked = 0;
  for (const Case& each : cases) {
    Fitting fitting;
    try {
      fitting = fitting_from(each.kind, support::with(each.flags, {{"thickness", "25"}}));
    } catch (const std::exception& error) {
      ADD_FAILURE() << each.kind << ": " << error.what();
      continue;
    }
    const std::vector<Port> ports = ports_of(fitting);
    const std::vector<WayPoint> way = way_between(fitting, ports[0], ports[1]);
    const std::vector<Station>& stations = fitting.passages.front().stations;
    EXPECT_NEAR(way.back().distance, stations.back().distance - stations.front().distance, 1e-8) << each.kind;
    EXPECT_LT(distance(way.front().point, ports[0].frame.origin), 1e-9);
    EXPECT_LT(distance(way.back().point, ports[1].frame.origin), 1e-9);
    const std::vector<WayPoint> back = way_between(fitting, ports[1], ports[0]);
    EXPECT_NEAR(back.back().distance, way.back().distance, 1e-9);
    const std::vector<BorePoint> bore = bore_between(fitting, ports[1], ports[0]);
    EXPECT_NEAR(bore.front().lined_diameter, stations.back().lined_diameter, 1e-9);
    EXPECT_NEAR(bore.back().distance, way.back().distance, 1e-9);
    ++checked;
  }
  EXPECT_EQ(checked, 7);
}

// A gored bend of n pieces follows tangents of the arc: 2 (n - 1) rho tan(a / (2 (n - 1))); a pressed one the
// arc.
TEST(Way, BendsAreGoredOrPressed) {
  const Flags flags{{"thickness", "25"},          {"diameter", "500"}, {"angle", "90"},
                    {"centreline_radius", "750"}, {"pieces", "5"},     {"collar", "40"}};
  const Fitting gored = fitting_from("elbow", flags);
  const Fitting pressed = fitting_from("elbow", support::with(flags, {{"form", "smooth"}}));
  const auto length = [](const Fitting& fitting) {
    const std::vector<Port> ports = ports_of(fitting);
    return way_between(fitting, ports[0], ports[1]).back().distance;
  };
  const double a = 0.5 * k_pi / 8;
  EXPECT_NEAR(length(pressed), 750 * 0.5 * k_pi + 80, 1e-9);
  // both end pieces reach from the collar's end to their mitre, collar included
  EXPECT_NEAR(length(gored), 8 * 750 * std::tan(a) + 80, 1e-8);
}

TEST(Way, TeesByTheirBranch) {
  const Fitting tee = fitting_from("tee", {{"thickness", "25"},
                                           {"diameter", "600"},
                                           {"branch_diameter", "300"},
                                           {"length", "1000"},
                                           {"position", "400"},
                                           {"branch_length", "550"}});
  const std::vector<Port> ports = ports_of(tee);
  ASSERT_EQ(ports.size(), 3u);
  const double out =
      std::fabs(ports[2].frame.origin.x * ports[2].frame.z.x + ports[2].frame.origin.y * ports[2].frame.z.y);
  for (const auto& [from, along] :
       {std::pair<int, double>{0, ports[2].frame.origin.z}, {1, 1000 - ports[2].frame.origin.z}}) {
    const Port& in = ports[static_cast<std::size_t>(from)];
    const std::vector<WayPoint> way = way_between(tee, in, ports[2]);
    EXPECT_NEAR(way.back().distance, along + out, 1e-9);
    EXPECT_LT(distance(way.back().point, ports[2].frame.origin), 1e-9);
    const std::vector<BorePoint> bore = bore_between(tee, in, ports[2]);
    EXPECT_NEAR(bore.front().bare_diameter, 600, 1e-9);
    EXPECT_NEAR(bore.back().bare_diameter, 300, 1e-9);
    EXPECT_NEAR(way_between(tee, ports[2], in).back().distance, along + out, 1e-9);
  }
}

// A branch that narrows from 350 to 250 on its way of 900 from where the axes meet; at d of it, it is 250 +
// 100 (900 - d) / L wide, L the length of the cone from where it stands on the body to its end. Both ways
// through it.
TEST(Way, BoreAlongAConicalBranchNarrowsAsTheBranchDoes) {
  const Fitting tee = fitting_from("tee", {{"diameter", "600"},
                                           {"length", "1500"},
                                           {"position", "700"},
                                           {"branch_diameter", "250"},
                                           {"branch_base", "350"},
                                           {"branch_length", "900"},
                                           {"angle", "60"},
                                           {"thickness", "25"}});
  const std::vector<Port> ports = ports_of(tee);
  const std::vector<BorePoint> out = bore_between(tee, ports[0], ports[2]);
  ASSERT_EQ(out.size(), 5u);
  EXPECT_NEAR(out[1].bare_diameter, 600, 1e-9);
  EXPECT_NEAR(out[3].bare_diameter - 250.0,
              100.0 * (1600.0 - out[3].distance) / (900.0 - 300.0 / std::sin(k_pi / 3)), 1e-6);
  EXPECT_NEAR(out[2].bare_diameter, out[3].bare_diameter, 1e-9);
  EXPECT_NEAR(out[4].bare_diameter, 250, 1e-9);
  EXPECT_NEAR(out[4].distance, 1600, 1e-9);
  const std::vector<BorePoint> in = bore_between(tee, ports[2], ports[1]);
  ASSERT_EQ(in.size(), 5u);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(in[i].lined_diameter, out[4 - i].lined_diameter, 1e-9);
    EXPECT_NEAR(in[i].distance, 1600.0 - out[4 - i].distance, 1e-9);
  }
}

}  // namespace
}  // namespace linerwright
