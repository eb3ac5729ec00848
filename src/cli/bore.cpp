#include <exception>
#include <memory>
#include <utility>

#include <fmt/format.h>

#include "commands.hpp"
#include "inputs.hpp"
#include "linerwright/bore.hpp"
#include "linerwright/error.hpp"

namespace linerwright {

namespace {

struct BoreArguments {
  Inputs inputs;
  bool json = false;
  bool csv = false;
  std::string step_up;
  std::string series;
  std::string limit;
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

int run(const BoreArguments& arguments) {
  if (arguments.explain) {
    fmt::print("{}", explain_text(arguments.figure));
    return 0;
  }
  const Job job = arguments.inputs.job();
  std::size_t bad = report_left_out(job);
  const auto air = job.tables.find("air");
  BoreOptions options = bore_options(arguments, job.units);
  BoreReport report = bore_report({}, nullptr, options);
  bool failed = false;
  for (const FittingRequest& request : job.fittings) {
    try {
      append(report,
             bore_report({make_fitting(request)}, air == job.tables.end() ? nullptr : &air->second, options));
      options.series = report.series;  // the first fitting's units decide
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems())
        fmt::print(stderr, "linerwright: {}\n", one_line(problem));
      ++bad;
    } catch (const std::exception& error) {
      fmt::print(stderr, "linerwright: {}: {}\n", request.tag, error.what());
      failed = true;
    }
  }
  fmt::print("{}", arguments.json  ? bore_json(report)
                   : arguments.csv ? bore_csv(report)
                                   : bore_table(report));
  for (const Problem& problem : report.problems) fmt::print(stderr, "linerwright: {}\n", one_line(problem));
  if (bad + report.problems.size() > 0) return 2;
  return failed || report.over_limit() ? 1 : 0;
}

}  // namespace

void add_bore(CLI::App& program, Action& action) {
  CLI::App* command = program.add_subcommand("bore", "say what the lining costs in bore");
  auto arguments = std::make_shared<BoreArguments>();
  arguments->inputs.add_to(
      *command, [&action, arguments] { action = [arguments] { return run(*arguments); }; },
      [arguments] { return arguments->explain; });
  CLI::Option* json = command->add_flag("--json", arguments->json, "JSON instead of a table");
  command->add_flag("--csv", arguments->csv, "comma-separated values instead of a table")->excludes(json);
  command
      ->add_option("--step-up", arguments->step_up,
                   "the next size that gives back the bare duct's area, velocity or friction")
      ->check(CLI::IsMember({"area", "velocity", "friction"}));
  command
      ->add_option("--series", arguments->series,
                   "sizes to choose from: en1506, en1506-all or inch [by the job's units]")
      ->check(CLI::IsMember({"en1506", "en1506-all", "inch"}));
  command->add_option(
      "--limit", arguments->limit,
      "least area, most velocity or most friction (Pa per metre, or in w.g. per 100 ft) for --step-up");
  command->add_flag("--along", arguments->along, "every station of bores that change along the path");
  command
      ->add_option_function<std::string>(
          "--explain",
          [arguments](const std::string& figure) {
            arguments->explain = true;
            arguments->figure = figure;
          },
          "formula, source and doubts of a figure, or of all; no job is needed")
      ->type_name("FIGURE")
      ->expected(0, 1)
      ->default_str("all");
  command->add_flag("--more", arguments->more,
                    "thermal resistance, and the sound estimate for straight lengths");
}

}  // namespace linerwright
