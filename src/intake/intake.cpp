#include "linerwright/intake/intake.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cells.hpp"
#include "linerwright/job/toml_file.hpp"
#include "rows.hpp"

namespace linerwright {

namespace {

// "Units: mm", "# units = in", "All dimensions in inches" above the heads.
std::optional<Units> units_in_titles(const Grid& grid, const IntakeHead& head, std::string& where) {
  std::optional<Units> units;
  for (std::size_t r = 0; r < head.row; ++r) {
    std::string words;
    for (const GridCell& cell : grid.rows[r].cells)
      words += (words.empty() ? "" : " ") + plain_words(cell.text);
    words = " " + words + " ";
    for (const std::string_view said :
         {" units ", " units in ", " dimensions in ", " dims in ", " dimensions are in ", " no units "}) {
      for (const auto& [word, unit] :
           std::initializer_list<std::pair<std::string_view, Units>>{{"mm ", Units::metric},
                                                                     {"millimetres ", Units::metric},
                                                                     {"millimeters ", Units::metric},
                                                                     {"in ", Units::inch},
                                                                     {"inch ", Units::inch},
                                                                     {"inches ", Units::inch}}) {
        if (words.find(std::string(said) + std::string(word)) == std::string::npos) continue;
        if (units && *units != unit) return std::nullopt;
        units = unit;
        where = fmt::format("line {}", grid.rows[r].line);
      }
    }
  }
  return units;
}

// A row of units right under the heads: mm, deg, no.
bool take_unit_row(const Grid& grid, IntakeHead& head) {
  if (head.row + 1 >= grid.rows.size()) return false;
  const GridRow& row = grid.rows[head.row + 1];
  std::map<std::size_t, std::string> units;
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    const std::string& text = row.cells[i].text;
    if (text.empty() || says_nothing_at_all(text)) continue;
    const HeadWords words = head_words("length (" + text + ")", {});
    if (row.cells[i].number || (words.unit.empty() && plain_words(text) != "no")) return false;
    if (i < head.columns.size()) units[i] = words.unit;
  }
  if (units.empty()) return false;
  for (const auto& [i, unit] : units)
    if (head.columns[i].words.unit.empty()) head.columns[i].words.unit = unit;
  head.row += 1;
  return true;
}

// A job file while it is written; lines are known by the rows they came from.
struct JobText {
  std::string text;
  std::map<int, int> rows;  // line of the job file -> line of the sheet
  int line = 1;

  void add(const std::string& one, int row = 0) {
    text += one + "\n";
    if (row > 0) rows[line] = row;
    line += 1 + static_cast<int>(std::count(one.begin(), one.end(), '\n'));
  }
};

// A sentence within a comment of one line.
std::string comment(std::string text) {
  std::replace_if(
      text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; },
      ' ');
  return "# " + text;
}

std::string file_name(const std::string& path) {
  const std::size_t slash = path.find_last_of("/\\");
  return slash == std::string::npos ? path : path.substr(slash + 1);
}

JobText job_of(const Grid& grid, const IntakeRows& rows, const JobSchema& schema, const ReadAnswers& answers,
               const std::string& told) {
  JobText job;
  job.add(comment(fmt::format("Read from {}: look it over before it is made.", file_name(grid.file))));
  if (!told.empty()) job.add(comment(told));
  job.add(fmt::format("\n[job]\nunits = \"{}\"", answers.units ? (*answers.units == Units::inch ? "in" : "mm")
                                                 : rows.inches > rows.metric ? "in"
                                                                             : "mm"));
  if (!answers.size_is.empty()) job.add("size_is = " + toml_text(answers.size_is));
  if (!answers.liner.empty()) job.add("\n[liner]\nthickness = " + toml_text(answers.liner));
  if (!answers.defaults.empty()) job.add("\n" + answers.defaults);
  for (const IntakeFitting& fitting : rows.fittings) {
    job.add("");
    job.add(fmt::format("[[fitting]]  # line {}", fitting.line), fitting.line);
    job.add("tag = " + toml_text(fitting.tag), fitting.line);
    job.add("kind = " + toml_text(fitting.kind), fitting.line);
    if (!fitting.count.empty()) job.add("count = " + fitting.count, fitting.line);
    for (const auto& [key, value] : fitting.values) {
      const KeySpec* spec = intake_key(schema, fitting.kind, key);
      job.add(key + " = " + (spec == nullptr ? toml_text(value) : toml_value(*spec, value)), fitting.line);
    }
  }
  return job;
}

// How a value that no column holds is said: in a column, or once for all fittings of the kind.
std::string answer_for(const Problem& problem, const std::map<std::string, std::string>& kinds) {
  const auto kind = kinds.find(problem.tag);
  if (kind == kinds.end()) return "in a column " + problem.key;
  return fmt::format(
      "in a column {0}, or once for all in a map for --columns: [[default]] kind = \"{1}\" and {0} = ...",
      problem.key, kind->second);
}

// What the job tells of itself, such as defaults that it used, without places in a file that is not there
// yet.
std::vector<std::string> told_by(const Job& job) {
  std::vector<std::string> lines;
  for (std::string note : job.notes) {
    const std::string place = " of line ";
    const std::size_t at = note.find("[[default]]" + place);
    if (at != std::string::npos) {
      const std::size_t from = at + 11;
      const std::size_t to = note.find_first_not_of("0123456789", from + place.size());
      note.erase(from, std::min(to, note.size()) - from);
    }
    lines.push_back(std::move(note));
  }
  return lines;
}

// The job file read back: what `make` would refuse is told by the sheet's lines. Returns what the job tells.
std::vector<std::string> prove(const JobText& job, const Grid& grid, const JobSchema& schema,
                               const IntakeRows& rows, std::vector<Problem>& problems) {
  std::map<std::string, std::string> kinds;  // of tags
  for (const IntakeFitting& fitting : rows.fittings) kinds[fitting.tag] = fitting.kind;
  const auto told = [&](const std::vector<Problem>& found) {
    for (Problem problem : found) {
      const auto row = job.rows.find(problem.line);
      problem.file = grid.file;
      problem.line = row == job.rows.end() ? 0 : row->second;
      // places within the job file are those of the sheet
      const std::string place = "tag of line ";
      if (const std::size_t at = problem.reason.find(place); at != std::string::npos) {
        const std::size_t from = at + place.size();
        const std::size_t to =
            std::min(problem.reason.find_first_not_of("0123456789", from), problem.reason.size());
        const auto other = to > from && to - from < 9
                               ? job.rows.find(std::stoi(problem.reason.substr(from, to - from)))
                               : job.rows.end();
        if (other != job.rows.end()) problem.reason.replace(from, to - from, std::to_string(other->second));
      }
      if (problem.key == "thickness" && problem.value.empty()) {
        problem.allowed = "--liner 1in, or a column Liner";
        problem.reason = "is missing: the sheet does not say how thick the liner is";
      } else if (problem.reason.substr(0, 10) == "is missing") {
        problem.allowed += (problem.allowed.empty() ? "" : ", ") + answer_for(problem, kinds);
      }
      problems.push_back(std::move(problem));
    }
  };
  try {
    const Job read = read_job_text(job.text, "job.toml", schema);
    told(read.problems);
    return told_by(read);
  } catch (const InputError& error) {
    told(error.problems());
    return {};
  }
}

std::vector<ReadColumn> columns_of(const Grid& grid, const IntakeHead& head) {
  std::vector<ReadColumn> columns;
  for (std::size_t i = 0; i < head.columns.size(); ++i) {
    const IntakeColumn& column = head.columns[i];
    ReadColumn read{column.head, column.words.meaning == "left" ? "" : column.words.meaning,
                    column.words.unit, column.how, 0};
    for (std::size_t r = head.row + 1; r < grid.rows.size(); ++r)
      if (i < grid.rows[r].cells.size() && !says_nothing_at_all(grid.rows[r].cells[i].text)) ++read.filled;
    if (column.head.empty() && read.filled == 0) continue;
    if (read.meaning.empty() && read.how == "by its head") read.how = "nothing to do with the work";
    columns.push_back(std::move(read));
  }
  return columns;
}

void check_answers(const ReadAnswers& answers, const JobSchema& schema, const IntakeHead& head) {
  const std::vector<std::string> keys = keys_known(schema);
  std::vector<Problem> problems;
  for (const auto& [column, key] : answers.columns) {
    const bool known = key.empty() || key == "note" || key == "gores" ||
                       std::find(keys.begin(), keys.end(), key) != keys.end();
    const std::string near = nearest_name(key, keys);
    if (!known)
      problems.push_back({answers.file, 0, "", column, key, "",
                          "is no key of a job file" + (near.empty() ? "" : ", did you mean " + near + "?")});
    const bool there = std::any_of(head.columns.begin(), head.columns.end(),
                                   [&, name = column](const IntakeColumn& c) { return c.head == name; });
    if (!there)
      problems.push_back(
          {answers.file, 0, "", "[columns]", column, "", "the sheet has no column with this head"});
  }
  if (!problems.empty()) throw InputError(std::move(problems));
}

}  // namespace

ReadSheet read_grid(const Grid& grid, const JobSchema& schema, const ReadAnswers& given) {
  ReadAnswers answers = given;
  IntakeHead head = find_head(grid, schema, answers);
  check_answers(answers, schema, head);
  std::string where;
  if (!answers.units) answers.units = units_in_titles(grid, head, where);
  take_unit_row(grid, head);
  std::vector<Problem> problems;
  settle_columns(head, grid, schema, answers, problems);
  if (!problems.empty()) throw InputError(std::move(problems));
  DecimalMarks marks(answers.decimal);
  for (std::size_t r = head.row + 1; r < grid.rows.size(); ++r)
    for (std::size_t i = 0; i < grid.rows[r].cells.size(); ++i) {
      const GridCell& cell = grid.rows[r].cells[i];
      if (!cell.number && is_measure(head.columns[i].words.meaning, schema))
        marks.look(cell.text, grid.rows[r].line);
    }
  if (const auto question = marks.question(grid.file)) throw InputError({*question});
  IntakeRows rows = read_rows(grid, head, marks, schema, answers, answers.units, problems);
  if (rows.fittings.empty() && problems.empty())
    problems.push_back(
        {grid.file, grid.rows[head.row].line, "", "", "", "", "no row under the heads is a fitting"});

  ReadSheet sheet;
  sheet.told = grid.told;
  if (const std::string told = marks.told(); !told.empty())
    sheet.told += (sheet.told.empty() ? "" : "; ") + told;
  if (!where.empty())
    sheet.told +=
        fmt::format("; lengths in {}, because of {}", *answers.units == Units::inch ? "inches" : "mm", where);
  sheet.columns = columns_of(grid, head);
  if (problems.empty()) {
    const JobText job = job_of(grid, rows, schema, answers, sheet.told);
    sheet.told_by_job = prove(job, grid, schema, rows, problems);
    sheet.job_text = job.text;
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  sheet.left = std::move(rows.left);
  for (const auto& [what, tags] : rows.assumed) {
    std::string line = what + ":";
    for (std::size_t i = 0; i < std::min<std::size_t>(tags.size(), 8); ++i) line += " " + tags[i];
    if (tags.size() > 8) line += fmt::format(" and {} more", tags.size() - 8);
    sheet.assumed.push_back(std::move(line));
  }
  sheet.rows = rows.fittings.size();
  for (const IntakeFitting& fitting : rows.fittings)
    sheet.fittings += fitting.count.empty() ? 1 : std::stol(fitting.count);
  return sheet;
}

std::string understood_table(const ReadSheet& sheet) {
  std::size_t head = 6;
  std::size_t meaning = 10;
  for (const ReadColumn& column : sheet.columns) {
    head = std::max(head, column.head.size());
    meaning = std::max(meaning, column.meaning.size() + column.unit.size() + 3);
  }
  head = std::min<std::size_t>(head, 40);
  std::string out = sheet.told.empty() ? "" : sheet.told + "\n";
  out += fmt::format("{:<{}}  {:<{}}  {:>6}  {}\n", "column", head, "understood", meaning, "cells", "why");
  for (const ReadColumn& column : sheet.columns) {
    const std::string title = column.head.empty() ? "(no head)" : shown_text(column.head);
    const std::string what = column.meaning.empty()
                                 ? "left"
                                 : column.meaning + (column.unit.empty() ? "" : " (" + column.unit + ")");
    out += fmt::format("{:<{}}  {:<{}}  {:>6}  {}\n", title, head, what, meaning, column.filled, column.how);
  }
  for (const std::string& line : sheet.left) out += "left: " + line + "\n";
  for (const std::string& line : sheet.assumed) out += "assumed: " + line + "\n";
  for (const std::string& line : sheet.told_by_job) out += "note: " + line + "\n";
  out += fmt::format("{} rows, {} fittings\n", sheet.rows, sheet.fittings);
  return out;
}

}  // namespace linerwright
