#include "program.hpp"

#include <cstddef>
#include <utility>

#include "commands.hpp"

namespace linerwright {

namespace {

struct Command {
  const char* name;
  const char* summary;
  void (*add)(CLI::App& command, Program& program);
};

const Command k_commands[] = {
    {"make", "make solids, patterns and figures of a job, or of one fitting", add_make},
    {"nest", "place all pieces of a job on boards, a DXF for each", add_nest},
    {"bore", "say what the lining costs in bore", add_bore},
    {"estimate", "what lining a job costs in boards, tape, sealant, adhesive, pins and hours, at [rates]",
     add_estimate},
    {"bands", "guide bands of thin sheet for cutting mitres and saddles by hand, as DXF and on paper",
     add_bands},
    {"workbook", "totals, cut list, boards, estimate and bore of a job as one file for a spreadsheet",
     add_workbook},
    {"bench",
     "write the bench: one page that opens in any browser, to write a job, see it and take its patterns",
     add_bench},
    {"check", "prove from the files on disk that what was made fits", add_check},
    {"sample", "print a commented job file that works as it stands", add_sample},
    {"read",
     "make a job file of a spreadsheet with heads of its own, or of drawn metal (STEP, STL), and say what "
     "was understood",
     add_read},
    {"compare", "say what changed between two revisions of a job, and which pieces to cut again",
     add_compare},
    {"join", "add up the totals of a job that was made in shares", add_join},
    {"completion", "print completions for a shell, where the package did not install them", add_completion},
};

}  // namespace

Program::Program()
    : app("Linerwright: fibrous liner for round duct fittings. Solids to look at, flat patterns to cut, the "
          "bore "
          "that is left.") {
  app.set_version_flag("--version", "linerwright " LINERWRIGHT_VERSION);
  app.require_subcommand(1);
  app.footer(
      "Exit codes: 0 all well, 1 a check or the geometry failed, 2 bad input, 3 a file could not be "
      "written.\n"
      "Local codes and the licensed designer decide; patterns are no substitute for either.");
  const auto add = [this](const Command& listed) {
    CLI::App* command = app.add_subcommand(listed.name, listed.summary);
    when_named(*command, [this, command, add_options = listed.add] { add_options(*command, *this); });
    return command;
  };
  for (const Command& command : k_commands) add(command);
  add({"manual", "print the manual page, for man", add_manual})->group("");  // a package installs it
}

void Program::when_named(CLI::App& command, std::function<void()> options) {
  left_.push_back(std::move(options));
  command.preparse_callback([this, at = left_.size() - 1](std::size_t) {
    // emptied first: no options are made up twice
    if (const std::function<void()> make_up = std::exchange(left_[at], nullptr)) make_up();
  });
}

void Program::make_up_all() {
  // those of a command leave those of its kinds
  for (std::size_t at = 0; at < left_.size(); ++at)
    if (const std::function<void()> make_up = std::exchange(left_[at], nullptr)) make_up();
}

}  // namespace linerwright
