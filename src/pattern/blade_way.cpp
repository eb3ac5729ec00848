#include "blade_way.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "linerwright/draw/polygon.hpp"

namespace linerwright {

namespace {

double away(Vec2 p, const std::vector<Vec2>& line) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i + 1 < line.size(); ++i)
    least = std::min(least, distance_to_segment(p, line[i], line[i + 1]));
  return least;
}

}  // namespace

// Points by which places after the last row's are counted on.
double BladeWay::round_of(std::size_t i) const {
  return i + 1 == places_.size() ? static_cast<double>(curves_.points()) : 0.0;
}

bool BladeWay::on_the_spot(std::size_t i) const {
  constexpr double k_rounding = 1e-6;  // mm
  return distance(places_[i].row.at, places_[after(i)].row.at) < k_rounding;
}

BladePlace BladeWay::half_turn(const BladePlace& a, const BladePlace& b) {
  const Vec2 along = turned(a.row.along, 0.5 * turn_between(a.row.along, b.row.along));
  BladePlace place{{a.row.at, along, 0.0, true, 0.0}, 0.5 * (a.k + b.k)};
  place.between = true;
  return place;
}

double BladeWay::lean(const BladePlace& place) const {
  return std::atan2(place.row.shift, thickness_);
}

// Where the lower end is at this share of the way from one row to the next.
Vec2 BladeWay::end_between(const BladeRow& a, const BladeRow& b, double share) const {
  const double from = std::atan2(a.shift, thickness_);
  const double to = std::atan2(b.shift, thickness_);
  return a.at + share * (b.at - a.at) +
         thickness_ * std::tan(from + share * (to - from)) *
             right_of(turned(a.along, share * turn_between(a.along, b.along)));
}

// Whether the way to the next row needs no look: between neighbouring points the contour strays from its
// chord no more than the points allow, and the blade turns and leans so little that its end goes nearly
// straight.
bool BladeWay::plain(std::size_t i) const {
  constexpr double k_near = 1.25;  // points
  constexpr double k_straight = 0.2 * k_reached;
  constexpr double k_little = 3.0;  // thicknesses: further over, small changes of the lean go far
  const BladePlace& a = places_[i];
  const BladePlace& b = places_[after(i)];
  if (foot_after(i) < a.foot || foot_after(i) - a.foot >= k_near) return false;
  if (curves_.lower_corner_between(a.foot, foot_after(i))) return false;
  // a point of the lower contour between the feet may bend it, too
  constexpr double k_on_point = 1e-6;
  if (std::floor(foot_after(i) - k_on_point) > std::floor(a.foot + k_on_point)) return false;
  const double turn = turn_between(a.row.along, b.row.along);
  const double most = std::max(std::fabs(a.row.shift), std::fabs(b.row.shift));
  const double middle = thickness_ * std::tan(0.5 * (lean(a) + lean(b)));
  return most < k_little * thickness_ && most * turn * turn < 8.0 * k_straight &&
         std::fabs(middle - 0.5 * (a.row.shift + b.row.shift)) < k_straight;
}

std::optional<BladeWay::Halfway> BladeWay::halfway(std::size_t i) const {
  const BladePlace& a = places_[i];
  const BladePlace& b = places_[after(i)];
  if (!a.row.cuts || !b.row.cuts || foot_after(i) <= a.foot) return std::nullopt;
  if (plain(i) && !a.between && !b.between) return std::nullopt;
  BladePlace place = on_the_spot(i) ? half_turn(a, b) : curves_.half_way(a.k, b.k + round_of(i));
  if (!curves_.find_foot_between(place, a.foot, foot_after(i))) return std::nullopt;
  const double quarter = 0.5 * (a.foot + place.foot);
  const double last = 0.5 * (place.foot + foot_after(i));
  double off = std::max({curves_.off_lower(end_between(a.row, b.row, 0.25), quarter),
                         curves_.off_lower(end_between(a.row, b.row, 0.5), place.foot),
                         curves_.off_lower(end_between(a.row, b.row, 0.75), last)});
  // a corner of the lower contour that the end goes by
  if (const std::optional<double> corner = curves_.lower_corner_between(a.foot, foot_after(i)))
    off = std::max(off, away(curves_.lower(*corner), way(i, 8)));
  return Halfway{place, off};
}

// A turn on the spot stays at a corner of the lower contour, to which both rows lean.
BladeWay::Look BladeWay::look(std::size_t i) const {
  constexpr double k_off = 0.3 * k_reached;
  const BladeRow& a = places_[i].row;
  const BladeRow& b = places_[after(i)].row;
  const bool at_corner = on_the_spot(i) && foot_after(i) <= places_[i].foot;
  const bool straight = a.cuts && b.cuts && (at_corner || plain(i));
  const std::optional<Halfway> half = halfway(i);
  if (!half) return {straight, std::nullopt};
  if (half->off <= k_off) return {true, std::nullopt};
  return {straight || half->off <= 0.5 * k_reached, half->place};
}

bool BladeWay::follows(std::size_t i) const {
  if (places_[i].stays) return *places_[i].stays;
  if (curves_.exact()) return look(i).stays;
  return places_[i].row.cuts && places_[after(i)].row.cuts;
}

// Of the lower end from this row to the next.
std::vector<Vec2> BladeWay::way(std::size_t i, int steps) const {
  std::vector<Vec2> points;
  for (int s = 0; s <= steps; ++s)
    points.push_back(end_between(places_[i].row, places_[after(i)].row, static_cast<double>(s) / steps));
  return points;
}

// From the part of the lower contour that a row at k may meet: from its points' chords, and where they are
// near from the exact contour.
double BladeWay::away_from_lower(Vec2 p, double k) const {
  double least = std::numeric_limits<double>::infinity();
  double nearest = k;
  const std::vector<LowerNode>& nodes = curves_.nodes();
  for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
    const LowerNode& a = nodes[i];
    const LowerNode& b = nodes[i + 1];
    if (!curves_.may_meet(a, k) || !curves_.may_meet(b, k)) continue;
    const double d = distance_to_segment(p, a.at, b.at);
    if (d >= least) continue;
    least = d;
    const Vec2 chord = b.at - a.at;
    const double share = norm(chord) > 0.0 ? dot(p - a.at, chord) / dot(chord, chord) : 0.0;
    nearest = a.k + std::min(1.0, std::max(0.0, share)) * (b.k - a.k);
  }
  return curves_.exact() && least < 2.0 * k_reached ? curves_.off_lower(p, nearest) : least;
}

// Points of the lower contour that lie between feet of rows one after the other.
std::vector<bool> BladeWay::reached() const {
  const double n = static_cast<double>(curves_.points());
  std::vector<bool> found(curves_.points(), false);
  const auto at = [&](double k) { return curves_.closed() ? k - n * std::floor(k / n) : k; };
  for (std::size_t i = 0; i < stretches(); ++i) {
    if (!follows(i) || (on_the_spot(i) && !curves_.exact())) continue;
    for (double k = std::ceil(places_[i].foot - 1e-9); k <= foot_after(i) + 1e-9; k += 1.0)
      if (at(k) >= 0.0 && at(k) < n) found[static_cast<std::size_t>(at(k))] = true;
  }
  return found;
}

// Of the ways that do not follow the lower contour, and of its stretches that no row reaches.
std::vector<double> BladeWay::left() const {
  constexpr int k_parts = 8;                  // of the contour from point to point
  constexpr double k_told = 0.9 * k_reached;  // ways are looked at from place to place
  std::vector<double> left(places_.size(), 0.0);
  const std::vector<bool> met = reached();
  if (std::all_of(met.begin(), met.end(), [](bool is) { return is; }) &&
      std::all_of(places_.begin(), places_.end(), [](const BladePlace& p) { return p.row.cuts; }))
    return left;
  std::vector<Vec2> path;
  for (std::size_t i = 0; i < stretches(); ++i) {
    const std::vector<Vec2> stretch = way(i, 8);
    path.insert(path.end(), stretch.begin(), stretch.end());
    if (follows(i)) continue;
    double most = 0.0;
    for (const Vec2 p : way(i, 40)) most = std::max(most, away_from_lower(p, places_[i].k));
    left[i] = std::max(left[i], most);
    left[after(i)] = std::max(left[after(i)], most);
  }
  for (std::size_t i = 0; i < places_.size(); ++i) {
    const BladePlace& place = places_[i];
    const auto point = static_cast<std::size_t>(std::lround(place.k)) % curves_.points();
    const std::size_t next = (point + 1) % curves_.points();
    const bool last = !curves_.closed() && next == 0;
    if (!place.between && (!met[point] || !met[next]))
      for (int part = 0; part < (last ? 1 : k_parts); ++part)
        left[i] = std::max(
            left[i],
            away(curves_.lower(static_cast<double>(point) + static_cast<double>(part) / k_parts), path));
    if (left[i] <= k_told) left[i] = 0.0;
  }
  return left;
}

}  // namespace linerwright
