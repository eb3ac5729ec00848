// Openings of fittings: where they are, which way they look, and how wide they are.
#include <gtest/gtest.h>

#include "fitting/helpers.hpp"
#include "linerwright/fitting/port.hpp"

using namespace linerwright;

namespace {

const Port& port(const std::vector<Port>& ports, const std::string& name) {
  for (const Port& each : ports)
    if (each.name == name) return each;
  throw std::out_of_range("no opening called " + name);
}

void expect_near(Vec3 found, Vec3 wanted) {
  EXPECT_NEAR(found.x, wanted.x, 1e-9);
  EXPECT_NEAR(found.y, wanted.y, 1e-9);
  EXPECT_NEAR(found.z, wanted.z, 1e-9);
}

// Right-handed, of unit length, and the wall's end lies on the port's circle in the port's plane.
void expect_sound(const Fitting& fitting, const Port& port) {
  SCOPED_TRACE(fitting.kind + " " + port.name);
  const Frame& f = port.frame;
  expect_near(cross(f.x, f.y), f.z);
  EXPECT_NEAR(norm(f.x), 1.0, 1e-12);
  EXPECT_NEAR(norm(f.z), 1.0, 1e-12);
  if (fitting.pressed) return;  // the walls are the gores', the port is the metal's
  const Wall& wall = fitting.walls.at(static_cast<std::size_t>(port.wall));
  for (int i = 0; i < 12; ++i) {
    const double theta = k_two_pi * i / 12;
    const Vec3 bare =
        f.local_point(wall.sheet.point(theta, liner_end(fitting, port.wall, port.end, theta, 0.0), 0.0));
    EXPECT_NEAR(bare.z, 0.0, 1e-9);
    EXPECT_NEAR(std::hypot(bare.x, bare.y), 0.5 * port.bare_diameter, 1e-9);
    if (wall.sheet.offset() != 0.0) continue;  // the lined section of an oblique taper is no circle
    const double t = fitting.liner.thickness;
    const Vec3 lined =
        f.local_point(wall.sheet.point(theta, liner_end(fitting, port.wall, port.end, theta, t), t));
    EXPECT_NEAR(std::hypot(lined.x, lined.y), 0.5 * port.lined_diameter, 1e-9);
  }
}

}  // namespace

TEST(Ports, every_kind_states_its_open_ends) {
  const std::vector<std::pair<std::string, Flags>> made{
      {"straight", {{"diameter", "400"}, {"length", "900"}}},
      {"straight", {{"diameter", "400"}, {"length", "3000"}, {"board_width", "1200"}}},
      {"elbow", {{"diameter", "400"}, {"angle", "75"}, {"pieces", "4"}, {"collar", "60"}}},
      {"elbow", {{"diameter", "400"}, {"angle", "90"}, {"pieces", "5"}, {"form", "smooth"}}},
      {"reducer", {{"diameter", "500"}, {"to_diameter", "400"}, {"length", "350"}, {"collar", "80"}}},
      {"reducer",
       {{"diameter", "500"}, {"to_diameter", "400"}, {"length", "350"}, {"offset", "70"}, {"flat_at", "30"}}},
      {"tee",
       {{"diameter", "500"},
        {"length", "1500"},
        {"branch_diameter", "200&150"},
        {"branch_length", "600&500"},
        {"angle", "60&90"},
        {"position", "500&1100"},
        {"around", "0&180"},
        {"board_width", "800"}}}};
  for (const auto& [kind, flags] : made) {
    const Fitting fitting = fitting_from(kind, with(flags, {{"thickness", "25"}}));
    const std::vector<Port> ports = ports_of(fitting);
    ASSERT_EQ(ports.size(), kind == "tee" ? 4U : 2U) << written(kind, flags);
    EXPECT_EQ(ports[0].name, "start");
    EXPECT_EQ(ports[1].name, "end");
    EXPECT_EQ(ports[0].flow, PortFlow::in);
    EXPECT_EQ(ports[1].flow, PortFlow::out);
    for (const Port& each : ports) expect_sound(fitting, each);
  }
}

// An elbow of centreline radius rho turned by a leaves at (rho (1 - cos a), 0, rho sin a), looking along (sin
// a, 0, cos a); a collar c carries it on.
TEST(Ports, an_elbow_ends_where_its_bend_does) {
  for (const char* form : {"gored", "smooth"}) {
    const double a = 75.0 / 180.0 * k_pi;
    const std::vector<Port> ports = ports_of(fitting_from("elbow", {{"diameter", "400"},
                                                                    {"angle", "75"},
                                                                    {"pieces", "5"},
                                                                    {"centreline_radius", "620"},
                                                                    {"collar", "60"},
                                                                    {"form", form},
                                                                    {"thickness", "25"}}));
    expect_near(port(ports, "start").frame.origin, {0, 0, -60});
    expect_near(port(ports, "start").frame.z, {0, 0, -1});
    const Vec3 way{std::sin(a), 0.0, std::cos(a)};
    expect_near(port(ports, "end").frame.origin,
                Vec3{620 * (1 - std::cos(a)), 0.0, 620 * std::sin(a)} + 60.0 * way);
    expect_near(port(ports, "end").frame.z, way);
    EXPECT_NEAR(port(ports, "end").bare_diameter, 400.0, 1e-12);
  }
}

TEST(Ports, a_branch_looks_along_its_axis) {
  const std::vector<Port> ports = ports_of(fitting_from("tee", {{"diameter", "500"},
                                                                {"length", "1500"},
                                                                {"branch_diameter", "200"},
                                                                {"branch_length", "600"},
                                                                {"angle", "60"},
                                                                {"around", "90"},
                                                                {"offset", "40"},
                                                                {"thickness", "25"}}));
  const double c = std::cos(k_pi / 3), s = std::sin(k_pi / 3);
  const Port& branch = port(ports, "branch1");
  expect_near(branch.frame.z, {0, s, c});
  // from the foot of its axis in the body's middle, moved sideways by the offset
  const Vec3 end = branch.frame.origin;
  EXPECT_NEAR(end.y, 600 * s, 1e-9);
  EXPECT_NEAR(end.z, 750 + 600 * c, 1e-9);
  EXPECT_NEAR(std::fabs(end.x), 40.0, 1e-9);
  EXPECT_NEAR(branch.lined_diameter, 150.0, 1e-9);
}

// The bore of an open taper is cut square to the axis: the lining takes t / cos of the half angle off the
// radius.
TEST(Ports, an_open_taper_is_measured_in_its_end) {
  const std::vector<Port> ports = ports_of(fitting_from(
      "reducer", {{"diameter", "500"}, {"to_diameter", "400"}, {"length", "350"}, {"thickness", "25"}}));
  const double lost = 25.0 / std::cos(std::atan2(50.0, 350.0));
  EXPECT_NEAR(port(ports, "start").lined_diameter, 500.0 - 2.0 * lost, 1e-9);
  EXPECT_NEAR(port(ports, "end").lined_diameter, 400.0 - 2.0 * lost, 1e-9);
}

// The circle of an offset taper's second end has moved; its bore there is an ellipse only in the plane of the
// offset.
TEST(Ports, an_offset_end_has_moved) {
  const std::vector<Port> ports = ports_of(fitting_from("reducer", {{"diameter", "500"},
                                                                    {"to_diameter", "400"},
                                                                    {"length", "350"},
                                                                    {"offset", "70"},
                                                                    {"flat_at", "90"},
                                                                    {"thickness", "25"}}));
  expect_near(port(ports, "end").frame.origin, {0, 70, 350});
  expect_near(port(ports, "end").frame.z, {0, 0, 1});
}

TEST(Ports, an_arrow_against_the_numbers_turns_the_air) {
  const Flags flags{{"diameter", "400"}, {"length", "900"}, {"thickness", "25"}};
  EXPECT_EQ(ports_of(fitting_from("straight", with(flags, {{"flow_arrow", "against"}})))[0].flow,
            PortFlow::out);
  EXPECT_EQ(ports_of(fitting_from("straight", with(flags, {{"flow_arrow", "unmarked"}})))[0].flow,
            PortFlow::unmarked);
}

// Two flows that meet at a tee's branch, or part there: at its ends and on its pieces, also where the body is
// cut into rings.
TEST(Ports, two_flows_at_a_branch) {
  const Flags tee{{"diameter", "400"},      {"length", "2000"},      {"branch_diameter", "250"},
                  {"branch_length", "500"}, {"position", "1000"},    {"thickness", "25"},
                  {"board_width", "900"},   {"board_length", "1500"}};
  for (const bool to : {true, false}) {
    const Fitting fitting =
        fitting_from("tee", with(tee, {{"flow_arrow", to ? "to_branch" : "from_branch"}}));
    for (const Port& each : ports_of(fitting))
      EXPECT_EQ(each.flow, (each.name == "branch1") != to ? PortFlow::in : PortFlow::out) << each.name;
    ASSERT_EQ(fitting.pieces.size(), 4u);
    const PieceFlow wanted[] = {PieceFlow::up, PieceFlow::meets, PieceFlow::down, PieceFlow::up};
    const PieceFlow turned[] = {PieceFlow::down, PieceFlow::parts, PieceFlow::up, PieceFlow::down};
    for (std::size_t i = 0; i < 4; ++i)
      EXPECT_EQ(flow_along(fitting, fitting.pieces[i]), (to ? wanted : turned)[i]) << fitting.pieces[i].id;
  }
  EXPECT_TRUE(
      has(refusal("straight",
                  {{"diameter", "400"}, {"length", "900"}, {"thickness", "25"}, {"flow_arrow", "to_branch"}}),
          "only in a tee do two flows meet at a branch"));
  const Flags two = with(tee, {{"branch_diameter", "200&200"}, {"flow_arrow", "to_branch"}});
  EXPECT_EQ(refusal("tee", with(two, {{"around", "0&180"}})), "(made)");
  EXPECT_TRUE(has(refusal("tee", with(two, {{"position", "700&1300"}})), "it says no way of the air"));
}
