#include "moved_hole.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "linerwright/draw/curve_places.hpp"
#include "linerwright/draw/polygon.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_fine = 0.002;  // mm: how far the edges may stray from the chords that are moved
constexpr double k_apart = 0.02;  // mm between a ring's points
constexpr double k_corner = 12.0 / 180.0 * k_pi;

// A closed curve through points, clockwise, smooth but for its corners. Its places are counted by the share
// of the way around.
class Loop {
 public:
  Loop(const Ring& points, Vec2 begin) {
    for (const Vec2 p : points)
      if (points_.empty() || distance(p, points_.back()) > k_apart) points_.push_back(p);
    while (points_.size() > 3 && distance(points_.front(), points_.back()) <= k_apart) points_.pop_back();
    if (signed_area(points_) > 0.0) std::reverse(points_.begin(), points_.end());
    std::rotate(points_.begin(),
                std::min_element(points_.begin(), points_.end(),
                                 [&](Vec2 a, Vec2 b) { return distance(a, begin) < distance(b, begin); }),
                points_.end());
    const std::size_t n = points_.size();
    ways_.push_back(0.0);
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 in = points_[i] - points_[(i + n - 1) % n];
      const Vec2 out = points_[(i + 1) % n] - points_[i];
      const Vec2 both = (norm(out) / norm(in)) * in + (norm(in) / norm(out)) * out;
      const bool corner = std::fabs(std::atan2(cross(in, out), dot(in, out))) > k_corner;
      arrives_.push_back((1.0 / norm(corner ? in : both)) * (corner ? in : both));
      leaves_.push_back(corner ? (1.0 / norm(out)) * out : arrives_.back());
      ways_.push_back(ways_.back() + norm(out));
    }
  }

  Vec2 front() const { return points_.front(); }

  // Hermite's cubic between two points.
  Vec2 at(double share) const {
    const double way = (share - std::floor(share)) * ways_.back();
    const auto after = std::upper_bound(ways_.begin() + 1, ways_.end() - 1, way);
    const auto i = static_cast<std::size_t>(after - ways_.begin()) - 1;
    const std::size_t next = (i + 1) % points_.size();
    const double length = ways_[i + 1] - ways_[i];
    const double x = (way - ways_[i]) / length;
    const double y = 1.0 - x;
    return (y * y * (1.0 + 2.0 * x)) * points_[i] + (length * y * y * x) * leaves_[i] +
           (x * x * (1.0 + 2.0 * y)) * points_[next] - (length * x * x * y) * arrives_[next];
  }

  // Of the points that a contour of the stated chord error and turn per vertex needs.
  std::vector<double> shares() const {
    std::vector<double> shares;
    const std::vector<Vec2> needed = thinned(points_, true, {0.3 * k_chord_error, k_turn_per_vertex});
    std::size_t i = 0;
    for (const Vec2 p : needed) {
      while (i < points_.size() && !(points_[i] == p)) ++i;
      if (i < points_.size()) shares.push_back(ways_[i] / ways_.back());
    }
    return shares;
  }

 private:
  std::vector<Vec2> points_;
  std::vector<double> ways_;  // from the first point, and to it again
  std::vector<Vec2> arrives_, leaves_;
};

}  // namespace

std::vector<FacePair> fine_edge(const std::vector<double>& parameters, const EdgeOfFace& at) {
  const auto faces = [&](double s) { return std::array<Vec2, 2>{at(s, Face::duct), at(s, Face::air)}; };
  std::vector<double> around = parameters;
  around.push_back(parameters.front() + (parameters.back() > parameters.front() ? k_two_pi : -k_two_pi));
  std::vector<FacePair> edge;
  for (const CurvePlace& place : curve_places(faces, around, k_fine))
    edge.push_back({place.at[0], place.at[1]});
  return edge;
}

TiltRun moved_into_hole(const std::vector<double>& parameters, const EdgeOfFace& at, double distance) {
  std::array<Ring, 2> edges;
  for (const FacePair& pair : fine_edge(parameters, at)) {
    edges[0].push_back(pair.duct);
    edges[1].push_back(pair.air);
  }
  std::vector<Loop> made;
  for (const Ring& edge : edges) {
    const std::vector<Region> smaller = offset({Region{edge, {}}}, -distance, OffsetCorners::mitre, k_fine);
    if (smaller.size() != 1) throw GeometryError("the butt allowance closes a hole");
    made.emplace_back(smaller.front().outer,
                      made.empty() ? at(parameters.front(), Face::duct) : made[0].front());
  }
  const auto loops = std::make_shared<const std::vector<Loop>>(std::move(made));
  std::vector<double> shares;
  for (const Loop& loop : *loops)
    for (const double share : loop.shares()) shares.push_back(share);
  std::sort(shares.begin(), shares.end());
  constexpr double k_same = 1e-6;
  shares.erase(std::unique(shares.begin(), shares.end(), [](double a, double b) { return b - a < k_same; }),
               shares.end());
  TiltRun run;
  run.closed = true;
  run.at = [loops](double s, Face face) { return (*loops)[face == Face::air ? 1 : 0].at(s / k_two_pi); };
  for (const double share : shares) {
    run.parameters.push_back(k_two_pi * share);
    run.points.push_back(
        {run.at(run.parameters.back(), Face::duct), run.at(run.parameters.back(), Face::air)});
  }
  return run;
}

namespace {

// A face of one side, moved into the hole, which lies to the right of the way.
struct MovedSide {
  std::vector<Vec2> points;

  MovedSide(const std::vector<FacePair>& side, Face face, double distance) {
    std::vector<Vec2> edge;
    for (const FacePair& pair : side) edge.push_back(face == Face::air ? pair.air : pair.duct);
    for (std::size_t i = 0; i < edge.size(); ++i) {
      const Vec2 along = edge[std::min(i + 1, edge.size() - 1)] - edge[i > 0 ? i - 1 : 0];
      points.push_back(edge[i] + (distance / norm(along)) * Vec2{along.y, -along.x});
    }
  }
  Vec2 first_way() const { return points[1] - points[0]; }
  Vec2 last_way() const { return points[points.size() - 1] - points[points.size() - 2]; }
};

Vec2 corner_between(const MovedSide& side, const MovedSide& next) {
  const Vec2 a = side.last_way();
  const Vec2 b = next.first_way();
  return side.points.back() + (cross(next.points.front() - side.points.back(), b) / cross(a, b)) * a;
}

// Ends a face's side in its corners; of its other points those are left that lie between them.
std::vector<bool> end_in(MovedSide& side, Vec2 from, Vec2 to) {
  std::vector<bool> between;
  const Vec2 along = to - from;
  for (std::size_t i = 0; i < side.points.size(); ++i) {
    const bool end = i == 0 || i + 1 == side.points.size();
    between.push_back(end ||
                      (dot(side.points[i] - from, along) > 0.0 && dot(to - side.points[i], along) > 0.0));
  }
  side.points.front() = from;
  side.points.back() = to;
  if (!(dot(along, side.first_way()) > 0.0)) throw GeometryError("the butt allowance closes a hole");
  return between;
}

}  // namespace

std::vector<TiltRun> runs_of_sides(const std::vector<FacePair>& points, const std::vector<bool>& corner,
                                   double distance) {
  const std::size_t n = points.size();
  std::vector<std::vector<FacePair>> sides;
  const auto first = static_cast<std::size_t>(std::find(corner.begin(), corner.end(), true) - corner.begin());
  for (std::size_t i = first; i < first + n; ++i) {
    if (corner[i % n]) sides.emplace_back();
    sides.back().push_back(points[i % n]);
    if (corner[(i + 1) % n]) sides.back().push_back(points[(i + 1) % n]);
  }
  const std::size_t count = sides.size();
  std::vector<std::array<MovedSide, 2>> moved;
  for (const std::vector<FacePair>& side : sides)
    moved.push_back({MovedSide(side, Face::duct, distance), MovedSide(side, Face::air, distance)});
  std::vector<FacePair> corners;  // where each side ends
  for (std::size_t i = 0; i < count; ++i)
    corners.push_back({corner_between(moved[i][0], moved[(i + 1) % count][0]),
                       corner_between(moved[i][1], moved[(i + 1) % count][1])});
  std::vector<TiltRun> runs;
  for (std::size_t i = 0; i < count; ++i) {
    const FacePair& from = corners[(i + count - 1) % count];
    const std::vector<bool> duct = end_in(moved[i][0], from.duct, corners[i].duct);
    const std::vector<bool> air = end_in(moved[i][1], from.air, corners[i].air);
    TiltRun run;
    run.in_corners = true;
    for (std::size_t k = 0; k < duct.size(); ++k)
      if (duct[k] && air[k]) run.points.push_back({moved[i][0].points[k], moved[i][1].points[k]});
    runs.push_back(std::move(run));
  }
  return runs;
}

}  // namespace linerwright
