// The round end of a square-to-round that stands on a collar: which curves of two depths belong together.
#include <algorithm>
#include <cmath>

#include "linerwright/joint/folded_ends.hpp"
#include "linerwright/mesh/bodies.hpp"
#include "linerwright/mesh/folded_layer.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

FoldedRim folded_rim(const Fitting& fitting, double w) {
  for (const Joint& joint : fitting.joints)
    if (joint.folded() && !joint.open()) return {RoundEnd::collar, arcs_at(joint, shell_depths(w))};
  return {};
}

std::vector<FoldedSide> round_rim(const FoldedLayer& layer) {
  std::vector<FoldedSide> all;
  for (const std::vector<FoldedSide>& rim : layer.high_rim) all.insert(all.end(), rim.begin(), rim.end());
  return all;
}

std::vector<RimMatch> matched_rims(const FoldedLayer& outer, const FoldedLayer& inner) {
  std::vector<RimMatch> matches;
  for (int quarter = 0; quarter < 4; ++quarter) {
    const auto q = static_cast<std::size_t>(quarter);
    const auto on_flat = [&](const FoldedSide& side) {
      const FoldedCurve& curve = inner.curves[static_cast<std::size_t>(side.curve)];
      return part_at(curve.theta + 0.5 * curve.rate * (curve.first + curve.last)).flat;
    };
    std::vector<FoldedSide> arcs = inner.high_rim[q];
    std::vector<FoldedSide> before;
    std::vector<FoldedSide> after;
    if (!arcs.empty() && on_flat(arcs.front())) {
      before.push_back(arcs.front());
      arcs.erase(arcs.begin());
    }
    if (!arcs.empty() && on_flat(arcs.back())) {
      after.push_back(arcs.back());
      arcs.pop_back();
    }
    const std::vector<FoldedSide>& out = outer.high_rim[q];
    if (out.empty() || out.size() != arcs.size())
      throw GeometryError("the joint with the collar is divided differently at two depths");
    for (std::size_t i = 0; i < out.size(); ++i) {
      RimMatch match{quarter, out[i], {}, {arcs[i]}, {}};
      if (i == 0) match.before = before;
      if (i + 1 == out.size()) match.after = after;
      matches.push_back(std::move(match));
    }
  }
  return matches;
}

HolesOfParts holes_of_parts(const Fitting& fitting, const std::vector<Loop>& holes) {
  HolesOfParts in;
  for (const Loop& hole : holes) {
    const Joint& joint = fitting.joint(hole.joint);
    const double about = std::get<OpeningTarget>(joint.target).theta;
    double first = about;
    double last = about;
    constexpr int k_steps = 64;
    for (int i = 0; i < k_steps; ++i) {
      const double theta =
          about +
          std::remainder(place_on(joint, hole.side, k_two_pi * i / k_steps, hole.depths).theta - about,
                         k_two_pi);
      first = std::min(first, theta);
      last = std::max(last, theta);
    }
    const WallPart part = part_at(about);
    const auto k = static_cast<std::size_t>(part.quarter);
    const double middle = part.from + 0.5 * k_part_span;
    constexpr double k_clear = 1e-3;  // radians: openings keep further from seams
    const bool over = first < middle + k_clear && last > middle - k_clear;
    (!part.flat ? in.cones : over ? in.flats : about > middle ? in.after : in.before)[k].push_back(hole);
    in.none = false;
  }
  return in;
}

}  // namespace linerwright
