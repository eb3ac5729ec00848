#include <csignal>
#include <cstdio>
#include <string_view>

#include <fmt/format.h>

#include "commands.hpp"
#include "linerwright/units/error.hpp"

int main(int argc, char** argv) {
  using namespace linerwright;
  std::signal(SIGXFSZ, SIG_IGN);  // a file grown past a limit is an error like any other
  // answered before the commands are made up
  if (argc == 2 && std::string_view(argv[1]) == "--version") {
    fmt::print("linerwright {}\n", LINERWRIGHT_VERSION);
    return 0;
  }
  Program program;
  try {
    program.app.parse(argc, argv);
  } catch (const CLI::Success& success) {
    return program.app.exit(success);
  } catch (const CLI::ParseError& error) {
    fmt::print(stderr, "linerwright: {} (linerwright --help shows what can be asked)\n", error.what());
    return 2;
  }
  try {
    const int code = program.action();
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
