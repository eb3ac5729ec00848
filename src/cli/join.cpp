#include <memory>

#include <fmt/format.h>

#include "commands.hpp"
#include "linerwright/produce.hpp"
#include "linerwright/totals.hpp"

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
  if (!options.out.empty()) {
    write_beside(options.out, totals_stem(1, 1) + ".csv", totals_csv(totals));
    write_beside(options.out, totals_stem(1, 1) + ".json", totals_json(totals));
  }
  fmt::print("{}", options.json  ? totals_json(totals)
                   : options.csv ? totals_csv(totals)
                                 : totals_table(totals));
  return 0;
}

}  // namespace

void add_join(CLI::App& program, Action& action) {
  CLI::App* command = program.add_subcommand("join", "add up the totals of a job that was made in shares");
  auto options = std::make_shared<JoinOptions>();
  command->add_option("FOLDER", options->folders, "--out folders of the runs with --shard")->required();
  command->add_option("--out", options->out, "folder for totals.csv and totals.json of the whole");
  CLI::Option* json = command->add_flag("--json", options->json, "the totals as JSON");
  command->add_flag("--csv", options->csv, "the totals as comma-separated values")->excludes(json);
  command->callback([&action, options] { action = [options] { return run(*options); }; });
}

}  // namespace linerwright
