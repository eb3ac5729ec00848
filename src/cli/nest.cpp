#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <memory>

#include <fmt/format.h>

#include "board_flags.hpp"
#include "commands.hpp"
#include "dxf_flags.hpp"
#include "inputs.hpp"
#include "job_messages.hpp"
#include "linerwright/output/board_rest.hpp"
#include "linerwright/output/write_job.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

struct NestArguments {
  Inputs inputs;
  BoardFlags setup;
  DxfFlags dxf;
  std::string out = "models-out";
  bool json = false;
  bool no_sync = false;
  std::string divide;
  std::string seam_cost;
  std::vector<std::string> again;
  std::string go_on;
};

// "E-1/3" or "E-1/3 x 2", counted in.
void name_again(Inputs& inputs, const std::string& written) {
  constexpr long k_most = 1000;
  const std::size_t times = written.rfind(" x ");
  const std::string piece = written.substr(0, times);
  long count = 1;
  char rest = 0;
  if (times != std::string::npos && std::sscanf(written.c_str() + times + 3, "%4ld%c", &count, &rest) != 1)
    count = 0;
  if (piece.find('/') == std::string::npos || count < 1 || count > k_most)
    throw InputError({Problem{{},
                              0,
                              {},
                              "--again",
                              written,
                              "TAG/PIECE or \"TAG/PIECE x 2\", at most 1000 of each",
                              "names no piece to cut again"}});
  inputs.name_piece(piece, count);
}

// Writes what is left of a board beside what is cut again.
int go_on(NestArguments& arguments) {
  const BoardStop stop = board_stop(arguments.go_on, "--go-on");
  Job whole;
  const Job job = arguments.inputs.job(&whole);
  const std::filesystem::path out = arguments.out;
  const std::string rest =
      board_rest(out / k_boards_folder, stop, arguments.dxf.options(job, arguments.inputs.file()));
  const std::string name = fmt::format("board-{}-from-{}.dxf", stop.board, stop.piece);
  OutFolder(out / k_again_folder, !arguments.no_sync).write(name, rest);
  fmt::print("{}\n", (out / k_again_folder / name).string());
  return 0;
}

int run(NestArguments arguments) {
  if (!arguments.go_on.empty()) return go_on(arguments);
  for (const std::string& piece : arguments.again) name_again(arguments.inputs, piece);
  Job whole;
  Job job = arguments.inputs.job(&whole);
  const std::size_t left_out = report_left_out(job);
  WriteOptions options;
  options.out = arguments.out;
  options.planned = arguments.out;
  if (!arguments.again.empty()) options.out /= k_again_folder;
  options.file = arguments.inputs.file();
  options.pieces = arguments.inputs.pieces();
  options.folders = false;
  options.output.dxf = arguments.dxf.options(job, arguments.inputs.file());
  options.threads = all_cores();
  options.sync = !arguments.no_sync;
  options.version = LINERWRIGHT_VERSION;
  std::string purpose;
  for (const std::string& piece : arguments.again) purpose += (purpose.empty() ? " again " : ", ") + piece;
  BoardSetup setup =
      arguments.setup.setup(job, arguments.inputs.file(), arguments.inputs.units(), options.threads, purpose);
  arguments.setup.put_stock(whole, arguments.inputs.units());
  setup.boards.pieces.division =
      division_rules(table_of(job, "boards"), arguments.divide, arguments.seam_cost);
  setup.boards.divided_anew = options.pieces.empty();
  options.boards = std::move(setup.boards);
  options.board_files = std::move(setup.files);
  FolderListener nobody;
  const WrittenJob result = write_job(job, whole, options, nobody);
  const std::size_t failed = print_problems(result);
  if (!result.boards.plan.boards.empty()) {
    if (arguments.json) {
      fmt::print("{}", boards_json(result.boards.plan));
    } else {
      fmt::print("{}\n{}", boards_table(result.boards.plan), totals_table(result.totals));
      const std::size_t boards = result.boards.plan.boards.size();
      fmt::print("\n{} in {}/{}\n", boards == 1 ? "1 board" : fmt::format("{} boards", boards),
                 options.out.string(), k_boards_folder);
      fmt::print(
          "Gloves, eye protection and a dust mask with fibrous board; hands off the table while it runs.\n");
    }
  }
  print_not_made(left_out + failed);
  return std::max(result.exit_code, left_out > 0 ? 2 : 0);
}

}  // namespace

void add_nest(CLI::App& command, Program& program) {
  auto arguments = std::make_shared<NestArguments>();
  arguments->inputs.add_to(
      program, command, [&program, arguments] { program.action = [arguments] { return run(*arguments); }; });
  arguments->setup.add_to(command);
  command
      .add_option("--divide", arguments->divide,
                  "pieces larger than their board: evenly, into the fewest equal ones; \"if needed\", as the "
                  "boards are best used; \"if it saves\": others, too [the job's, or if needed]")
      ->check(CLI::IsMember({"evenly", "if needed", "if it saves"}))
      ->group("The boards");
  command
      .add_option("--seam-cost", arguments->seam_cost,
                  "what a metre of seam that an even division does not have must save, in boards [0.01]")
      ->group("The boards");
  command.add_option("--out", arguments->out, "folder for the results, in its folder boards [models-out]");
  command
      .add_option(
          "--again", arguments->again,
          "cut a piece once more, TAG/PIECE or \"TAG/PIECE x 2\"; may be repeated: its boards lie in the "
          "folder again below --out, and those of the job stay")
      ->group("The boards");
  command
      .add_option(
          "--go-on", arguments->go_on,
          "after a stop: BOARD/PIECE, 3/7: the cuts of board 3 from piece 7 on, as the job sheet numbers "
          "them, as a DXF in the folder again below --out; nothing else is done")
      ->group("The boards");
  arguments->dxf.add_to(command);
  command.add_flag(
      "--no-sync", arguments->no_sync,
      "do not wait for the disk: for scratch runs, whose results may be lost if the power fails");
  command.add_flag("--json", arguments->json, "the boards as JSON, and nothing else on standard output");
}

}  // namespace linerwright
