// Faces of a square-to-round as triangles: its layers' curves are divided alike on both sides of a cone's
// part.
#include <algorithm>
#include <cmath>

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
  // a part's curves have the turn of its rulings as their parameter, on the circle at least as far apart as
  // anywhere below it
  const double radius = sheet.r2() + fitting_.liner.gauge;
  const double step =
      share_ * std::min(angle_, 2.0 * std::acos(std::max(0.0, 1.0 - 0.5 * deflection_ / radius)));
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
  return chain(of, (round ? of.layer.high_rim : of.layer.low_rim)[static_cast<std::size_t>(quarter)]);
}

std::vector<MeshFaces::Face> MeshFaces::folded_band(const Sheet& sheet, double w, const Range& range) {
  const FoldedLines& of = folded(sheet, w);
  // seen whole from the upper end of the flat's middle line; outside the duct face a flat that narrows toward
  // a collar meets it in a line that dips there, and its lower end sees all
  const bool from_low = w < 0.0 && folded_rim(fitting_, w).round == RoundEnd::collar;
  std::vector<Face> faces;
  for (const int quarter : quarters_in(range)) {
    const auto q = static_cast<std::size_t>(quarter);
    for (std::size_t half = 0; half < 2; ++half) {
      std::vector<int> ring = chain(of, of.layer.flats[q][half]);
      ring.pop_back();
      const FoldedSeam& middle = of.layer.seams[(q + half) % 4];
      const int eye = of.points[static_cast<std::size_t>(from_low ? middle.low : middle.high)];
      std::rotate(ring.begin(), std::find(ring.begin(), ring.end(), eye), ring.end());
      Face face;
      for (std::size_t i = 1; i + 1 < ring.size(); ++i) face.push_back({ring[0], ring[i], ring[i + 1]});
      faces.push_back(std::move(face));
    }
    for (const FoldedPatch& patch : of.layer.patches[q]) {
      const auto line = [&](int curve, int point, std::size_t i) {
        return curve < 0 ? of.points[static_cast<std::size_t>(point)]
                         : of.lines[static_cast<std::size_t>(curve)][i];
      };
      const int longer = patch.low < 0 ? patch.high : patch.low;
      const std::size_t n = of.lines[static_cast<std::size_t>(longer)].size() - 1;
      Face face;
      for (std::size_t i = 0; i < n; ++i) {
        const int a = line(patch.low, patch.low_point, i);
        const int b = line(patch.low, patch.low_point, i + 1);
        const int c = line(patch.high, patch.high_point, i + 1);
        const int d = line(patch.high, patch.high_point, i);
        // beside a bend line not along the flat's own rulings, which lead from the same tip to the same mitre
        if (i == 0)
          add_halves(face, a, b, c, d);
        else if (i + 1 == n)
          add_halves(face, b, c, d, a);
        else
          add_quad(face, a, b, c, d);
      }
      faces.push_back(patch.reversed ? reversed(std::move(face)) : std::move(face));
    }
  }
  return faces;
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
