#include <memory>

#include <fmt/format.h>

#include "commands.hpp"
#include "linerwright/output/write_job.hpp"
#include "linerwright/report/totals.hpp"

namespace linerwright {

namespace {

struct JoinOptions {
  std::vector<std::string> folders;
  std::string out;
  bool json = false;
  bool csv = false;
};

int run(const JoinOptions& options) {
  const JobTotals totals = joined(read_shares({options.folders.begin(), options.folders.end()}));
  std::vector<std::string> problems;
  if (!options.out.empty()) problems = write_joined(totals, options.out);
  for (const std::string& problem : problems) fmt::print(stderr, "linerwright: {}\n", problem);
  fmt::print("{}", options.json  ? totals_json(totals)
                   : options.csv ? totals_csv(totals)
                                 : totals_table(totals));
  return problems.empty() ? 0 : 3;
}

}  // namespace

void add_join(CLI::App& command, Program& program) {
  auto options = std::make_shared<JoinOptions>();
  command.add_option("FOLDER", options->folders, "--out folders of the runs with --shard")->required();
  command.add_option("--out", options->out, "folder for totals.csv and totals.json of the whole");
  CLI::Option* json = command.add_flag("--json", options->json, "the totals as JSON");
  command.add_flag("--csv", options->csv, "the totals as comma-separated values")->excludes(json);
  command.callback([&program, options] { program.action = [options] { return run(*options); }; });
}

}  // namespace linerwright
