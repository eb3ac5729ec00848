#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <memory>
#include <new>

#include <fmt/format.h>

#include "check_runs.hpp"
#include "check_whole.hpp"
#include "commands.hpp"
#include "in_child.hpp"
#include "linerwright/check/check.hpp"
#include "linerwright/check/check_job.hpp"
#include "linerwright/check/check_run.hpp"
#include "linerwright/check/check_written.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/output/division_file.hpp"
#include "linerwright/output/job_list.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

struct CheckArguments {
  std::vector<std::string> targets;
  std::string out = "models-out";
};

// A fitting's folder, and what a job now asks for it.
struct Target {
  fs::path folder;
  std::optional<FittingRequest> wanted;
};

// What is to be checked: fittings, and the folders of whole jobs.
struct Targets {
  std::vector<Target> fittings;
  std::vector<fs::path> runs;  // that are asked for by themselves
  std::vector<fs::path> jobs;
  RunResults as_in_job;
};

// Folders with a fitting.json: the folder itself, or those right below it, which then make a job.
void add_folders(const fs::path& folder, Targets& found) {
  if (fs::exists(folder / "fitting.json")) {
    found.fittings.push_back({folder, {}});
    return;
  }
  if (fs::exists(folder / "run.json")) {
    found.runs.push_back(folder);
    return;
  }
  if (folder.filename() == k_runs_folder) found.runs = runs_below(folder.parent_path());
  std::vector<fs::path> below;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().filename().string().front() != '.' && fs::exists(entry.path() / "fitting.json"))
      below.push_back(entry.path());
  std::sort(below.begin(), below.end());
  for (fs::path& path : below) found.fittings.push_back({std::move(path), {}});
  if (!below.empty()) found.jobs.push_back(folder);
}

// A folder, a job file (its fittings' folders below --out) or a tag below --out.
Targets targets_of(const CheckArguments& arguments) {
  Targets found;
  std::vector<Problem> missing;
  const auto need = [&](const std::string& tag, const std::string& target,
                        std::optional<FittingRequest> wanted) {
    const fs::path folder = fs::path(arguments.out) / file_stem(tag);
    const fs::path run = fs::path(arguments.out) / k_runs_folder / file_stem(tag);
    if (fs::exists(folder / "fitting.json"))
      found.fittings.push_back({folder, std::move(wanted)});
    else if (!wanted && fs::exists(run / "run.json"))
      found.runs.push_back(run);
    else
      missing.push_back({{},
                         0,
                         tag,
                         {},
                         target,
                         {},
                         "nothing was made of it in " + arguments.out + "; run linerwright make first"});
  };
  for (const std::string& target : arguments.targets) {
    if (fs::is_directory(target)) {
      const std::size_t before = found.fittings.size() + found.runs.size();
      const fs::path folder = target;
      add_folders(folder.has_filename() ? folder : folder.parent_path(), found);
      if (found.fittings.size() + found.runs.size() == before)
        missing.push_back({target, 0, {}, {}, {}, {}, "holds no fitting"});
    } else if (fs::is_regular_file(target)) {
      Job job = read_job(target, job_schema());
      apply_stock(job);
      apply_division_file(job, arguments.out);
      for (const FittingRequest& request : job.fittings) need(request.tag, target, request);
      found.jobs.push_back(arguments.out);
      for (auto& each : runs_as_in_job(job, arguments.out)) found.as_in_job.push_back(std::move(each));
    } else {
      need(target, target, {});
    }
  }
  if (!missing.empty()) throw InputError(missing);
  return found;
}

// A length that was written in another unit may differ in its last digits.
bool same_value(const Value& a, const Value& b) {
  const auto same = [](double x, double y) { return std::fabs(x - y) <= 1e-9 * (1.0 + std::fabs(x)); };
  const auto* one = std::get_if<double>(&a.data);
  const auto* other = std::get_if<double>(&b.data);
  if (one != nullptr && other != nullptr) return same(*one, *other);
  const auto* list = std::get_if<std::vector<double>>(&a.data);
  const auto* others = std::get_if<std::vector<double>>(&b.data);
  if (list != nullptr && others != nullptr)
    return std::equal(list->begin(), list->end(), others->begin(), others->end(), same);
  return a.data == b.data;
}

// The keys in which what was made differs from what the job now asks for.
CheckResult as_in_job(const FittingRequest& made, const FittingRequest& wanted) {
  std::string differing;
  int count = 0;
  const auto differs = [&](const std::string& key, const std::string& now, const std::string& then) {
    if (++count == 1) differing = fmt::format("{} is {} in the job, {} when it was made", key, now, then);
  };
  if (made.kind != wanted.kind) differs("kind", wanted.kind, made.kind);
  if (made.count != wanted.count) differs("count", std::to_string(wanted.count), std::to_string(made.count));
  for (const auto& [key, value] : wanted.values.all()) {
    const Value* then = made.values.find(key);
    if (then == nullptr || !same_value(*then, value))
      differs(key, value.written, then == nullptr ? "nothing" : then->written);
  }
  for (const auto& [key, value] : made.values.all())
    if (!wanted.values.has(key)) differs(key, "nothing", value.written);
  return {"as in the job",
          static_cast<double>(count),
          0.0,
          count == 0,
          "keys",
          count == 0 ? "made of what the job asks for now" : differing + ": make it again"};
}

// Prints results and counts them.
class Tell {
 public:
  void add(const std::string& of, const std::vector<CheckResult>& results) {
    fmt::print("{}\n", of);
    for (const CheckResult& result : results) {
      fmt::print("  {}\n", one_line(result));
      ++(result.note ? notes_ : result.pass ? passed_ : failed_);
    }
  }
  int end() const {
    fmt::print("{} checks passed, {} failed{}\n", passed_, failed_,
               notes_ == 0   ? ""
               : notes_ == 1 ? ", 1 note"
                             : fmt::format(", {} notes", notes_));
    return failed_ > 0 ? 1 : 0;
  }

 private:
  int passed_ = 0;
  int failed_ = 0;
  int notes_ = 0;
};

std::vector<CheckResult> results_of(const Target& target) {
  OutputOptions options;
  const FittingRequest request = request_from_json(target.folder / "fitting.json", &options);
  const std::string stem = file_stem(request.tag);
  const CheckFiles files{target.folder, stem, !options.patterns_only, options.bands};
  const Fitting fitting = make_fitting(request);
  // several times what the largest take on a slow machine, and ten seconds for one of a single piece
  constexpr unsigned k_each_piece = 5;
  allow_processor_time(5 + k_each_piece * static_cast<unsigned>(fitting.pieces.size()));
  std::vector<CheckResult> results;
  if (target.wanted) results.push_back(as_in_job(request, *target.wanted));
  const auto add = [&](const std::vector<CheckResult>& more) {
    results.insert(results.end(), more.begin(), more.end());
  };
  const std::vector<Pattern> patterns = make_patterns(fitting);
  add(check_fitting(fitting, patterns, files, options.dxf, options.mesh));
  add(check_written(fitting, patterns, files, {state_of(request), made_from(request, options, true)}));
  return results;
}

// One that cannot be read, or made again, fails alone.
std::vector<CheckResult> own_results(const Target& target) {
  try {
    return results_of(target);
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception& error) {
    return {{"fitting.json", 1.0, 0.0, false, "", error.what()}};
  }
}

// Results as text, from one process to another.
constexpr char k_field = '\x1f';
constexpr char k_record = '\x1e';

std::string packed(const std::vector<CheckResult>& results) {
  std::string text;
  for (const CheckResult& result : results) {
    const std::size_t begin = text.size();
    text += fmt::format("{}{}{:.17g}{}{:.17g}{}{:d}{:d}{}{}{}{}", result.name, k_field, result.value, k_field,
                        result.limit, k_field, result.pass, result.note, k_field, result.unit, k_field,
                        result.detail);
    std::replace(text.begin() + static_cast<std::ptrdiff_t>(begin), text.end(), k_record, ' ');
    text += k_record;
  }
  return text;
}

std::vector<CheckResult> unpacked(const std::string& text) {
  std::vector<CheckResult> results;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find(k_record, at);
    std::vector<std::string> fields(1);
    for (; at < end && at < text.size(); ++at)
      if (text[at] == k_field && fields.size() < 6)
        fields.emplace_back();
      else
        fields.back() += text[at];
    at = end == std::string::npos ? text.size() : end + 1;
    if (fields.size() != 6 || fields[3].size() != 2) continue;
    results.push_back({fields[0], std::strtod(fields[1].c_str(), nullptr),
                       std::strtod(fields[2].c_str(), nullptr), fields[3][0] == '1', fields[4], fields[5],
                       fields[3][1] == '1'});
  }
  return results;
}

// Each in a process of its own, which a broken file cannot end the program by.
void check_fittings(const std::vector<Target>& targets, Tell& tell) {
  if (std::any_of(targets.begin(), targets.end(), [](const Target& target) {
        return std::filesystem::exists(target.folder / (target.folder.filename().string() + ".step"));
      }))
    load_step_reader();
  run_apart(
      targets.size(), [&](std::size_t i) { return packed(own_results(targets[i])); },
      [&](std::size_t i, const Outcome& outcome) {
        std::vector<CheckResult> results = unpacked(outcome.words);
        if (!outcome.fault.empty()) results = {{"files", 1.0, 0.0, false, "", outcome.fault}};
        tell.add(targets[i].folder.filename().string(), results);
      });
}

// Tags of the fittings to check whose folders lie in `out`.
std::vector<std::string> tags_below(const fs::path& out, const Targets& targets) {
  std::vector<std::string> tags;
  for (const Target& target : targets.fittings)
    if (fs::weakly_canonical(target.folder).parent_path() == fs::weakly_canonical(out)) try {
        tags.push_back(request_from_json(target.folder / "fitting.json", nullptr).tag);
      } catch (const std::exception&) {
        // its own check tells why
      }
  return tags;
}

int run(const CheckArguments& arguments) {
  const Targets targets = targets_of(arguments);
  Tell tell;
  check_fittings(targets.fittings, tell);
  for (const fs::path& run : targets.runs) {
    tell.add(run_name(run), check_run(run, made_again(out_of_run(run))));
  }
  for (const auto& [name, results] : targets.as_in_job) tell.add(name, results);
  for (const fs::path& out : targets.jobs) {
    for (const auto& [name, results] : check_whole(out, tags_below(out, targets))) tell.add(name, results);
    for (const std::string& line : stale_results(out)) fmt::print("note: {}\n", line);
  }
  return tell.end();
}

}  // namespace

void add_check(CLI::App& command, Program& program) {
  auto arguments = std::make_shared<CheckArguments>();
  command.add_option("WHAT", arguments->targets, "folders, job files, tags or names of runs")->required();
  command.add_option("--out", arguments->out, "folder that holds the results [models-out]");
  command.callback([&program, arguments] { program.action = [arguments] { return run(*arguments); }; });
}

}  // namespace linerwright
