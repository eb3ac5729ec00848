// What a whole job needs, for the estimator: board, tape, sealant, fasteners and metal. Lengths mm, areas
// mm2, masses kg; totals_json writes the same units, totals_table and totals_csv the job's. Figures are held
// to a fixed resolution (1e-6 mm, 1e-3 mm2, 1e-9 kg, 1e-6 s) and added as whole numbers, so sums do not
// depend on the order, and totals of shares of a job add up to the totals of the whole.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

// How the metal is counted.
struct TotalsRules {
  double metal_density = 0.0;         // kg/m3
  std::optional<double> inner_gauge;  // of the inner wall that double-wall duct would have; none: not asked
  double inner_open = 0.0;            // share of the inner wall that is perforated away, 0 to 1
};

// Of one fitting, or of several together.
struct TotalsFigures {
  double pieces = 0.0;       // to roll and fit
  double board_area = 0.0;   // inside the contours to cut, allowances included
  double liner_area = 0.0;   // outer faces of all layers, as fitted
  double liner_mass = 0.0;   // as fitted
  double tape = 0.0;         // length of the seams on the air face, notches included
  double sealant = 0.0;      // length of the joints between pieces on the air face
  double fasteners = 0.0;    // by the liner's pin_ keys
  double metal_area = 0.0;   // inside surface; laps, seams and flanges are not counted
  double metal_mass = 0.0;   // likewise
  double spared_area = 0.0;  // inner wall of a double-wall duct of the same bore; 0 unless asked for
  double spared_mass = 0.0;  // likewise
};

enum class TotalsUnit { count, length, area, mass };

// One of the figures: its key in files, its name in tables.
struct TotalsFigure {
  const char* key;
  const char* label;
  TotalsUnit unit;
  double TotalsFigures::*value;
};
// All of them, in the order of files and tables.
const std::vector<TotalsFigure>& totals_figures();

struct TotalsRow {
  std::string tag;
  std::string kind;
  long count = 1;
  TotalsFigures each;  // of one of them
};

// Boards taken of one kind of stock, where the job was nested.
struct TotalsStock {
  std::string name;
  long boards = 0;
  double stock_area = 0.0;  // of a roll what was cut off it
  double piece_area = 0.0;  // outlines less holes
  double knife_length = 0.0;
  double cutting_time = 0.0;   // s, estimated
  std::optional<double> cost;  // in the job's money; none where the stock states none
  double yield() const { return stock_area > 0.0 ? piece_area / stock_area : 0.0; }
};

struct JobTotals {
  std::string job;      // its name; may be empty
  std::string version;  // of the program that made it
  Units units = Units::metric;
  TotalsRules rules;
  std::vector<TotalsRow> rows;
  std::vector<TotalsStock> stock;  // empty: not nested
  long left_out = 0;               // fittings that could not be made and are in no figure
  long missing = 0;                // fittings of the job that nobody has asked for yet, likewise
  long older = 0;                  // fittings whose figures are of an older state of the job
  bool boards_older = false;       // the boards are of another state of the job
};

// From a job's [totals] table; null: the defaults.
TotalsRules totals_rules(const Values* table);
// The figures of one fitting. `patterns` are make_patterns() of it.
TotalsRow totals_row(const Fitting& fitting, const std::vector<Pattern>& patterns, const TotalsRules& rules);

// Of all fittings, each times its count.
TotalsFigures sum_of(const std::vector<TotalsRow>& rows);
// Of all boards; the name is empty, and the cost missing where that of any is.
TotalsStock sum_of(const std::vector<TotalsStock>& stock);

// Cells in the job's units under heads that name them; the first column is words.
struct TotalsCells {
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>> rows;
};
// A line for each kind of fitting and one for all; then boards, where the job was nested.
std::vector<TotalsCells> totals_cells(const JobTotals& totals);
// What a reader of the figures must know, a line each: fittings that are in no figure, figures that are older
// than the job.
std::vector<std::string> totals_notes(const JobTotals& totals);
// Cells and notes as text of at most 100 columns.
std::string totals_table(const JobTotals& totals);
// A line for each fitting with the figures of all its count, so that columns add up to the last line; then a
// line for each stock.
std::string totals_csv(const JobTotals& totals);
// Everything, rows in full resolution.
std::string totals_json(const JobTotals& totals);
// What totals_json wrote. Throws InputError naming the file.
JobTotals totals_from_json(const std::filesystem::path& file);

// The totals of one share of a job, as `make --shard` leaves them; of a whole job: share 1 of 1.
struct TotalsShare {
  std::filesystem::path file;
  std::size_t share = 1;
  std::size_t of = 1;
  JobTotals totals;
};
// "totals" of a whole job, "totals-2-3" of share 2 of 3: the names of the files without their ending.
std::string totals_stem(std::size_t share, std::size_t of);
// The shares in the out folders of several runs; a folder's totals of a whole job count only where it has no
// shares. Throws InputError for folders without any.
std::vector<TotalsShare> read_shares(const std::vector<std::filesystem::path>& folders);
// All shares of one job added up, fittings in the job's order. Throws InputError where a share is missing or
// there twice, a tag is in two, or they are not of one job, one version and one set of rules.
JobTotals joined(std::vector<TotalsShare> shares);

}  // namespace linerwright
