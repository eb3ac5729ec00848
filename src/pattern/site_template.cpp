// Templates of the hole that a tap needs in a duct that is already lined.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/pattern/pattern.hpp"
#include "sampling.hpp"

namespace linerwright {

namespace {

constexpr double k_beside = 80.0;     // mm of sheet around the hole
constexpr double k_tick = 5.0;        // mm, at each station
constexpr double k_long_tick = 12.0;  // where a letter stands
constexpr double k_at_edge = 12.0;    // mm of line at the sheet's edges
constexpr double k_arrow = 40.0;
constexpr double k_shortest =
    0.1;  // mm, of a line: a sheet within a narrow bore leaves little beside its hole

// One side of the duct's wall that a hole's edge lies on.
struct Surface {
  const char* id;
  const char* words;
  double radius;
  DepthPair depths;  // of the joint there
  bool inside;       // looked at from the duct's axis
};

// The duct's surface unrolled: x around from the direction of the branch, y along.
Vec2 unrolled(const Joint& joint, const Surface& surface, double s) {
  const Sheet::Place place = place_on(joint, Side::follow, s, surface.depths);
  return {surface.radius * std::remainder(place.theta, k_two_pi), place.v};
}

// Where the branch's axis comes out of the surface.
Vec2 axis_on(const Joint& joint, const Surface& surface) {
  const Frame& axis = joint.lead.frame();
  const double a = axis.z.x * axis.z.x + axis.z.y * axis.z.y;
  const double b = axis.origin.x * axis.z.x + axis.origin.y * axis.z.y;
  const double c =
      axis.origin.x * axis.origin.x + axis.origin.y * axis.origin.y - surface.radius * surface.radius;
  const Vec3 out = axis.point({0.0, 0.0, (-b + std::sqrt(b * b - a * c)) / a});
  return {surface.radius * std::atan2(out.y, out.x), out.z};
}

Ring hole_in(const Joint& joint, const Surface& surface, const Placement& placement) {
  Ring ring;
  for (const Arc& arc : arcs_of(joint)) {
    const auto at = [&](double s) {
      const Vec2 p = placement.board(unrolled(joint, surface, s));
      return FacePair{p, p};
    };
    const std::vector<double> spent = spend_points(at, arc.from, arc.to, {});
    for (std::size_t i = 0; i + 1 < spent.size(); ++i) ring.push_back(at(spent[i]).duct);
  }
  if (signed_area(ring) > 0.0) std::reverse(ring.begin(), ring.end());
  return ring;
}

// How far a way of length 1 leads from a place before it leaves the sheet.
double within_sheet(Vec2 from, Vec2 way, Vec2 size) {
  const auto along = [](double at, double step, double end) {
    return step > 0.0 ? (end - at) / step : step < 0.0 ? -at / step : HUGE_VAL;
  };
  return std::min(along(from.x, way.x, size.x), along(from.y, way.y, size.y));
}

void add_marks(Pattern& pattern, const Fitting& fitting, const Joint& joint, const Surface& surface) {
  const Ring& hole = pattern.cut.holes.front();
  const Vec2 size = pattern.board;
  const Vec2 axis = pattern.placement.board(axis_on(joint, surface));
  const auto add = [&](Vec2 from, Vec2 to, const std::string& name) {
    if (distance(from, to) < k_shortest) return;
    pattern.marks.push_back({from, to});
    pattern.mark_names.push_back(name);
  };
  // where the axis comes out, along and around, at the sheet's four edges
  const auto box = bounding_box(hole).value();
  const double level = std::min(k_at_edge, 0.5 * box.low.x);
  add({axis.x, 0.0}, {axis.x, k_at_edge}, {});
  add({axis.x, size.y - k_at_edge}, {axis.x, size.y}, {});
  add({0.0, axis.y}, {level, axis.y}, {});
  add({size.x - level, axis.y}, {size.x, axis.y}, {});
  // an arrow in a corner
  const Vec2 tip{size.x - level, k_at_edge + k_arrow};
  add({tip.x, k_at_edge}, tip, "duct's far end");
  add(tip + Vec2{-0.3 * level, -0.25 * k_arrow}, tip, {});
  add(tip + Vec2{0.3 * level, -0.25 * k_arrow}, tip, {});
  const Vec2 centre = 0.5 * (box.low + box.high);
  const auto tick = [&](double s, double length, const std::string& name) {
    const Vec2 at = pattern.placement.board(unrolled(joint, surface, s));
    const Vec2 way = (1.0 / distance(at, centre)) * (at - centre);
    add(at, at + std::min(length, within_sheet(at, way, size)) * way, name);
  };
  const int n = fitting.liner.stations;
  for (int i = 0; i < n; ++i) {
    const double s = k_two_pi * i / n;
    const Vec2 at = pattern.placement.board(unrolled(joint, surface, s));
    pattern.hole_ordinates.push_back({0, s, at, at});
    tick(s, k_tick, {});
  }
  for (const RulingMark& mark : fitting.pieces.front().marks) tick(mark.theta, k_long_tick, mark.name);
}

void add_words(Pattern& pattern, const Fitting& fitting, const Joint& joint, const Surface& surface) {
  const auto shown = [&](double mm) {
    return format_quantity(Quantity::length, mm, fitting.units, fitting.units == Units::inch ? 2 : 1);
  };
  const Vec2 axis = axis_on(joint, surface);
  LabelBlock block;
  block.piece = pattern.id;
  block.part = pattern.cut;
  block.lines = {fmt::format("{}/{}", fitting.tag, pattern.id), surface.words,
                 "lines at the edges: the branch's axis"};
  constexpr double k_told = 0.05;  // mm
  if (std::fabs(axis.y) > k_told)
    block.lines.push_back(fmt::format("it comes out {} {} where the axes cross", shown(std::fabs(axis.y)),
                                      axis.y > 0.0 ? "beyond" : "before"));
  if (std::fabs(axis.x) > k_told)
    block.lines.push_back(fmt::format("and {} to the {} of it", shown(std::fabs(axis.x)),
                                      (axis.x > 0.0) != surface.inside ? "right" : "left"));
  pattern.label_blocks.push_back(std::move(block));
  place_labels(pattern);
}

Pattern template_of(const Fitting& fitting, const Joint& joint, const Surface& surface) {
  Pattern pattern;
  pattern.id = surface.id;
  pattern.placement.mirrored = surface.inside;
  Ring hole = hole_in(joint, surface, pattern.placement);
  const Box box = bounding_box(hole).value();
  // the sheet does not go all around
  const double room = k_two_pi * surface.radius - (box.high.x - box.low.x);
  const Vec2 margin{std::min(k_beside, 0.4 * room), k_beside};
  pattern.placement.shift = margin - box.low;
  for (Vec2& p : hole) p = p + pattern.placement.shift;
  pattern.board = box.high - box.low + 2.0 * margin;
  const Vec2 size = pattern.board;
  pattern.cut = {{{0.0, 0.0}, {size.x, 0.0}, size, {0.0, size.y}}, {std::move(hole)}};
  pattern.board_area = area(pattern.cut);
  add_marks(pattern, fitting, joint, surface);
  add_words(pattern, fitting, joint, surface);
  return pattern;
}

}  // namespace

std::vector<Pattern> site_templates(const Fitting& fitting) {
  const std::optional<int> index = joint_on_duct(fitting);
  if (!index) return {};
  const Joint& joint = fitting.joint(*index);
  const double radius = joint.follow.front().r1();
  const double t = fitting.liner.bore_depth();
  const Surface surfaces[] = {{"hole-metal", "wraps the duct's metal from outside",
                               radius + fitting.liner.gauge, depths_of_metal(fitting, joint, 0.0), false},
                              {"hole-liner", "lies against the duct's liner from inside", radius - t,
                               liner_depths(joint.style, Side::follow, t, t), true}};
  std::vector<Pattern> templates;
  for (const Surface& surface : surfaces) templates.push_back(template_of(fitting, joint, surface));
  return templates;
}

}  // namespace linerwright
