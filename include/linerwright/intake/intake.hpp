// Spreadsheets as people keep them, with heads of their own, read into a job file to look over. What can be
// read in two ways is asked, never guessed: every question is a mistake of the sheet that says how it is
// answered.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright {

struct GridCell {
  std::string text;     // UTF-8
  bool number = false;  // held as a number by the workbook: no question of decimal marks
};

struct GridRow {
  int line = 0;  // of the file, or the row of the workbook
  std::vector<GridCell> cells;
};

// Cells in rows, whatever they came from. Blank rows are left out.
struct Grid {
  std::string file;
  std::string told;  // how it was read: "separated by semicolons, UTF-16"
  std::vector<GridRow> rows;
  std::vector<std::string> others;  // sheets of the workbook that are shown besides
};

// What a person says beside the sheet: flags of `read`, or a map that was saved.
struct ReadAnswers {
  std::string file;                                          // of the map, for messages
  std::vector<std::pair<std::string, std::string>> columns;  // head as written -> key; empty: left out
  std::optional<Units> units;                                // of bare lengths
  std::string decimal;                                       // comma, point
  std::string gores;                                         // all, between
  std::string wye;                                           // lateral, y
  std::string size_is;                                       // metal, clear, outside
  std::string tags;                    // rows: a tag for each row where no column has them
  std::string encoding;                // utf-8, utf-16, windows-1252
  std::string sheet;                   // of a workbook; empty: its first
  std::string liner;                   // thickness, as written
  std::vector<std::string> fill_down;  // keys whose blank cells repeat the one above
  std::string defaults;                // [[default]] tables, as they stand in the map
};

// One column and what was made of it.
struct ReadColumn {
  std::string head;
  std::string meaning;  // empty: left
  std::string unit;
  std::string how;  // "by its head", "by the map", why it was left
  std::size_t filled = 0;
};

struct ReadSheet {
  std::string told;
  std::string job_text;  // a job file
  std::vector<ReadColumn> columns;
  std::vector<std::string> left;         // rows that are no fittings, a line each
  std::vector<std::string> assumed;      // what the trade's habit filled in, a line each
  std::vector<std::string> told_by_job;  // such as defaults that were used, a line each
  std::size_t rows = 0;
  long fittings = 0;  // counts added up
};

// Whether the bytes are those of a workbook (XLSX) rather than text.
bool is_workbook(std::string_view bytes);

// Text separated by commas, semicolons, tabs or bars in UTF-8, UTF-16 or, where told, Windows-1252. Throws
// InputError.
Grid grid_of_text(std::string_view bytes, const std::string& file, const ReadAnswers& answers,
                  const JobSchema& schema);

// The named sheet of a workbook, or its first. Throws InputError.
Grid grid_of_workbook(std::string_view bytes, const std::string& file, const std::string& sheet);

// The sheet as a job. Throws InputError with all mistakes and questions.
ReadSheet read_grid(const Grid& grid, const JobSchema& schema, const ReadAnswers& answers);

// A map as `answers_text` writes it: [columns], [sheet] and [[default]]. Throws InputError.
ReadAnswers read_answers(std::string_view text, const std::string& file);
// The map of what was understood, to be used again.
std::string answers_text(const ReadAnswers& answers, const std::vector<ReadColumn>& columns);

// The table of what was understood from what, and what was left.
std::string understood_table(const ReadSheet& sheet);

}  // namespace linerwright
