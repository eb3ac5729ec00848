#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <system_error>

#include <fmt/format.h>

#include "commands.hpp"
#include "in_child.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/intake/intake.hpp"
#include "linerwright/recognise/recognise.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"
#include "text_out.hpp"

namespace linerwright {

namespace {

struct ReadArguments {
  std::string name;
  long pieces = 5;
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
  for (std::string ReadAnswers::*place :
       {&ReadAnswers::decimal, &ReadAnswers::gores, &ReadAnswers::wye, &ReadAnswers::size_is,
        &ReadAnswers::tags, &ReadAnswers::encoding, &ReadAnswers::sheet, &ReadAnswers::liner})
    if (!(said.*place).empty()) answers.*place = said.*place;
  if (!said.fill_down.empty()) answers.fill_down = said.fill_down;
  return answers;
}

std::string ending_of(const std::string& file) {
  std::string ending = std::filesystem::path(file).extension().string();
  for (char& c : ending) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return ending;
}

// What a drawing was read as, put together in a process of its own: lines for standard output, for standard
// error, and the job.
constexpr char k_part = '\x1e';

std::string drawing_read(const ReadArguments& arguments) {
  const std::string name =
      arguments.name.empty() ? std::filesystem::path(arguments.sheet_file).stem().string() : arguments.name;
  std::string faults;
  std::string job;
  std::string table;
  try {
    const std::vector<DrawnBody> bodies =
        ending_of(arguments.sheet_file) == ".stl"
            ? read_drawn_mesh(arguments.sheet_file, arguments.units == "in" ? 25.4 : 1.0)
            : read_drawn(arguments.sheet_file);
    const Recognised recognised = recognise(bodies, arguments.pieces);
    for (const RecognisedBody& body : recognised.bodies)
      if (!body.fault.empty())
        faults += fmt::format("{}: body {}: {}\n", arguments.sheet_file, body.body + 1, body.fault);
    table = recognised_table(recognised);
    if (faults.empty()) job = recognised_job(recognised, name, arguments.said.liner);
  } catch (const InputError& error) {
    for (const std::string& line : lines_once(error.problems())) faults += line + "\n";
  }
  return table + k_part + faults + k_part + job;
}

int read_drawing(const ReadArguments& arguments) {
  refuse_existing(arguments.out, arguments.force);
  if (!arguments.out.empty() && arguments.said.liner.empty())
    throw InputError({Problem{{},
                              0,
                              {},
                              "--liner",
                              {},
                              "--liner 1in",
                              "is missing: drawn metal does not say how thick its liner is"}});
  require_readable(arguments.sheet_file);
  std::string words;
  std::string fault;
  if (ending_of(arguments.sheet_file) != ".stl") load_step_reader();
  run_apart(
      1, [&](std::size_t) { return drawing_read(arguments); },
      [&](std::size_t, const Outcome& outcome) {
        words = outcome.words;
        fault = outcome.fault;
      });
  const std::size_t first = words.find(k_part);
  const std::size_t second = first == std::string::npos ? first : words.find(k_part, first + 1);
  if (!fault.empty() || second == std::string::npos)
    throw InputError({Problem{arguments.sheet_file,
                              0,
                              {},
                              {},
                              {},
                              {},
                              fault.empty() ? "could not be read" : "could not be read: " + fault}});
  const std::string faults = words.substr(first + 1, second - first - 1);
  fmt::print("{}", words.substr(0, first));
  std::fflush(stdout);
  for (std::size_t from = 0; from < faults.size();) {
    const std::size_t to = std::min(faults.find('\n', from), faults.size());
    fmt::print(stderr, "linerwright: {}\n", faults.substr(from, to - from));
    from = to + 1;
  }
  if (!faults.empty()) return 2;
  if (arguments.out.empty()) return 0;
  write_text_out(arguments.out, words.substr(second + 1));
  fmt::print("{}: look it over, then linerwright make {}\n", arguments.out, arguments.out);
  return 0;
}

int run(const ReadArguments& arguments) {
  const std::string ending = ending_of(arguments.sheet_file);
  if (ending == ".step" || ending == ".stp") return read_drawing(arguments);
  if (ending == ".stl") {
    if (arguments.units.empty())
      throw InputError({Problem{arguments.sheet_file,
                                0,
                                {},
                                "--units",
                                {},
                                "--units mm or --units in",
                                "is missing: an STL file does not say which unit its numbers have"}});
    return read_drawing(arguments);
  }
  const ReadAnswers answers = answers_of(arguments);
  for (const std::string* out : {&arguments.out, &arguments.save_map}) refuse_existing(*out, arguments.force);
  const std::string bytes = job_file_bytes(arguments.sheet_file);
  const Grid grid = is_workbook(bytes) ? grid_of_workbook(bytes, arguments.sheet_file, answers.sheet)
                                       : grid_of_text(bytes, arguments.sheet_file, answers, job_schema());
  const ReadSheet sheet = read_grid(grid, job_schema(), answers);
  if (!arguments.out.empty()) write_text_out(arguments.out, sheet.job_text);
  if (!arguments.save_map.empty()) write_text_out(arguments.save_map, answers_text(answers, sheet.columns));
  fmt::print("{}", understood_table(sheet));
  if (!arguments.out.empty())
    fmt::print("{}: look it over, then linerwright make {}\n", arguments.out, arguments.out);
  return 0;
}

}  // namespace

void add_read(CLI::App& command, Program& program) {
  auto arguments = std::make_shared<ReadArguments>();
  ReadAnswers& said = arguments->said;
  command
      .add_option("FILE", arguments->sheet_file,
                  "spreadsheet: text with separators, or a workbook (XLSX); drawn metal: a STEP file, or an "
                  "STL file with --units")
      ->required();
  command.add_option("--out", arguments->out, "job file to write; without it the table alone is shown");
  command.add_option("--columns", arguments->map, "map of heads and answers, as --save-columns writes it");
  command.add_option("--save-columns", arguments->save_map,
                     "write the map of what was understood, to be used again");
  command.add_option("--name", arguments->name,
                     "drawn metal: its tag, with numbers for several bodies [the file's name]");
  command
      .add_option("--pieces", arguments->pieces,
                  "drawn metal: gores that line a pressed bend, which metal does not tell [5]")
      ->check(CLI::Range(2, 12));
  command.add_flag("--force", arguments->force, "write over files that are there");
  command.add_option("--sheet", said.sheet, "sheet of a workbook [its first]");
  command
      .add_option("--units", arguments->units,
                  "what lengths without a unit mean, and the numbers of an STL file")
      ->check(CLI::IsMember({"in", "mm"}));
  command.add_option("--decimal", said.decimal, "decimal mark of the whole sheet")
      ->check(CLI::IsMember({"comma", "point"}));
  command
      .add_option(
          "--size-is", said.size_is,
          "which diameter sizes state: the metal's inside, what is left clear, or the metal's outside")
      ->check(CLI::IsMember({"metal", "clear", "outside"}));
  command.add_option("--gores", said.gores, "gores are all pieces of a bend, or those between its ends")
      ->check(CLI::IsMember({"all", "between"}));
  command.add_option("--wye", said.wye, "a wye is a lateral or a Y")->check(CLI::IsMember({"lateral", "y"}));
  command.add_option("--liner", said.liner, "thickness of the liner where no column has it");
  command
      .add_option("--tags", said.tags, "rows: fittings are named after their rows where no column names them")
      ->check(CLI::IsMember({"rows"}));
  command.add_option("--encoding", said.encoding, "what the text is written in [UTF-8 or UTF-16]")
      ->check(CLI::IsMember({"utf-8", "utf-16", "windows-1252"}));
  command.add_option("--fill-down", said.fill_down,
                     "key whose blank cells repeat the one above; may be repeated");
  command.callback([&program, arguments] { program.action = [arguments] { return run(*arguments); }; });
}

}  // namespace linerwright
