// The arcs of rims, by the way around their walls.
#include <algorithm>
#include <cmath>

#include "linerwright/mesh/bodies.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_same_ruling = 1e-6;

// A length of the metal of a straight, as a duct of its own in its place.
Fitting duct_between(const Fitting& straight, double low, double high) {
  Fitting duct;
  duct.liner = straight.liner;
  Wall wall = straight.walls.front();
  const Joint start = straight.joint(wall.low.joint);
  const Frame& axes = wall.sheet.frame();
  for (const double at : {low, high}) {
    duct.joints.push_back(start);
    duct.joints.back().target = PlaneTarget{axes.point({0.0, 0.0, at}), axes.z};
    duct.joints.back().metal_end.reset();
  }
  wall.low = {0, Side::lead};
  wall.high = {1, Side::lead};
  wall.holes.clear();
  // in rings of the layer on the metal each opening is of one
  for (const Wall& ring : straight.walls) {
    if (ring.layer != 0) continue;
    for (const JointUse& use : metal_holes(straight, ring)) {
      const Joint& edge = straight.joint(use.joint);
      const double middle = std::get<OpeningTarget>(edge.target).v;
      if (middle < low || middle > high) continue;
      const int joint = static_cast<int>(duct.joints.size());
      duct.joints.push_back(edge);
      wall.holes.push_back({joint, use.side});
      duct.openings.push_back({"", joint, joint});
    }
  }
  duct.walls.push_back(std::move(wall));
  return duct;
}

}  // namespace

bool runs_forward(const Joint& joint, const Loop& loop) {
  if (loop.side == Side::lead || joint.folded()) return true;
  const double from = joint.stretch ? joint.splits.front() : 0.0;
  const double span = joint.stretch ? joint.splits.back() - from : 1.0;
  const double a = place_on(joint, loop.side, from + 0.30 * span, loop.depths).theta;
  const double b = place_on(joint, loop.side, from + 0.31 * span, loop.depths).theta;
  return std::sin(b - a) > 0.0;
}

std::vector<RimArc> arcs_within(const Fitting& fitting, const Rim& rim, const Range& range) {
  // counted on from the range's first ruling, which is 0 also where it is nearly a turn
  const auto on = [&](double theta) {
    const double turn = theta - range.from - k_two_pi * std::floor((theta - range.from) / k_two_pi);
    return turn > k_two_pi - k_same_ruling ? 0.0 : turn;
  };
  std::vector<RimArc> found;
  for (const Loop& loop : rim) {
    const Joint& joint = fitting.joint(loop.joint);
    const std::vector<Arc> arcs = arcs_at(joint, loop.depths);
    const bool forward = runs_forward(joint, loop);
    for (std::size_t i = 0; i < arcs.size(); ++i) {
      const double first = forward ? arcs[i].from : arcs[i].to;
      const double at = on(place_on(joint, loop.side, first, loop.depths).theta);
      if (range.full_turn() || at < range.span - k_same_ruling)
        found.push_back({loop, i, forward, range.from + at, 0.0});
    }
  }
  std::sort(found.begin(), found.end(), [](const RimArc& a, const RimArc& b) { return a.from < b.from; });
  return found;
}

std::vector<RimArc> rim_arcs(const Fitting& fitting, const Rim& rim, const Range& range) {
  std::vector<RimArc> found = arcs_within(fitting, rim, range);
  for (std::size_t i = 0; i < found.size(); ++i)
    found[i].to = i + 1 < found.size() ? found[i + 1].from : range.from + range.span;
  if (found.empty() || found.front().from > range.from + k_same_ruling)
    throw GeometryError("a joint has no corner where its wall's faces begin");
  found.front().from = range.from;
  return found;
}

std::vector<DepthPair> depths_of(const Fitting& fitting, const Joint& joint) {
  const double bore = fitting.liner.bore_depth();
  std::vector<DepthPair> pairs{shell_depths(0.0), shell_depths(bore)};
  if (is_disc_alone(fitting))
    for (const double w : {0.0, -fitting.liner.gauge}) pairs.push_back(depths_of_metal(fitting, joint, w));
  if (!fitting.pressed) pairs.push_back(shell_depths(-fitting.liner.gauge));
  if (joint.on_duct)
    for (const double w : {0.0, -fitting.liner.gauge}) pairs.push_back(depths_of_metal(fitting, joint, w));
  const auto add_layer = [&](const LinerSpec& liner) {
    for (const Side side : {Side::lead, Side::follow})
      for (const double w : liner.faces()) pairs.push_back(liner_depths(joint.style, side, w, bore));
  };
  add_layer(fitting.liner);
  for (const LinerSpec& liner : fitting.inner_layers) add_layer(liner);
  std::sort(pairs.begin(), pairs.end());
  pairs.erase(std::unique(pairs.begin(), pairs.end()), pairs.end());
  return pairs;
}

std::vector<Fitting> lengths_of_duct(const Fitting& fitting) {
  std::vector<double> ends = duct_joints(fitting.request);
  if (ends.empty()) return {};
  ends.insert(ends.begin(), 0.0);
  ends.push_back(fitting.passages.front().stations.back().distance);
  std::vector<Fitting> lengths;
  for (std::size_t i = 1; i < ends.size(); ++i)
    lengths.push_back(duct_between(fitting, ends[i - 1], ends[i]));
  return lengths;
}

}  // namespace linerwright
