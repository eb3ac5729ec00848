#include "mesh_faces.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/mesh/triangulate.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// Radians, or relative: nearer than this two choices are alike, and no last bit decides, which is another one
// where sines come from another library.
constexpr double k_tie = 1e-9;

// How far a wall turns over a step of its rulings: of a square-to-round its flats do not, its cones twice.
double turned(const Sheet& sheet, double theta, double step) {
  if (!sheet.is_square_to_round()) return std::fabs(step);
  return part_at(theta + 0.5 * step).flat ? 0.0 : 2.0 * std::fabs(step);
}

double near_angle(double theta, double reference) {
  return theta + k_two_pi * std::round((reference - theta) / k_two_pi);
}

}  // namespace

double distance_to_chord(Vec3 point, Vec3 from, Vec3 to) {
  const Vec3 chord = to - from;
  const double length = norm(chord);
  if (!(length > 0.0)) return distance(point, from);
  return norm(cross(point - from, chord)) / length;
}

MeshFaces::Face MeshFaces::reversed(Face face) {
  for (auto& triangle : face) std::swap(triangle[1], triangle[2]);
  return face;
}

MeshFaces::MeshFaces(const Fitting& fitting, const MeshOptions& options, double share)
    : fitting_(fitting), deflection_(options.deflection), angle_(options.angle), share_(share) {
  for (const Joint& each : fitting.joints) {
    const std::vector<DepthPair> depths = depths_of(fitting, each);
    samples_.emplace_back();
    if (each.folded() || each.of_panel()) continue;  // a square-to-round's layers bring their own curves
    for (const Arc& arc : arcs_of(each)) samples_.back().push_back(divided(each, arc, depths));
  }
}

int MeshFaces::new_point(Vec3 point) {
  points_.push_back(point);
  return static_cast<int>(points_.size()) - 1;
}

int MeshFaces::corner(int number, DepthPair depths, Vec3 point) {
  const auto key = std::make_pair(number, depths);
  const auto found = corners_.find(key);
  return found != corners_.end() ? found->second : corners_.emplace(key, new_point(point)).first->second;
}

// Of an angle around a wall, so that chords of its widest circle stay within the deflection.
double MeshFaces::largest_step(const Sheet& sheet) const {
  // on the circle at least as far apart as anywhere below it, the chords of two curves one above the other
  if (sheet.is_square_to_round())
    return std::min(angle_, 2.0 * std::acos(std::max(
                                      0.0, 1.0 - 0.5 * deflection_ / (sheet.r2() + fitting_.liner.gauge))));
  const double radius = std::max(sheet.r1(), sheet.r2()) + fitting_.liner.gauge;
  return std::min(angle_, 2.0 * std::acos(std::max(0.0, 1.0 - deflection_ / radius)));
}

bool MeshFaces::too_large(const Joint& of, const std::vector<DepthPair>& depths, double from,
                          double to) const {
  if (of.is_centre()) return false;  // a point
  const double allowed = share_ * deflection_ * (1.0 + k_tie);
  const double middle = 0.5 * (from + to);
  for (const DepthPair pair : depths) {
    const Vec3 a = point_of(of, from, pair);
    const Vec3 b = point_of(of, to, pair);
    const auto off = [&](double share) {
      return distance_to_chord(point_of(of, from + share * (to - from), pair), a, b);
    };
    const double half_way = off(0.5);
    if (half_way > allowed) return true;
    // beside a sharp turn a curve strays most near one end of its chord
    constexpr double k_bent = 0.4;
    if (half_way > k_bent * allowed)
      for (const double share : {0.1, 0.25, 0.75, 0.9})
        if (off(share) > allowed) return true;
    if (of.follow.empty()) continue;
    const double first = place_on(of, Side::follow, from, pair).theta;
    const double last = near_angle(place_on(of, Side::follow, to, pair).theta, first);
    const Sheet& on = of.follow.front();
    if (turned(on, first, last - first) > share_ * largest_step(on) * (1.0 + 1e-9)) return true;
  }
  // between neighbouring depths a face is straight from curve to curve: its middle against that of the
  // quadrangle's diagonal, across the face
  for (std::size_t i = 0; i + 1 < depths.size(); ++i) {
    const Vec3 a = point_of(of, from, depths[i]);
    const Vec3 b = point_of(of, to, depths[i]);
    const Vec3 c = point_of(of, to, depths[i + 1]);
    const Vec3 d = point_of(of, from, depths[i + 1]);
    const Vec3 true_middle = 0.5 * (point_of(of, middle, depths[i]) + point_of(of, middle, depths[i + 1]));
    const Vec3 normal = cross(c - a, d - b);
    const double size = norm(normal);
    if (!(size > 0.0)) continue;
    for (const Vec3 diagonal : {0.5 * (a + c), 0.5 * (b + d)})
      if (std::fabs(dot(true_middle - diagonal, normal)) > allowed * size) return true;
  }
  return false;
}

std::vector<double> MeshFaces::divided(const Joint& of, const Arc& arc,
                                       const std::vector<DepthPair>& depths) const {
  const double span = arc.to - arc.from;
  const int least = std::max(2, static_cast<int>(std::ceil(span / (share_ * largest_step(of.lead)) - 1e-9)));
  std::vector<double> s;
  for (int i = 0; i <= least; ++i) s.push_back(arc.from + span * i / least);
  constexpr double k_narrowest = 1e-7;
  constexpr std::size_t k_most = 200'000;
  std::vector<double> out{s.front()};
  for (std::size_t i = 1; i < s.size(); ++i) {
    std::vector<double> ahead{s[i]};
    while (!ahead.empty()) {
      if (out.size() > k_most) throw GeometryError("mesh: a joint's curve has no end of points");
      if (ahead.back() - out.back() > k_narrowest && too_large(of, depths, out.back(), ahead.back())) {
        ahead.push_back(0.5 * (out.back() + ahead.back()));
      } else {
        out.push_back(ahead.back());
        ahead.pop_back();
      }
    }
  }
  return out;
}

const std::vector<MeshFaces::ArcLine>& MeshFaces::lines(int index, DepthPair depths) {
  const auto key = std::make_pair(index, depths);
  if (const auto found = made_.find(key); found != made_.end()) return found->second;
  const Joint& of = joint(index);
  if (of.folded()) return made_.emplace(key, folded_lines(of, depths.lead)).first->second;
  const std::vector<Arc> arcs = arcs_at(of, depths);
  const auto& samples = samples_[static_cast<std::size_t>(index)];
  std::vector<ArcLine> all;
  for (std::size_t i = 0; i < arcs.size(); ++i) {
    const double from = samples[i].front();
    const double to = samples[i].back();
    ArcLine line;
    for (const double s : samples[i])
      line.s.push_back(arcs[i].from + (arcs[i].to - arcs[i].from) * ((s - from) / (to - from)));
    line.s.front() = arcs[i].from;
    line.s.back() = arcs[i].to;
    const bool last = i + 1 == arcs.size();
    for (std::size_t k = 0; k < line.s.size(); ++k) {
      const auto here = [&] { return point_of(of, line.s[k], depths); };
      if (k == 0 && i > 0)
        line.points.push_back(all.back().points.back());
      else if (k == 0 && of.stretch)
        line.points.push_back(corner(of.stretch->from_corner, depths, here()));
      else if (k + 1 == line.s.size() && last && of.stretch)
        line.points.push_back(corner(of.stretch->to_corner, depths, here()));
      else if (k + 1 == line.s.size() && last)
        line.points.push_back(i == 0 ? line.points.front() : all.front().points.front());
      else
        line.points.push_back(new_point(here()));
    }
    all.push_back(std::move(line));
  }
  return made_.emplace(key, std::move(all)).first->second;
}

std::vector<MeshFaces::RimPoint> MeshFaces::rim_points(const Rim& rim, const Range& range) {
  std::vector<RimPoint> out;
  for (const RimArc& arc : rim_arcs(fitting_, rim, range)) {
    const ArcLine& line = lines(arc.loop.joint, arc.loop.depths)[arc.index];
    const std::size_t n = line.s.size();
    double theta = arc.from;
    for (std::size_t k = out.empty() ? 0 : 1; k < n; ++k) {
      const std::size_t i = arc.forward ? k : n - 1 - k;
      const Sheet::Place place = place_on(joint(arc.loop.joint), arc.loop.side, line.s[i], arc.loop.depths);
      theta = near_angle(place.theta, theta);
      out.push_back({line.points[i], theta, place.v});
    }
  }
  return out;
}

std::vector<MeshFaces::RimPoint> MeshFaces::closed_points(const Loop& loop, double near) {
  std::vector<RimPoint> out;
  double theta = near;
  for (const ArcLine& line : lines(loop.joint, loop.depths))
    for (std::size_t i = 0; i + 1 < line.s.size(); ++i) {
      const Sheet::Place place = place_on(joint(loop.joint), loop.side, line.s[i], loop.depths);
      theta = near_angle(place.theta, theta);
      out.push_back({line.points[i], theta, place.v});
    }
  return out;
}

// Two curves around a wall: triangles with a side on the one and a corner on the other, in the order of their
// rulings.
MeshFaces::Face MeshFaces::strip(const std::vector<RimPoint>& low, const std::vector<RimPoint>& high) const {
  Face face;
  for (std::size_t i = 0, k = 0; i + 1 < low.size() || k + 1 < high.size();) {
    const bool up =
        k + 1 < high.size() &&
        (i + 1 >= low.size() || high[k].theta + high[k + 1].theta < low[i].theta + low[i + 1].theta - k_tie);
    if (up) {
      face.push_back({low[i].point, high[k + 1].point, high[k].point});
      ++k;
    } else {
      face.push_back({low[i].point, low[i + 1].point, high[k].point});
      ++i;
    }
  }
  return face;
}

MeshFaces::Unrolled MeshFaces::unrolled(const Sheet& sheet, double w,
                                        const std::vector<RimPoint>& outline) const {
  const auto in_plane = [this, &sheet](Vec3 x, Vec3 y) {
    return [this, &sheet, x, y](const RimPoint& each) -> Vec2 {
      const Vec3 local = sheet.frame().local_point(at(each.point));
      return {dot(local, x), dot(local, y)};
    };
  };
  if (sheet.is_flat()) return {in_plane({1.0, 0.0, 0.0}, {0.0, 1.0, 0.0}), std::nullopt};
  const double radius = std::max(sheet.r1(), sheet.r2()) - w;
  const double step = radius * largest_step(sheet);
  if (!sheet.is_square_to_round())
    return {[radius](const RimPoint& each) -> Vec2 { return {radius * each.theta, each.v}; }, step};
  const auto [first, last] = std::minmax_element(
      outline.begin(), outline.end(), [](const RimPoint& a, const RimPoint& b) { return a.theta < b.theta; });
  const WallPart part = part_at(0.5 * (first->theta + last->theta));
  if (part.flat) {
    const Sheet::Ruling middle = sheet.ruling(0.5 * k_pi * part.quarter);
    return {in_plane(middle.around, middle.direction), std::nullopt};
  }
  return {[radius](const RimPoint& each) -> Vec2 { return {2.0 * radius * each.theta, each.v}; }, step};
}

MeshFaces::Face MeshFaces::filled(const Sheet& sheet, double w, std::vector<RimPoint> outline,
                                  std::vector<std::vector<RimPoint>> holes) const {
  std::vector<Vec2> places;
  std::vector<int> points;
  std::vector<std::vector<int>> loops;
  const Unrolled flat = unrolled(sheet, w, outline);
  const auto add = [&](std::vector<RimPoint>& loop, bool counter_clockwise) {
    double area = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i)
      area += cross(flat.place(loop[i]), flat.place(loop[(i + 1) % loop.size()]));
    if ((area > 0.0) != counter_clockwise) std::reverse(loop.begin(), loop.end());
    loops.emplace_back();
    for (const RimPoint& each : loop) {
      loops.back().push_back(static_cast<int>(places.size()));
      places.push_back(flat.place(each));
      points.push_back(each.point);
    }
  };
  add(outline, true);
  for (std::vector<RimPoint>& hole : holes) add(hole, false);
  const auto triangles =
      flat.step ? triangulate_wall(places, loops, *flat.step)
                : triangulate(places, loops.front(), {loops.begin() + 1, loops.end()}, {1.0, 1.0});
  if (triangles.empty()) throw StepsTooLarge();
  Face face;
  for (const auto& triangle : triangles) {
    std::array<int, 3> made{};
    for (std::size_t k = 0; k < 3; ++k) made[k] = points[static_cast<std::size_t>(triangle[k])];
    // a corner in which all rulings of a cone meet is one point for each
    if (made[0] != made[1] && made[1] != made[2] && made[2] != made[0]) face.push_back(made);
  }
  return face;
}

std::vector<MeshFaces::Face> MeshFaces::band(const Sheet& sheet, double w, const Range& range, const Rim& low,
                                             const Rim& high, const std::vector<Loop>& holes) {
  if (sheet.is_square_to_round()) return folded_band(sheet, w, range, holes);
  if (const auto* panel = std::get_if<PanelTarget>(&joint(low.front().joint).target)) {
    if (w < 0.0) return {};  // the metal's walls are those under its low rim
    return {panel_face(*panel, w)};
  }
  if (sheet.is_flat() && holes.empty()) return {disk(low.front().joint, low.front().depths)};
  std::vector<RimPoint> below = rim_points(low, range);
  if (sheet.is_flat()) {
    below.pop_back();  // once around
    std::vector<std::vector<RimPoint>> inside;
    for (const Loop& hole : holes) inside.push_back(closed_points(hole, range.from));
    return {filled(sheet, w, std::move(below), std::move(inside))};
  }
  std::vector<RimPoint> above = rim_points(high, range);
  if (holes.empty()) return {strip(below, above)};
  std::vector<std::vector<RimPoint>> inside;
  for (const Loop& hole : holes) {
    std::vector<RimPoint> points = closed_points(hole, range.from);
    const auto [least, most] = std::minmax_element(
        points.begin(), points.end(), [](const RimPoint& a, const RimPoint& b) { return a.theta < b.theta; });
    const double middle = 0.5 * (least->theta + most->theta);
    const double turns = k_two_pi * std::floor((middle - range.from) / k_two_pi);
    for (RimPoint& point : points) point.theta -= turns;
    inside.push_back(std::move(points));
  }
  below.insert(below.end(), above.rbegin(), above.rend());
  return {filled(sheet, w, std::move(below), std::move(inside))};
}

// a, b, c, d around; cut along the shorter diagonal.
void MeshFaces::add_quad(Face& face, int a, int b, int c, int d) const {
  if (distance(at(a), at(c)) <= distance(at(b), at(d)) * (1.0 + k_tie))
    add_halves(face, a, b, c, d);
  else
    add_halves(face, b, c, d, a);
}

void MeshFaces::add_halves(Face& face, int a, int b, int c, int d) {
  const auto add = [&](int p, int q, int r) {
    if (p != q && q != r && r != p) face.push_back({p, q, r});
  };
  add(a, b, c);
  add(a, c, d);
}

Mesh MeshFaces::mesh_of(const std::vector<Face>& shell) const {
  Mesh mesh;
  std::vector<std::optional<int>> own(points_.size());
  for (const Face& face : shell)
    for (const auto& triangle : face) {
      std::array<int, 3> made{};
      for (std::size_t k = 0; k < 3; ++k) {
        std::optional<int>& here = own[static_cast<std::size_t>(triangle[k])];
        if (!here) {
          here = static_cast<int>(mesh.points.size());
          mesh.points.push_back(at(triangle[k]));
        }
        made[k] = *here;
      }
      mesh.triangles.push_back(made);
    }
  return mesh;
}

}  // namespace linerwright
