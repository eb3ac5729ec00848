#include "check_whole.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "linerwright/check/check_run.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/output/division_file.hpp"
#include "linerwright/output/job_list.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// Fittings made again by their tags, the last ones kept.
class Again {
 public:
  // `as_nested`: divided as the boards there were planned with, whether that was made since or not.
  explicit Again(const fs::path& out, bool as_nested = false) : out_(out), as_nested_(as_nested) {}

  std::shared_ptr<const MadeAgain> operator()(const std::string& tag) {
    constexpr std::size_t k_most = 200;
    const auto found = kept_.find(tag);
    if (found != kept_.end()) return found->second;
    if (kept_.size() >= k_most) kept_.clear();
    std::shared_ptr<const MadeAgain> made;
    const fs::path file = out_ / file_stem(tag) / "fitting.json";
    try {
      Job job;
      job.fittings.push_back(request_from_json(file, nullptr));
      if (as_nested_) apply_division_file(job, out_);
      Fitting fitting = make_fitting(job.fittings.front());
      std::vector<Pattern> patterns = make_patterns(fitting);
      made = std::make_shared<const MadeAgain>(MadeAgain{std::move(fitting), std::move(patterns)});
    } catch (const std::exception&) {
      // its own check tells why; here it counts as not made
    }
    kept_[tag] = made;
    return made;
  }

 private:
  fs::path out_;
  bool as_nested_;
  std::map<std::string, std::shared_ptr<const MadeAgain>> kept_;
};

// Lists of what was made there: made.json, or one for each share.
std::vector<JobList> lists_in(const fs::path& out) {
  std::vector<JobList> lists;
  for (const auto& entry : fs::directory_iterator(out)) {
    const std::string name = entry.path().filename().string();
    if (name.rfind("made", 0) != 0 || entry.path().extension() != ".json") continue;
    try {
      if (auto list = read_job_list(entry.path())) lists.push_back(std::move(*list));
    } catch (const InputError&) {
      // stale_results tells why
    }
  }
  return lists;
}

// Pages and documents beside the fittings have no figures of their own to prove: they are as they were
// written.
CheckResult pages_beside(const fs::path& out, const std::vector<JobList>& lists) {
  std::size_t read = 0;
  std::vector<std::string> changed;
  for (const JobList& list : lists)
    for (const auto& [name, digests] : list.beside) {
      const std::string ending = fs::path(name).extension().string();
      if ((ending != ".html" && ending != ".pdf") || fs::path(name).filename() != name) continue;
      if (!fs::is_regular_file(out / name)) continue;
      ++read;
      const std::size_t size = fs::file_size(out / name);  // none that was written is over 512 MB
      const std::string now = size >> 29U == 0 ? digest(file_bytes(out / name, 512U << 20U)) : std::string();
      if (std::find(digests.begin(), digests.end(), now) == digests.end()) changed.push_back(name);
    }
  return {"pages beside",
          static_cast<double>(changed.size()),
          0.0,
          changed.empty(),
          "files",
          changed.empty() ? fmt::format("{} are what was written", read)
                          : changed.front() + " was changed since it was made"};
}

// By tag: whether its folder is not of the job as it is now.
std::map<std::string, bool> older_folders(const std::vector<JobList>& lists) {
  std::map<std::string, bool> older;
  for (const JobList& list : lists)
    for (const ListedFitting& fitting : list.fittings) older[fitting.tag] = fitting.made != fitting.asked;
  return older;
}

// The job by formulas of its own, which read the fittings' files: these must be of the job as it is now.
std::vector<CheckResult> as_asked(const fs::path& out) {
  for (const auto& [tag, older] : older_folders(lists_in(out)))
    if (older && fs::exists(out / file_stem(tag) / "fitting.json"))
      return {{"asked job", 0.0, 0.0, true, "",
               tag + " is of an older state than boards and totals: not compared", true}};
  return prove_job_as_asked(out);
}

// The bore report's tables, and the documents beside the fittings.
std::vector<CheckResult> check_beside(const fs::path& out, const MakeAgain& kept) {
  const std::vector<JobList> lists = lists_in(out);
  if (lists.empty()) return {};
  const std::map<std::string, bool> older = older_folders(lists);
  const MakeAgain current = [&](const std::string& tag) {
    const auto found = older.find(tag);
    return found == older.end() || found->second ? nullptr : kept(tag);
  };
  std::vector<fs::path> runs;
  for (const JobList& list : lists)
    for (const std::string& run : list.runs) runs.push_back(out / k_runs_folder / fs::path(run).filename());
  std::vector<CheckResult> results{pages_beside(out, lists)};
  for (const JobList& list : lists)
    for (const auto& beside : list.beside) {
      const fs::path name = beside.first;
      if (name.string().rfind("bore", 0) != 0 || name.extension() != ".csv" ||
          !fs::is_regular_file(out / name.filename()))
        continue;
      const std::vector<CheckResult> more = check_bore(out / name.filename(), current, runs);
      results.insert(results.end(), more.begin(), more.end());
    }
  return results;
}

}  // namespace

MakeAgain made_again(const fs::path& out, bool as_nested) {
  const auto kept = std::make_shared<Again>(out, as_nested);
  return [kept](const std::string& tag) { return (*kept)(tag); };
}

std::string run_name(const fs::path& run) {
  return fmt::format("{}/{}", k_runs_folder, run.filename().string());
}

RunResults check_whole(const fs::path& out, const std::vector<std::string>& tags) {
  const MakeAgain again = made_again(out);
  const MakeAgain as_nested = made_again(out, true);
  RunResults all;
  if (fs::exists(out / k_boards_folder / "boards.json"))
    all.emplace_back(k_boards_folder, check_boards(out / k_boards_folder, as_nested));
  for (const fs::path& run : runs_below(out)) all.emplace_back(run_name(run), check_run(run, again));
  if (fs::exists(out / "totals.json"))
    all.emplace_back("totals", check_totals(out / "totals.json", tags, as_nested));
  if (auto beside = check_beside(out, again); !beside.empty()) all.emplace_back("beside", std::move(beside));
  if (auto asked = as_asked(out); !asked.empty()) all.emplace_back("as asked", std::move(asked));
  return all;
}

}  // namespace linerwright
