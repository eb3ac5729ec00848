// [[run]] tables.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "joins.hpp"
#include "linerwright/job/choice.hpp"
#include "linerwright/run/run.hpp"
#include "names.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_longest_name = 100;

// Reads one table; every mistake is noted.
class RunReader {
 public:
  RunReader(const Values& values, const Job& job, const Counts& counts,
            const std::set<std::string>& lined_after, std::vector<Problem>& problems)
      : values_(values), job_(job), counts_(counts), lined_after_(lined_after), problems_(problems) {}

  std::optional<Run> read() {
    const std::size_t before = problems_.size();
    run_.name = values_.text("name");
    run_.units = job_.units;
    run_.file = values_.find("name")->file;
    run_.line = values_.find("name")->line;
    if (run_.name.empty() || run_.name.size() > k_longest_name)
      note("name", run_.name, "1 to 100 characters", "cannot name a folder");
    read_start();
    read_path();
    read_turns();
    read_joints();
    read_close();
    run_.flow = values_.maybe("flow");
    if (run_.flow) {
      run_.flow_line = values_.find("flow")->line;
      run_.flow_written = values_.find("flow")->written;
    }
    run_.seam_stagger = values_.quantity("seam_stagger");
    run_.reach = values_.quantity("reach");
    if (problems_.size() > before) return std::nullopt;
    return run_;
  }

 private:
  const Values& values_;
  const Job& job_;
  const Counts& counts_;
  const std::set<std::string>& lined_after_;  // tags
  std::vector<Problem>& problems_;
  Run run_;
  std::size_t written_steps_ = 0;
  std::set<std::string> told_;

  void note(const std::string& key, const std::string& value, std::string allowed, std::string reason) {
    const Value* written = values_.find(key);
    const bool given = written != nullptr && written->given;
    problems_.push_back({given ? written->file : run_.file, given ? written->line : run_.line, run_.name, key,
                         value, std::move(allowed), std::move(reason)});
  }

  // Three numbers; what is not said stays.
  void read_three(const std::string& key, Vec3& into) {
    if (!values_.has(key)) return;
    const std::vector<double> numbers = values_.list(key);
    if (numbers.size() == 3) {
      into = {numbers[0], numbers[1], numbers[2]};
    } else {
      note(key, values_.find(key)->written, "[x, y, z]", "takes three numbers");
    }
  }

  void read_start() {
    read_three("start.at", run_.at);
    read_three("start.direction", run_.direction);
    read_three("start.up", run_.up);
    if (!(norm(run_.direction) > 0.0)) {
      note("start.direction", values_.find("start.direction")->written, "",
           "is no direction: its length is 0");
    } else if (!(norm(cross(run_.direction, run_.up)) > 1e-9 * norm(run_.direction) * norm(run_.up))) {
      note(values_.has("start.up") ? "start.up" : "start.direction",
           values_.find(values_.has("start.up") ? "start.up" : "start.direction")->written, "",
           "up lies along the way on (or is 0): say an up that lies across it");
    }
    if (!values_.has("from")) return;
    const std::string written = values_.text("from");
    for (const char* key : {"start.at", "start.direction", "start.up"})
      if (values_.given(key))
        note(key, values_.find(key)->written, "one of the two", "from says already where the run starts");
    std::string fault;
    const std::optional<Named> found = named(written, counts_, fault);
    if (!found) {
      blame_left_out(written, fault);
      note("from", written, "", fault);
    } else if (found->ports.size() != 1) {
      note("from", written, "TAG:PORT", "must say at which one port the run starts");
    } else {
      run_.from = RunPort{found->part, found->ports.front()};
    }
  }

  // A tag that the reader left out is known, and not missing.
  void blame_left_out(const std::string& written, std::string& fault) const {
    for (const Problem& problem : job_.problems) {
      const std::size_t size = problem.tag.size();
      const bool ends =
          written.size() == size || (written.size() > size && (written[size] == ':' || written[size] == '#'));
      if (size > 0 && ends && written.compare(0, size, problem.tag) == 0)
        fault = "this fitting is left out of the job because it is wrong, so the run is left out, too";
    }
  }

  void read_step(const std::string& written, std::size_t place, std::size_t last) {
    std::string fault;
    const std::optional<Named> found = named(written, counts_, fault);
    if (!found) {
      // each tag is told once
      if (!told_.insert(written.substr(0, written.find_first_of("#:"))).second) return;
      blame_left_out(written, fault);
      note("path", written, "", fault);
      return;
    }
    RunStep step{found->part, "start", "end"};
    step.said = !found->ports.empty();
    if (found->ports.size() == 2) {
      step.in = found->ports[0];
      step.out = found->ports[1];
    } else if (found->ports.size() == 1 && place == last && place > 0) {
      step.in = found->ports[0];
      step.out.clear();
    } else if (found->ports.size() == 1 && place == 0) {
      step.in.clear();
      step.out = found->ports[0];
    } else if (found->ports.size() == 1) {
      note("path", written, "TAG:PORT>PORT",
           "must say two ports in the middle of a run: where it is entered and left");
    }
    step.lined_after = lined_after_.count(step.part.tag) != 0;
    run_.steps.push_back(std::move(step));
  }

  // The same part at both ends of the path is a ring that is written out.
  void read_path() {
    std::vector<std::string> path = values_.texts("path");
    if (path.empty()) {
      note("path", "[]", "at least one tag", "holds no fitting");
      return;
    }
    const std::size_t given = path.size();
    if (given > 2 && path.front() == path.back()) {
      if (!values_.flag("close"))
        note("path", path.back(), "close = true",
             "comes back to where it began: a ring must say that it closes");
      path.pop_back();
    }
    written_steps_ = path.size();
    for (std::size_t i = 0; i < path.size(); ++i)
      read_step(path[i], i, given == path.size() ? path.size() - 1 : path.size());
    std::set<RunPart> there;
    for (const RunStep& step : run_.steps) {
      if (there.insert(step.part).second) continue;
      const long count = counts_.at(step.part.tag);
      note("path", shown(step.part), "",
           count > 1
               ? fmt::format("stands twice in the path; the job makes {}: write {}#2 for the second", count,
                             step.part.tag)
               : "stands twice in the path, and the job makes one; say count = 2, and #2 for the second");
    }
  }

  void read_turns() {
    if (!values_.has("turns")) return;
    const std::vector<double> turns = values_.list("turns");
    if (turns.size() > written_steps_) {
      note("turns", fmt::format("{} turns", turns.size()), fmt::format("at most {}", written_steps_),
           "turns more fittings than stand in the path");
      return;
    }
    for (std::size_t i = 0; i < turns.size() && i < run_.steps.size(); ++i) run_.steps[i].turn = turns[i];
  }

  void read_joints() {
    const std::vector<std::string> joints = values_.texts("joints");
    if (!joints.empty() && joints.size() >= written_steps_)
      note("joints", fmt::format("{} joints", joints.size()), fmt::format("at most {}", written_steps_ - 1),
           "names more joints than there are between the fittings of the path");
    for (std::size_t i = 0; i < joints.size(); ++i) {
      if (joints[i] != "shop" && joints[i] != "field")
        note("joints", joints[i], "shop, field", "is no word for where a joint is made");
      if (i + 1 < run_.steps.size()) run_.steps[i + 1].field = joints[i] == "field";
    }
  }

  void read_close() {
    run_.close = values_.flag("close");
    run_.close_within = values_.quantity("close_within");
    run_.close_angle = values_.quantity("close_angle");
    if (!values_.has("close_to")) return;
    const std::string written = values_.text("close_to");
    std::string fault;
    const std::optional<Named> found = named(written, counts_, fault);
    if (!run_.close)
      note("close_to", written, "close = true", "says what the end must meet, but not that it must");
    if (!found) {
      note("close_to", written, "", fault);
    } else if (found->ports.size() != 1) {
      note("close_to", written, "TAG:PORT", "must say which one port the end meets");
    } else {
      run_.close_to = RunPort{found->part, found->ports.front()};
    }
  }
};

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return text;
}

}  // namespace

std::vector<Run> read_runs(const Job& job, std::vector<Problem>& problems) {
  Counts counts;
  std::set<std::string> lined_after;
  for (const FittingRequest& request : job.fittings) {
    counts[request.tag] = request.count;
    if (request.joining.has("lined") &&
        chosen(request.joining, "lined", k_lined_choices) == Lined::after_joining)
      lined_after.insert(request.tag);
  }
  std::vector<Run> runs;
  const auto tables = job.lists.find("run");
  if (tables != job.lists.end())
    for (const Values& values : tables->second)
      if (auto run = RunReader(values, job, counts, lined_after, problems).read())
        runs.push_back(std::move(*run));
  for (Run& run : runs_of_joins(job, counts, problems)) runs.push_back(std::move(run));
  std::set<std::string> names;
  std::vector<Run> kept;
  for (Run& run : runs) {
    if (names.insert(lower(run.name)).second) {
      kept.push_back(std::move(run));
    } else {
      problems.push_back(
          {run.file, run.line, "", "name", run.name, "",
           "is the name of two runs, and folders are named after them; they must differ in more "
           "than upper and lower case"});
    }
  }
  return kept;
}

}  // namespace linerwright
