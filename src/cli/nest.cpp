#include <memory>
#include <thread>

#include <fmt/format.h>

#include "commands.hpp"
#include "dxf_flags.hpp"
#include "floor_flags.hpp"
#include "inputs.hpp"
#include "job_totals.hpp"
#include "linerwright/error.hpp"
#include "linerwright/produce.hpp"

namespace linerwright {

namespace {

struct NestArguments {
  Inputs inputs;
  FloorFlags floor;
  DxfFlags dxf;
  std::string out = "models-out";
  bool json = false;
};

int run(const NestArguments& arguments) {
  Job job = arguments.inputs.job();
  int worst = report_left_out(job) > 0 ? 2 : 0;
  const int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
  const FloorSetup setup =
      arguments.floor.setup(job, arguments.inputs.file(), arguments.inputs.units(), threads);
  JobTotals totals = begin_totals(job);
  std::vector<FloorPart> parts;
  for (const FittingRequest& request : job.fittings) {
    try {
      const Fitting fitting = make_fitting(request);
      const std::vector<Pattern> patterns = make_patterns(fitting);
      totals.rows.push_back(totals_row(fitting, patterns, totals.rules));
      for (FloorPart& part : floor_parts(fitting, patterns, arguments.floor.scatter()))
        parts.push_back(std::move(part));
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems())
        fmt::print(stderr, "linerwright: {}\n", one_line(problem));
      ++totals.left_out;
      worst = 2;
    }
  }
  const FloorPlan plan = plan_floor(std::move(parts), setup.stock, setup.knife, setup.options, job.units);
  worst = std::max(worst, write_floor(plan, arguments.out, arguments.dxf.options(), threads));
  totals.stock = stock_totals(plan);
  if (!plan.boards.empty()) {
    write_totals(totals, arguments.out, totals_stem(1, 1));
    if (arguments.json) {
      fmt::print("{}", boards_json(plan));
    } else {
      fmt::print("{}\n{}", boards_table(plan), totals_table(totals));
      fmt::print("\n{} in {}/{}\n",
                 plan.boards.size() == 1 ? "1 board" : fmt::format("{} boards", plan.boards.size()),
                 arguments.out, k_boards_folder);
      fmt::print(
          "Gloves, eye protection and a dust mask with fibrous board; hands off the table while it runs.\n");
    }
  }
  return worst;
}

}  // namespace

void add_nest(CLI::App& program, Action& action) {
  CLI::App* command = program.add_subcommand("nest", "place all pieces of a job on boards, a DXF for each");
  auto arguments = std::make_shared<NestArguments>();
  arguments->inputs.add_to(*command,
                           [&action, arguments] { action = [arguments] { return run(*arguments); }; });
  arguments->floor.add_to(*command);
  command->add_option("--out", arguments->out, "folder for the results, in its folder boards [models-out]");
  arguments->dxf.add_to(*command);
  command->add_flag("--json", arguments->json, "the boards as JSON, and nothing else on standard output");
}

}  // namespace linerwright
