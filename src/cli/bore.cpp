#include <memory>

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
};

int run(const BoreArguments& arguments) {
  const Job job = arguments.inputs.job();
  std::size_t bad = report_left_out(job);
  std::vector<Fitting> fittings;
  for (const FittingRequest& request : job.fittings) {
    try {
      fittings.push_back(make_fitting(request));
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems())
        fmt::print(stderr, "linerwright: {}\n", one_line(problem));
      ++bad;
    }
  }
  const auto air = job.tables.find("air");
  const BoreReport report = bore_report(fittings, air == job.tables.end() ? nullptr : &air->second, {});
  fmt::print("{}", arguments.json  ? bore_json(report)
                   : arguments.csv ? bore_csv(report)
                                   : bore_table(report));
  return bad > 0 ? 2 : 0;
}

}  // namespace

void add_bore(CLI::App& program, Action& action) {
  CLI::App* command = program.add_subcommand("bore", "say what the lining costs in bore");
  auto arguments = std::make_shared<BoreArguments>();
  arguments->inputs.add_to(*command,
                           [&action, arguments] { action = [arguments] { return run(*arguments); }; });
  CLI::Option* json = command->add_flag("--json", arguments->json, "JSON instead of a table");
  command->add_flag("--csv", arguments->csv, "comma-separated values instead of a table")->excludes(json);
}

}  // namespace linerwright
