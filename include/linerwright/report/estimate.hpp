// What a job costs to line: boards, tape, sealant, adhesive, pins and hours, at the shop's own rates. Nothing
// is assumed where no rate is given.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/report/totals.hpp"

namespace linerwright {

// Something that is bought in whole units: a roll of tape, a tube of sealant, a box of pins.
struct BoughtRate {
  double holds = 0.0;  // mm, mm2 or pieces of it in one
  double price = 0.0;  // of one, in the job's money
};

// The table [rates]; what it does not say is no part of the estimate.
struct Rates {
  std::string currency;
  std::optional<long> boards_in_pack;  // boards are bought in packs of so many, at the stock's cost each
  std::optional<BoughtRate> tape, sealant, adhesive, pins;
  std::optional<double> hour_price;
  double minutes_per_metre_cut = 0.0;  // of the knife, by hand or with the table's attendant
  double minutes_per_piece = 0.0;      // to roll and fit
  double minutes_per_area = 0.0;       // likewise, for each m2 of liner
  bool any_minutes = false;
};

// Throws InputError naming the key for a price without what it buys, or two units of one rate.
Rates rates_of(const Values& table);

// Of one fitting times its count, shares of what is bought; or of the job, whole units.
struct EstimateFigures {
  std::optional<double> board, tape, sealant, adhesive, pins;  // money
  std::optional<double> hours;
  std::optional<double> labour;  // money
  double sum() const;            // of what is there
};

struct EstimateRow {
  std::string tag;
  std::string kind;
  long count = 1;
  EstimateFigures figures;
};

// One line of what is bought: 3 rolls of tape, of 45 m each, for the 103.2 m that are needed.
struct BoughtLine {
  std::string what;
  double needed = 0.0;  // mm, mm2 or pieces
  double holds = 1.0;   // one, likewise
  Quantity quantity = Quantity::number;
  long units = 0;
  double price = 0.0;  // of all
};

struct Estimate {
  std::string job;
  Units units = Units::metric;
  Rates rates;
  std::vector<EstimateRow> rows;
  std::vector<BoughtLine> bought;
  EstimateFigures all;
  std::vector<std::string> notes;  // what is assumed and what is left out, a line each
};

// `plan` are the job's boards; without any, boards are left out with a note.
Estimate estimate_of(const JobTotals& totals, const BoardPlan& plan, const Rates& rates);

// For a terminal, at most 100 columns; a table for a spreadsheet; everything.
std::string estimate_table(const Estimate& estimate);
std::string estimate_csv(const Estimate& estimate);
std::string estimate_json(const Estimate& estimate);
// Sums of several estimates of one job, side by side: one of each thickness.
std::string estimates_table(const std::vector<std::pair<std::string, Estimate>>& estimates);

}  // namespace linerwright
