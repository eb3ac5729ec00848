#include "bore_loss.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "bore_steps.hpp"
#include "linerwright/airway/loss.hpp"
#include "linerwright/fitting/choices.hpp"
#include "linerwright/fitting/shop_words.hpp"

namespace linerwright {

namespace {

constexpr double k_equal = 1e-9;

// What a coefficient is of, the same bare and lined: a turn, a taper, a branch or a joint, and which of them.
using Element = std::pair<char, std::size_t>;

// One side of a passage, with the elements of its parts and of what it leaves out.
struct OneSide {
  BoreLoss loss;
  std::vector<Element> parts, left_out;
};

// One side of a passage, bare or lined, while its loss is put together.
class PassageLoss {
 public:
  PassageLoss(const BoreRow& row, const Fitting& fitting, std::size_t passage, const FittingFlows& flows,
              const Air& air, bool lined)
      : row_(row),
        fitting_(fitting),
        passage_(fitting.passages[passage]),
        index_(passage),
        flows_(flows),
        air_(air),
        lined_(lined) {}

  OneSide made() {
    add_friction();
    if (const auto coefficient = given()) {
      const BoreFlow& at = lined_ ? *row_.lined_air : *row_.bare_air;
      add({'g', 0}, {*coefficient, "coefficient given", "given", {}}, at.velocity_pressure, *row_.flow, true);
    } else {
      add_turns();
      add_tapers();
      add_branches();
      if (lined_) add_joints();
    }
    return {std::move(loss_), std::move(parts_), std::move(left_out_)};
  }

 private:
  double diameter(const BorePlace& place) const {
    return lined_ ? place.lined_diameter : place.bare_diameter;
  }

  // Whether its stations lean against each other while the bore grows or shrinks: a taper moved aside.
  bool moved_aside() const {
    const Vec3 first = passage_.stations.front().plane.normal;
    return !passage_.metal.empty() && passage_.turns.empty() &&
           std::any_of(passage_.stations.begin(), passage_.stations.end(), [&](const Station& station) {
             return dot(station.plane.normal, first) < 1.0 - k_equal;
           });
  }

  // The bore from end to end with the flow in it: the stations', or the metal's own corners.
  std::vector<PathPlace> places() const {
    std::vector<PathPlace> path;
    if (!lined_ && !moved_aside())
      for (const MetalCorner& corner : passage_.metal)
        path.push_back(
            {corner.distance, corner.diameter, flows_.at(fitting_, index_, corner.distance).value_or(0.0)});
    if (path.empty())
      for (const BorePlace& place : row_.places)
        path.push_back({place.distance, diameter(place), place.flow.value_or(0.0)});
    return path;
  }

  // Piece by piece: the flow changes at each branch, the bore at each place.
  void add_friction() {
    std::vector<PathPlace> path = places();
    for (const AirBranch& branch : passage_.branches) {
      const auto behind = std::find_if(path.begin(), path.end(),
                                       [&](const PathPlace& place) { return place.along > branch.distance; });
      if (behind == path.begin() || behind == path.end()) continue;
      const PathPlace before = *(behind - 1);
      const double share = (branch.distance - before.along) / (behind->along - before.along);
      path.insert(behind, {branch.distance, before.diameter + (behind->diameter - before.diameter) * share,
                           flows_.at(fitting_, index_, branch.distance).value_or(0.0)});
    }
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
      const double piece =
          path_friction({path[i], path[i + 1]}, lined_ ? row_.roughness : row_.metal_roughness, air_);
      loss_.friction += piece;
      loss_.power += piece * std::fabs(path[i].flow);
    }
  }

  // p_v of a flow in a bore, Pa.
  double pressure(double flow, double bore) const {
    return velocity_pressure(velocity(std::fabs(flow), circle_area(bore)), air_);
  }

  std::optional<double> given() const {
    const char* key = lined_ ? "loss_coefficient" : "bare_loss_coefficient";
    const Values& values = fitting_.request.values;
    if (!values.has(key)) return std::nullopt;
    const std::vector<double> all = values.list(key);
    return index_ < all.size() ? std::optional<double>(all[index_]) : std::nullopt;
  }

  // `of`: the velocity pressure that the coefficient is on; `flow`: what loses it.
  void add(Element element, const LossCoefficient& coefficient, double of, double flow,
           bool by_designer = false) {
    if (!coefficient.holds()) return leave_out(element, coefficient.name + ": " + coefficient.refused);
    parts_.push_back(element);
    loss_.parts.push_back({coefficient.name, coefficient.value, coefficient.value * of, std::fabs(flow),
                           coefficient.source, by_designer});
  }

  void leave_out(Element element, std::string why) {
    left_out_.push_back(element);
    loss_.left_out.push_back(std::move(why));
  }

  void add_turns() {
    const BorePlace& at = row_.places[row_.fastest];
    const double flow = at.flow.value_or(0.0);
    if (flow == 0.0) return;
    const double bore = diameter(at);
    const double roughness = lined_ ? row_.roughness : row_.metal_roughness;
    const double re = reynolds(velocity(std::fabs(flow), circle_area(bore)), bore, air_);
    for (std::size_t i = 0; i < passage_.turns.size(); ++i) {
      const AirTurn& turn = passage_.turns[i];
      const int mitres = lined_ ? turn.liner_mitres : turn.metal_mitres;
      add({'t', i},
          mitres == 0 ? smooth_bend(turn.angle, turn.centreline_radius, bore, re, roughness)
                      : mitred_bend(turn.angle, mitres, turn.centreline_radius, bore, re, roughness),
          pressure(flow, bore), flow);
    }
  }

  // Each stretch over which the bore grows or shrinks all the way, in the order in which the air meets its
  // ends.
  void add_tapers() {
    if (has_rectangle(fitting_)) {
      if (row_.places.front().flow.value_or(0.0) != 0.0)
        leave_out({'w', 0},
                  "its change from a rectangle to a circle: no closed form is public, so state "
                  "loss_coefficient; its friction is that of circles of the same areas");
      return;
    }
    if (moved_aside()) return add_taper_aside();
    const std::vector<PathPlace> path = places();
    std::size_t i = 0;
    std::size_t tapers = 0;
    while (i + 1 < path.size()) {
      const int way = trend(path[i], path[i + 1]);
      std::size_t end = i + 1;
      // a lining that begins within its metal is a step, and no part of a taper before it
      while (way != 0 && !is_step(path[end - 1], path[end]) && end + 1 < path.size() &&
             !is_step(path[end], path[end + 1]) && trend(path[end], path[end + 1]) == way)
        ++end;
      if (way != 0 && (path[end].along > path[i].along || has_bare_ends(fitting_)))
        add_taper(tapers++, path[i], path[end]);
      i = end;
    }
  }

  // As a taper on centre of the same ends, as long as its line of centres.
  void add_taper_aside() {
    const double flow = row_.places.front().flow.value_or(0.0);
    const auto corner = [&](std::size_t i, const BorePlace& end) -> PathPlace {
      return {passage_.metal[i].distance, diameter(end), flow};
    };
    const std::size_t first = passage_.metal[0].distance == passage_.metal[1].distance ? 0 : 1;
    std::size_t begin = 0;
    std::size_t last = row_.places.size() - 1;
    std::size_t tapers = 1;
    const std::vector<PathPlace> path = places();
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
      if (!lined_ || !is_step(path[i], path[i + 1])) continue;
      add_taper(tapers++, path[i], path[i + 1]);
      (trend(path[i], path[i + 1]) < 0 ? begin : last) = trend(path[i], path[i + 1]) < 0 ? i + 1 : i;
    }
    const PathPlace from = corner(first, row_.places[begin]);
    const PathPlace to = corner(2, row_.places[last]);
    if (trend(from, to) != 0) add_taper(0, from, to);
    if (flow != 0.0)
      leave_out({'a', 0},
                "its second end is moved aside: what its two turns take, and a leaning taper more than one "
                "on centre; no closed form was found");
  }

  bool is_step(const PathPlace& a, const PathPlace& b) const {
    constexpr double k_step = 0.01;  // mm
    return has_bare_ends(fitting_) && b.along - a.along < k_step && trend(a, b) != 0;
  }

  static int trend(const PathPlace& a, const PathPlace& b) {
    const double difference = b.diameter - a.diameter;
    return std::fabs(difference) <= k_equal * a.diameter ? 0 : difference > 0.0 ? 1 : -1;
  }

  void add_taper(std::size_t which, const PathPlace& first, const PathPlace& last) {
    const double flow = first.flow;
    if (flow == 0.0) return;
    constexpr double k_step = 1e-6;  // mm: where a lining begins within its metal
    const double length = std::max(last.along - first.along, k_step);
    const bool forward = (flow > 0.0) != (flows_.against && index_ == 0);
    const double from = (forward ? first : last).diameter;
    const double to = (forward ? last : first).diameter;
    add({'w', which}, to > from ? widening_taper(from, to, length) : narrowing_taper(from, to, length),
        pressure(flow, std::min(from, to)), flow);
  }

  // Of the body: the run past each branch; of a branch: its own.
  void add_branches() {
    if (parts_into_legs(fitting_)) {
      if (index_ > 0) add_leg();
      return;
    }
    if (joint_on_duct(fitting_))
      leave_out({'b', index_}, "its turn out of the duct or into it: that takes the duct's own flow");
    const std::vector<AirBranch>& all = fitting_.passages.front().branches;
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (index_ > 0 && all[i].passage != passage_.name) continue;
      const std::string name = all.size() == 1 ? std::string("branch") : all[i].passage;
      if (i >= flows_.branches.size() || !flows_.start) {
        leave_out({'b', i},
                  fmt::format("{}: {} is not stated", name, flows_.start ? "its flow" : "the body's flow"));
        continue;
      }
      add_branch({'b', i}, all[i], flows_.branches[i], name);
    }
  }

  // Of a wye's leg: its turn out of the inlet, or into it.
  void add_leg() {
    const std::vector<Passage>& all = fitting_.passages;
    const double flow = row_.places.front().flow.value_or(0.0);
    const double whole = std::fabs(flows_.start.value_or(0.0));
    if (flow == 0.0 || whole < std::fabs(flow) * (1.0 - k_equal))
      return leave_out({'b', index_}, "its turn: the legs' air goes both ways");
    const bool opposite = all.size() == 3 && dot(all[1].stations.back().plane.normal,
                                                 all[2].stations.back().plane.normal) < -0.9999;
    const double bore = body_diameter();
    add({'b', index_},
        leg_of_two(std::fabs(flow) / whole, branch_area(passage_.name) / circle_area(bore),
                   all.front().branches.at(index_ - 1).angle, opposite, flow > 0.0),
        pressure(whole, bore), flow);
  }

  void add_branch(Element element, const AirBranch& branch, double out, const std::string& name) {
    if (out == 0.0) {
      if (index_ > 0) leave_out(element, name + ": no air goes through it");
      return;
    }
    // The flow before and behind it, along the arrow.
    const double before = *flows_.at(fitting_, 0, branch.distance - 1e-6);
    const double behind = *flows_.at(fitting_, 0, branch.distance);
    const double whole = out > 0.0 ? (flows_.against ? behind : before) : (flows_.against ? before : behind);
    if (before < 0.0 || behind < 0.0 || whole <= 0.0)
      return add_opposite(element, branch, out, std::fabs(before), name);
    const double bore = body_diameter();
    const double area_ratio = branch_area(branch.passage) / circle_area(bore);
    const bool with_axis = (out > 0.0) != flows_.against;
    const double turn = with_axis ? branch.angle : k_pi - branch.angle;
    const double share = std::fabs(out) / whole;
    const BranchCoefficients both =
        out > 0.0 ? dividing_flow(share, area_ratio, turn) : joining_flow(share, area_ratio, turn);
    LossCoefficient one = index_ == 0 ? both.run : both.branch;
    if (index_ == 0 && fitting_.passages.front().branches.size() > 1) one.name += " (" + name + ")";
    add(element, one, pressure(whole, bore), index_ == 0 ? whole - std::fabs(out) : out);
  }

  // Two flows against each other into the branch, or out of it to both ends: the body's halves are two legs
  // in one line. What each takes of its own share of the flow is told with the branch, where all of it goes.
  void add_opposite(Element element, const AirBranch& branch, double out, double first,
                    const std::string& name) {
    const double whole = std::fabs(out);
    const double share = first / whole;
    const double body = circle_area(body_diameter());
    LossCoefficient mean;
    for (const double one : {share, 1.0 - share}) {
      if (one <= k_equal) continue;
      const LossCoefficient leg =
          leg_of_two(one, body / branch_area(branch.passage), branch.angle, true, out < 0.0);
      if (!leg.holds())
        return leave_out(element,
                         name + ": the body's air comes from both ends, or goes to both; " + leg.refused);
      mean.value += one * leg.value;
      mean.source = leg.source;
    }
    if (index_ == 0) return;
    mean.name = out > 0.0 ? "two flows that join" : "flow that parts in two";
    add(element, mean, pressure(whole, std::sqrt(4.0 / k_pi * branch_area(branch.passage))), out);
  }

  double body_diameter() const {
    const Passage& body = fitting_.passages.front();
    return lined_ ? lined_near(body, false) : body.stations.front().bare_diameter;
  }

  double branch_area(const std::string& name) const {
    const auto found = std::find_if(fitting_.passages.begin(), fitting_.passages.end(),
                                    [&](const Passage& passage) { return passage.name == name; });
    const Station& at = found->stations.front();
    return circle_area(lined_ ? at.lined_diameter : at.bare_diameter);
  }

  // Joints with bare metal at the passage's open ends.
  void add_joints() {
    const Values& values = fitting_.request.values;
    const auto bare_beside = [&](const char* key) {
      return values.has(key) && chosen(values, key, k_beside_choices) == DuctBeside::metal;
    };
    const auto joint = [&](const BorePlace& place, bool comes_in) {
      if (!place.flow || *place.flow == 0.0) return;
      const bool metal = bare_beside(comes_in ? "upstream" : "downstream");
      if (!metal && !fitting_.pressed) return;
      // gores inside a pressed bend are narrower than a lined neighbour
      const double beside =
          circle_area(place.bare_diameter - (metal ? 0.0 : 2.0 * fitting_.liner.bore_depth()));
      LossCoefficient one =
          comes_in ? sudden_narrowing(beside, place.free_area) : sudden_widening(place.free_area, beside);
      const char* const what = metal ? "bare metal" : "a lined neighbour's bore";
      one.name = comes_in ? fmt::format("from {} into the lining", what)
                          : fmt::format("from the lining into {}", what);
      add({'j', comes_in ? 0U : 1U}, one, pressure(*place.flow, place.lined_diameter), *place.flow);
    };
    if (index_ == 0) {
      joint(row_.places.front(), (row_.places.front().flow.value_or(0.0) > 0.0) != flows_.against);
      if (!parts_into_legs(fitting_))
        joint(row_.places.back(), (row_.places.back().flow.value_or(0.0) < 0.0) != flows_.against);
    } else {
      joint(row_.places.back(), row_.places.back().flow.value_or(0.0) < 0.0);
    }
  }

  const BoreRow& row_;
  const Fitting& fitting_;
  const Passage& passage_;
  std::size_t index_;
  const FittingFlows& flows_;
  const Air& air_;
  bool lined_;
  BoreLoss loss_;
  std::vector<Element> parts_, left_out_;
};

// What one side has no coefficient for is left out of the other, too: their difference is then what the
// lining costs.
void drop_unpaired(OneSide& side, const OneSide& other, const char* other_name) {
  for (std::size_t i = 0; i < other.left_out.size(); ++i) {
    const auto found = std::find(side.parts.begin(), side.parts.end(), other.left_out[i]);
    if (found == side.parts.end()) continue;
    const auto at = found - side.parts.begin();
    side.loss.left_out.push_back(fmt::format("{}: has no counterpart {} ({})",
                                             side.loss.parts[static_cast<std::size_t>(at)].what, other_name,
                                             other.loss.left_out[i]));
    side.loss.parts.erase(side.loss.parts.begin() + at);
    side.parts.erase(found);
  }
}

BoreLoss summed(OneSide&& side) {
  BoreLoss& loss = side.loss;
  loss.total = loss.friction;
  for (const LossPart& part : loss.parts) {
    loss.total += part.pressure;
    loss.power += part.pressure * part.flow;
  }
  return std::move(loss);
}

}  // namespace

bool BoreLoss::by_default() const {
  return std::any_of(parts.begin(), parts.end(), [](const LossPart& part) { return !part.given; });
}

void add_losses(BoreRow& row, const Fitting& fitting, std::size_t passage, const FittingFlows& flows,
                const Air& air) {
  OneSide bare = PassageLoss(row, fitting, passage, flows, air, false).made();
  OneSide lined = PassageLoss(row, fitting, passage, flows, air, true).made();
  drop_unpaired(bare, lined, "in the lined bore");
  drop_unpaired(lined, bare, "in the bare metal");
  row.bare_loss = summed(std::move(bare));
  row.lined_loss = summed(std::move(lined));
}

}  // namespace linerwright
