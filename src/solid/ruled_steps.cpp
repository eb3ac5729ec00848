// How finely the edges of a ruled mesh are divided.
#include <algorithm>
#include <cmath>

#include "ruled_mesh.hpp"

namespace linerwright {

double circle_step(double radius, double deflection) {
  return 2.0 * std::acos(std::max(0.0, 1.0 - deflection / radius));
}

int RuledMesh::steps_for(const Edge& edge, double share) const {
  double steps = 1.0;
  if (!edge.is_point && edge.curve.GetType() != GeomAbs_Line) {
    constexpr int k_pieces = 32;
    double turn = 0.0;
    double bulge = 0.0;
    gp_Pnt last;
    gp_Vec last_slope;
    edge.curve.D1(edge.first, last, last_slope);
    for (int i = 1; i <= k_pieces; ++i) {
      gp_Pnt next;
      gp_Vec slope;
      edge.curve.D1(edge.at(static_cast<double>(i) / k_pieces), next, slope);
      turn += last_slope.Angle(slope);
      const gp_Pnt middle = edge.curve.Value(edge.at((i - 0.5) / k_pieces));
      bulge += std::sqrt(middle.Distance(gp_Pnt(0.5 * (last.XYZ() + next.XYZ()))) /
                         (share / k_first_share * edge.allowed));
      last = next;
      last_slope = slope;
    }
    steps = std::max({3.0, turn / angle_, bulge});
  }
  for (const auto& [f, s] : edge.uses) {
    const Face& face = faces_[f];
    const auto span = face.outline.sides[s].extent();
    if (face.form == Face::round) steps = std::max(steps, span.x / (share * face.largest_u));
    if (face.surface.GetType() == GeomAbs_Torus)
      steps = std::max({steps, span.x / face.largest_u, span.y / face.largest_v});
  }
  return static_cast<int>(std::ceil(steps - 1e-9));
}

bool RuledMesh::too_large(const Edge& edge, double from, double to, double share) const {
  if (!edge.is_point && edge.curve.GetType() != GeomAbs_Line) {
    const gp_Pnt a = edge.curve.Value(edge.at(from));
    const gp_Pnt b = edge.curve.Value(edge.at(to));
    const gp_Pnt middle = edge.curve.Value(edge.at(0.5 * (from + to)));
    const double allowed = share / k_first_share * edge.allowed;
    if (middle.Distance(gp_Pnt(0.5 * (a.XYZ() + b.XYZ()))) > allowed) return true;
    // beside a tight corner the middle may lie near the chord and the curve not
    const gp_Vec chord(a, b);
    for (const double at : {0.25, 0.75}) {
      const gp_Vec away(a, edge.curve.Value(edge.at(from + at * (to - from))));
      if (chord.Magnitude() > 0.0 && away.Crossed(chord).Magnitude() / chord.Magnitude() > allowed)
        return true;
    }
  }
  constexpr double k_slack = 1.1;
  for (const auto& [f, s] : edge.uses) {
    if (faces_[f].form != Face::round) continue;
    const OutlineSide& side = faces_[f].outline.sides[s];
    const double step = std::fabs(side.on_edge(edge.at(from)).X() - side.on_edge(edge.at(to)).X());
    if (step > k_slack * share * faces_[f].largest_u) return true;
  }
  return false;
}

// A quadrangle of steps du, dv on a ruled face whose rulings turn strays from the face by a
// quarter of |S_uv| du dv along the normal.
int RuledMesh::rows_across(const Face& face, int steps_along) const {
  double twist = 0.0;
  constexpr int k_samples = 32;
  const double first = face.side(0).at(0.0).X();
  const double last = face.side(0).at(1.0).X();
  for (int i = 0; i <= k_samples; ++i) {
    gp_Pnt p;
    gp_Vec u;
    gp_Vec v;
    gp_Vec uu;
    gp_Vec vv;
    gp_Vec uv;
    face.surface.D2(first + (last - first) * i / k_samples, 0.5, p, u, v, uu, vv, uv);
    const gp_Vec normal = u.Crossed(v);
    if (normal.Magnitude() > 0.0) twist = std::max(twist, std::fabs(uv.Dot(normal)) / normal.Magnitude());
  }
  const double step = std::fabs(last - first) / steps_along;
  return std::max(1, static_cast<int>(std::ceil(0.25 * twist * step / (0.5 * deflection_))));
}

void RuledMesh::divide_edges(double share) {
  std::vector<int> steps(edges_.size(), 1);  // by group
  for (const Edge& edge : edges_) {
    int& most = steps[static_cast<std::size_t>(edge.group)];
    most = std::max(most, steps_for(edge, share));
  }
  for (const Face& face : faces_) {
    if (face.form != Face::rows || face.surface.GetType() != GeomAbs_BSplineSurface) continue;
    const auto group_of = [&](std::size_t s) {
      return static_cast<std::size_t>(edges_[edge_index(face.side(s))].group);
    };
    int& rows = steps[group_of(1)];
    rows = std::max(rows, rows_across(face, steps[group_of(0)]));
  }
  shares_.assign(edges_.size(), {});
  for (std::size_t g = 0; g < edges_.size(); ++g) {
    std::vector<double>& shares = shares_[g];
    for (int i = 0; i <= steps[g]; ++i) shares.push_back(static_cast<double>(i) / steps[g]);
    std::vector<const Edge*> members;
    for (const Edge& edge : edges_)
      if (static_cast<std::size_t>(edge.group) == g) members.push_back(&edge);
    constexpr double k_narrowest = 1e-6;
    for (std::size_t i = 0; i + 1 < shares.size() && !members.empty();) {
      const bool split = shares[i + 1] - shares[i] > k_narrowest &&
                         std::any_of(members.begin(), members.end(), [&](const Edge* edge) {
                           return too_large(*edge, shares[i], shares[i + 1], share);
                         });
      if (split)
        shares.insert(shares.begin() + static_cast<std::ptrdiff_t>(i) + 1, 0.5 * (shares[i] + shares[i + 1]));
      else
        ++i;
    }
  }
}

}  // namespace linerwright
