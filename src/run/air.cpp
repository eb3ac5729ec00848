// Air carried from port to port: what comes out of one fitting goes into the next, and what goes into a
// fitting comes out of it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <deque>
#include <map>
#include <numeric>
#include <set>

#include "linerwright/run/run.hpp"
#include "linerwright/units/figures.hpp"

namespace linerwright {

namespace {

constexpr double k_agree = 0.005;  // of the larger: written figures are rounded

// Where a flow is written.
struct Source {
  Problem at;  // without allowed and reason
  std::string text() const {
    const std::string place = at.line > 0 ? fmt::format(" ({}:{})", at.file, at.line) : std::string();
    return fmt::format("{} = {} of {}{}", at.key, at.value, at.tag, place);
  }
};

// Out of a port, and from which of the sources it follows.
struct Stream {
  double out = 0.0;  // m3/s
  std::set<std::size_t> from;
};

struct End {
  std::size_t node, port;
};

struct Node {
  Placed* placed;
  std::size_t run;
  std::vector<std::optional<Stream>> ports;
  std::vector<std::optional<End>> beside;
};

// The port of a fitting that its `flow` is stated at: its start, or of one without, the first.
std::size_t start_of(const std::vector<Port>& ports) {
  for (std::size_t i = 0; i < ports.size(); ++i)
    if (ports[i].name == "start") return i;
  return 0;
}

bool is_side(const Port& port) {
  return port.name != "start" && port.name != "end";
}

// Whether the air comes in at this port by the fitting's arrow; where it has none, as the run goes.
bool comes_in(const Placed& placed, std::size_t port) {
  if (placed.ports[port].flow != PortFlow::unmarked) return placed.ports[port].flow == PortFlow::in;
  if (port == placed.in) return true;
  if (port == placed.out) return false;
  return placed.ports[port].name == "start";
}

class Network {
 public:
  Network(std::vector<LaidRun>& runs, std::vector<Problem>& problems)
      : runs_(runs), problems_(problems), group_(runs.size()) {
    std::iota(group_.begin(), group_.end(), std::size_t{0});
    for (std::size_t r = 0; r < runs.size(); ++r)
      for (Placed& placed : runs[r].fittings) {
        index_[placed.part] = nodes_.size();
        nodes_.push_back({&placed, r, {}, {}});
        nodes_.back().ports.resize(placed.ports.size());
        nodes_.back().beside.resize(placed.ports.size());
      }
    for (std::size_t r = 0; r < runs.size(); ++r) link(r);
  }

  // Runs with a mistake in their air, or that hang together with such.
  std::set<std::size_t> carry(std::optional<double> job_flow) {
    for (std::size_t n = 0; n < nodes_.size(); ++n) state(n);
    for (std::size_t r = 0; r < runs_.size(); ++r) state_run(r);
    follow();
    if (job_flow) take_from_job(*job_flow);
    for (Node& node : nodes_) {
      node.placed->air.clear();
      for (const auto& flow : node.ports)
        node.placed->air.push_back(flow ? std::optional<double>(flow->out) : std::nullopt);
    }
    std::set<std::size_t> bad;
    for (const std::size_t r : wrong_)
      for (std::size_t other = 0; other < runs_.size(); ++other)
        if (group(other) == group(r)) bad.insert(other);
    return bad;
  }

 private:
  std::vector<LaidRun>& runs_;
  std::vector<Problem>& problems_;
  std::vector<Node> nodes_;
  std::map<RunPart, std::size_t> index_;
  std::vector<Source> sources_;
  std::deque<End> fresh_;
  std::set<std::size_t> wrong_;     // runs
  std::vector<std::size_t> group_;  // of each run, another one that it hangs together with

  void join(End a, End b) {
    nodes_[a.node].beside[a.port] = b;
    nodes_[b.node].beside[b.port] = a;
    const std::size_t one = group(nodes_[a.node].run);
    const std::size_t other = group(nodes_[b.node].run);
    group_[std::max(one, other)] = std::min(one, other);
  }

  std::optional<End> end_named(const RunPort& port) const {
    const auto node = index_.find(port.part);
    if (node == index_.end()) return std::nullopt;
    const std::vector<Port>& ports = nodes_[node->second].placed->ports;
    for (std::size_t i = 0; i < ports.size(); ++i)
      if (ports[i].name == port.port) return End{node->second, i};
    return std::nullopt;
  }

  End at(const Placed& placed, std::size_t port) const { return {index_.at(placed.part), port}; }

  void link(std::size_t r) {
    const LaidRun& run = runs_[r];
    for (const RunJoint& joint : run.joints)
      join(at(run.fittings[joint.before], run.fittings[joint.before].out.value()),
           at(run.fittings[joint.after], run.fittings[joint.after].in.value()));
    const Placed& first = run.fittings.front();
    if (run.run.from && first.in)
      if (const auto from = end_named(*run.run.from)) join(*from, at(first, *first.in));
    const Placed& last = run.fittings.back();
    if (run.run.close_to && last.out)
      if (const auto to = end_named(*run.run.close_to)) join(at(last, *last.out), *to);
  }

  double signed_at(End end, double flow) const {
    return comes_in(*nodes_[end.node].placed, end.port) ? -flow : flow;
  }

  std::size_t source(const Problem& at) {
    sources_.push_back({at});
    return sources_.size() - 1;
  }

  void state(std::size_t n) {
    const Placed& placed = *nodes_[n].placed;
    const FittingRequest& request = placed.fitting->request;
    if (const auto flow = request.values.maybe("flow")) {
      const End start{n, start_of(placed.ports)};
      set(start, {signed_at(start, *flow), {source(problem_of(request, "flow", {}, {}))}});
    }
    if (!request.values.has("branch_flow")) return;
    const std::vector<double> flows = request.values.list("branch_flow");
    std::size_t i = 0;
    const std::size_t from = source(problem_of(request, "branch_flow", {}, {}));
    for (std::size_t port = 0; port < placed.ports.size(); ++port)
      if (is_side(placed.ports[port]) && i < flows.size()) set({n, port}, {flows[i++], {from}});
  }

  // Where a run begins: the port that it enters first, or the one that it leaves by.
  End first_of(std::size_t r) const {
    const Placed& first = runs_[r].fittings.front();
    return at(first, first.in ? *first.in : first.out.value());
  }

  void state_run(std::size_t r) {
    const Run& run = runs_[r].run;
    if (!run.flow) return;
    const Problem at{run.file, run.flow_line, "run " + run.name, "flow", run.flow_written, {}, {}};
    set(first_of(r), {signed_at(first_of(r), *run.flow), {source(at)}});
  }

  void set(End end, Stream flow) {
    std::optional<Stream>& known = nodes_[end.node].ports[end.port];
    if (!known) {
      known = std::move(flow);
      fresh_.push_back(end);
    } else {
      require_same(end, *known, flow);
    }
  }

  void require_same(End end, const Stream& known, const Stream& other) {
    const double largest = std::max(std::fabs(known.out), std::fabs(other.out));
    if (std::fabs(known.out - other.out) <= k_agree * largest) return;
    const std::size_t r = nodes_[end.node].run;
    if (!wrong_.insert(r).second) return;  // one mistake of a run shows in many places
    // told where fewest statements have a part in it
    const bool told_at_known =
        other.from.empty() || (!known.from.empty() && known.from.size() <= other.from.size());
    const Stream& later = told_at_known ? known : other;
    const Stream& earlier = told_at_known ? other : known;
    Problem problem =
        later.from.empty()
            ? Problem{runs_[r].run.file, runs_[r].run.line, runs_[r].run.name, "path", {}, {}, {}}
            : sources_[*later.from.rbegin()].at;
    const Placed& placed = *nodes_[end.node].placed;
    const auto words = [&](const Stream& flow) {
      std::string text;
      for (const std::size_t from : flow.from) text += (text.empty() ? "" : ", ") + sources_[from].text();
      return text.empty() ? std::string("the job's [air]") : text;
    };
    const auto size = [&](double flow) {
      return shown_quantity(Quantity::flow, std::fabs(flow), runs_[r].run.units);
    };
    const std::string where = shown(placed.part) + " " + placed.ports[end.port].name;
    const bool against = known.out * other.out < 0.0;
    problem.reason =
        against && std::fabs(known.out + other.out) <= k_agree * largest
            ? fmt::format("goes the other way than {} at {}: flow arrows point against each other",
                          words(earlier), where)
            : fmt::format("does not agree with {}: {} {} by it at {}, and {}{} by this", words(earlier),
                          size(earlier.out), earlier.out > 0.0 ? "come out" : "go in", where, size(later.out),
                          !against          ? ""
                          : later.out > 0.0 ? " come out"
                                            : " go in");
    problems_.push_back(std::move(problem));
  }

  // From each port that is newly known to its neighbour, and through its fitting.
  void follow() {
    while (!fresh_.empty()) {
      const End end = fresh_.front();
      fresh_.pop_front();
      const Stream flow = *nodes_[end.node].ports[end.port];
      if (const auto beside = nodes_[end.node].beside[end.port]) set(*beside, {-flow.out, flow.from});
      balance(end.node);
    }
  }

  // The one port that is not known takes what the others leave; where all are known they add up to nothing.
  void balance(std::size_t n) {
    const std::vector<std::optional<Stream>>& ports = nodes_[n].ports;
    Stream rest;
    std::optional<std::size_t> open;
    double largest = 0.0;
    for (std::size_t i = 0; i < ports.size(); ++i) {
      if (!ports[i]) {
        if (open) return;
        open = i;
        continue;
      }
      rest.out -= ports[i]->out;
      largest = std::max(largest, std::fabs(ports[i]->out));
      rest.from.insert(ports[i]->from.begin(), ports[i]->from.end());
    }
    if (std::fabs(rest.out) < 1e-9 * largest) rest.out = 0.0;
    if (open) return set({n, *open}, std::move(rest));
    if (ports.size() < 2 || std::fabs(rest.out) <= k_agree * largest) return;
    // told at the last port: what it has, and what the others leave
    const std::size_t last = ports.size() - 1;
    Stream others{rest.out + ports[last]->out, {}};
    for (std::size_t i = 0; i < last; ++i) others.from.insert(ports[i]->from.begin(), ports[i]->from.end());
    require_same({n, last}, *ports[last], others);
  }

  // Of runs that hang together the first begins with the job's flow, where none that is stated reaches it.
  void take_from_job(double flow) {
    for (std::size_t r = 0; r < runs_.size(); ++r) {
      const End first = first_of(r);
      if (group(r) == r && !nodes_[first.node].ports[first.port]) set(first, {signed_at(first, flow), {}});
    }
    follow();
  }

  // The least of the runs that hang together with this one.
  std::size_t group(std::size_t r) {
    while (group_[r] != r) r = group_[r] = group_[group_[r]];
    return r;
  }
};

// Of a body with branches whose two ends both take air in, or both let it out.
std::optional<Flow> two_flows(const Placed& placed, std::size_t ports) {
  int in = 0;
  int out = 0;
  int sides = 0;
  for (std::size_t i = 0; i < ports; ++i) {
    const double air = placed.air[i].value_or(0.0);
    if (is_side(placed.ports[i]))
      ++sides;
    else
      (air < 0.0 ? in : out) += air == 0.0 ? 0 : 1;
  }
  if (sides == 0 || in + out != 2 || in == 1) return std::nullopt;
  return in == 2 ? Flow::to_branch : Flow::from_branch;
}

}  // namespace

void carry_air(std::vector<LaidRun>& runs, std::optional<double> job_flow, std::vector<Problem>& problems) {
  const std::set<std::size_t> bad = Network(runs, problems).carry(job_flow);
  std::vector<LaidRun> kept;
  for (std::size_t r = 0; r < runs.size(); ++r)
    if (bad.count(r) == 0) kept.push_back(std::move(runs[r]));
  runs = std::move(kept);
}

Fitting in_its_air(const Placed& placed) {
  Fitting fitting = *placed.fitting;
  Values values;
  for (const auto& [key, value] : fitting.request.values.all())
    if (key != "flow" && key != "branch_flow") values.set(key, value);
  const auto set = [&](const char* key, auto data, const std::string& written) {
    values.set(key, {data, written, false, 0, {}});
  };
  const std::size_t start = start_of(placed.ports);
  const std::size_t n = std::min(placed.air.size(), placed.ports.size());
  if (start < n && placed.air[start]) {
    double toward = *placed.air[start];  // out at its start; where nothing moves there, in at its end
    std::vector<double> sides;
    for (std::size_t i = 0; i < n; ++i) {
      if (placed.ports[i].name == "end" && toward == 0.0) toward = -placed.air[i].value_or(0.0);
      if (is_side(placed.ports[i]) && placed.air[i]) sides.push_back(*placed.air[i]);
    }
    fitting.liner.flow = toward > 0.0 ? Flow::against : Flow::along;
    if (const auto two = two_flows(placed, n)) fitting.liner.flow = *two;
    double flow = std::fabs(*placed.air[start]);
    const auto all =
        static_cast<std::size_t>(std::count_if(placed.ports.begin(), placed.ports.end(), is_side));
    if (!sides.empty() && sides.size() == all) {
      set("branch_flow", sides, "as the run carries it");
      // of legs the inlet's is their sum, to the last digit
      if (all + 1 == placed.ports.size()) flow = std::fabs(std::accumulate(sides.begin(), sides.end(), 0.0));
    }
    set("flow", flow, trimmed(flow, 9) + "m3/s");
  }
  for (std::size_t i = 0; i < n && i < placed.joined.size(); ++i) {
    if (!placed.joined[i] || !placed.air[i] || *placed.air[i] == 0.0) continue;
    set(*placed.air[i] < 0.0 ? "upstream" : "downstream", std::string("lined"), "lined");
  }
  fitting.request.values = std::move(values);
  return fitting;
}

std::optional<AirOfTag> most_air(const std::vector<const Placed*>& places) {
  const Placed* most = nullptr;
  double least = 0.0;
  double largest = 0.0;
  for (const Placed* place : places) {
    double flow = 0.0;
    for (const std::optional<double>& out : place->air) flow = std::max(flow, std::fabs(out.value_or(0.0)));
    if (!(flow > 0.0)) continue;
    least = most == nullptr ? flow : std::min(least, flow);
    if (flow > largest) {
      largest = flow;
      most = place;
    }
  }
  if (most == nullptr) return std::nullopt;
  AirOfTag of{in_its_air(*most), {}};
  const Units units = most->fitting->units;
  if (largest - least > 1e-9 * largest)
    of.note = fmt::format("stands in runs with {} to {}: figures are of the most",
                          shown_quantity(Quantity::flow, least, units),
                          shown_quantity(Quantity::flow, largest, units));
  return of;
}

}  // namespace linerwright
