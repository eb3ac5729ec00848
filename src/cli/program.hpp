// The program as CLI11 reads it: its commands, and what the one that is named does.
#pragma once

#include <CLI/CLI.hpp>

#include <functional>
#include <vector>

namespace linerwright {

struct Program {
  Program();

  // Makes up the options of a command when it is named: under every command that takes a fitting stand the
  // keys of every kind, thousands in all, of which a call needs a few.
  void when_named(CLI::App& command, std::function<void()> options);
  // Makes up all that are left, for what speaks of the whole program.
  void make_up_all();

  CLI::App app;
  std::function<int()> action;  // set while arguments are read, run afterwards

 private:
  std::vector<std::function<void()>> left_;
};

}  // namespace linerwright
