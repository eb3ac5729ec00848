// Bends from the axes of their pieces: openings and crossings of axes make a line of straight parts.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "shapes.hpp"

namespace linerwright {

namespace {

constexpr double k_meet = 0.05;   // mm: axes cross within this
constexpr double k_alike = 1e-4;  // radians, and of lengths per mm and mm

struct Line {
  std::vector<Vec3> points;  // first opening, crossings, second opening
  std::vector<Vec3> along;   // of the parts
  std::string fault;
};

// Where two lines come nearest: how far along the first, and how far they miss.
struct Nearest {
  double along = 0.0;
  double miss = 0.0;
  bool parallel = false;
};
Nearest nearest(Vec3 p, Vec3 d, Vec3 q, Vec3 e) {
  const double c = dot(d, e);
  const double square = 1.0 - c * c;
  if (square < 1e-10) return {0.0, 0.0, true};
  const Vec3 r = q - p;
  const double s = (dot(r, d) - c * dot(r, e)) / square;
  const double t = (c * dot(r, d) - dot(r, e)) / square;
  return {s, distance(p + s * d, q + t * e), false};
}

Vec3 mean_of(const InsideSurface& surface) {
  Vec3 mean{};
  for (const DrawnPoint& p : surface.points)
    mean = mean + (1.0 / static_cast<double>(surface.points.size())) * p.at;
  return mean;
}

// The piece that an opening ends: by its axis, since a rounded rim may lie between.
const InsideSurface* piece_at(const DrawnEnd& opening, const std::vector<const InsideSurface*>& pieces) {
  const InsideSurface* found = nullptr;
  double nearest_mean = 0.0;
  for (const InsideSurface* piece : pieces) {
    const bool on_axis = norm(cross(opening.circle.centre - piece->fit.origin, piece->fit.axis)) < k_meet;
    const bool square = norm(cross(opening.circle.normal, piece->fit.axis)) < 1e-4;
    const double away = distance(mean_of(*piece), opening.circle.centre);
    if (on_axis && square && (found == nullptr || away < nearest_mean)) {
      found = piece;
      nearest_mean = away;
    }
  }
  return found;
}

// Whether two walls share an edge.
bool touch(const Inside& inside, const InsideSurface* a, const InsideSurface* b) {
  return std::any_of(inside.joints.begin(), inside.joints.end(), [&](const InsideJoint& joint) {
    const InsideSurface* one = &inside.surfaces[joint.a];
    const InsideSurface* other = &inside.surfaces[joint.b];
    return (one == a && other == b) || (one == b && other == a);
  });
}

Line line_of(const Inside& inside, const DrawnEnd& from, const DrawnEnd& to,
             std::vector<const InsideSurface*> pieces) {
  Line line;
  const InsideSurface* last = piece_at(to, pieces);
  const InsideSurface* now = piece_at(from, pieces);
  if (now == nullptr || last == nullptr) {
    line.fault = "an opening does not stand square to the axis of a wall";
    return line;
  }
  Vec3 at = from.circle.centre;
  Vec3 along = -from.circle.normal;
  line.points.push_back(at);
  line.along.push_back(along);
  while (now != last) {
    pieces.erase(std::find(pieces.begin(), pieces.end(), now));
    const InsideSurface* next = nullptr;
    double least = 0.0;
    const bool neighbours = std::any_of(
        pieces.begin(), pieces.end(), [&](const InsideSurface* piece) { return touch(inside, now, piece); });
    for (const InsideSurface* piece : pieces) {
      if (neighbours && !touch(inside, now, piece)) continue;
      const Nearest cross_at = nearest(at, along, piece->fit.origin, piece->fit.axis);
      if (cross_at.parallel || cross_at.miss > k_meet || (!neighbours && cross_at.along < -k_meet)) continue;
      if (next == nullptr || cross_at.along < least) {
        next = piece;
        least = cross_at.along;
      }
    }
    if (next == nullptr) {
      line.fault =
          fmt::format("no axis of another wall crosses that of face {} to go on", now->faces.front());
      return line;
    }
    at = at + least * along;
    along = dot(mean_of(*next) - at, next->fit.axis) > 0.0 ? next->fit.axis : -next->fit.axis;
    line.points.push_back(at);
    line.along.push_back(along);
    now = next;
  }
  line.points.push_back(to.circle.centre);
  pieces.erase(std::find(pieces.begin(), pieces.end(), now));
  if (!pieces.empty())
    line.fault = fmt::format("the wall of face {} lies on no way between the two openings",
                             pieces.front()->faces.front());
  return line;
}

struct Turn {
  double angle = 0.0;
  Vec3 about{};
};
std::vector<Turn> turns_of(const Line& line) {
  std::vector<Turn> turns;
  for (std::size_t i = 1; i < line.along.size(); ++i) {
    const Vec3 about = cross(line.along[i - 1], line.along[i]);
    turns.push_back({std::atan2(norm(about), dot(line.along[i - 1], line.along[i])), normalised(about)});
  }
  return turns;
}

bool alike(double a, double b, double slack = 0.0) {
  return std::fabs(a - b) < slack + k_alike * (1.0 + std::max(std::fabs(a), std::fabs(b)));
}

// Radius of the centreline and length of the collars, from the middle gores or, where there are none, by the
// usual radius.
struct Reach {
  double centreline = 0.0;
  double collar = 0.0;
};
Reach reach_of(double middle, double end, double mitre, double diameter, ReadShape& shape) {
  constexpr double k_usual = 1.5;
  Reach reach{middle > 0.0 ? middle / (2.0 * std::tan(mitre)) : k_usual * diameter, 0.0};
  reach.collar = end - reach.centreline * std::tan(mitre);
  if (middle <= 0.0) {
    if (reach.collar < 0.0) reach = {end / std::tan(mitre), 0.0};
    shape.notes.emplace_back(
        "two pieces do not tell the radius from the collar: the radius is the usual one, or what fits "
        "without a collar");
  }
  return reach;
}

void elbow(const Line& line, const std::vector<Turn>& turns, double diameter, double slack,
           ReadShape& shape) {
  const std::size_t n = turns.size();
  double turn = 0.0, middle = 0.0;
  for (const Turn& one : turns) turn += one.angle / static_cast<double>(n);
  for (std::size_t i = 1; i < n; ++i) {
    const double length = distance(line.points[i], line.points[i + 1]);
    if (i > 1 && !alike(length, middle, slack)) shape.fault = "its gores are not alike";
    middle += (length - middle) / static_cast<double>(i);
  }
  const double first = distance(line.points[0], line.points[1]);
  const double last = distance(line.points[n], line.points[n + 1]);
  if (!alike(first, last, slack))
    shape.fault = fmt::format("its ends differ: {} and {} from the first mitre to the opening",
                              length_value(first), length_value(last));
  const Reach reach = reach_of(n > 1 ? middle : 0.0, 0.5 * (first + last), 0.5 * turn, diameter, shape);
  if (reach.collar < -k_alike - slack) shape.fault = "its end pieces are shorter than half a gore";
  shape.kind = "elbow";
  shape.keys = {{"diameter", length_value(diameter)},
                {"angle", angle_value(turn * static_cast<double>(n))},
                {"pieces", std::to_string(n + 1)},
                {"centreline_radius", length_value(reach.centreline)},
                {"collar", length_value(std::max(0.0, reach.collar))}};
}

void offset(const Line& line, const std::vector<Turn>& turns, double diameter, double slack,
            ReadShape& shape) {
  const std::size_t half = turns.size() / 2;
  double turn = 0.0, middle = 0.0;
  for (const Turn& one : turns) turn += one.angle / static_cast<double>(turns.size());
  std::size_t gores = 0;
  for (std::size_t i = 1; i + 1 < line.along.size(); ++i) {
    if (i == half) continue;  // between the bends
    const double length = distance(line.points[i], line.points[i + 1]);
    if (gores > 0 && !alike(length, middle, slack)) shape.fault = "the gores of its two bends are not alike";
    middle += (length - middle) / static_cast<double>(++gores);
  }
  const double first = distance(line.points[0], line.points[1]);
  const double last = distance(line.points[line.points.size() - 2], line.points.back());
  if (!alike(first, last, slack)) shape.fault = "its ends differ";
  const Reach reach = reach_of(gores > 0 ? middle : 0.0, 0.5 * (first + last), 0.5 * turn, diameter, shape);
  if (reach.collar < -k_alike - slack) shape.fault = "its end pieces are shorter than half a gore";
  shape.kind = "offset";
  shape.keys = {
      {"diameter", length_value(diameter)},
      {"offset", length_value(norm(cross(line.points.back() - line.points.front(), line.along.front())))},
      {"angle", angle_value(turn * static_cast<double>(half))},
      {"pieces", std::to_string(half + 1)},
      {"centreline_radius", length_value(reach.centreline)},
      {"collar", length_value(std::max(0.0, reach.collar))}};
}

// A pressed bend: one torus between two openings, with or without collars.
ReadShape smooth_of(const Inside& inside, const FittedSurface& torus) {
  ReadShape shape;
  const DrawnEnd& from = inside.openings[0];
  const DrawnEnd& to = inside.openings[1];
  const Vec3 into = -from.circle.normal;
  const double angle = std::atan2(norm(cross(into, to.circle.normal)), dot(into, to.circle.normal));
  const double collar = dot(torus.origin - from.circle.centre, into);
  const double other = dot(torus.origin - to.circle.centre, -to.circle.normal);
  if (!alike(collar, other, length_slack(inside)))
    shape.fault = fmt::format("its collars differ: {} and {}", length_value(collar), length_value(other));
  const Vec3 side = torus.origin - from.circle.centre - collar * into;
  shape.kind = "elbow";
  shape.start.origin = from.circle.centre;
  shape.start.z = into;
  shape.start.x = normalised(side);
  shape.keys = {{"diameter", length_value(2.0 * torus.minor)},
                {"angle", angle_value(angle)},
                {"form", "smooth"},
                {"centreline_radius", length_value(torus.radius)},
                {"collar", length_value(std::max(0.0, 0.5 * (collar + other)))}};
  shape.notes.emplace_back("a pressed bend does not tell how many gores line it");
  return shape;
}

}  // namespace

ReadShape chain_of(const Inside& inside) {
  ReadShape shape;
  std::vector<const InsideSurface*> pieces;
  for (const InsideSurface& surface : inside.surfaces) {
    if (is_small(surface, inside)) continue;
    if (surface.fit.sort == SurfaceSort::torus) return smooth_of(inside, surface.fit);
    if (surface.fit.sort == SurfaceSort::cylinder) pieces.push_back(&surface);
  }
  if (pieces.empty()) {
    shape.fault = "has no cylinder between its openings";
    return shape;
  }
  const double diameter = 2.0 * pieces.front()->fit.radius;
  for (const InsideSurface* piece : pieces)
    if (!alike(2.0 * piece->fit.radius, diameter, length_slack(inside))) {
      shape.fault = fmt::format("its walls have diameters of {} and {} without a taper between them",
                                length_value(diameter), length_value(2.0 * piece->fit.radius));
      return shape;
    }
  const bool turned = first_opening(inside) != 0;
  const DrawnEnd& from = inside.openings[turned ? 1 : 0];
  const DrawnEnd& to = inside.openings[turned ? 0 : 1];
  const Line line = line_of(inside, from, to, pieces);
  shape.fault = line.fault;
  if (!shape.fault.empty()) return shape;
  shape.start.origin = line.points.front();
  shape.start.z = line.along.front();
  const std::vector<Turn> turns = turns_of(line);
  if (turns.empty()) {
    shape.kind = "straight";
    shape.start.x =
        reference(shape.start.z, std::fabs(shape.start.z.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0});
    shape.keys = {{"diameter", length_value(diameter)},
                  {"length", length_value(distance(line.points[0], line.points[1]))}};
    return shape;
  }
  shape.start.x = normalised(cross(turns.front().about, shape.start.z));
  std::size_t back = 0;
  const double slack = length_slack(inside);
  for (const Turn& turn : turns) {
    const double same = dot(turn.about, turns.front().about);
    if (std::fabs(same) < 1.0 - k_alike) shape.fault = "its pieces do not lie in one plane";
    if (!alike(turn.angle, turns.front().angle, 0.01 * slack))
      shape.fault = "its mitres turn by different angles";
    back += same < 0.0 ? 1u : 0u;
  }
  if (!shape.fault.empty()) return shape;
  const bool second_half_back = dot(turns.back().about, turns.front().about) < 0.0;
  if (back == 0)
    elbow(line, turns, diameter, slack, shape);
  else if (2 * back == turns.size() && second_half_back &&
           dot(turns[back - 1].about, turns.front().about) > 0.0)
    offset(line, turns, diameter, slack, shape);
  else
    shape.fault = "its mitres turn one way and the other, but not as the two bends of an offset do";
  return shape;
}

}  // namespace linerwright
