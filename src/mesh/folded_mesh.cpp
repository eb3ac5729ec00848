// Faces of a square-to-round as triangles: its layers' curves are divided alike on both sides of a cone's
// part.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "linerwright/joint/folded_ends.hpp"
#include "mesh_faces.hpp"

namespace linerwright {

namespace {

// The quarters, from flat to flat, within a range of rulings.
std::vector<int> quarters_in(const Range& range) {
  constexpr double k_quarter = 0.5 * k_pi;
  const int first = static_cast<int>(std::lround(range.from / k_quarter));
  const int count = static_cast<int>(std::lround(range.span / k_quarter));
  std::vector<int> quarters;
  for (int i = 0; i < count; ++i) quarters.push_back((((first + i) % 4) + 4) % 4);
  return quarters;
}

}  // namespace

const MeshFaces::FoldedLines& MeshFaces::folded(const Sheet& sheet, double w) {
  if (const auto found = folded_.find(w); found != folded_.end()) return found->second;
  FoldedLines made{folded_layer(sheet, w, folded_rim(fitting_, w)), {}, {}};
  for (const Vec3& point : made.layer.points) made.points.push_back(new_point(point));
  // a part's curves have the turn of its rulings as their parameter
  const double step = share_ * largest_step(sheet);
  for (const FoldedCurve& curve : made.layer.curves) {
    std::vector<int> line{made.points[static_cast<std::size_t>(curve.from)]};
    const int n =
        curve.straight()
            ? 1
            : std::max(2, static_cast<int>(std::ceil(curve.turn * (curve.last - curve.first) / step - 1e-9)));
    for (int i = 1; i < n; ++i)
      line.push_back(new_point(curve.at(curve.first + (curve.last - curve.first) * i / n)));
    line.push_back(made.points[static_cast<std::size_t>(curve.to)]);
    made.lines.push_back(std::move(line));
  }
  return folded_.emplace(w, std::move(made)).first->second;
}

std::vector<int> MeshFaces::chain(const FoldedLines& of, const std::vector<FoldedSide>& sides) {
  std::vector<int> points;
  for (const FoldedSide& side : sides) {
    std::vector<int> line = of.lines[static_cast<std::size_t>(side.curve)];
    if (!side.forward) std::reverse(line.begin(), line.end());
    if (!points.empty()) points.pop_back();
    points.insert(points.end(), line.begin(), line.end());
  }
  return points;
}

std::vector<int> MeshFaces::rim_of(const FoldedLines& of, bool round, int quarter) {
  const auto q = static_cast<std::size_t>(quarter);
  return chain(of, round               ? of.layer.high_rim[q]
                   : of.layer.collared ? of.layer.floor[q]
                                       : of.layer.low_rim[q]);
}

// From one corner of its outline.
MeshFaces::Face MeshFaces::whole_half(const FoldedLines& of, int quarter, std::size_t half, bool from_low) {
  const auto q = static_cast<std::size_t>(quarter);
  std::vector<int> ring = chain(of, of.layer.flats[q][half]);
  ring.pop_back();
  const FoldedSeam& middle = of.layer.seams[(q + half) % 4];
  const int eye = of.points[static_cast<std::size_t>(from_low ? middle.low : middle.high)];
  std::rotate(ring.begin(), std::find(ring.begin(), ring.end(), eye), ring.end());
  Face face;
  for (std::size_t i = 1; i + 1 < ring.size(); ++i) face.push_back({ring[0], ring[i], ring[i + 1]});
  return face;
}

MeshFaces::Face MeshFaces::cone_patch(const FoldedLines& of, const FoldedPatch& patch) {
  const std::vector<int>& high = of.lines[static_cast<std::size_t>(patch.high)];
  const std::size_t n = high.size() - 1;
  Face face;
  for (std::size_t i = 0; i < n; ++i) {
    const int a = of.low(patch, i);
    const int b = of.low(patch, i + 1);
    const int c = high[i + 1];
    const int d = high[i];
    // beside a bend line not along the flat's own rulings, which lead from the same tip to the same mitre
    if (i == 0)
      add_halves(face, a, b, c, d);
    else if (i + 1 == n)
      add_halves(face, b, c, d, a);
    else
      add_quad(face, a, b, c, d);
  }
  return patch.reversed ? reversed(std::move(face)) : face;
}

std::vector<MeshFaces::Face> MeshFaces::folded_band(const Sheet& sheet, double w, const Range& range,
                                                    const std::vector<Loop>& holes) {
  const FoldedLines& of = folded(sheet, w);
  // seen whole from the upper end of the flat's middle line; outside the duct face a flat that narrows toward
  // a collar meets it in a line that dips there, and its lower end sees all
  const bool from_low = w < 0.0 && folded_rim(fitting_, w).round == RoundEnd::collar;
  const HolesOfParts in = holes_of_parts(fitting_, holes);
  std::vector<Face> faces;
  for (const int quarter : quarters_in(range)) {
    const auto q = static_cast<std::size_t>(quarter);
    const std::size_t next = (q + 1) % 4;
    // a flat that is one face lies in the quarter after its middle line
    const bool pierced_here = !in.flats[q].empty() || !in.after[q].empty();
    faces.push_back(pierced_here ? pierced_flat(sheet, w, quarter, true, in)
                                 : whole_half(of, quarter, 0, from_low));
    if (in.flats[next].empty())
      faces.push_back(in.before[next].empty() ? whole_half(of, quarter, 1, from_low)
                                              : pierced_flat(sheet, w, static_cast<int>(next), false, in));
    if (!in.cones[q].empty()) {
      faces.push_back(pierced_cone(sheet, w, quarter, in.cones[q]));
      continue;
    }
    for (const FoldedPatch& patch : of.layer.patches[q]) faces.push_back(cone_patch(of, patch));
  }
  for (Face& face : skirts(of)) faces.push_back(std::move(face));
  return faces;
}

MeshFaces::Face MeshFaces::pierced_flat(const Sheet& sheet, double w, int flat, bool after,
                                        const HolesOfParts& holes) {
  const FoldedLines& of = folded(sheet, w);
  const auto k = static_cast<std::size_t>(flat);
  const bool whole = !holes.flats[k].empty();
  std::vector<FoldedSide> sides = of.layer.flats[k][0];
  std::vector<FoldedSide> rest = of.layer.flats[(k + 3) % 4][1];
  if (whole) {  // the middle line is the last side of the one, the first of the other
    sides.pop_back();
    sides.insert(sides.end(), rest.begin() + 1, rest.end());
  } else if (!after) {
    sides = std::move(rest);
  }
  std::vector<int> ring = chain(of, sides);
  ring.pop_back();
  const double middle = 0.5 * k_pi * flat;
  std::vector<RimPoint> outline;
  for (const int point : ring) outline.push_back({point, middle, 0.0});
  std::vector<std::vector<RimPoint>> inside;
  const auto add = [&](const std::vector<Loop>& loops) {
    for (const Loop& hole : loops) inside.push_back(closed_points(hole, middle));
  };
  add(holes.flats[k]);
  if (whole || after) add(holes.after[k]);
  if (whole || !after) add(holes.before[k]);
  return filled(sheet, w, std::move(outline), std::move(inside));
}

MeshFaces::Face MeshFaces::pierced_cone(const Sheet& sheet, double w, int quarter,
                                        const std::vector<Loop>& holes) {
  const FoldedLines& of = folded(sheet, w);
  std::vector<RimPoint> below;
  std::vector<RimPoint> above;
  for (const FoldedPatch& patch : of.layer.patches[static_cast<std::size_t>(quarter)]) {
    const FoldedCurve& curve = of.layer.curves[static_cast<std::size_t>(patch.high)];
    const std::vector<int>& high = of.lines[static_cast<std::size_t>(patch.high)];
    const std::size_t n = high.size() - 1;
    for (std::size_t k = 0; k <= n; ++k) {
      if (k == 0 && !above.empty()) continue;  // the last of the patch before
      const std::size_t i = patch.reversed ? n - k : k;
      const double share = static_cast<double>(i) / static_cast<double>(n);
      const double theta = corner_theta(
          quarter, patch.turn_at(i == n ? curve.last : curve.first + (curve.last - curve.first) * share));
      const int low = of.low(patch, i);
      const Sheet::Ruling ruling = sheet.ruling(theta);
      const auto place = [&](int point) -> RimPoint {
        return {point, theta, dot(sheet.frame().local_point(at(point)) - ruling.base, ruling.direction)};
      };
      below.push_back(place(low));
      above.push_back(place(high[i]));
    }
  }
  std::vector<RimPoint> outline = below;
  outline.insert(outline.end(), above.rbegin(), above.rend());
  std::vector<std::vector<RimPoint>> inside;
  for (const Loop& hole : holes) inside.push_back(closed_points(hole, corner_theta(quarter, 0.25 * k_pi)));
  std::map<int, Vec2> places;
  for (const RimPoint& each : outline) places[each.point] = {each.theta, each.v};
  for (const std::vector<RimPoint>& hole : inside)
    for (const RimPoint& each : hole) places[each.point] = {each.theta, each.v};
  Face face = filled(sheet, w, std::move(outline), std::move(inside));
  if (w <= 0.0) return face;  // the flats' rulings end in the rectangle's plane
  std::set<int> mitre;
  for (const RimPoint& each : below) mitre.insert(each.point);
  turn_from_mitre(face, {below.front().point, above.front().point}, mitre, places);
  turn_from_mitre(face, {below.back().point, above.back().point}, mitre, places);
  return face;
}

// A flat's rulings lead from its tip to the same mitre: no side of the cone's triangles may, but the bend
// line.
void MeshFaces::turn_from_mitre(Face& face, std::array<int, 2> bend, const std::set<int>& mitre,
                                const std::map<int, Vec2>& places) {
  const auto third = [](const std::array<int, 3>& triangle, int a, int b) {
    return triangle[0] + triangle[1] + triangle[2] - a - b;
  };
  const auto with = [&](int a, int b) {
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < face.size(); ++i)
      if (std::count(face[i].begin(), face[i].end(), a) + std::count(face[i].begin(), face[i].end(), b) == 2)
        found.push_back(i);
    return found;
  };
  const auto turn = [&](int a, int b, int c) {
    return cross(places.at(b) - places.at(a), places.at(c) - places.at(a));
  };
  const auto [low, tip] = bend;
  // The triangles about the tip from the bend line on, as far as they stand on the mitre, and where they do;
  // and of the one beyond the corner that does not.
  std::vector<std::size_t> fan;
  std::vector<int> feet;
  const auto look = [&, low = low, tip = tip] {
    fan = with(low, tip);
    feet = {low};
    if (fan.size() != 1) throw StepsTooLarge();
    for (;;) {
      feet.push_back(third(face[fan.back()], feet.back(), tip));
      if (mitre.count(feet.back()) == 0) return;
      const std::vector<std::size_t> both = with(feet.back(), tip);
      if (both.size() != 2) throw StepsTooLarge();
      fan.push_back(both[0] == fan.back() ? both[1] : both[0]);
    }
  };
  // Turns the side from the tip to foot i; false where its two triangles form no convex quadrangle.
  const auto turned = [&, tip = tip](std::size_t i) {
    const double sense = turn(feet[i - 1], feet[i], tip);
    if (!(sense * turn(feet[i - 1], feet[i], feet[i + 1]) > 0.0) ||
        !(sense * turn(feet[i - 1], feet[i + 1], tip) > 0.0))
      return false;
    const bool forward = sense > 0.0;
    const auto corners = [&](int a, int b, int c) {
      return forward ? std::array<int, 3>{a, b, c} : std::array<int, 3>{a, c, b};
    };
    face[fan[i - 1]] = corners(feet[i - 1], feet[i], feet[i + 1]);
    face[fan[i]] = corners(feet[i - 1], feet[i + 1], tip);
    return true;
  };
  for (look(); fan.size() > 1; look()) {
    std::size_t i = 1;
    while (i < fan.size() && !turned(i)) ++i;
    if (i == fan.size()) throw StepsTooLarge();
  }
  for (const int point : mitre)
    if (point != low && !with(point, tip).empty()) throw StepsTooLarge();
}

namespace {

// Twice the area that a closed line encloses, square to it.
Vec3 enclosed(const std::vector<Vec3>& ring) {
  Vec3 area{};
  for (std::size_t i = 1; i + 1 < ring.size(); ++i)
    area = area + cross(ring[i] - ring[0], ring[i + 1] - ring[0]);
  return area;
}

}  // namespace

// Of the two triangles that may come next the one with the shorter side, unless that alone is turned over:
// where the inner line is far shorter than the outer one, it would come around its corner too early.
MeshFaces::Face MeshFaces::between(const std::vector<int>& outer, const std::vector<int>& inner) const {
  std::vector<Vec3> ring;
  for (const int point : outer) ring.push_back(at(point));
  for (auto point = inner.rbegin(); point != inner.rend(); ++point) ring.push_back(at(*point));
  const Vec3 whole = enclosed(ring);
  const auto turned_over = [&](int a, int b, int c) {
    return dot(enclosed({at(a), at(b), at(c)}), whole) < 0.0;
  };
  Face face;
  const auto add = [&](int a, int b, int c) {
    if (a != b && b != c && c != a) face.push_back({a, b, c});
  };
  std::size_t i = 0;
  std::size_t k = 0;
  while (i + 1 < outer.size() || k + 1 < inner.size()) {
    bool along_outer = i + 1 < outer.size();
    if (along_outer && k + 1 < inner.size()) {
      along_outer = distance(at(outer[i + 1]), at(inner[k])) <= distance(at(outer[i]), at(inner[k + 1]));
      const bool outer_over = turned_over(outer[i], outer[i + 1], inner[k]);
      const bool inner_over = turned_over(outer[i], inner[k + 1], inner[k]);
      if (outer_over != inner_over) along_outer = inner_over;
    }
    if (along_outer) {
      add(outer[i], outer[i + 1], inner[k]);
      ++i;
    } else {
      add(outer[i], inner[k + 1], inner[k]);
      ++k;
    }
  }
  return face;
}

std::vector<MeshFaces::ArcLine> MeshFaces::folded_lines(const Joint& joint, double w) {
  const FoldedLines& of = folded(joint.lead, w);
  std::vector<ArcLine> all;
  for (const FoldedSide& side : round_rim(of.layer)) {
    const FoldedCurve& curve = of.layer.curves[static_cast<std::size_t>(side.curve)];
    ArcLine line{{}, of.lines[static_cast<std::size_t>(side.curve)]};
    const auto n = static_cast<double>(line.points.size() - 1);
    for (std::size_t i = 0; i < line.points.size(); ++i)
      line.s.push_back(curve.theta + curve.rate * (curve.first + (curve.last - curve.first) *
                                                                     (static_cast<double>(i) / n)));
    if (!side.forward) {
      std::reverse(line.s.begin(), line.s.end());
      std::reverse(line.points.begin(), line.points.end());
    }
    all.push_back(std::move(line));
  }
  return all;
}

std::vector<MeshFaces::Face> MeshFaces::collar_across(int index, Side side, DepthPair outer, DepthPair inner,
                                                      const Range& range) {
  const FoldedLines& out = folded(joint(index).lead, outer.lead);
  const FoldedLines& in = folded(joint(index).lead, inner.lead);
  const std::vector<RimMatch> matches = matched_rims(out.layer, in.layer);
  std::vector<Face> faces;
  for (const RimArc& arc : arcs_within(fitting_, {{index, side, outer}}, range)) {
    const RimMatch& match = matches.at(arc.index);
    const std::vector<int> outer_line = chain(out, {match.outer});
    // flats about the tip in which they touch the circle
    if (!match.before.empty()) faces.push_back(between({outer_line.front()}, chain(in, match.before)));
    faces.push_back(between(outer_line, chain(in, match.inner)));
    if (!match.after.empty()) faces.push_back(between({outer_line.back()}, chain(in, match.after)));
  }
  return faces;
}

MeshFaces::Face MeshFaces::folded_across(const Joint& joint, double outer, double inner, const Range& range) {
  const bool round = is_round_end(joint);
  const FoldedLines& out = folded(joint.lead, outer);
  const FoldedLines& in = folded(joint.lead, inner);
  Face face;
  for (const int quarter : quarters_in(range)) {
    const Face part = between(rim_of(out, round, quarter), rim_of(in, round, quarter));
    face.insert(face.end(), part.begin(), part.end());
  }
  return face;
}

MeshFaces::Face MeshFaces::folded_disc(const Joint& joint, double w) {
  const bool round = is_round_end(joint);
  const FoldedLines& of = folded(joint.lead, w);
  std::vector<int> ring;
  for (int quarter = 0; quarter < 4; ++quarter) {
    std::vector<int> part = rim_of(of, round, quarter);
    ring.insert(ring.end(), part.begin(), part.end() - 1);
  }
  // the two halves of a ring are chains from its first point to its middle
  const auto middle = static_cast<std::ptrdiff_t>(ring.size() / 2);
  const std::vector<int> first(ring.begin(), ring.begin() + middle + 1);
  std::vector<int> second(ring.begin() + middle, ring.end());
  second.push_back(ring.front());
  std::reverse(second.begin(), second.end());
  return between(first, second);
}

MeshFaces::Face MeshFaces::folded_seam(const Sheet& sheet, double theta, double outer, double inner) {
  const FoldedLines& out = folded(sheet, outer);
  const FoldedLines& in = folded(sheet, inner);
  const auto k = static_cast<std::size_t>(quarters_in({theta, 0.5 * k_pi}).front());
  const auto way_up = [&](const FoldedLines& of) {
    const FoldedSeam& seam = of.layer.seams[k];
    std::vector<FoldedSide> sides{{seam.line, true}};
    for (const int curve : seam.tip_curves) sides.push_back({curve, true});
    return chain(of, sides);
  };
  // the line's own quadrangle first: what follows lies beyond its upper corners
  const std::vector<int> a = way_up(out);
  const std::vector<int> b = way_up(in);
  Face face;
  add_quad(face, a[0], b[0], b[1], a[1]);
  const Face tip = reversed(between({a.begin() + 1, a.end()}, {b.begin() + 1, b.end()}));
  face.insert(face.end(), tip.begin(), tip.end());
  return face;
}

}  // namespace linerwright
