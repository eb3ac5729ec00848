// One function per subcommand: it adds itself to the program and says what to run. Exit codes: 0 all well, 1
// a check or the geometry failed, 2 bad input, 3 a file could not be written.
#pragma once

#include <CLI/CLI.hpp>

#include <functional>

namespace linerwright {

// What the chosen subcommand does; set while arguments are read, run afterwards.
using Action = std::function<int()>;

void add_make(CLI::App& program, Action& action);
void add_nest(CLI::App& program, Action& action);
void add_bore(CLI::App& program, Action& action);
void add_check(CLI::App& program, Action& action);
void add_compare(CLI::App& program, Action& action);
void add_read(CLI::App& program, Action& action);
void add_sample(CLI::App& program, Action& action);
void add_join(CLI::App& program, Action& action);
void add_estimate(CLI::App& program, Action& action);
void add_bands(CLI::App& program, Action& action);
void add_bench(CLI::App& program, Action& action);
void add_workbook(CLI::App& program, Action& action);
// These speak of the whole program, which must outlive the action.
void add_completion(CLI::App& program, Action& action);
void add_manual(CLI::App& program, Action& action);

}  // namespace linerwright
