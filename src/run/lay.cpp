// Runs laid in space, frame to frame.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "joints.hpp"
#include "linerwright/run/run.hpp"

namespace linerwright {

namespace {

Port moved(const Frame& frame, Port port) {
  port.frame = composed(frame, port.frame);
  return port;
}

// The frame at which the next fitting's port stands: z back along the way, x turned about the way on. Made
// square again each time: what a product of frames loses would else double from fitting to fitting.
Frame joined_at(const Frame& port, double turn) {
  const double c = std::cos(turn);
  const double s = std::sin(turn);
  const Vec3 z = normalised(-port.z);
  const Vec3 across = c * port.x + s * port.y;
  const Vec3 x = normalised(across - dot(across, z) * z);
  return {port.origin, x, cross(z, x), z};
}

std::string port_names(const std::vector<Port>& ports) {
  std::string names;
  for (const Port& port : ports) names += (names.empty() ? "" : ", ") + port.name;
  return names;
}

// What one run ran into; caught where runs are laid.
struct Broken {
  std::string key, value, allowed, reason;
};

class Laying {
 public:
  Laying(const std::vector<Run>& runs, const FittingWithTag& fitting_with_tag, std::vector<Problem>& problems)
      : runs_(runs), fitting_with_tag_(fitting_with_tag), problems_(problems) {}

  std::vector<LaidRun> all() {
    for (std::size_t i = 0; i < runs_.size(); ++i)
      for (const RunStep& step : runs_[i].steps)
        if (const auto [at, fresh] = in_run_.emplace(step.part, i); !fresh && at->second != i)
          twice_[i] = step.part;
    std::vector<LaidRun> laid;
    // runs that start from another one wait until that one lies
    std::vector<std::vector<std::size_t>> after(runs_.size());
    std::vector<std::size_t> waits(runs_.size(), 0);
    std::set<std::size_t> next;
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      for (const std::size_t other : needed_by(i)) {
        after[other].push_back(i);
        ++waits[i];
      }
      if (waits[i] == 0) next.insert(i);
    }
    std::vector<bool> done(runs_.size(), false);
    while (!next.empty()) {
      const std::size_t i = *next.begin();
      next.erase(next.begin());
      done[i] = true;
      lay(i, laid);
      for (const std::size_t other : after[i])
        if (--waits[other] == 0) next.insert(other);
    }
    for (std::size_t i = 0; i < runs_.size(); ++i)
      if (!done[i])
        note(runs_[i], {runs_[i].from ? "from" : "close_to",
                        text_of(runs_[i].from ? *runs_[i].from : *runs_[i].close_to), "",
                        "starts from a run that starts from this one: no fitting of them has a place"});
    open_ends(laid);
    return laid;
  }

 private:
  struct Place {
    std::shared_ptr<const Fitting> fitting;
    Frame frame;
    std::vector<Port> ports;  // in space
  };

  const std::vector<Run>& runs_;
  const FittingWithTag& fitting_with_tag_;
  std::vector<Problem>& problems_;
  std::map<RunPart, std::size_t> in_run_;  // the run in whose path a part stands
  std::map<std::size_t, RunPart> twice_;   // runs with a part that stands in an earlier one
  std::map<RunPart, Place> places_;
  std::map<std::pair<RunPart, std::string>, std::string>
      taken_;  // ports that something is joined to, by whom
  std::vector<std::pair<std::pair<RunPart, std::string>, std::string>>
      taking_;  // of the run that is being laid
  std::map<std::string, std::vector<Port>> own_ports_;

  static std::string text_of(const RunPort& port) { return shown(port.part) + ":" + port.port; }

  void note(const Run& run, const Broken& broken) {
    problems_.push_back(
        {run.file, run.line, run.name, broken.key, broken.value, broken.allowed, broken.reason});
  }

  // The other runs in whose paths the parts stand that a run starts or ends at.
  std::set<std::size_t> needed_by(std::size_t i) const {
    std::set<std::size_t> others;
    for (const std::optional<RunPort>* port : {&runs_[i].from, &runs_[i].close_to}) {
      if (!*port) continue;
      const auto other = in_run_.find((*port)->part);
      if (other != in_run_.end() && other->second != i) others.insert(other->second);
    }
    return others;
  }

  std::shared_ptr<const Fitting> fitting(const RunPart& part) {
    std::shared_ptr<const Fitting> made = fitting_with_tag_(part.tag);
    if (!made) throw Broken{"path", shown(part), "", "was not made, so this run is not made in part"};
    if (own_ports_.count(part.tag) == 0) own_ports_[part.tag] = ports_of(*made);
    return made;
  }

  static std::size_t index_of(const std::vector<Port>& ports, const std::string& name, const RunPart& part,
                              const char* key) {
    const auto found =
        std::find_if(ports.begin(), ports.end(), [&](const Port& port) { return port.name == name; });
    if (found == ports.end())
      throw Broken{key, shown(part), port_names(ports), fmt::format("has no port {}", name)};
    return static_cast<std::size_t>(found - ports.begin());
  }

  void take(const RunPart& part, const std::string& port, const std::string& by, const char* key) {
    const std::pair<RunPart, std::string> which{part, port};
    std::string before;
    if (const auto found = taken_.find(which); found != taken_.end()) before = found->second;
    for (const auto& [other, who] : taking_)
      if (!(other < which) && !(which < other)) before = who;
    if (!before.empty())
      throw Broken{key, shown(part) + ":" + port, "",
                   fmt::format("is taken twice: {} and {} join it", before, by)};
    taking_.emplace_back(which, by);
  }

  // The port that a run starts at, or where it starts in free space, z along the way on.
  Frame beginning(const Run& run) {
    if (!run.from) {
      const Vec3 z = normalised(run.direction);
      const Vec3 x = normalised(run.up - dot(run.up, z) * z);
      return {run.at, x, cross(z, x), z};
    }
    const auto own = in_run_.find(run.from->part);
    if (own != in_run_.end() && &runs_[own->second] == &run)
      throw Broken{"from", text_of(*run.from), "", "is a port of the run's own path"};
    return port_named(*run.from, "from").frame;
  }

  const Port& port_named(const RunPort& wanted, const char* key) {
    const auto place = places_.find(wanted.part);
    if (place == places_.end()) {
      const auto run = in_run_.find(wanted.part);
      throw Broken{key, text_of(wanted), "",
                   run == in_run_.end()
                       ? fmt::format("{} stands in the path of no run that is laid", shown(wanted.part))
                       : fmt::format("run {}, in whose path {} stands, is left out", runs_[run->second].name,
                                     shown(wanted.part))};
    }
    const std::vector<Port>& ports = place->second.ports;
    return ports[index_of(ports, wanted.port, wanted.part, key)];
  }

  void lay(std::size_t i, std::vector<LaidRun>& laid) {
    const Run& run = runs_[i];
    taking_.clear();
    std::vector<RunPart> added;
    try {
      if (const auto found = twice_.find(i); found != twice_.end())
        throw Broken{"path", shown(found->second), "",
                     fmt::format("stands in run {}, too: a branch starts with from = \"{}:PORT\"",
                                 runs_[in_run_.at(found->second)].name, shown(found->second))};
      LaidRun made = laid_run(run, added);
      for (auto& [which, by] : taking_) taken_[which] = by;
      if (run.from)
        for (LaidRun& other : laid)
          if (std::any_of(other.fittings.begin(), other.fittings.end(),
                          [&](const Placed& placed) { return placed.part == run.from->part; }))
            other.branches.emplace_back(run.name, *run.from);
      laid.push_back(std::move(made));
    } catch (const Broken& broken) {
      for (const RunPart& part : added) places_.erase(part);
      note(run, broken);
    }
  }

  LaidRun laid_run(const Run& run, std::vector<RunPart>& added) {
    LaidRun laid;
    laid.run = run;
    Frame at = beginning(run);
    const Port* before = nullptr;
    if (run.from) {
      before = &port_named(*run.from, "from");
      take(run.from->part, run.from->port, fmt::format("run {}", run.name), "from");
    }
    std::string joined_to = run.from ? text_of(*run.from) : "";
    for (std::size_t k = 0; k < run.steps.size(); ++k) {
      const RunStep& step = run.steps[k];
      Placed placed = placed_at(step, at, k == 0, k + 1 == run.steps.size());
      if (placed.in) {
        const Port& in = placed.ports[*placed.in];
        if (before != nullptr) {
          take(step.part, in.name, joined_to, "path");
          require_same_diameter(run, *before, joined_to, in, shown(step.part) + ":" + in.name);
          require_square(run, *before, in, shown(step.part) + ":" + in.name);
        }
      } else if (before != nullptr) {
        throw Broken{"path", shown(step.part), "", "begins inside a fitting, and something comes before it"};
      }
      measure(placed, laid);
      if (placed.out) joined_to = shown(step.part) + ":" + placed.ports[*placed.out].name;
      laid.fittings.push_back(std::move(placed));
      const Placed& now = laid.fittings.back();
      added.push_back(step.part);
      places_[step.part] = {now.fitting, now.frame, now.ports};
      if (!now.out) break;
      before = &places_[step.part].ports[*now.out];
      at = before->frame;
      if (k + 1 < run.steps.size()) take(step.part, before->name, shown(run.steps[k + 1].part), "path");
    }
    close(run, laid);
    look_at_joints(laid);
    return laid;
  }

  // The fitting with its port of entry at this frame, whose z is the way on.
  Placed placed_at(const RunStep& step, const Frame& at, bool first, bool last) {
    Placed placed;
    placed.part = step.part;
    placed.fitting = fitting(step.part);
    placed.field = step.field;
    placed.lined_after = step.lined_after;
    const std::vector<Port>& ports = own_ports_.at(step.part.tag);
    const auto has = [&](const std::string& name) {
      return std::any_of(ports.begin(), ports.end(), [&](const Port& port) { return port.name == name; });
    };
    std::string in = step.in;
    std::string out = step.out;
    // a fitting with one opening begins or ends a run
    if (!step.said && last && !first && !has(out)) out.clear();
    if (!step.said && first && !last && !has(out) && has(in)) {
      out = in;
      in.clear();
    }
    if (!in.empty()) placed.in = index_of(ports, in, step.part, "path");
    if (!out.empty()) placed.out = index_of(ports, out, step.part, "path");
    if (!placed.out && !last)
      throw Broken{"path", shown(step.part), port_names(ports), "ends the run, and more comes after it"};
    Frame target;
    Frame own;
    if (placed.in) {
      target = joined_at(at, step.turn);
      own = ports[*placed.in].frame;
    } else {
      // out of its only port along the way on
      target = joined_at(at, step.turn);
      target = {target.origin, target.x, -target.y, -target.z};
      own = ports[*placed.out].frame;
    }
    placed.frame = composed(target, inverse(own));
    for (const Port& port : ports) placed.ports.push_back(moved(placed.frame, port));
    return placed;
  }

  // A rectangle joins the same rectangle alone, side to side.
  static void require_square(const Run& run, const Port& before, const Port& after,
                             const std::string& other) {
    if (before.is_round() && after.is_round()) return;
    const auto length = [&](double mm) { return format_quantity(Quantity::length, mm, run.units); };
    const auto size = [&](const Port& port) {
      return port.is_round()
                 ? "round, " + length(port.bare_diameter)
                 : fmt::format("a rectangle of {} by {}", length(port.rectangle.x), length(port.rectangle.y));
    };
    const bool across = std::fabs(dot(before.frame.x, after.frame.x)) < 0.5;
    const Vec2 sides = across ? Vec2{after.rectangle.y, after.rectangle.x} : after.rectangle;
    constexpr double k_square = 1e-9;  // of the cosine between two sides
    const bool turned =
        std::fabs(dot(before.frame.x, across ? after.frame.y : after.frame.x)) < 1.0 - k_square;
    if (norm(before.rectangle - sides) > k_same_diameter)
      throw Broken{"path", other, "",
                   fmt::format("is {}, and what it would join is {}", size(after), size(before))};
    if (turned)
      throw Broken{"turns", other, "0, 90, 180 or 270 degrees, side to side",
                   "its rectangle is turned against the one it joins"};
  }

  void require_same_diameter(const Run& run, const Port& before, const std::string& one, const Port& after,
                             const std::string& other) {
    if (!before.is_round() || !after.is_round()) return;
    if (std::fabs(before.bare_diameter - after.bare_diameter) <= k_same_diameter) return;
    const auto length = [&](double mm) { return format_quantity(Quantity::length, mm, run.units); };
    throw Broken{"path", other, "",
                 fmt::format("{} is {} wide and {} is {}: a reducer from {} to {} is missing between them",
                             one, length(before.bare_diameter), other, length(after.bare_diameter),
                             length(before.bare_diameter), length(after.bare_diameter))};
  }

  // The way and the bore of a placed fitting, on from where the run has come to.
  static void measure(Placed& placed, LaidRun& laid) {
    if (!placed.in || !placed.out) {
      placed.way = {{placed.only_port().frame.origin, laid.length}};
      return;
    }
    const std::vector<Port> own = ports_of(*placed.fitting);
    const Port& in = own[*placed.in];
    const Port& out = own[*placed.out];
    for (const WayPoint& point : way_between(*placed.fitting, in, out))
      placed.way.push_back({placed.frame.point(point.point), laid.length + point.distance});
    for (BorePoint point : bore_between(*placed.fitting, in, out)) {
      point.distance += laid.length;
      placed.bore.push_back(std::move(point));
    }
    laid.length = placed.way.back().distance;
  }

  void close(const Run& run, LaidRun& laid) {
    const Placed& last = laid.fittings.back();
    if (!last.out) {
      if (run.close)
        throw Broken{"close", "true", "", "ends inside a fitting: there is no end that could meet anything"};
      return;
    }
    const Port& end = last.ports[*last.out];
    const Placed& first = laid.fittings.front();
    const Port* target = !first.in || run.from ? nullptr : &first.ports[*first.in];
    RunPort name;
    if (target != nullptr) name = {first.part, target->name};
    if (run.close_to) {
      target = &port_named(*run.close_to, "close_to");
      name = *run.close_to;
    }
    if (target == nullptr) {
      if (run.close)
        throw Broken{"close", "true", "close_to = \"TAG:PORT\"", "does not say which port its end must meet"};
      return;
    }
    const double miss = distance(end.frame.origin, target->frame.origin);
    const double angle =
        std::atan2(norm(cross(end.frame.z, -target->frame.z)), dot(end.frame.z, -target->frame.z));
    const bool meets = miss <= run.close_within && angle <= run.close_angle;
    if (!run.close) {
      if (laid.fittings.size() > 1 && miss <= 1e-6 && angle <= 1e-6)
        throw Broken{"path", text_of(name), "close = true",
                     "comes back to where it began: a ring must say that it closes"};
      return;
    }
    laid.miss = miss;
    laid.miss_angle = angle;
    if (!meets)
      throw Broken{"close", text_of(name),
                   fmt::format("{} mm and {} degrees", trimmed(run.close_within, 6),
                               trimmed(run.close_angle * 180.0 / k_pi, 6)),
                   fmt::format("its end misses {} by {} mm and {} degrees", text_of(name), trimmed(miss, 6),
                               trimmed(angle * 180.0 / k_pi, 6))};
    take(last.part, end.name, text_of(name), "close");
    take(name.part, name.port, shown(last.part) + ":" + end.name, "close");
    require_same_diameter(run, end, shown(last.part) + ":" + end.name, *target, text_of(name));
  }

  void open_ends(std::vector<LaidRun>& laid) const {
    for (LaidRun& run : laid)
      for (Placed& placed : run.fittings)
        for (const Port& port : placed.ports) {
          placed.joined.push_back(taken_.count({placed.part, port.name}) != 0);
          if (!placed.joined.back()) run.open_ends.push_back({placed.part, port.name});
        }
  }
};

}  // namespace

std::vector<LaidRun> lay_runs(const std::vector<Run>& runs, const FittingWithTag& fitting_with_tag,
                              std::vector<Problem>& problems) {
  return Laying(runs, fitting_with_tag, problems).all();
}

}  // namespace linerwright
