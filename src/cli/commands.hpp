// One function per subcommand: it gives the command its options and says what to run. Exit codes: 0 all well,
// 1 a check or the geometry failed, 2 bad input, 3 a file could not be written.
#pragma once

#include "program.hpp"

namespace linerwright {

void add_make(CLI::App& command, Program& program);
void add_nest(CLI::App& command, Program& program);
void add_bore(CLI::App& command, Program& program);
void add_check(CLI::App& command, Program& program);
void add_compare(CLI::App& command, Program& program);
void add_read(CLI::App& command, Program& program);
void add_sample(CLI::App& command, Program& program);
void add_join(CLI::App& command, Program& program);
void add_estimate(CLI::App& command, Program& program);
void add_bands(CLI::App& command, Program& program);
void add_bench(CLI::App& command, Program& program);
void add_workbook(CLI::App& command, Program& program);
void add_completion(CLI::App& command, Program& program);
void add_manual(CLI::App& command, Program& program);

}  // namespace linerwright
