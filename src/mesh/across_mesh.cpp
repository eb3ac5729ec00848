// Faces across the liner as triangles: where pieces meet or end, on the walls they end on, and between
// panels.
#include <algorithm>
#include <cmath>

#include "mesh_faces.hpp"

namespace linerwright {

std::vector<MeshFaces::Face> MeshFaces::in_step(int index, DepthPair outer, DepthPair inner) {
  const std::vector<ArcLine>& out = lines(index, outer);
  const std::vector<ArcLine>& in = lines(index, inner);
  std::vector<Face> faces;
  for (std::size_t i = 0; i < out.size(); ++i) {
    faces.emplace_back();
    for (std::size_t k = 0; k + 1 < out[i].points.size(); ++k)
      add_quad(faces.back(), out[i].points[k], out[i].points[k + 1], in[i].points[k + 1], in[i].points[k]);
  }
  return faces;
}

std::vector<DepthPair> MeshFaces::rows_on_wall(int index, DepthPair outer, DepthPair inner) {
  const Joint& of = joint(index);
  const auto between = [&](double share) {
    return DepthPair{outer.lead + share * (inner.lead - outer.lead),
                     outer.follow + share * (inner.follow - outer.follow)};
  };
  // how far the straight way from curve to curve leaves the wall
  const auto off = [&](double from, double to) {
    double most = 0.0;
    for (const ArcLine& line : lines(index, outer))
      for (const double s : line.s)
        most =
            std::max(most, distance_to_chord(point_of(of, s, between(0.5 * (from + to))),
                                             point_of(of, s, between(from)), point_of(of, s, between(to))));
    return most;
  };
  // the curves' own chords take the largest part of the deflection (k_shares)
  constexpr double k_part = 0.2;
  const double allowed = k_part * deflection_;
  const int even = std::max(1, static_cast<int>(std::ceil(std::sqrt(off(0.0, 1.0) / allowed))));
  // beside the side of an equal body the way bends more the nearer it comes: rows are halved there
  constexpr double k_narrowest = 1e-4;
  std::vector<double> shares{0.0};
  for (int row = 1; row <= even; ++row) {
    std::vector<double> ahead{row == even ? 1.0 : static_cast<double>(row) / even};
    while (!ahead.empty()) {
      const double to = ahead.back();
      if (to - shares.back() > k_narrowest && off(shares.back(), to) > 2.0 * allowed) {
        ahead.push_back(0.5 * (shares.back() + to));
      } else {
        shares.push_back(to);
        ahead.pop_back();
      }
    }
  }
  std::vector<DepthPair> depths;
  depths.reserve(shares.size());
  for (const double share : shares) depths.push_back(share == 1.0 ? inner : between(share));
  return depths;
}

std::vector<MeshFaces::Face> MeshFaces::on_wall(int index, DepthPair outer, DepthPair inner) {
  const std::vector<DepthPair> rows = rows_on_wall(index, outer, inner);
  std::vector<Face> faces(lines(index, outer).size());
  for (std::size_t row = 0; row + 1 < rows.size(); ++row) {
    const std::vector<Face> parts = in_step(index, rows[row], rows[row + 1]);
    for (std::size_t arc = 0; arc < parts.size(); ++arc)
      faces[arc].insert(faces[arc].end(), parts[arc].begin(), parts[arc].end());
  }
  return faces;
}

std::vector<MeshFaces::Face> MeshFaces::across(int index, Side side, const LinerSpec& liner,
                                               const Range& range) {
  const Joint& of = joint(index);
  if (of.is_centre()) return {};  // no edge is there
  if (const auto* panel = std::get_if<PanelTarget>(&of.target))
    return panel_across(*panel, liner.outer_depth, liner.inner_depth());
  const double bore = liner.bore_depth();
  const DepthPair outer = liner_depths(of.style, side, liner.outer_depth, bore);
  const DepthPair inner = liner_depths(of.style, side, liner.inner_depth(), bore);
  if (of.folded() && !of.open()) return collar_across(index, side, outer, inner, range);
  if (of.folded()) return {across_end(of, outer.lead, inner.lead, range)};
  const bool on_disc = side == Side::lead && std::holds_alternative<FlatTarget>(of.target);
  const bool flat =
      std::holds_alternative<PlaneTarget>(of.target) || of.style == JointStyle::mitre || on_disc;
  if (flat || side == Side::lead) {
    // a branch's square end lies on its body
    std::vector<Face> all = flat ? in_step(index, outer, inner) : on_wall(index, outer, inner);
    if (range.full_turn()) return all;
    std::vector<Face> part;
    for (const RimArc& arc : arcs_within(fitting_, {{index, side, outer}}, range))
      part.push_back(all[arc.index]);
    return part;
  }
  // The body's hole lies on the branch's face.
  const double depth = of.style == JointStyle::over ? bore : 0.0;
  std::vector<Face> faces = band(of.lead, depth, {of.splits.front(), k_two_pi}, {{index, Side::lead, inner}},
                                 {{index, Side::lead, outer}}, {});
  for (Face& face : faces) face = reversed(std::move(face));
  return faces;
}

MeshFaces::Face MeshFaces::end(int index, DepthPair outer, const DepthPair* inner) {
  if (joint(index).folded())
    return inner != nullptr ? folded_across(joint(index), outer.lead, inner->lead, {})
                            : folded_disc(joint(index), outer.lead);
  Face face;
  if (inner != nullptr) {
    for (const Face& part : in_step(index, outer, *inner)) face.insert(face.end(), part.begin(), part.end());
    return face;
  }
  return disk(index, outer);
}

// All that lies inside a joint's curve in a plane: triangles from side to side.
MeshFaces::Face MeshFaces::disk(int index, DepthPair outer) {
  Face face;
  std::vector<int> around;
  for (const ArcLine& line : lines(index, outer))
    around.insert(around.end(), line.points.begin(), line.points.end() - 1);
  for (std::size_t low = 0, high = around.size() - 1; low + 1 < high;) {
    face.push_back({around[low], around[low + 1], around[high]});
    ++low;
    if (low + 1 >= high) break;
    face.push_back({around[low], around[high - 1], around[high]});
    --high;
  }
  return face;
}

MeshFaces::Face MeshFaces::on_follow(int index, DepthPair outer, const DepthPair* inner) {
  if (inner != nullptr) {
    Face whole;
    for (const Face& part : on_wall(index, outer, *inner))
      whole.insert(whole.end(), part.begin(), part.end());
    return whole;
  }
  const Loop loop{index, Side::follow, outer};
  const double near = place_on(joint(index), Side::follow, joint(index).splits.front(), outer).theta;
  return filled(joint(index).follow.front(), outer.follow, closed_points(loop, near), {});
}

std::vector<MeshFaces::Face> MeshFaces::between_panels(const Sheet& sheet, double theta,
                                                       const std::array<Rim, 2>& low,
                                                       const std::array<Rim, 2>& high) {
  if (sheet.is_square_to_round())
    return {folded_seam(sheet, theta, low[0].front().depths.lead, low[1].front().depths.lead)};
  // as seen along growing theta, the inner depth lies to the left of the way up
  std::vector<int> around = across_at_seam(low[0], low[1], theta);
  const std::vector<int> above = across_at_seam(high[0], high[1], theta);
  const std::size_t below = around.size();
  Face face;
  for (std::size_t i = 0, k = 0; i + 1 < below || k + 1 < above.size();) {
    // the side that lags behind goes on
    const bool up = k + 1 < above.size() && (i + 1) * (above.size() - 1) >= (k + 1) * (below - 1);
    face.push_back({around[i], up ? above[k + 1] : around[i + 1], above[k]});
    ++(up ? k : i);
  }
  return {face};
}

// The points of a seam between two panels from the outer face to the inner one, at one end of their wall.
std::vector<int> MeshFaces::across_at_seam(const Rim& outer, const Rim& inner, double theta) {
  const auto point_at = [&](const Rim& rim) { return rim_points(rim, {theta, k_two_pi}).front().point; };
  const Loop& end = outer.front();
  const Joint& of = joint(end.joint);
  if (end.side != Side::lead || of.style == JointStyle::mitre ||
      !std::holds_alternative<BodyTarget>(of.target))
    return {point_at(outer), point_at(inner)};
  std::vector<int> points;
  for (const DepthPair depths : rows_on_wall(end.joint, end.depths, inner.front().depths))
    points.push_back(point_at({{end.joint, end.side, depths}}));
  return points;
}

}  // namespace linerwright
