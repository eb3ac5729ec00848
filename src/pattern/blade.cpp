#include "blade.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "linerwright/polygon.hpp"

namespace linerwright {

namespace {

constexpr double k_corner = 20.0 / 180.0 * k_pi;
constexpr double k_on_line = 1e-5;  // mm from the line square to the path
constexpr double k_far = std::numeric_limits<double>::infinity();

double turn_between(Vec2 a, Vec2 b) {
  return std::atan2(cross(a, b), dot(a, b));
}

Vec2 unit(Vec2 a) {
  const double length = norm(a);
  return length > 0.0 ? (1.0 / length) * a : Vec2{};
}

Vec2 right_of(Vec2 along) {
  return {along.y, -along.x};
}

class Edge {
 public:
  Edge(const BladeEdge& edge, double thickness) : edge_(edge), n_(edge.upper.size()), thickness_(thickness) {
    add_nodes();
    add_places();
  }

  std::vector<BladeRow> rows() {
    for (Place& place : places_) find_foot(place);
    hold_back();
    lean_between();
    if (edge_.lower_at) refine();
    measure_left();
    std::vector<BladeRow> rows;
    for (const Place& place : places_) rows.push_back(place.row);
    return rows;
  }

 private:
  // A row in the making, the point it belongs to (between two points, the one before), and its foot on the
  // lower contour, counted in points.
  struct Place {
    BladeRow row;
    std::size_t point;
    double foot = 0.0;
    bool between = false;
    bool meets = false;  // the line square to the path meets the lower contour
  };
  struct Node {
    double k;
    Vec2 at;
  };

  Vec2 lower(double k) const {
    if (edge_.lower_at) return edge_.lower_at(k);
    const double last = static_cast<double>(n_ - 1);
    if (!edge_.closed) {
      if (k < 0.0) return edge_.lower.front() + k * (edge_.lower[1] - edge_.lower[0]);
      if (k > last) return edge_.lower.back() + (k - last) * (edge_.lower[n_ - 1] - edge_.lower[n_ - 2]);
    }
    const double whole = std::min(std::floor(k), edge_.closed ? last : last - 1.0);
    const auto i = static_cast<std::size_t>(whole);
    return edge_.lower[i] + (k - whole) * (edge_.lower[(i + 1) % n_] - edge_.lower[i]);
  }

  // The lower contour's points, and some of where an open edge runs on beyond its ends.
  void add_nodes() {
    constexpr int k_beyond = 12;
    constexpr double k_share = 0.02;
    const double last = static_cast<double>(n_ - 1);
    const double step = k_share * std::max(last, 1.0);
    if (!edge_.closed)
      for (int j = k_beyond; j > 0; --j) nodes_.push_back({-step * j, lower(-step * j)});
    for (std::size_t i = 0; i < n_; ++i) nodes_.push_back({static_cast<double>(i), edge_.lower[i]});
    if (edge_.closed) {
      nodes_.push_back({static_cast<double>(n_), edge_.lower.front()});
    } else {
      for (int j = 1; j <= k_beyond; ++j) nodes_.push_back({last + step * j, lower(last + step * j)});
    }
  }

  Vec2 chord(std::size_t i) const { return edge_.upper[(i + 1) % n_] - edge_.upper[i]; }
  bool has_both(std::size_t i) const { return edge_.closed || (i > 0 && i + 1 < n_); }
  bool is_corner(std::size_t i) const {
    return has_both(i) && std::fabs(turn_between(chord((i + n_ - 1) % n_), chord(i))) > k_corner;
  }

  // Of the circle through three points.
  std::optional<Vec2> smooth_tangent(std::size_t i) const {
    if (!has_both(i) || is_corner(i)) return std::nullopt;
    const Vec2 in = chord((i + n_ - 1) % n_);
    const Vec2 out = chord(i);
    return unit((norm(out) / norm(in)) * in + (norm(in) / norm(out)) * out);
  }

  // Of the circle that goes on from the neighbour on this side.
  Vec2 end_tangent(std::size_t i, bool ahead) const {
    const std::size_t other = ahead ? (i + 1) % n_ : (i + n_ - 1) % n_;
    const Vec2 along = unit(ahead ? chord(i) : chord(other));
    const std::optional<Vec2> there = smooth_tangent(other);
    return there ? (2.0 * dot(along, *there)) * along - *there : along;
  }

  void add_places() {
    const auto add = [&](std::size_t i, Vec2 along) {
      places_.push_back({{edge_.upper[i], along, 0.0, true, 0.0}, i});
    };
    for (std::size_t i = 0; i < n_; ++i) {
      if (const std::optional<Vec2> along = smooth_tangent(i)) {
        add(i, *along);
        continue;
      }
      // a closed edge that begins at a corner ends there, too
      if (edge_.closed ? i > 0 : i > 0) add(i, end_tangent(i, false));
      if (edge_.closed || i + 1 < n_) add(i, end_tangent(i, true));
    }
    if (edge_.closed && is_corner(0)) add(0, end_tangent(0, false));
  }

  // Where the line square to the path meets the lower contour as it goes the path's way, nearest by.
  void find_foot(Place& place) const {
    double nearest = k_far;
    const auto ahead = [&](Vec2 p) { return dot(p - place.row.at, place.row.along); };
    std::size_t found = 0;
    for (std::size_t j = 0; j + 1 < nodes_.size(); ++j) {
      const double a = ahead(nodes_[j].at);
      const double b = ahead(nodes_[j + 1].at);
      if (a > 0.0 || b <= 0.0) continue;
      const Vec2 p = nodes_[j].at + (a / (a - b)) * (nodes_[j + 1].at - nodes_[j].at);
      const double shift = dot(p - place.row.at, right_of(place.row.along));
      if (std::fabs(shift) >= std::fabs(nearest)) continue;
      nearest = shift;
      found = j;
      place.foot = nodes_[j].k + (a / (a - b)) * (nodes_[j + 1].k - nodes_[j].k);
    }
    place.meets = place.row.cuts = std::isfinite(nearest);
    if (!place.meets) return;
    if (edge_.lower_at) {
      place.foot = refined(place, nodes_[found], nodes_[found + 1]);
      nearest = dot(lower(place.foot) - place.row.at, right_of(place.row.along));
    }
    place.row.shift = nearest;
    if (!edge_.closed) return;
    const double n = static_cast<double>(n_);
    place.foot += n * std::round((static_cast<double>(place.point) - place.foot) / n);
  }

  // The exact foot between two nodes, by the rule of false position with halved weights.
  double refined(const Place& place, const Node& from, const Node& to) const {
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

  double way(std::size_t from, std::size_t to) const {
    double length = 0.0;
    for (std::size_t i = from; i != to; i = (i + 1) % places_.size())
      length += distance(places_[i].row.at, places_[(i + 1) % places_.size()].row.at);
    return length;
  }

  // The next row whose line meets the lower contour, from one on, forward or back; nothing past an open
  // edge's ends.
  std::optional<std::size_t> next_met(std::size_t from, bool forward) const {
    const std::size_t count = places_.size();
    std::size_t i = from;
    for (std::size_t step = 1; step < count; ++step) {
      if (!edge_.closed && (forward ? i + 1 == count : i == 0)) return std::nullopt;
      i = forward ? (i + 1) % count : (i + count - 1) % count;
      if (places_[i].meets) return i;
    }
    return std::nullopt;
  }

  // The largest shift toward this side with which the lower end still goes forward: the radius of the path
  // there.
  double most_shift(std::size_t i, bool to_right) const {
    const std::size_t count = places_.size();
    if (!edge_.closed && (i == 0 || i + 1 == count)) return k_far;
    const BladeRow& before = places_[(i + count - 1) % count].row;
    const BladeRow& after = places_[(i + 1) % count].row;
    const double in = distance(before.at, places_[i].row.at);
    const double out = distance(places_[i].row.at, after.at);
    if (!(in > 0.0 && out > 0.0)) return k_far;  // at a corner the blade turns on the spot
    const double turn = turn_between(before.along, after.along) * (to_right ? -1.0 : 1.0);
    return turn > 1e-9 ? (in + out) / turn : k_far;
  }

  void hold_back() {
    for (std::size_t i = 0; i < places_.size(); ++i) {
      BladeRow& row = places_[i].row;
      const double most = most_shift(i, row.shift > 0.0);
      if (std::fabs(row.shift) <= most) continue;
      row.shift = std::copysign(most, row.shift);
      row.cuts = false;
    }
  }

  // Where the line misses: evenly from the last lean to the next.
  void lean_between() {
    for (std::size_t i = 0; i < places_.size(); ++i) {
      if (places_[i].meets) continue;
      const std::optional<std::size_t> before = next_met(i, false);
      const std::optional<std::size_t> after = next_met(i, true);
      double lean = 0.0;
      const auto lean_of = [&](std::size_t k) { return std::atan2(places_[k].row.shift, thickness_); };
      if (before && after) {
        const double from = way(*before, i);
        const double to = way(i, *after);
        const double share = from + to > 0.0 ? from / (from + to) : 0.5;
        lean = (1.0 - share) * lean_of(*before) + share * lean_of(*after);
      } else if (before || after) {
        lean = lean_of(before ? *before : *after);
      }
      places_[i].row.shift = thickness_ * std::tan(lean);
    }
    hold_back();
  }

  // Whether the way between two rows needs no look: between neighbouring points the contour strays from its
  // chord no more than the points allow, and the blade turns and leans so little that its end goes nearly
  // straight.
  bool plain(const Place& a, const Place& b, double foot_b) const {
    constexpr double k_near = 1.25;  // points
    constexpr double k_straight = 0.2 * k_reached;
    if (foot_b < a.foot || foot_b - a.foot >= k_near) return false;
    const double turn = turn_between(a.row.along, b.row.along);
    const double most = std::max(std::fabs(a.row.shift), std::fabs(b.row.shift));
    const double lean = 0.5 * (std::atan2(a.row.shift, thickness_) + std::atan2(b.row.shift, thickness_));
    return most * turn * turn < 8.0 * k_straight &&
           std::fabs(thickness_ * std::tan(lean) - 0.5 * (a.row.shift + b.row.shift)) < k_straight;
  }

  // The blade half way between two rows, and how far its lower end then lies from the lower contour.
  struct Halfway {
    Place place;
    double off;
  };
  std::optional<Halfway> halfway(const Place& a, const Place& b, double foot_b) const {
    const double length = distance(a.row.at, b.row.at);
    const double turn = turn_between(a.row.along, b.row.along);
    if (!a.row.cuts || !b.row.cuts || !(length > 0.0) || foot_b <= a.foot) return std::nullopt;
    if (plain(a, b, foot_b) && !a.between && !b.between) return std::nullopt;
    // of the cubic curve through both rows
    const Vec2 chord = (1.0 / length) * (b.row.at - a.row.at);
    Place place{{0.5 * (a.row.at + b.row.at) + (0.125 * length) * (a.row.along - b.row.along),
                 unit(1.5 * chord - 0.25 * (a.row.along + b.row.along)), 0.0, true, 0.0},
                a.point};
    place.between = true;
    const auto ahead = [&](Vec2 p) { return dot(p - place.row.at, place.row.along); };
    const Node from{a.foot, lower(a.foot)};
    const Node to{foot_b, lower(foot_b)};
    if (!(ahead(from.at) < 0.0 && ahead(to.at) > 0.0)) return std::nullopt;
    place.meets = true;
    place.foot = 0.5 * (from.k + to.k);
    place.foot = refined(place, from, to);
    place.row.shift = dot(lower(place.foot) - place.row.at, right_of(place.row.along));
    const double lean = 0.5 * (std::atan2(a.row.shift, thickness_) + std::atan2(b.row.shift, thickness_));
    const double c = std::cos(0.5 * turn);
    const double d = std::sin(0.5 * turn);
    const Vec2 along{c * a.row.along.x - d * a.row.along.y, d * a.row.along.x + c * a.row.along.y};
    const Vec2 end = 0.5 * (a.row.at + b.row.at) + thickness_ * std::tan(lean) * right_of(along);
    constexpr double k_step = 1e-4;
    const Vec2 tangent = unit(lower(place.foot + k_step) - lower(place.foot - k_step));
    return Halfway{place, std::fabs(cross(tangent, end - lower(place.foot)))};
  }

  // Rows between those from one of which the lower end would leave its contour on the way to the next.
  void refine() {
    constexpr double k_off = 0.3 * k_reached;
    constexpr int k_rounds = 6;
    for (int round = 0; round < k_rounds; ++round) {
      std::vector<Place> finer;
      for (std::size_t i = 0; i < places_.size(); ++i) {
        finer.push_back(places_[i]);
        if (!edge_.closed && i + 1 == places_.size()) break;
        const Place& next = places_[(i + 1) % places_.size()];
        const std::optional<Halfway> half = halfway(places_[i], next, foot_after(i));
        if (half && half->off > k_off) finer.push_back(half->place);
      }
      if (finer.size() == places_.size()) return;
      places_ = std::move(finer);
    }
  }

  // Foot of the row after this one, counted on from it.
  double foot_after(std::size_t i) const {
    const bool around = i + 1 == places_.size();
    return places_[around ? 0 : i + 1].foot + (around ? static_cast<double>(n_) : 0.0);
  }

  Vec2 lower_end(const Place& place) const {
    return place.row.at + place.row.shift * right_of(place.row.along);
  }

  // The way of the lower end from one row to the next.
  void add_way(std::size_t i, std::vector<Vec2>& points) const {
    constexpr int k_steps = 8;
    const BladeRow& a = places_[i].row;
    const BladeRow& b = places_[(i + 1) % places_.size()].row;
    const double turn = turn_between(a.along, b.along);
    const double from = std::atan2(a.shift, thickness_);
    const double to = std::atan2(b.shift, thickness_);
    for (int s = 0; s < k_steps; ++s) {
      const double share = static_cast<double>(s) / k_steps;
      const double c = std::cos(share * turn);
      const double d = std::sin(share * turn);
      const Vec2 along{c * a.along.x - d * a.along.y, d * a.along.x + c * a.along.y};
      points.push_back(a.at + share * (b.at - a.at) +
                       thickness_ * std::tan(from + share * (to - from)) * right_of(along));
    }
  }

  // Whether the lower end stays on its contour from this row to the next; a turn on the spot does.
  bool follows(std::size_t i) const {
    const Place& a = places_[i];
    const Place& b = places_[(i + 1) % places_.size()];
    if (!a.row.cuts || !b.row.cuts) return false;
    if (!(distance(a.row.at, b.row.at) > 0.0) || plain(a, b, foot_after(i)) || !edge_.lower_at) return true;
    const std::optional<Halfway> half = halfway(a, b, foot_after(i));
    return half && half->off <= 0.5 * k_reached;
  }

  // Points of the lower contour that lie between feet of rows one after the other.
  std::vector<bool> covered() const {
    std::vector<bool> found(n_, false);
    const double n = static_cast<double>(n_);
    const auto at = [&](double k) { return edge_.closed ? k - n * std::floor(k / n) : k; };
    for (std::size_t i = 0; i + (edge_.closed ? 0 : 1) < places_.size(); ++i) {
      const Place& a = places_[i];
      const Place& b = places_[(i + 1) % places_.size()];
      if (!follows(i) || !(distance(a.row.at, b.row.at) > 0.0)) continue;
      for (double k = std::ceil(a.foot - 1e-9); k <= foot_after(i) + 1e-9; k += 1.0)
        if (at(k) >= 0.0 && at(k) < n) found[static_cast<std::size_t>(at(k))] = true;
    }
    return found;
  }

  // What the rows that do not cut, and the points of the lower contour that no row reaches, are away from the
  // other.
  void measure_left() {
    const std::vector<bool> reached = covered();
    if (std::all_of(reached.begin(), reached.end(), [](bool is) { return is; }) &&
        std::all_of(places_.begin(), places_.end(), [](const Place& p) { return p.row.cuts; }))
      return;
    std::vector<Vec2> path;
    for (std::size_t i = 0; i + (edge_.closed ? 0 : 1) < places_.size(); ++i) add_way(i, path);
    path.push_back(lower_end(edge_.closed ? places_.front() : places_.back()));
    const auto away = [](Vec2 p, const std::vector<Vec2>& line) {
      double least = k_far;
      for (std::size_t i = 0; i + 1 < line.size(); ++i)
        least = std::min(least, distance_to_segment(p, line[i], line[i + 1]));
      return least;
    };
    std::vector<Vec2> contour;
    for (const Node& node : nodes_) contour.push_back(node.at);
    std::vector<double> left(places_.size(), 0.0);
    for (std::size_t i = 0; i + (edge_.closed ? 0 : 1) < places_.size(); ++i) {
      if (follows(i)) continue;
      const std::size_t next = (i + 1) % places_.size();
      std::vector<Vec2> way;
      add_way(i, way);
      way.push_back(lower_end(places_[next]));
      double most = 0.0;
      for (const Vec2 p : way) most = std::max(most, away(p, contour));
      left[i] = std::max(left[i], most);
      left[next] = std::max(left[next], most);
    }
    for (std::size_t i = 0; i < places_.size(); ++i) {
      const std::size_t point = places_[i].point;
      if (!places_[i].between && !reached[point]) left[i] = std::max(left[i], away(edge_.lower[point], path));
      places_[i].row.left = left[i] > k_reached ? left[i] : 0.0;
    }
  }

  const BladeEdge& edge_;
  std::size_t n_;
  double thickness_;
  std::vector<Node> nodes_;
  std::vector<Place> places_;
};

}  // namespace

std::vector<BladeRow> blade_rows(const BladeEdge& edge, double thickness) {
  return Edge(edge, thickness).rows();
}

}  // namespace linerwright
