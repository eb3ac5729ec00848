#include "joins.hpp"

#include "linerwright/job/choice.hpp"

#include <fmt/format.h>

#include <deque>
#include <map>
#include <set>

namespace linerwright {

namespace {

struct Joining {
  const FittingRequest* request;
  RunPort to;
};

Problem problem_at(const FittingRequest& request, std::string reason, std::string allowed = {}) {
  const Value& value = *request.joining.find("joins");
  return {value.file, value.line, request.tag, "joins", value.written, std::move(allowed), std::move(reason)};
}

class Joins {
 public:
  Joins(const Job& job, const Counts& counts, std::vector<Problem>& problems)
      : job_(job), counts_(counts), problems_(problems) {}

  std::vector<Run> runs() {
    const std::size_t before = problems_.size();
    for (const FittingRequest& request : job_.fittings) {
      requests_[request.tag] = &request;
      if (request.joining.has("joins")) add(request);
    }
    if (problems_.size() > before || joining_.empty()) return {};
    for (const FittingRequest& request : job_.fittings)
      if (next_.count({request.tag, 1}) != 0 && joining_.count(request.tag) == 0) begin_all(request.tag);
    for (const auto& [tag, joining] : joining_)
      if (reached_.count(tag) == 0)
        problems_.push_back(problem_at(*joining.request, "joins in a circle: no fitting of it is the first"));
    return std::move(runs_);
  }

 private:
  const Job& job_;
  const Counts& counts_;
  std::vector<Problem>& problems_;
  std::map<std::string, const FittingRequest*> requests_;
  std::map<std::string, Joining> joining_;
  std::map<RunPart, std::map<std::string, std::string>> next_;  // what stands at each port of a part
  std::set<std::string> reached_;
  std::vector<Run> runs_;

  void add(const FittingRequest& request) {
    const std::string& written = request.joining.text("joins");
    std::string fault;
    const std::optional<Named> found = named(written, counts_, fault);
    if (!found) {
      problems_.push_back(problem_at(request, fault));
      return;
    }
    if (found->ports.size() > 1) {
      problems_.push_back(problem_at(request, "must name one port", "TAG or TAG:PORT"));
      return;
    }
    if (found->part.tag == request.tag) {
      problems_.push_back(problem_at(request, "joins itself"));
      return;
    }
    const std::string port = found->ports.empty() ? "end" : found->ports.front();
    const auto [taken, fresh] = next_[found->part].emplace(port, request.tag);
    if (!fresh) {
      problems_.push_back(problem_at(request, fmt::format("{} of {} is taken twice: {} joins it already",
                                                          port, shown(found->part), taken->second)));
      return;
    }
    joining_[request.tag] = {&request, {found->part, port}};
  }

  RunStep step_of(const RunPart& part) const {
    const FittingRequest& request = *requests_.at(part.tag);
    RunStep step{part, "start", "end"};
    if (part.number == 1) step.turn = request.joining.has("turn") ? request.joining.quantity("turn") : 0.0;
    if (request.joining.has("lined"))
      step.lined_after = chosen(request.joining, "lined", k_lined_choices) == Lined::after_joining;
    return step;
  }

  // The chain from this fitting on, then those that begin at other ports of its fittings, and of theirs.
  void begin_all(const std::string& first) {
    std::deque<std::pair<std::string, std::optional<RunPort>>> waiting{{first, std::nullopt}};
    for (; !waiting.empty(); waiting.pop_front())
      for (auto& [tag, from] : begin(waiting.front().first, waiting.front().second))
        waiting.emplace_back(std::move(tag), std::move(from));
  }

  // One chain; returns those that begin at its other ports.
  std::vector<std::pair<std::string, RunPort>> begin(const std::string& first, std::optional<RunPort> from) {
    const FittingRequest& request = *requests_.at(first);
    static const std::vector<KeySpec> keys = [] {
      std::vector<KeySpec> with_default;
      for (const KeySpec& key : job_schema().lists.at("run"))
        if (key.default_value) with_default.push_back(key);
      return with_default;
    }();
    const Values usual = table_from_flags(keys, {}, job_.units);
    Run run;
    run.name = first;
    run.file = request.file;
    run.line = request.line;
    run.units = job_.units;
    run.from = std::move(from);
    run.close_within = usual.quantity("close_within");
    run.close_angle = usual.quantity("close_angle");
    run.seam_stagger = usual.quantity("seam_stagger");
    run.reach = usual.quantity("reach");
    std::vector<std::pair<RunPart, std::string>> others;
    for (RunPart part{first, 1};;) {
      reached_.insert(part.tag);
      run.steps.push_back(step_of(part));
      const auto ports = next_.find(part);
      if (ports == next_.end()) break;
      for (const auto& [port, tag] : ports->second)
        if (port != "end") others.emplace_back(part, port);
      const auto end = ports->second.find("end");
      if (end == ports->second.end()) break;
      part = {end->second, 1};
    }
    runs_.push_back(std::move(run));
    std::vector<std::pair<std::string, RunPort>> starts;
    for (const auto& [part, port] : others) starts.emplace_back(next_.at(part).at(port), RunPort{part, port});
    return starts;
  }
};

}  // namespace

std::vector<Run> runs_of_joins(const Job& job, const Counts& counts, std::vector<Problem>& problems) {
  return Joins(job, counts, problems).runs();
}

}  // namespace linerwright
