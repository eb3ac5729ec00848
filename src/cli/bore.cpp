#include <algorithm>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "commands.hpp"
#include "inputs.hpp"
#include "job_messages.hpp"
#include "linerwright/making/make_job.hpp"
#include "linerwright/output/bore_files.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

struct BoreArguments {
  Inputs inputs;
  bool json = false;
  bool csv = false;
  std::string step_up;
  std::string series;
  std::string limit;
  std::string out;
  bool more = false;
  bool along = false;
  bool explain = false;
  std::string figure;
};

BoreOptions bore_options(const BoreArguments& arguments, Units units) {
  BoreOptions options;
  options.heat_and_sound = arguments.more;
  options.along = arguments.along;
  if (arguments.series == "en1506") options.series = DiameterSeries::en1506;
  if (arguments.series == "en1506-all") options.series = DiameterSeries::en1506_all;
  if (arguments.series == "inch") options.series = DiameterSeries::inch;
  if (arguments.step_up.empty()) {
    for (const auto& [flag, value] : {std::pair{"--limit", arguments.limit}, {"--series", arguments.series}})
      if (!value.empty())
        throw InputError({Problem{
            {}, 0, {}, flag, value, "beside --step-up", "says what to step up to, and nothing is to be"}});
    return options;
  }
  options.step_up = arguments.step_up == "velocity"   ? StepUpCriterion::velocity
                    : arguments.step_up == "friction" ? StepUpCriterion::friction
                                                      : StepUpCriterion::area;
  if (arguments.limit.empty()) return options;
  try {
    options.limit = step_up_limit(*options.step_up, arguments.limit, units);
  } catch (const std::invalid_argument& error) {
    throw InputError({Problem{{}, 0, {}, "--limit", arguments.limit, {}, error.what()}});
  }
  return options;
}

// The report of one job, and what went wrong on the way.
struct Told {
  BoreReport report;
  std::vector<std::string> not_made;
  std::size_t bad = 0;
  bool failed = false;
};

Told told(const Job& job, const BoreOptions& bore) {
  Told out;
  out.bad = report_left_out(job);
  for (const Problem& problem : job.problems) out.not_made.push_back(one_line(problem));
  JobOptions options;
  options.patterns = false;
  options.bore = bore;
  options.threads = all_cores();
  Listener nobody;
  JobResult result = make_job(job, options, nobody);
  out.report = std::move(result.bore);
  const auto tell = [&](const std::string& line) {
    fmt::print(stderr, "linerwright: {}\n", line);
    out.not_made.push_back(line);
  };
  for (const Problem& problem : result.run_problems) tell(one_line(problem));
  out.bad += result.run_problems.size();
  for (const JobFitting& fitting : result.fittings) {
    if (!fitting.failed) continue;
    for (const std::string& line : fitting.failed->lines) tell(line);
    if (fitting.failed->exit_code == 2)
      ++out.bad;
    else
      out.failed = true;
  }
  for (const Problem& problem : out.report.problems)
    fmt::print(stderr, "linerwright: {}\n", one_line(problem));
  return out;
}

int code_of(const Told& told) {
  if (told.bad + told.report.problems.size() > 0) return 2;
  return told.failed || told.report.over_limit() ? 1 : 0;
}

// Writes the documents; returns the exit code.
int hand_over(const BoreArguments& arguments, const Job& job, const Told& told) {
  const auto files = bore_files(told.report, sheet_head(job, LINERWRIGHT_VERSION), told.not_made);
  const std::vector<std::string> problems = write_bore_files(arguments.out, job, files);
  for (const std::string& problem : problems) fmt::print(stderr, "linerwright: {}\n", problem);
  if (!problems.empty()) return 3;
  if (arguments.json || arguments.csv) return 0;
  std::string names;
  for (const auto& [name, bytes] : files) names += (names.empty() ? "" : ", ") + name;
  fmt::print("\nwritten into {}: {}\n", arguments.out, names);
  return 0;
}

// Several linings side by side.
int compare(const BoreArguments& arguments) {
  if (arguments.inputs.file().empty() || !arguments.out.empty() || !arguments.step_up.empty() ||
      arguments.more || arguments.along)
    throw InputError(
        {Problem{{},
                 0,
                 {},
                 "--liner",
                 arguments.inputs.liners()[1],
                 "a job file, --json or --csv",
                 "several linings are set side by side in one table, without what else is asked for"}});
  BoreComparison comparison;
  int code = 0;
  for (const std::string& liner : arguments.inputs.liners()) {
    Inputs one = arguments.inputs;
    one.use_liner(liner);
    const Job job = one.job();
    Told of = told(job, bore_options(arguments, job.units));
    code = std::max(code, code_of(of));
    comparison.liners.push_back(liner);
    comparison.reports.push_back(std::move(of.report));
  }
  fmt::print("{}", arguments.json  ? comparison_json(comparison)
                   : arguments.csv ? comparison_csv(comparison)
                                   : comparison_table(comparison));
  return code;
}

// Flags that would change nothing.
void require_use(const BoreArguments& arguments) {
  const auto refuse = [](const char* flag, const char* allowed, const char* why) {
    throw InputError({Problem{{}, 0, {}, flag, {}, allowed, why}});
  };
  if (arguments.along && (arguments.json || arguments.csv))
    refuse("--along", "with the table alone",
           arguments.json ? "JSON holds every station as it is"
                          : "comma-separated values have a line a passage");
  if (!arguments.explain) return;
  const std::pair<const char*, bool> others[] = {{"--json", arguments.json},
                                                 {"--csv", arguments.csv},
                                                 {"--along", arguments.along},
                                                 {"--more", arguments.more},
                                                 {"--step-up", !arguments.step_up.empty()},
                                                 {"--limit", !arguments.limit.empty()},
                                                 {"--series", !arguments.series.empty()},
                                                 {"--out", !arguments.out.empty()}};
  for (const auto& [flag, given] : others)
    if (given) refuse(flag, "without --explain", "explanations are text, the same for every job");
}

int run(const BoreArguments& arguments) {
  require_use(arguments);
  if (arguments.explain) {
    fmt::print("{}", explain_text(arguments.figure));
    return 0;
  }
  if (arguments.inputs.liners().size() > 1) return compare(arguments);
  const Job job = arguments.inputs.job();
  BoreOptions options = bore_options(arguments, job.units);
  const bool asked = options.step_up.has_value();
  if (!arguments.out.empty() && !asked)
    options.step_up = StepUpCriterion::area;  // the documents propose sizes
  const Told of = told(job, options);
  const BoreReport shown = asked ? of.report : without_steps(of.report);
  fmt::print("{}", arguments.json ? bore_json(shown) : arguments.csv ? bore_csv(shown) : bore_table(shown));
  const int code = code_of(of);
  return arguments.out.empty() ? code : std::max(code, hand_over(arguments, job, of));
}

}  // namespace

void add_bore(CLI::App& command, Program& program) {
  auto arguments = std::make_shared<BoreArguments>();
  arguments->inputs.add_to(
      program, command, [&program, arguments] { program.action = [arguments] { return run(*arguments); }; },
      [arguments] { return arguments->explain; });
  CLI::Option* json = command.add_flag("--json", arguments->json, "JSON instead of a table");
  command.add_flag("--csv", arguments->csv, "comma-separated values instead of a table")->excludes(json);
  command
      .add_option("--step-up", arguments->step_up,
                  "the next size that gives back the bare duct's area, velocity or friction")
      ->check(CLI::IsMember({"area", "velocity", "friction"}));
  command
      .add_option("--series", arguments->series,
                  "sizes to choose from: en1506, en1506-all or inch [by the job's units]")
      ->check(CLI::IsMember({"en1506", "en1506-all", "inch"}));
  command.add_option(
      "--limit", arguments->limit,
      "least area, most velocity or most friction (Pa per metre, or in w.g. per 100 ft) for --step-up");
  command.add_flag("--along", arguments->along, "every station of bores that change along the path");
  command
      .add_option_function<std::string>(
          "--explain",
          [arguments](const std::string& figure) {
            arguments->explain = true;
            arguments->figure = figure;
          },
          "formula, source and doubts of a figure, or of all; no job is needed")
      ->type_name("FIGURE")
      ->expected(0, 1)
      ->default_str("all");
  command.add_option("--out", arguments->out,
                     "write the report into this folder to hand over: bore.html, bore.pdf, bore.csv");
  command.add_flag("--more", arguments->more,
                   "thermal resistance, and the sound estimate for straight lengths");
}

}  // namespace linerwright
