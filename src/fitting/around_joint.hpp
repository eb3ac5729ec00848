// Integrals around a joint, arc by arc.
#pragma once

#include <cmath>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/joint/folded_ends.hpp"

namespace linerwright {

// Where a branch reaches nearly to the side of its body the curve turns sharply; all else is smooth, and a
// dozen panels reach rounding.
constexpr int k_panels = 12;
constexpr int k_panels_of_saddle = 40;
constexpr int k_panels_of_part = 4;  // of a square-to-round, between corners

inline int panels_of(const Joint& joint) {
  if (joint.folded()) return k_panels_of_part;
  const auto* target = std::get_if<BodyTarget>(&joint.target);
  if (target == nullptr) return k_panels;
  const Frame& branch = joint.lead.frame();
  const Frame& body = target->body.frame();
  const Vec3 square = cross(branch.z, body.z);  // to both axes
  const double miss = std::fabs(dot(branch.origin - body.origin, square)) / norm(square);
  constexpr double k_well_inside = 0.85;
  const bool inside = miss + std::max(joint.lead.r1(), joint.lead.r2()) < k_well_inside * target->body.r1();
  return inside ? k_panels : k_panels_of_saddle;
}

// s runs over the arc as s = middle - half cos(psi), psi in [0, pi]: crowded toward both ends, where joints
// of equal or tangent walls turn sharply, and even about them, so that a centred difference in psi never
// looks past a corner.
inline double at_psi(const Arc& arc, double psi) {
  return 0.5 * (arc.from + arc.to) - 0.5 * (arc.to - arc.from) * std::cos(psi);
}

// A taper whose rulings lean by different amounts turns the sharper toward its flat side the steeper it is,
// and where its layer only just reaches its collar's.
inline bool leans_unevenly(const Sheet& sheet) {
  return !sheet.is_cylinder() && !sheet.is_right_cone() && !sheet.is_square_to_round();
}

// Panels are doubled until that changes nothing: of those, and of a conical branch, which may come near its
// body's side wherever it widens to.
inline bool may_turn_sharply(const Joint& joint) {
  return leans_unevenly(joint.lead) ||
         (joint.lead.is_right_cone() && std::holds_alternative<BodyTarget>(joint.target));
}

// `sum`: by so many panels; `scale`: of what it is a part of.
template <class F>
double integrate_doubling(F&& f, double from, double to, int panels, double sum, double scale) {
  constexpr double k_settled = 1e-9;  // relative: a hundredth of what solids are held to
  constexpr int k_finest = 3072;
  for (double before = 0.0; panels < k_finest;) {
    panels *= 2;
    before = sum;
    sum = integrate(f, from, to, panels);
    if (std::fabs(sum - before) <= k_settled * scale) break;
  }
  return sum;
}

template <class F>
double integrate_doubling(F&& f, double from, double to, int panels) {
  const double sum = integrate(f, from, to, panels);
  return integrate_doubling(f, from, to, panels, sum, std::fabs(sum));
}

template <class F>
auto slope_at(F&& f, double psi) {
  constexpr double h = 2e-3;
  return (1.0 / (12.0 * h)) * (8.0 * (f(psi + h) - f(psi - h)) - (f(psi + 2.0 * h) - f(psi - 2.0 * h)));
}

// Integral around the joint of g(psi, arc) d psi.
template <class F>
double around_joint(const Joint& joint, F&& g, DepthPair depths = {}) {
  const std::vector<Arc> arcs = joint.folded() ? folded_arcs(joint, depths.lead) : arcs_of(joint);
  const int panels = panels_of(joint);
  std::vector<double> parts;
  double scale = 0.0;
  for (const Arc& arc : arcs) {
    parts.push_back(integrate([&](double psi) { return g(psi, arc); }, 0.0, k_pi, panels));
    scale += std::fabs(parts.back());
  }
  double sum = 0.0;
  for (std::size_t i = 0; i < arcs.size(); ++i)
    sum += may_turn_sharply(joint) ? integrate_doubling([&](double psi) { return g(psi, arcs[i]); }, 0.0,
                                                        k_pi, panels, parts[i], scale)
                                   : parts[i];
  return sum;
}

}  // namespace linerwright
