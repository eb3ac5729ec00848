// What a square-to-round's layers come to about the rectangle's corners.
#include <algorithm>
#include <cmath>

#include "fan.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/panels.hpp"
#include "search.hpp"

namespace linerwright {

namespace {

// Turns nearer to each other than this are one: the edge between them would be shorter than the kernel's
// points are apart.
constexpr double k_one = 1e-7;

// Leaves out what has no width, and joins what comes to the same.
std::vector<LowArc> tidied(const std::vector<LowArc>& arcs) {
  std::vector<LowArc> kept;
  for (const LowArc& arc : arcs)
    if (arc.to - arc.from > k_one) kept.push_back(arc);
  for (std::size_t i = 0; i + 1 < kept.size(); ++i) kept[i].to = kept[i + 1].from;
  kept.front().from = 0.0;
  kept.back().to = k_quarter;
  return kept;
}

// Inside: both flats' mitres up to the fork, or the arc in the plane between them.
std::vector<LowArc> arcs_inside(const Sheet& sheet, const Fan& fan, int corner) {
  const CornerFold fold = corner_fold(sheet, corner);
  const double fork = corner_turn(corner, fold.fork_theta);
  const auto under = [&](double turn, double flat) { return fan.start(turn, flat) - fan.plane(turn); };
  // from a bend line on, at which a mitre may rise from the plane, to the fork, which lies below it
  const auto landing = [&](double bend) {
    if (!(under(bend, bend) > 0.0)) return bend;
    return root([&](double turn) { return under(turn, bend); }, fork, bend);
  };
  if (fold.fork.z > 0.0) return tidied({{0.0, fork, LowPart::first}, {fork, k_quarter, LowPart::second}});
  const double first = landing(0.0);
  const double second = landing(k_quarter);
  return tidied(
      {{0.0, first, LowPart::first}, {first, second, LowPart::plane}, {second, k_quarter, LowPart::second}});
}

// Outside, counted from the flat at the fan's start, to which the steepest plane is the nearer: from that
// plane to either side rulings meet their like on the other, as far as there are any, then that flat, as far
// as they do so above the rectangle's plane.
std::vector<LowArc> arcs_outside(const Fan& fan) {
  const double steepest = fan.steepest();
  // how far a ruling comes down below the plane, by the one that it meets
  const auto under = [&](double turn, double other) { return fan.plane(turn) - fan.start(turn, other); };
  if (steepest > 0.0 && !(under(0.0, std::min(2.0 * steepest, k_quarter)) > 0.0)) {
    const double from = root([&](double turn) { return under(turn, 2.0 * steepest - turn); }, 0.0, steepest);
    return tidied({{0.0, from, LowPart::plane},
                   {from, steepest, LowPart::own},
                   {steepest, 2.0 * steepest - from, LowPart::own},
                   {2.0 * steepest - from, k_quarter, LowPart::plane}});
  }
  const double middle = std::max(0.0, steepest);
  const double own = 2.0 * middle;
  if (steepest <= 0.0 && !(under(0.0, 0.0) > 0.0)) return {{0.0, k_quarter, LowPart::plane}};
  const auto on_flat = [&](double turn) { return -under(turn, 0.0); };
  const double last =
      own < k_quarter - k_one && on_flat(k_quarter) > 0.0 ? root(on_flat, own, k_quarter) : k_quarter;
  return tidied({{0.0, middle, LowPart::own},
                 {middle, own, LowPart::own},
                 {own, last, LowPart::first},
                 {last, k_quarter, LowPart::plane}});
}

// From a turn in the one of two arcs that face each other to the other.
std::optional<double> across(const std::vector<LowArc>& arcs, double turn, bool from_first) {
  const auto first =
      std::find_if(arcs.begin(), arcs.end(), [](const LowArc& arc) { return arc.on == LowPart::own; });
  if (first == arcs.end()) return std::nullopt;
  const auto second = first + 1;
  const LowArc& here = from_first ? *first : *second;
  const LowArc& there = from_first ? *second : *first;
  if (turn < here.from || turn > here.to) return std::nullopt;
  const double middle = first->to;
  return middle + (middle - turn) * (there.to - there.from) / (here.to - here.from);
}

}  // namespace

std::optional<double> CornerLow::faced_by_first(double turn) const {
  return across(arcs, turn, true);
}
std::optional<double> CornerLow::faced_by_second(double turn) const {
  return across(arcs, turn, false);
}

bool CornerLow::comes_to(LowPart part) const {
  return std::any_of(arcs.begin(), arcs.end(), [&](const LowArc& arc) { return arc.on == part; });
}

double CornerLow::far_end(LowPart flat) const {
  const bool first = flat == LowPart::first;
  double end = first ? 0.0 : k_quarter;
  for (const LowArc& arc : arcs)
    if (arc.on == flat) end = first ? std::max(end, arc.to) : std::min(end, arc.from);
  return end;
}

CornerLow corner_low(const Sheet& sheet, int corner, double w) {
  CornerLow low{};
  const Fan fan(sheet, corner, false);
  if (w > 0.0) {
    low.arcs = arcs_inside(sheet, fan, corner);
  } else if (!folds_outside(fan)) {
    low.arcs = {{0.0, k_quarter, LowPart::plane}};
  } else if (fan.steepest() <= 0.5 * k_quarter) {
    low.arcs = arcs_outside(fan);
  } else {
    low.arcs = arcs_outside(Fan(sheet, corner, true));
    std::reverse(low.arcs.begin(), low.arcs.end());
    for (LowArc& arc : low.arcs)
      arc = {k_quarter - arc.to, k_quarter - arc.from, arc.on == LowPart::first ? LowPart::second : arc.on};
  }
  low.stem = !low.comes_to(LowPart::plane);
  return low;
}

// N.x <= A - w S on either flat.
Vec3 flats_foot(const Sheet& sheet, int corner) {
  if (sheet.square_collar() > 0.0) return panel_corner(sheet, corner).high;
  const Fan fan(sheet, corner, false);
  const double along = fan.size(0.0);
  const double aside = fan.size(k_quarter);
  const double cs = std::cos(corner * k_quarter);
  const double sn = std::sin(corner * k_quarter);
  return {-along * cs + aside * sn, -along * sn - aside * cs, 0.0};
}

Vec3 low_foot(const Sheet& sheet, int corner, LowPart flat, double w) {
  const CornerLow low = corner_low(sheet, corner, w);
  if (w > 0.0 && sheet.square_collar() > 0.0)
    if (const PanelCorner panels = panel_corner(sheet, corner); panels.ear == flat) return w * panels.low;
  if (low.stem) return w * flats_foot(sheet, corner);
  const double theta = corner_theta(corner, low.far_end(flat));
  return low_place(sheet, theta, w) - sheet.ruling(theta).base;
}

Vec3 low_place(const Sheet& sheet, double theta, double w) {
  const Sheet::Ruling r = sheet.ruling(theta);
  return r.base + low_end(sheet, theta, w).v * r.direction - w * r.normal;
}

CornerFold corner_fold(const Sheet& sheet, int corner) {
  const Fan fan(sheet, corner, false);
  // one flat may trim all of the cone: then the fork lies on the other's bend line
  const auto nearer = [&](double at) { return fan.growth(at, k_quarter) - fan.growth(at, 0.0); };
  const double turn = nearer(0.0) >= 0.0         ? 0.0
                      : nearer(k_quarter) <= 0.0 ? k_quarter
                                                 : root(nearer, 0.0, k_quarter);
  CornerFold fold{};
  fold.fork_theta = fan.theta(turn);
  const Sheet::Ruling r = sheet.ruling(fold.fork_theta);
  const auto trimmed = [&](double at) { return std::max(fan.start(at, 0.0), fan.start(at, k_quarter)); };
  fold.fork = trimmed(turn) * r.direction - r.normal;
  fold.foot = flats_foot(sheet, corner);
  fold.first_end = trimmed(0.0);
  fold.second_end = trimmed(k_quarter);
  return fold;
}

}  // namespace linerwright
