#include "blade_curves.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linerwright {

namespace {

constexpr double k_corner = 20.0 / 180.0 * k_pi;      // between chords
constexpr double k_true_corner = 2.0 / 180.0 * k_pi;  // between the exact directions on either side
constexpr double k_beside = 1e-3;                     // points, for exact directions
constexpr double k_on_line = 1e-5;                    // mm from the line square to the path

Vec2 unit(Vec2 a) {
  const double length = norm(a);
  return length > 0.0 ? (1.0 / length) * a : Vec2{};
}

}  // namespace

double turn_between(Vec2 a, Vec2 b) {
  return std::atan2(cross(a, b), dot(a, b));
}

Vec2 right_of(Vec2 along) {
  return {along.y, -along.x};
}

Vec2 turned(Vec2 along, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {c * along.x - s * along.y, s * along.x + c * along.y};
}

BladeCurves::BladeCurves(const BladeEdge& edge) : edge_(edge) {
  constexpr int k_beyond = 12;
  constexpr double k_share = 0.02;
  const std::size_t n = points();
  const double last = static_cast<double>(n - 1);
  const double step = k_share * std::max(last, 1.0);
  if (!edge_.closed)
    for (int j = k_beyond; j > 0; --j) nodes_.push_back({-step * j, lower(-step * j)});
  for (std::size_t i = 0; i < n; ++i) nodes_.push_back({static_cast<double>(i), edge_.lower[i]});
  if (edge_.closed) {
    nodes_.push_back({static_cast<double>(n), edge_.lower.front()});
  } else {
    for (int j = 1; j <= k_beyond; ++j) nodes_.push_back({last + step * j, lower(last + step * j)});
  }
  for (std::size_t i = 0; exact() && i < n; ++i) {
    const double k = static_cast<double>(i);
    const Vec2 in = lower(k) - lower(k - k_beside);
    if (has_both(i) && std::fabs(turn_between(in, lower(k + k_beside) - lower(k))) > k_true_corner)
      lower_corners_.push_back(k);
  }
}

std::optional<double> BladeCurves::lower_corner_between(double from, double to) const {
  const double n = static_cast<double>(points());
  std::optional<double> first;
  for (const double k : lower_corners_) {
    const double next = edge_.closed ? k + n * std::floor((from - k) / n + 1.0) : k;  // after `from`
    if (next > from && next < to && (!first || next < *first)) first = next;
  }
  return first;
}

void BladeCurves::lean_to(BladePlace& place, double foot) const {
  constexpr double k_beside_it = 0.3 * k_reached;
  const Vec2 to = lower(foot) - place.row.at;
  place.foot = foot;
  place.meets = true;
  place.row.cuts = std::fabs(dot(to, place.row.along)) < k_beside_it;
  place.row.shift = dot(to, right_of(place.row.along));
}

Vec2 BladeCurves::lower(double k) const {
  if (edge_.lower_at) return edge_.lower_at(k);
  const std::size_t n = points();
  const double last = static_cast<double>(n - 1);
  if (!edge_.closed) {
    if (k < 0.0) return edge_.lower.front() + k * (edge_.lower[1] - edge_.lower[0]);
    if (k > last) return edge_.lower.back() + (k - last) * (edge_.lower[n - 1] - edge_.lower[n - 2]);
  }
  const double whole = std::min(std::floor(k), edge_.closed ? last : last - 1.0);
  const auto i = static_cast<std::size_t>(whole);
  return edge_.lower[i] + (k - whole) * (edge_.lower[(i + 1) % n] - edge_.lower[i]);
}

// By Newton's steps along the contour, and from the tangent there.
double BladeCurves::off_lower(Vec2 p, double k) const {
  constexpr double k_step = 1e-4;
  constexpr int k_rounds = 3;
  constexpr double k_beside_it = 0.2;  // mm: from there on the tangent will do
  double off = 0.0;
  for (int round = 0; round < k_rounds; ++round) {
    const Vec2 here = lower(k);
    const Vec2 slope = (1.0 / k_step) * (lower(k + k_step) - here);
    const Vec2 to = p - here;
    const double speed = norm(slope);
    if (!(speed > 0.0)) return norm(to);
    off = std::fabs(cross(slope, to)) / speed;
    const double along = dot(slope, to) / speed;
    if (std::fabs(along) < k_beside_it) break;
    k += along / speed;
  }
  return off;
}

Vec2 BladeCurves::chord(std::size_t i) const {
  return edge_.upper[(i + 1) % points()] - edge_.upper[i];
}

Vec2 BladeCurves::direction(double from, double to) const {
  return unit(edge_.upper_at(to) - edge_.upper_at(from));
}

bool BladeCurves::is_corner(std::size_t i) const {
  if (!has_both(i)) return false;
  if (!exact()) return std::fabs(turn_between(chord((i + points() - 1) % points()), chord(i))) > k_corner;
  const double k = static_cast<double>(i);
  return std::fabs(turn_between(direction(k - k_beside, k), direction(k, k + k_beside))) > k_true_corner;
}

// Exact, or of the circle through three points.
std::optional<Vec2> BladeCurves::smooth_tangent(std::size_t i) const {
  if (!has_both(i) || is_corner(i)) return std::nullopt;
  const double k = static_cast<double>(i);
  if (exact()) return direction(k - k_beside, k + k_beside);
  const Vec2 in = chord((i + points() - 1) % points());
  const Vec2 out = chord(i);
  return unit((norm(out) / norm(in)) * in + (norm(in) / norm(out)) * out);
}

// On one side of a corner or at an end: exact, or of the circle that goes on from the neighbour on this side.
Vec2 BladeCurves::end_tangent(std::size_t i, bool ahead) const {
  const double k = static_cast<double>(i);
  if (exact()) return ahead ? direction(k, k + k_beside) : direction(k - k_beside, k);
  const std::size_t other = ahead ? (i + 1) % points() : (i + points() - 1) % points();
  const Vec2 along = unit(ahead ? chord(i) : chord(other));
  const std::optional<Vec2> there = smooth_tangent(other);
  return there ? (2.0 * dot(along, *there)) * along - *there : along;
}

std::vector<BladePlace> BladeCurves::places() const {
  std::vector<BladePlace> places;
  const auto add = [&](std::size_t i, Vec2 along) {
    places.push_back({{edge_.upper[i], along, 0.0, true, 0.0}, static_cast<double>(i)});
  };
  const std::size_t n = points();
  for (std::size_t i = 0; i < n; ++i) {
    if (const std::optional<Vec2> along = smooth_tangent(i)) {
      add(i, *along);
      continue;
    }
    // a closed edge that begins at a corner ends there, too
    if (i > 0) add(i, end_tangent(i, false));
    if (edge_.closed || i + 1 < n) add(i, end_tangent(i, true));
  }
  if (edge_.closed && is_corner(0)) {
    add(0, end_tangent(0, false));
    places.back().k = static_cast<double>(n);
  }
  return places;
}

BladePlace BladeCurves::half_way(double k_a, double k_b) const {
  const double k = 0.5 * (k_a + k_b);
  const double beside = std::min(k_beside, 0.25 * (k_b - k_a));
  BladePlace place{{edge_.upper_at(k), direction(k - beside, k + beside), 0.0, true, 0.0}, k};
  place.between = true;
  return place;
}

bool BladeCurves::may_meet(const LowerNode& node, double k) const {
  const double last = static_cast<double>(points() - 1);
  return edge_.closed || ((node.k >= 0.0 || k < 0.25 * last) && (node.k <= last || k > 0.75 * last));
}

void BladeCurves::find_foot(BladePlace& place) const {
  double nearest = std::numeric_limits<double>::infinity();
  const auto ahead = [&](Vec2 p) { return dot(p - place.row.at, place.row.along); };
  std::size_t found = 0;
  for (std::size_t j = 0; j + 1 < nodes_.size(); ++j) {
    const double a = ahead(nodes_[j].at);
    const double b = ahead(nodes_[j + 1].at);
    if (a > 0.0 || b <= 0.0) continue;
    if (!may_meet(nodes_[j], place.k) || !may_meet(nodes_[j + 1], place.k)) continue;
    const Vec2 p = nodes_[j].at + (a / (a - b)) * (nodes_[j + 1].at - nodes_[j].at);
    const double shift = dot(p - place.row.at, right_of(place.row.along));
    if (std::fabs(shift) >= std::fabs(nearest)) continue;
    nearest = shift;
    found = j;
    place.foot = nodes_[j].k + (a / (a - b)) * (nodes_[j + 1].k - nodes_[j].k);
  }
  place.meets = place.row.cuts = std::isfinite(nearest);
  if (!place.meets) return;
  if (exact()) {
    place.foot = refined(place, nodes_[found], nodes_[found + 1]);
    nearest = dot(lower(place.foot) - place.row.at, right_of(place.row.along));
  }
  place.row.shift = nearest;
  if (!edge_.closed) return;
  const double n = static_cast<double>(points());
  place.foot += n * std::round((place.k - place.foot) / n);
}

bool BladeCurves::find_foot_between(BladePlace& place, double from, double to) const {
  const auto ahead = [&](Vec2 p) { return dot(p - place.row.at, place.row.along); };
  const LowerNode a{from, lower(from)};
  const LowerNode b{to, lower(to)};
  if (!(ahead(a.at) < 0.0 && ahead(b.at) > 0.0)) return false;
  place.foot = 0.5 * (from + to);
  lean_to(place, refined(place, a, b));
  return true;
}

// The exact foot between two points of the lower contour, by the rule of false position with halved weights.
double BladeCurves::refined(const BladePlace& place, const LowerNode& from, const LowerNode& to) const {
  const auto ahead = [&](Vec2 p) { return dot(p - place.row.at, place.row.along); };
  double a = from.k;
  double b = to.k;
  double at_a = ahead(from.at);
  double at_b = ahead(to.at);
  double k = place.foot;
  for (int step = 0; step < 40 && b > a; ++step) {
    k = a - at_a * (b - a) / (at_b - at_a);
    const double at_k = ahead(lower(k));
    if (std::fabs(at_k) < k_on_line) break;
    if (at_k > 0.0) {
      b = k;
      at_b = at_k;
      at_a *= 0.5;
    } else {
      a = k;
      at_a = at_k;
      at_b *= 0.5;
    }
  }
  return k;
}

}  // namespace linerwright
