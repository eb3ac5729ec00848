// What a pen draws on a notched blank, and the ordinates to lay it out with by hand.
#include <algorithm>
#include <cmath>
#include <utility>

#include "marks.hpp"
#include "notched.hpp"

namespace linerwright {

namespace {

constexpr double k_clear = 2.0;  // mm from a line's end to a cut

void add_line(Pattern& pattern, Vec2 from, Vec2 to, const std::string& name) {
  constexpr double k_least = 1.0;  // mm: shorter lines are not worth a pen stroke
  if (distance(from, to) < k_least) return;
  pattern.marks.push_back({from, to});
  pattern.mark_names.push_back(name);
}

void add_inside(Pattern& pattern, Vec2 from, Vec2 to, const std::string& name) {
  for (const std::vector<Vec2>& part : inside_parts(from, to, pattern.cut))
    add_line(pattern, part.front(), part.back(), name);
}

// The bend line between the notches' points; without a collar the trim comes off there.
void add_bend_line(Pattern& pattern, const NotchedPlan& plan) {
  std::string name = plan.blank().collar ? "bend line" : "trim to here";
  for (const NotchedPlan::Tab& tab : plan.tabs())
    if (tab.foot_right - tab.foot_left > 2.0 * k_clear) {
      add_line(pattern, {tab.foot_left + k_clear, 0.0}, {tab.foot_right - k_clear, 0.0}, name);
      name.clear();
    }
}

// From edge to edge along a ruling, but for the bend line and any notch.
void add_ruling(Pattern& pattern, const NotchedPlan& plan, const RulingMark& mark) {
  double turn = std::fmod(mark.theta - plan.taper().seam, k_two_pi);
  if (turn < 0.0) turn += k_two_pi;
  const double x = plan.width() * turn / plan.taper().span;
  if (x < 1.0 || x > plan.width() - 1.0) return;
  const FacePair strip = plan.large_edge(x, plan.blank().collar ? 0.0 : plan.blank().trim);
  const double below = std::min(-plan.away() * strip.duct.y, -plan.away() * strip.air.y) - k_clear;
  if (below > k_clear) add_line(pattern, plan.up(x, -k_clear), plan.up(x, -below), mark.name);
  // up to the small end, unless a notch is there
  const double theta = plan.theta_at(x);
  const double above = std::min(plan.small_height(theta, 0.0), plan.small_height(theta, plan.thickness()));
  if (above <= 2.0 * k_clear) return;
  const bool in_notch = std::any_of(plan.layout().notches.begin(), plan.layout().notches.end(),
                                    [&](const Notch& n) { return std::fabs(n.centre - x) < k_clear; });
  if (!in_notch)
    add_inside(pattern, plan.on_ruling(x, k_clear), plan.on_ruling(x, above - k_clear), mark.name);
}

// Short ticks on both finished edges at the stations of the ordinates.
void add_stations(Pattern& pattern, const NotchedPlan& plan) {
  constexpr double k_tick = 6.0;
  const double t = plan.thickness();
  const int n = plan.fitting().liner.stations;
  for (int i = 1; i < n; ++i) {
    const double x = plan.width() * i / n;
    const double theta = plan.theta_at(x);
    const double low = std::max(plan.large_height(x, 0.0), plan.large_height(x, t));
    const double high = std::min(plan.small_height(theta, 0.0), plan.small_height(theta, t));
    const double tick = std::min(k_tick, 0.2 * (high - low));
    add_inside(pattern, plan.on_ruling(x, low), plan.on_ruling(x, low + tick), {});
    add_inside(pattern, plan.on_ruling(x, high), plan.on_ruling(x, high - tick), {});
  }
}

void add_fasteners(Pattern& pattern, const NotchedPlan& plan, int index) {
  const Fitting& fitting = plan.fitting();
  const Piece& piece = fitting.piece(index);
  for (const FastenerPlace& place : fastener_places(fitting, piece)) {
    const Vec2 at = plan.places().flat(index, piece.seam + piece.span * place.share, place.v);
    if (std::any_of(pattern.duct.holes.begin(), pattern.duct.holes.end(),
                    [&](const Ring& hole) { return point_in_polygon(at, hole); }))
      continue;
    constexpr double k_arm = 5.0;
    for (const Vec2 arm : {Vec2{k_arm, 0.0}, Vec2{0.0, k_arm}}) add_inside(pattern, at - arm, at + arm, {});
  }
}

}  // namespace

std::array<std::pair<Vec2, Vec2>, 3> corners_of(const NotchOrdinate& notch) {
  return {{{notch.tip, notch.tip}, {notch.duct[0], notch.air[0]}, {notch.duct[1], notch.air[1]}}};
}

void add_notched_ordinates(Pattern& pattern, const NotchedPlan& plan) {
  const int n = plan.fitting().liner.stations;
  const double t = plan.thickness();
  const double away = plan.away();
  double shortest = 1e300;
  for (int i = 0; i <= n; ++i) {
    const double x = plan.width() * i / n;
    const double theta = plan.theta_at(x);
    const double large[2] = {away * plan.large_height(x, 0.0), away * plan.large_height(x, t)};
    const double small[2] = {away * plan.small_height(theta, 0.0), away * plan.small_height(theta, t)};
    const bool large_low = away > 0.0;
    const double* low = large_low ? large : small;
    const double* high = large_low ? small : large;
    pattern.ordinates.push_back({theta, {x, low[0]}, low[0], high[0], low[1], high[1]});
    shortest = std::min(shortest, high[0] - low[0]);
  }
  pattern.shortest_stretch = shortest;
  const auto add = [&](double centre, double left, double right) {
    const FacePair a = plan.small_edge(centre, left);
    const FacePair b = plan.small_edge(centre, right);
    pattern.notch_ordinates.push_back(
        {plan.theta_at(centre), {centre, 0.0}, {a.duct, b.duct}, {a.air, b.air}});
  };
  const NotchedLayout& layout = plan.layout();
  // a panel that ends in a notch has one half of it
  if (layout.first_shift > 1e-6) add(0.0, 0.0, layout.first_shift);
  for (const Notch& notch : layout.notches)
    add(notch.centre, notch.centre - 0.5 * notch.mouth, notch.centre + 0.5 * notch.mouth);
  if (layout.last_shift < -1e-6) add(layout.width, layout.width + layout.last_shift, layout.width);
}

void add_notched_marks(Pattern& pattern, const NotchedPlan& plan) {
  add_bend_line(pattern, plan);
  if (plan.blank().collar && plan.blank().trim > 0.0)
    add_line(pattern, plan.large_edge(0.0, 0.0).duct, plan.large_edge(plan.width(), 0.0).duct,
             "trim to here");
  for (const RulingMark& mark : plan.taper().marks) add_ruling(pattern, plan, mark);
  add_stations(pattern, plan);
  for (const int piece : pattern.pieces) add_fasteners(pattern, plan, piece);
}

// On either side of the bend line: the collar's part, if there is one, and a tab of the taper, a large one
// that no mark crosses.
std::vector<Region> notched_parts(const Pattern& pattern, const NotchedPlan& plan) {
  std::vector<Region> duct{pattern.duct};
  for (const Ring& ring : pattern.duct_rest) duct.push_back({ring, {}});
  std::vector<Region> air{pattern.air};
  for (const Ring& ring : pattern.air_rest) air.push_back({ring, {}});
  const std::vector<Region> stays = intersected(intersected({pattern.cut}, duct), air);
  const auto crossed = [&](const Region& part) {
    return std::any_of(pattern.marks.begin(), pattern.marks.end(), [&](const std::vector<Vec2>& line) {
      const double length = polyline_length(line, false);
      return length > 12.0 && point_in_polygon(0.5 * (line.front() + line.back()), part.outer);
    });
  };
  const double bend = pattern.placement.board({0.0, 0.0}).y;
  std::vector<Region> parts;
  for (const int piece : pattern.pieces) {
    const double reach = (piece == plan.blank().taper ? plan.away() : -plan.away()) * (1.0 + pattern.board.y);
    const double low = std::min(bend, bend + reach);
    const double high = std::max(bend, bend + reach);
    const Ring side{{-1.0, low}, {1.0 + pattern.board.x, low}, {1.0 + pattern.board.x, high}, {-1.0, high}};
    std::vector<Region> found = intersected(stays, {{side, {}}});
    // tabs alike are told apart by their places: their areas' last digits are no order
    const auto rank = [](const Region& part) {
      const double left = bounding_box(part.outer).value().low.x;
      return std::make_pair(-std::lround(area(part)), std::lround(10.0 * left));
    };
    std::sort(found.begin(), found.end(),
              [&](const Region& a, const Region& b) { return rank(a) < rank(b); });
    // tabs differ little in size: one of the larger half without a mark comes first
    const auto half = found.begin() + static_cast<std::ptrdiff_t>((found.size() + 1) / 2);
    const auto free = std::find_if(found.begin(), half, [&](const Region& part) { return !crossed(part); });
    if (found.empty())
      parts.push_back(pattern.cut);
    else
      parts.push_back(free == half ? found.front() : *free);
  }
  return parts;
}

}  // namespace linerwright
