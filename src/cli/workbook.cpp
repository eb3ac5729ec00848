#include <algorithm>
#include <memory>

#include <fmt/format.h>

#include "commands.hpp"
#include "job_figures.hpp"
#include "job_messages.hpp"
#include "linerwright/paper/workbook.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/report/estimate.hpp"
#include "linerwright/units/error.hpp"
#include "text_out.hpp"

namespace linerwright {

namespace {

struct WorkbookArguments {
  Inputs inputs;
  BoardFlags setup;
  std::string out;
  bool force = false;
};

int run(const WorkbookArguments& arguments) {
  refuse_existing(arguments.out, arguments.force);
  Job job = arguments.inputs.job();
  const std::size_t left_out = report_left_out(job);
  const JobResult result = figures_of(arguments.inputs, arguments.setup, job);
  const std::size_t failed = print_problems(result);
  std::vector<WorkbookSheet> sheets{{"totals", totals_csv(result.totals)}};
  if (!result.boards.plan.boards.empty()) {
    sheets.push_back({"cut list", cut_list_csv(result.boards.plan)});
    sheets.push_back({"boards", boards_csv(result.boards.plan)});
  }
  if (const Values* rates = stated_rates(job))
    sheets.push_back(
        {"estimate", estimate_csv(estimate_of(result.totals, result.boards.plan, rates_of(*rates)))});
  if (!result.bore.rows.empty()) sheets.push_back({"bore", bore_csv(result.bore)});
  write_workbook(arguments.out, sheets);
  std::string names;
  for (const WorkbookSheet& sheet : sheets) names += (names.empty() ? "" : ", ") + sheet.name;
  fmt::print("{}: {}\n", arguments.out, names);
  print_not_made(left_out + failed);
  return std::max(result.exit_code, left_out > 0 ? 2 : 0);
}

}  // namespace

void add_workbook(CLI::App& command, Program& program) {
  auto arguments = std::make_shared<WorkbookArguments>();
  arguments->inputs.add_to(
      program, command, [&program, arguments] { program.action = [arguments] { return run(*arguments); }; });
  arguments->setup.add_to(command);
  command.add_option("--out", arguments->out, "the workbook to write, as job.xlsx")->required();
  command.add_flag("--force", arguments->force, "write it although it is there already");
}

}  // namespace linerwright
