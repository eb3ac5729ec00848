#include <algorithm>
#include <memory>

#include <fmt/format.h>

#include "commands.hpp"
#include "job_figures.hpp"
#include "job_messages.hpp"
#include "linerwright/report/estimate.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

struct EstimateArguments {
  Inputs inputs;
  BoardFlags setup;
  bool json = false;
  bool csv = false;
};

struct Estimated {
  Estimate estimate;
  std::size_t not_made = 0;
  int code = 0;
};

Estimated estimated(const EstimateArguments& arguments, Job job, const Rates& rates) {
  Estimated out;
  const std::size_t left_out = report_left_out(job);
  const JobResult result = figures_of(arguments.inputs, arguments.setup, job);
  out.not_made = left_out + print_problems(result);
  out.estimate = estimate_of(result.totals, result.boards.plan, rates);
  out.code = std::max(result.exit_code, left_out > 0 ? 2 : 0);
  return out;
}

int run(const EstimateArguments& arguments) {
  const std::vector<std::string>& liners = arguments.inputs.liners();
  const auto job_with = [&](const std::string& liner) {
    Inputs one = arguments.inputs;
    one.use_liner(liner);
    return one.job();
  };
  Job first = liners.empty() ? arguments.inputs.job() : job_with(liners.front());
  const Values* stated = stated_rates(first);
  if (stated == nullptr)
    throw InputError({Problem{arguments.inputs.file(),
                              0,
                              {},
                              "rates",
                              {},
                              "a [rates] table, as tape_roll = \"45m\", tape_roll_price = 12",
                              "an estimate needs the shop's own rates: nothing is assumed"}});
  const Rates rates = rates_of(*stated);
  if (liners.size() < 2) {
    const Estimated one = estimated(arguments, std::move(first), rates);
    fmt::print("{}", arguments.json  ? estimate_json(one.estimate)
                     : arguments.csv ? estimate_csv(one.estimate)
                                     : estimate_table(one.estimate));
    print_not_made(one.not_made);
    return one.code;
  }
  if (arguments.json || arguments.csv)
    throw InputError({Problem{{},
                              0,
                              {},
                              "--liner",
                              liners[1],
                              "one, with --json or --csv",
                              "several thicknesses stand side by side in the table alone"}});
  std::vector<std::pair<std::string, Estimate>> all;
  int code = 0;
  for (const std::string& liner : liners) {
    Estimated one = estimated(arguments, job_with(liner), rates);
    code = std::max(code, one.code);
    all.emplace_back(liner, std::move(one.estimate));
  }
  fmt::print("{}", estimates_table(all));
  return code;
}

}  // namespace

void add_estimate(CLI::App& command, Program& program) {
  auto arguments = std::make_shared<EstimateArguments>();
  arguments->inputs.add_to(
      program, command, [&program, arguments] { program.action = [arguments] { return run(*arguments); }; });
  arguments->setup.add_to(command);
  CLI::Option* json = command.add_flag("--json", arguments->json, "everything as JSON, and nothing else");
  command
      .add_flag("--csv", arguments->csv,
                "a line for each fitting as comma-separated values, and nothing else")
      ->excludes(json);
}

}  // namespace linerwright
