#include "joints.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace linerwright {

namespace {

RunFlow flow_over(const Port& before, const Port& after) {
  if (before.flow == PortFlow::unmarked || after.flow == PortFlow::unmarked) return RunFlow::unmarked;
  if (before.flow == after.flow) return RunFlow::conflict;
  return before.flow == PortFlow::out ? RunFlow::along : RunFlow::against;
}

std::string degrees(double angle) {
  return trimmed(angle * 180.0 / k_pi, 1) + " degrees";
}

class JointNotes {
 public:
  explicit JointNotes(LaidRun& run) : run_(run) {}

  void look(const RunJoint& joint) {
    const Placed& before = run_.fittings[joint.before];
    const Placed& after = run_.fittings[joint.after];
    const std::string where = fmt::format("{} to {}", shown(before.part), shown(after.part));
    look_at_liners(joint, before, after, where);
    look_at_step(joint, where);
    look_at_upstream(joint, before, after);
    if (joint.flow == RunFlow::conflict)
      note("flow", joint.distance,
           fmt::format(
               "{}: the flow arrows of the two point against each other; say flow = \"against\" for one of "
               "them, or \"unmarked\"",
               where));
    if (joint.seam_apart && *joint.seam_apart < run_.run.seam_stagger - 1e-9)
      note("seam", joint.distance,
           fmt::format("{}: the nearest seams stand {} apart about the axis, less than {}", where,
                       degrees(*joint.seam_apart), degrees(run_.run.seam_stagger)));
  }

  // Where air enters the run, its lining begins.
  void look_at_beginning() {
    for (const bool first : {true, false}) {
      const Placed& placed = first ? run_.fittings.front() : run_.fittings.back();
      const std::optional<std::size_t> index = first ? placed.in : placed.out;
      if (!index || run_.run.close || (first && run_.run.from)) continue;
      const Port& port = placed.ports[*index];
      const std::string before = upstream_of(placed);
      if (port.flow != PortFlow::in || before == "lined") continue;
      note("nosing", first ? 0.0 : run_.length,
           fmt::format("{} {}: the lining begins here{}", shown(placed.part), port.name,
                       before == "metal" ? " behind bare metal: it needs a metal nosing"
                                         : "; where bare metal comes before it, it needs a metal nosing"));
    }
  }

 private:
  LaidRun& run_;

  void note(std::string kind, double distance, std::string text) {
    run_.notes.push_back({std::move(kind), distance, std::move(text)});
  }
  std::string length(double mm) const { return format_quantity(Quantity::length, mm, run_.run.units); }

  void look_at_liners(const RunJoint& joint, const Placed& before, const Placed& after,
                      const std::string& where) {
    const auto words = [&](const Placed& placed) {
      std::string text = length(placed.fitting->liner.thickness);
      for (const LinerSpec& inner : placed.fitting->inner_layers) text += " + " + length(inner.thickness);
      return text;
    };
    const std::string one = words(before);
    const std::string other = words(after);
    if (one != other)
      note("thickness", joint.distance, fmt::format("{}: liner {} meets liner {}", where, one, other));
  }

  // What a fitting says comes before it; empty where it says nothing.
  static std::string upstream_of(const Placed& placed) {
    const Values& values = placed.fitting->request.values;
    return values.has("upstream") ? values.text("upstream") : std::string();
  }

  // A neighbour in the run is lined, whatever a fitting says of what comes before it.
  void look_at_upstream(const RunJoint& joint, const Placed& before, const Placed& after) {
    for (const bool along : {true, false}) {
      const Placed& behind = along ? after : before;
      const RunFlow way = along ? RunFlow::along : RunFlow::against;
      if (joint.flow == way && upstream_of(behind) == "metal" && only_inlet_is(behind, along))
        note("nosing", joint.distance,
             fmt::format(
                 "{}: says upstream = metal, and {}, which is lined, comes before it: the run counts it "
                 "as lined",
                 shown(behind.part), shown((along ? before : after).part)));
    }
  }

  // Whether the air comes in nowhere else.
  static bool only_inlet_is(const Placed& placed, bool first) {
    const std::optional<std::size_t> index = first ? placed.in : placed.out;
    for (std::size_t i = 0; i < placed.ports.size(); ++i)
      if (i != index && placed.ports[i].flow == PortFlow::in) return false;
    return true;
  }

  void look_at_step(const RunJoint& joint, const std::string& where) {
    constexpr double k_bears = 3.0;  // mm, an edge that needs nothing (common practice, no source)
    if (std::fabs(joint.step) <= k_same_diameter) return;
    note("step", joint.distance,
         fmt::format("{}: the air face steps {} by {} mm at {} along the run", where,
                     joint.step > 0.0 ? "inward" : "outward", trimmed(std::fabs(joint.step), 3),
                     length(joint.distance)));
    const bool faces_air = joint.flow == RunFlow::along     ? joint.step > 0.0
                           : joint.flow == RunFlow::against ? joint.step < 0.0
                                                            : true;
    if (faces_air && std::fabs(joint.step) > k_bears)
      note("nosing", joint.distance,
           fmt::format("{}: the edge of the lining that stands {} mm into the air needs a nosing or a taper",
                       where, trimmed(std::fabs(joint.step), 3)));
  }
};

}  // namespace

void look_at_joints(LaidRun& run) {
  stagger_straights(run);
  const std::size_t n = run.fittings.size();
  JointNotes notes(run);
  const bool ring = run.run.close && !run.run.close_to;
  for (std::size_t i = 1; i < n + (ring ? 1 : 0); ++i) {
    const Placed& before = run.fittings[i - 1];
    const Placed& after = run.fittings[i % n];
    const Port& out = before.ports[*before.out];
    const Port& in = after.ports[*after.in];
    RunJoint joint{i - 1,
                   i % n,
                   before.way.back().distance,
                   out.frame.origin,
                   out.bare_diameter,
                   0.5 * (out.lined_diameter - in.lined_diameter),
                   flow_over(out, in),
                   seams_apart(seams_at(before, out), seams_at(after, in)),
                   after.field && i < n};
    run.joints.push_back(joint);
    notes.look(joint);
  }
  notes.look_at_beginning();
  std::stable_sort(run.notes.begin(), run.notes.end(),
                   [](const RunNote& a, const RunNote& b) { return a.distance < b.distance; });
}

}  // namespace linerwright
