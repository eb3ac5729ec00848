#include <csignal>
#include <cstdio>
#include <string_view>

#include <fmt/format.h>

#include "commands.hpp"
#include "linerwright/units/error.hpp"

int main(int argc, char** argv) {
  using namespace linerwright;
  std::signal(SIGXFSZ, SIG_IGN);  // a file grown past a limit is an error like any other
  // answered before the options of every kind are made up
  if (argc == 2 && std::string_view(argv[1]) == "--version") {
    fmt::print("linerwright {}\n", LINERWRIGHT_VERSION);
    return 0;
  }
  CLI::App program{
      "Linerwright: fibrous liner for round duct fittings. Solids to look at, flat patterns to cut, the bore "
      "that is left."};
  program.set_version_flag("--version", "linerwright " LINERWRIGHT_VERSION);
  program.require_subcommand(1);
  program.footer(
      "Exit codes: 0 all well, 1 a check or the geometry failed, 2 bad input, 3 a file could not be "
      "written.\n"
      "Local codes and the licensed designer decide; patterns are no substitute for either.");
  Action action;
  add_make(program, action);
  add_nest(program, action);
  add_bore(program, action);
  add_estimate(program, action);
  add_bands(program, action);
  add_workbook(program, action);
  add_bench(program, action);
  add_check(program, action);
  add_sample(program, action);
  add_read(program, action);
  add_compare(program, action);
  add_join(program, action);
  add_completion(program, action);
  add_manual(program, action);
  try {
    program.parse(argc, argv);
  } catch (const CLI::Success& success) {
    return program.exit(success);
  } catch (const CLI::ParseError& error) {
    fmt::print(stderr, "linerwright: {} (linerwright --help shows what can be asked)\n", error.what());
    return 2;
  }
  try {
    const int code = action();
    if (std::fflush(stdout) != 0) throw WriteError("standard output: cannot write");
    return code;
  } catch (const InputError& error) {
    for (const std::string& line : lines_once(error.problems()))
      fmt::print(stderr, "linerwright: {}\n", line);
    return 2;
  } catch (const WriteError& error) {
    fmt::print(stderr, "linerwright: {}\n", error.what());
    return 3;
  } catch (const std::exception& error) {
    fmt::print(stderr, "linerwright: {}\n", error.what());
    return 1;
  }
}
