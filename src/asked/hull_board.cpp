// Triangulation: a triangle is known by its three true lengths (Longfield, Sheet Metal Drafting, 1921), a
// cone by as many thin ones as one likes; here the angle between two rulings is the integral of the circle's
// step square to them over their length.
#include "hull_board.hpp"

#include <algorithm>
#include <utility>

namespace linerwright::asked {

namespace {

constexpr int k_steps = 360;  // of a cone

// Rulings of an outline: chords of the circle that stray two thousandths of a millimetre where these lie
// farthest apart, (pi/2)^2 r / n.
int rulings_for(double radius) {
  return std::max(k_steps, static_cast<int>(std::sqrt(400.0 * radius)));
}

Point polar(double length, double angle) {
  return {length * std::cos(angle), length * std::sin(angle)};
}

Point plus(const Point& a, const Point& b) {
  return {a[0] + b[0], a[1] + b[1]};
}

double angle_between(const Place& a, const Place& b) {
  return std::atan2(size(square_to(a, b)), along(a, b));
}

// The turn of the ruling per radian of phi.
double rate(const Hull& hull, int q, double phi) {
  const HullRuling on = hull.ruling(q, phi);
  const Place step{-hull.radius * std::sin(phi), hull.radius * std::cos(phi), 0.0};
  return size(square_to(on.way, step)) / on.length;
}

}  // namespace

HullBoard::HullBoard(const Hull& hull, const HullPart& part, const std::vector<double>& depths)
    : hull_(hull), part_(part) {
  Point place{};
  double base = k_pi;
  for (int q = part.first; q <= last_corner(); ++q) {
    Corner corner{place, base, {0.0}, {}};
    const double from = q * k_quarter;
    const double step = k_quarter / k_steps;
    for (int i = 0; i < k_steps; ++i) {  // Simpson's rule
      const double phi = from + i * step;
      corner.turned.push_back(
          corner.turned.back() +
          step / 6.0 *
              (rate(hull, q, phi) + 4.0 * rate(hull, q, phi + 0.5 * step) + rate(hull, q, phi + step)));
    }
    const auto at_base = [&](int side, const Place& toward) {
      return angle_between(toward - hull.corner(q), hull.on_circle(side * k_quarter) - hull.corner(q));
    };
    const double after =
        base - at_base(q, hull.corner(q - 1)) - corner.turned.back() - at_base(q + 1, hull.corner(q + 1));
    at_.push_back(corner);
    add_rulings(q, depths);
    place = plus(place, polar(2.0 * hull.half_side(q + 1), after));
    base = after + k_pi;
  }
}

double HullBoard::turned(int q, double phi) const {
  const std::vector<double>& table = at_[static_cast<std::size_t>(q - part_.first)].turned;
  const double step = k_quarter / k_steps;
  const double at = std::clamp((phi - q * k_quarter) / step, 0.0, static_cast<double>(k_steps));
  const auto i = std::min(static_cast<std::size_t>(at), static_cast<std::size_t>(k_steps - 1));
  const double from = q * k_quarter + static_cast<double>(i) * step;
  const double part = phi - from;
  return table[i] +
         part / 6.0 * (rate(hull_, q, from) + 4.0 * rate(hull_, q, from + 0.5 * part) + rate(hull_, q, phi));
}

Point HullBoard::on_cone(int q, double phi, double v) const {
  const Corner& corner = at_[static_cast<std::size_t>(q - part_.first)];
  const Place side = hull_.corner(q - 1) - hull_.corner(q);
  const double up = angle_between(side, hull_.on_circle(q * k_quarter) - hull_.corner(q));
  return plus(corner.place, polar(v, corner.base - up - turned(q, phi)));
}

Point HullBoard::on_flat(int q, bool after, const Place& place) const {
  const Corner& corner = at_[static_cast<std::size_t>(q - part_.first)];
  const int side = after ? q + 1 : q;
  const Place edge = hull_.corner(after ? q + 1 : q - 1) - hull_.corner(q);
  const Place from = place - hull_.corner(q);
  const double x = along(from, edge) / size(edge);
  const double y = from[2] * hull_.size_of(side * k_quarter);
  double base = corner.base;
  if (after) {
    const Place tip = hull_.on_circle(side * k_quarter) - hull_.corner(q);
    const Place before = hull_.on_circle(q * k_quarter) - hull_.corner(q);
    base = corner.base - angle_between(hull_.corner(q - 1) - hull_.corner(q), before) - corner.turned.back() -
           angle_between(edge, tip);
  }
  return plus(corner.place, plus(polar(x, base), polar(y, base + (after ? k_quarter : -k_quarter))));
}

Place HullBoard::seam_at(bool last, double up) const {
  const int side = last ? last_corner() + 1 : part_.first;
  const Place middle = 0.5 * (hull_.corner(side - 1) + hull_.corner(side));
  return middle + up / slope_length(side) * (hull_.on_circle(side * k_quarter) - middle);
}

Point HullBoard::on_seam(bool last, double up) const {
  return on_flat(last ? last_corner() : part_.first, last, seam_at(last, up));
}

double HullBoard::low_of(int side, double w) const {
  const double phi = side * k_quarter;
  // over the collar's panel, or the rectangle's plane
  const double z = hull_.square > 0.0 && w > 0.0 ? hull_.square_top(((side % 4) + 4) % 4, w) : 0.0;
  return z * hull_.size_of(phi) + w * hull_.slope(phi);
}

double HullBoard::tip_of(int side, double w) const {
  if (hull_.collar > 0.0)
    return std::min(slope_length(side), hull_.stretch(hull_.flat_ruling(side, 0.0), w).high /
                                            hull_.flat_ruling(side, 0.0).length * slope_length(side));
  return std::min(slope_length(side), slope_length(side) + w * hull_.slope(side * k_quarter));
}

namespace {

Place layer_at(const Hull& hull, int q, double phi, double w) {
  const HullRuling on = hull.ruling(q, phi);
  return on.base + hull.stretch(on, w).low * on.way - w * on.normal;
}

}  // namespace

double HullBoard::fork(int q, double w) const {
  double low = q * k_quarter;
  double high = (q + 1) * k_quarter;
  for (int i = 0; i < 50; ++i) {
    const double middle = 0.5 * (low + high);
    const Place at = layer_at(hull_, q, middle, w);
    (hull_.under(at, q * k_quarter) <= hull_.under(at, (q + 1) * k_quarter) ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

std::optional<std::pair<double, double>> HullBoard::arc(int q, double w) const {
  constexpr double k_level = 1e-9;  // mm
  const auto rises = [&](double phi) { return layer_at(hull_, q, phi, w)[2] > k_level; };
  const double within = fork(q, w);
  if (rises(within)) return std::nullopt;
  // from there to where it rises from the plane, at a bend line at the latest
  const auto end = [&](double beyond) {
    if (!rises(beyond)) return beyond;
    double level = within;
    for (int i = 0; i < 60; ++i) (rises(0.5 * (level + beyond)) ? beyond : level) = 0.5 * (level + beyond);
    return level;
  };
  return std::make_pair(end(q * k_quarter), end((q + 1) * k_quarter));
}

namespace {

// A place that two sides of a mitre have in common, on either side's part of the board.
using Twice = std::pair<Point, Point>;

double off_chord(const Point& p, const Point& a, const Point& b) {
  const double x = b[0] - a[0];
  const double y = b[1] - a[1];
  const double length = std::hypot(x, y);
  const double off = std::hypot(p[0] - a[0], p[1] - a[1]);
  return length > 0.0 ? std::abs(x * (p[1] - a[1]) - y * (p[0] - a[0])) / length : off;
}

// Places of a curve whose chords stray no farther than half a thousandth of a millimetre on either part.
template <class Curve>
std::vector<Twice> traced(const Curve& at, double from, double to) {
  constexpr double k_stray = 5e-4;
  constexpr int k_even = 24;
  std::vector<Twice> places{at(from)};
  double here = from;
  for (int i = 1; i <= k_even; ++i) {
    std::vector<std::pair<double, Twice>> ahead;
    const double next = i == k_even ? to : from + (to - from) * i / k_even;
    ahead.emplace_back(next, at(next));
    while (!ahead.empty()) {
      const double middle = 0.5 * (here + ahead.back().first);
      const Twice half = at(middle);
      const Twice& end = ahead.back().second;
      const bool stray = off_chord(half.first, places.back().first, end.first) > k_stray ||
                         off_chord(half.second, places.back().second, end.second) > k_stray;
      if (stray && middle != here && std::abs(middle - here) > 1e-9) {
        ahead.emplace_back(middle, half);
        continue;
      }
      here = ahead.back().first;
      places.push_back(end);
      ahead.pop_back();
    }
  }
  return places;
}

}  // namespace

// Where a side's layer turns up its mitre at corner q, toward the corner: in the rectangle's plane at `foot`;
// over a collar where its own panel ends beside the other, and if that is the higher, on along it to that
// one's flat.
std::vector<Place> HullBoard::feet(int q, bool after, double w, const Place& foot) const {
  if (!(hull_.square > 0.0)) return {foot};
  const int first = ((q % 4) + 4) % 4;
  const int second = (first + 1) % 4;
  const double own = hull_.square_top(after ? second : first, w);
  const double other = hull_.square_top(after ? first : second, w);
  const auto at = [&](double z) {
    const double one = hull_.side_off(first, z, w);
    const double two = hull_.side_off(second, z, w);
    const bool across = first % 2 == 0;
    return Place{std::copysign(across ? one : two, foot[0]), std::copysign(across ? two : one, foot[1]), z};
  };
  constexpr double k_level = 1e-9;
  if (other - own < k_level) return {at(own)};
  return {at(own), at(other)};
}

std::vector<Point> HullBoard::mitre(int q, double w) const {
  const double before = q * k_quarter;
  const double after = (q + 1) * k_quarter;
  const Place corner = hull_.corner(q);
  const auto arc = this->arc(q, w);
  const double first_end = arc ? arc->first : fork(q, w);
  const double second_end = arc ? arc->second : first_end;
  const auto on_side = [&](bool second, const Place& place) {
    return on_flat(q, second, place + w * hull_.normal(second ? after : before));
  };
  // where both flats' layers meet in the rectangle's plane
  const auto inward = [&](double half, double phi) { return half - w * hull_.size_of(phi); };
  const bool even = q % 2 == 0;
  const double x = inward(std::abs(corner[0]), even ? before : after);
  const double y = inward(std::abs(corner[1]), even ? after : before);
  const Place foot{std::copysign(x, corner[0]), std::copysign(y, corner[1]), 0.0};
  const auto trimmed = [&](bool second) {
    return [&, second](double phi) -> Twice {
      const HullRuling on = hull_.ruling(q, phi);
      const double low = hull_.stretch(on, w).low;
      return {on_side(second, on.base + low * on.way - w * on.normal), on_cone(q, phi, low)};
    };
  };
  const std::vector<Twice> first = traced(trimmed(false), before, first_end);
  const std::vector<Twice> second = traced(trimmed(true), second_end, after);
  std::vector<Point> outline;
  const std::vector<Place> first_feet = feet(q, false, w, foot);
  const std::vector<Place> second_feet = feet(q, true, w, foot);
  if (!arc)
    for (const Place& at : first_feet) outline.push_back(on_side(false, at));
  for (auto at = first.rbegin(); at != first.rend(); ++at) outline.push_back(at->first);
  for (const Twice& at : first) outline.push_back(at.second);
  if (arc)
    for (const Twice& at : traced(trimmed(true), first_end, second_end)) outline.push_back(at.second);
  for (const Twice& at : second) outline.push_back(at.second);
  for (auto at = second.rbegin(); at != second.rend(); ++at) outline.push_back(at->first);
  if (!arc)
    for (auto at = second_feet.rbegin(); at != second_feet.rend(); ++at)
      outline.push_back(on_side(true, *at));
  return outline;
}

void HullBoard::add_rulings(int q, const std::vector<double>& depths) {
  std::vector<double>& phis = at_[static_cast<std::size_t>(q - part_.first)].phis;
  const int n = rulings_for(hull_.radius);
  for (int i = 0; i <= n; ++i)
    phis.push_back(i == 0   ? q * k_quarter
                   : i == n ? (q + 1) * k_quarter
                            : (q + 0.5 * (1.0 - std::cos(k_pi * i / n))) * k_quarter);
  const auto add_changes = [&](const std::function<bool(double)>& is_so) {
    std::vector<double> changes;
    for (std::size_t i = 0; i + 1 < phis.size(); ++i) {
      double low = phis[i];
      double high = phis[i + 1];
      const bool before = is_so(low);
      if (before == is_so(high)) continue;
      for (int k = 0; k < 40; ++k) (is_so(0.5 * (low + high)) == before ? low : high) = 0.5 * (low + high);
      changes.push_back(0.5 * (low + high));
    }
    phis.insert(phis.end(), changes.begin(), changes.end());
    std::sort(phis.begin(), phis.end());
  };
  // and where a layer goes over from the circle's plane to another side's, and where one face's upper edge
  // crosses the other's
  const auto at = [&](double phi, double w) { return hull_.stretch(hull_.ruling(q, phi), w); };
  for (const double w : depths) add_changes([&](double phi) { return at(phi, w).short_of_circle; });
  for (std::size_t i = 1; i < depths.size(); ++i)
    add_changes([&](double phi) { return at(phi, depths[i]).high > at(phi, depths[i - 1]).high; });
}

const std::vector<double>& HullBoard::highs(int q, double w) const {
  std::vector<double>& all = highs_[{q, w}];
  if (all.empty())
    for (const double phi : at_[static_cast<std::size_t>(q - part_.first)].phis)
      all.push_back(hull_.stretch(hull_.ruling(q, phi), w).high);
  return all;
}

void HullBoard::add_high(std::vector<Point>& outline,
                         const std::function<double(int, std::size_t)>& high) const {
  for (int q = last_corner(); q >= part_.first; --q) {
    const std::vector<double>& phis = at_[static_cast<std::size_t>(q - part_.first)].phis;
    for (std::size_t i = phis.size(); i-- > 0;) outline.push_back(on_cone(q, phis[i], high(q, i)));
  }
}

void HullBoard::add_flat_top(std::vector<Point>& outline, int q, bool after, double from, double to,
                             double w) const {
  const int side = after ? q + 1 : q;
  if (!(hull_.collar > 0.0) || !(w * hull_.slope(side * k_quarter) < 0.0)) return;
  constexpr int k_places = 60;
  for (int i = 1; i < k_places; ++i) {
    const HullRuling on = hull_.flat_ruling(side, from + (to - from) * i / k_places);
    outline.push_back(on_flat(q, after, on.base + hull_.stretch(on, w).high * on.way));
  }
}

std::vector<Point> HullBoard::layer(double w) const {
  if (w == 0.0)
    return through_corners([](int) { return 0.0; }, [&](int q, std::size_t i) { return highs(q, 0.0)[i]; },
                           [&](int side) { return slope_length(side); });
  std::vector<Point> outline{on_seam(false, low_of(part_.first, w))};
  for (int q = part_.first; q <= last_corner(); ++q)
    for (const Point& point : mitre(q, w)) outline.push_back(point);
  outline.push_back(on_seam(true, low_of(last_corner() + 1, w)));
  outline.push_back(on_seam(true, tip_of(last_corner() + 1, w)));
  for (int q = last_corner(); q >= part_.first; --q) {
    add_flat_top(outline, q, true, 0.0, -1.0, w);
    const std::vector<double>& phis = at_[static_cast<std::size_t>(q - part_.first)].phis;
    for (std::size_t i = phis.size(); i-- > 0;) outline.push_back(on_cone(q, phis[i], highs(q, w)[i]));
    add_flat_top(outline, q, false, 1.0, 0.0, w);
  }
  outline.push_back(on_seam(false, tip_of(part_.first, w)));
  return outline;
}

std::vector<Point> HullBoard::through_corners(const std::function<double(int)>& low,
                                              const std::function<double(int, std::size_t)>& high,
                                              const std::function<double(int)>& tip) const {
  std::vector<Point> outline{on_seam(false, low(part_.first))};
  for (int q = part_.first; q <= last_corner(); ++q) {
    // up to the corner on one side and on from it on the other, each as high as its side
    for (const bool after : {false, true}) {
      const int side = after ? q + 1 : q;
      const Place raised = hull_.corner(q) + Place{0.0, 0.0, low(side) / hull_.size_of(side * k_quarter)};
      if (!after) outline.push_back(on_flat(q, after, raised));
      if (!after) outline.push_back(corner(q));
      if (after) outline.push_back(on_flat(q, after, raised));
    }
  }
  outline.push_back(on_seam(true, low(last_corner() + 1)));
  outline.push_back(on_seam(true, tip(last_corner() + 1)));
  add_high(outline, high);
  outline.push_back(on_seam(false, tip(part_.first)));
  return outline;
}

}  // namespace linerwright::asked
