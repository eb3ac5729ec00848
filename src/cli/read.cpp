#include <cstdio>
#include <filesystem>
#include <memory>
#include <system_error>

#include <fmt/format.h>

#include "commands.hpp"
#include "linerwright/error.hpp"
#include "linerwright/fitting.hpp"
#include "linerwright/intake.hpp"
#include "text_out.hpp"

namespace linerwright {

namespace {

struct ReadArguments {
  std::string sheet_file;
  std::string out;
  std::string map;
  std::string save_map;
  bool force = false;
  std::string units;
  ReadAnswers said;
};

// What the map says, and over it what the flags say.
ReadAnswers answers_of(const ReadArguments& arguments) {
  ReadAnswers answers;
  if (!arguments.map.empty()) answers = read_answers(job_file_bytes(arguments.map), arguments.map);
  const ReadAnswers& said = arguments.said;
  if (!arguments.units.empty()) answers.units = arguments.units == "in" ? Units::inch : Units::metric;
  for (std::string ReadAnswers::* place : {&ReadAnswers::decimal, &ReadAnswers::gores, &ReadAnswers::wye, &ReadAnswers::size_is,
                                           &ReadAnswers::tags, &ReadAnswers::encoding, &ReadAnswers::sheet, &ReadAnswers::liner})
    if (!(said.*place).empty()) answers.*place = said.*place;
  if (!said.fill_down.empty()) answers.fill_down = said.fill_down;
  return answers;
}

int run(const ReadArguments& arguments) {
  const ReadAnswers answers = answers_of(arguments);
  for (const std::string* out : {&arguments.out, &arguments.save_map}) refuse_existing(*out, arguments.force);
  const std::string bytes = job_file_bytes(arguments.sheet_file);
  const Grid grid = is_workbook(bytes) ? grid_of_workbook(bytes, arguments.sheet_file, answers.sheet)
                                       : grid_of_text(bytes, arguments.sheet_file, answers, job_schema());
  const ReadSheet sheet = read_grid(grid, job_schema(), answers);
  if (!arguments.out.empty()) write_text_out(arguments.out, sheet.job_text);
  if (!arguments.save_map.empty()) write_text_out(arguments.save_map, answers_text(answers, sheet.columns));
  fmt::print("{}", understood_table(sheet));
  if (!arguments.out.empty()) fmt::print("{}: look it over, then linerwright make {}\n", arguments.out, arguments.out);
  return 0;
}

}  // namespace

void add_read(CLI::App& program, Action& action) {
  CLI::App* command = program.add_subcommand("read", "make a job file of a spreadsheet with heads of its own, and say what was understood");
  auto arguments = std::make_shared<ReadArguments>();
  ReadAnswers& said = arguments->said;
  command->add_option("SHEET", arguments->sheet_file, "spreadsheet: text with separators, or a workbook (XLSX)")->required();
  command->add_option("--out", arguments->out, "job file to write; without it the table alone is shown");
  command->add_option("--columns", arguments->map, "map of heads and answers, as --save-columns writes it");
  command->add_option("--save-columns", arguments->save_map, "write the map of what was understood, to be used again");
  command->add_flag("--force", arguments->force, "write over files that are there");
  command->add_option("--sheet", said.sheet, "sheet of a workbook [its first]");
  command->add_option("--units", arguments->units, "what lengths without a unit mean")->check(CLI::IsMember({"in", "mm"}));
  command->add_option("--decimal", said.decimal, "decimal mark of the whole sheet")->check(CLI::IsMember({"comma", "point"}));
  command->add_option("--size-is", said.size_is, "which diameter sizes state: the metal's inside, what is left clear, or the metal's outside")
      ->check(CLI::IsMember({"metal", "clear", "outside"}));
  command->add_option("--gores", said.gores, "gores are all pieces of a bend, or those between its ends")->check(CLI::IsMember({"all", "between"}));
  command->add_option("--wye", said.wye, "a wye is a lateral or a Y")->check(CLI::IsMember({"lateral", "y"}));
  command->add_option("--liner", said.liner, "thickness of the liner where no column has it");
  command->add_option("--tags", said.tags, "rows: fittings are named after their rows where no column names them")->check(CLI::IsMember({"rows"}));
  command->add_option("--encoding", said.encoding, "what the text is written in [UTF-8 or UTF-16]")
      ->check(CLI::IsMember({"utf-8", "utf-16", "windows-1252"}));
  command->add_option("--fill-down", said.fill_down, "key whose blank cells repeat the one above; may be repeated");
  command->callback([&action, arguments] { action = [arguments] { return run(*arguments); }; });
}

}  // namespace linerwright
