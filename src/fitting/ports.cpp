#include "linerwright/fitting/port.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/fitting/pressed_bend.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/sheet/folds.hpp"

namespace linerwright {

namespace {

// Walls whose low end stands in a hole of another wall are branches, numbered as the holes are; the rest form
// the body from one wall's open low end to one wall's open high end.
std::vector<int> branches_in_order(const Fitting& fitting) {
  std::vector<int> order;
  for (const Wall& body : fitting.walls)
    for (const JointUse& hole : body.layer == 0 ? body.holes : std::vector<JointUse>{})
      for (std::size_t w = 0; w < fitting.walls.size(); ++w)
        if (fitting.walls[w].low.joint == hole.joint) order.push_back(static_cast<int>(w));
  return order;
}

// The wall with the open high end that a branch leads to: itself, or the last of its rings.
int last_of(const Fitting& fitting, int wall) {
  for (std::size_t step = 0; step < fitting.walls.size(); ++step) {
    const int joint = fitting.wall(wall).high.joint;
    int next = wall;
    for (std::size_t w = 0; w < fitting.walls.size(); ++w)
      if (fitting.walls[w].low.joint == joint) next = static_cast<int>(w);
    if (next == wall) break;
    wall = next;
  }
  return wall;
}

// Walls that begin where several meet are legs.
std::vector<int> legs_in_order(const Fitting& fitting) {
  std::vector<int> legs;
  for (std::size_t w = 0; w < fitting.walls.size(); ++w)
    if (fitting.walls[w].layer == 0 && !fitting.walls[w].low_rest.empty())
      legs.push_back(static_cast<int>(w));
  return legs;
}

// Where the end's plane cuts the wall: centre on the line of centres, diameters of the bare and the lined
// section.
Port section(const Fitting& fitting, int index, End end) {
  const Wall& wall = fitting.wall(index);
  const Sheet& sheet = wall.sheet;
  const int metal = metal_end_of(fitting, wall, end);
  const bool bare = metal != wall.use(end).joint;  // no liner reaches the metal's end
  const Frame& frame = sheet.frame();
  const auto& plane = std::get<PlaneTarget>(fitting.joint(metal).target);
  const double z = frame.local_point(plane.point).z;
  const double share = sheet.is_cylinder() ? 0.0 : z / sheet.height();
  Port port;
  port.wall = index;
  port.end = end;
  port.frame = frame;
  port.frame.origin = frame.point({sheet.is_cylinder() ? 0.0 : share * sheet.offset(), 0.0, z});
  if (end == End::low) {
    port.frame.z = -frame.z;
    port.frame.y = -frame.y;
  }
  port.bare_diameter = 2.0 * (sheet.r1() + share * (sheet.r2() - sheet.r1()));
  // across the two rulings in the plane of the offset, where the section is widest and narrowest
  const double t = bare ? 0.0 : fitting.liner.bore_depth();
  const auto at = [&](double theta) { return sheet.point(theta, sheet.v_at_height(theta, z, t), t); };
  port.lined_diameter = distance(at(0.0), at(k_pi));
  return port;
}

// An end of a square-to-round: a rectangle's is as wide as a circle of its area.
Port folded_port(const Fitting& fitting, int index, End end) {
  const Sheet& sheet = fitting.wall(index).sheet;
  const bool collared = end == End::low && sheet.square_collar() > 0.0;
  const double z = end == End::high ? sheet.height() : -sheet.square_collar();
  const auto area = [&](double w) {
    const Vec2 half = sheet.half_sides();
    return collared ? 4.0 * (half.x - w) * (half.y - w) : section_area(sheet, z, w);
  };
  const auto circle = [&](double w) { return std::sqrt(4.0 * area(w) / k_pi); };
  Port port;
  port.wall = index;
  port.end = end;
  port.frame = sheet.frame();
  if (end == End::high) {
    port.frame.origin = sheet.frame().point({sheet.centre().x, sheet.centre().y, z});
    port.bare_diameter = 2.0 * sheet.r2();
  } else {
    port.frame.origin = sheet.frame().point({0.0, 0.0, z});
    port.frame.z = -port.frame.z;
    port.frame.y = -port.frame.y;
    port.rectangle = 2.0 * sheet.half_sides();
    port.bare_diameter = circle(0.0);
  }
  port.lined_diameter = circle(fitting.liner.bore_depth());
  return port;
}

// Of a pressed bend the metal's end, not the gores'.
void move_to_pressed(const PressedBend& pressed, Port& port) {
  const std::vector<PressedBend> bends = bends_of(pressed);
  const bool high = port.end == End::high;
  Frame end = high ? far_end(bends.back()) : pressed.frame;
  if (high && bends.size() > 1) {  // x stays on one side of the whole fitting
    end.x = -end.x;
    end.y = -end.y;
  }
  if (!high) {
    end.origin = end.point({0.0, 0.0, -pressed.low_collar});
    end.z = -end.z;
    end.y = -end.y;
  }
  port.frame = end;
  port.bare_diameter = 2.0 * pressed.radius;
}

PortFlow flow_at(Flow flow, const std::string& port) {
  if (flow == Flow::unmarked) return PortFlow::unmarked;
  if (flow == Flow::to_branch || flow == Flow::from_branch) {
    const bool of_body = port == "start" || port == "end";
    return of_body == (flow == Flow::to_branch) ? PortFlow::in : PortFlow::out;
  }
  return (port == "start") == (flow == Flow::along) ? PortFlow::in : PortFlow::out;
}

// Whether walls lead from one to a wall with holes, end to end, toward its high or its low end.
bool leads_to_holes(const Fitting& fitting, std::size_t wall, End end) {
  for (std::size_t step = 0; step < fitting.walls.size(); ++step) {
    const Wall& now = fitting.walls[wall];
    const int joint = now.use(end).joint;
    std::size_t next = 0;
    while (next < fitting.walls.size() &&
           (next == wall || fitting.walls[next].use(opposite(end)).joint != joint))
      ++next;
    if (next == fitting.walls.size()) return false;
    if (!fitting.walls[next].holes.empty()) return true;
    wall = next;
  }
  return false;
}

}  // namespace

std::vector<Port> ports_of(const Fitting& fitting) {
  const std::vector<int> legs = legs_in_order(fitting);
  std::vector<int> branch_ends;
  for (const int branch : legs.empty() ? branches_in_order(fitting) : legs)
    branch_ends.push_back(last_of(fitting, branch));
  std::vector<Port> ports;
  const auto add = [&](int wall, End end, std::string name) {
    const bool folded = fitting.wall(wall).sheet.is_square_to_round();
    Port port = folded ? folded_port(fitting, wall, end) : section(fitting, wall, end);
    port.name = std::move(name);
    port.flow = flow_at(fitting.liner.flow, port.name);
    if (fitting.pressed) move_to_pressed(*fitting.pressed, port);
    ports.push_back(std::move(port));
  };
  for (std::size_t w = 0; w < fitting.walls.size(); ++w)
    if (fitting.walls[w].layer == 0 && fitting.joint(fitting.walls[w].low.joint).open())
      add(static_cast<int>(w), End::low, "start");
  for (std::size_t w = 0; w < fitting.walls.size(); ++w) {
    const int wall = static_cast<int>(w);
    if (fitting.walls[w].layer != 0) continue;
    const bool of_branch = std::find(branch_ends.begin(), branch_ends.end(), wall) != branch_ends.end();
    if (fitting.joint(fitting.walls[w].high.joint).open() && !of_branch) add(wall, End::high, "end");
  }
  for (std::size_t i = 0; i < branch_ends.size(); ++i)
    add(branch_ends[i], End::high, fmt::format("{}{}", legs.empty() ? "branch" : "leg", i + 1));
  return ports;
}

std::string port_size(const Fitting& fitting, const Port& port) {
  if (port.is_round()) return shop_length(fitting, port.bare_diameter);
  return shop_rectangle(fitting, port.rectangle);
}

PieceFlow flow_along(const Fitting& fitting, const Piece& piece) {
  const Flow flow = fitting.liner.flow;
  if (flow == Flow::unmarked) return PieceFlow::unmarked;
  const bool to_branch = flow == Flow::to_branch;
  if (!to_branch && flow != Flow::from_branch) return flow == Flow::along ? PieceFlow::up : PieceFlow::down;
  const auto wall = static_cast<std::size_t>(piece.wall);
  if (!fitting.walls[wall].holes.empty()) return to_branch ? PieceFlow::meets : PieceFlow::parts;
  // rings of the body beyond the holes, else of the branch
  const bool up = leads_to_holes(fitting, wall, End::high)  ? to_branch
                  : leads_to_holes(fitting, wall, End::low) ? !to_branch
                                                            : to_branch;
  return up ? PieceFlow::up : PieceFlow::down;
}

}  // namespace linerwright
