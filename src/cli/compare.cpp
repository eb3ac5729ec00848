#include "linerwright/making/compare.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>
#include <memory>

#include "commands.hpp"
#include "inputs.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "read_jobs.hpp"

namespace linerwright {

namespace {

struct CompareArguments {
  std::string older;
  std::string newer;
  std::string units;
};

void print_words(const char* what, const std::vector<std::string>& words, const char* between) {
  for (std::size_t i = 0; i < words.size(); ++i) fmt::print("{}{}", i == 0 ? what : between, words[i]);
  if (!words.empty()) fmt::print("\n");
}

void print_change(const FittingChange& change) {
  if (change.what == FittingChange::What::added) {
    fmt::print("{}: added: {}, {} wanted\n", change.tag, kind_title(change.kind), change.count);
  } else if (change.what == FittingChange::What::gone) {
    fmt::print("{}: gone: {}, {} of it\n", change.tag, kind_title(change.kind), change.count);
  } else {
    print_words((change.tag + ": changed: ").c_str(), change.keys, "; ");
    print_words("  cut again: ", change.again, ", ");
    print_words("  still fit: ", change.fit, ", ");
    print_words("  no longer needed: ", change.spare, ", ");
    const long more = change.count - change.count_before;
    if (more != 0) fmt::print("  {} {} of each\n", std::labs(more), more > 0 ? "more" : "fewer");
    if (change.failure.empty()) return;
    std::fflush(stdout);
    fmt::print(stderr, "linerwright: {}: pieces cannot be compared: {}\n", change.tag, change.failure);
  }
}

int run(const CompareArguments& arguments) {
  JobDefaults defaults;
  if (!arguments.units.empty()) defaults.units = arguments.units == "in" ? Units::inch : Units::metric;
  Job older = read_jobs({arguments.older}, defaults);
  Job newer = read_jobs({arguments.newer}, defaults);
  std::size_t left_out = 0;
  for (Job* job : {&older, &newer}) {
    left_out += report_left_out(*job);
    apply_stock(*job);
  }
  const JobComparison comparison = compare_jobs(older, newer);
  std::size_t added = 0, gone = 0, changed = 0, again = 0, fit = 0, spare = 0;
  bool failed = false;
  for (const FittingChange& change : comparison.changes) {
    print_change(change);
    (change.what == FittingChange::What::added  ? added
     : change.what == FittingChange::What::gone ? gone
                                                : changed) += 1;
    again += change.again.size();
    fit += change.fit.size();
    spare += change.spare.size();
    failed = failed || !change.failure.empty();
  }
  fmt::print("{} the same, {} added, {} gone, {} changed", comparison.same, added, gone, changed);
  if (changed > 0)
    fmt::print(": {} piece{} to cut again, {} that still fit, {} no longer needed", again,
               again == 1 ? "" : "s", fit, spare);
  fmt::print("\n");
  return left_out > 0 ? 2 : failed ? 1 : 0;
}

}  // namespace

void add_compare(CLI::App& command, Program& program) {
  auto arguments = std::make_shared<CompareArguments>();
  command.add_option("OLD", arguments->older, "job file or schedule as it was")->required();
  command.add_option("NEW", arguments->newer, "as it is now")->required();
  command.add_option("--units", arguments->units, "what bare numbers mean")
      ->check(CLI::IsMember({"in", "mm"}));
  command.callback([&program, arguments] { program.action = [arguments] { return run(*arguments); }; });
}

}  // namespace linerwright
