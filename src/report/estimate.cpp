#include "linerwright/report/estimate.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_foot = 304.8;  // mm
constexpr double k_metre = 1000.0;

Problem problem_at(const Values& table, const std::string& key, std::string allowed, std::string reason) {
  const Value* value = table.find(key);
  return {value->file,        value->line,      {}, "rates: " + key, value->written,
          std::move(allowed), std::move(reason)};
}

std::optional<BoughtRate> bought_rate(const Values& table, const std::string& holds, const std::string& price,
                                      std::vector<Problem>& problems) {
  for (const auto& [key, other] : {std::pair{price, holds}, std::pair{holds, price}})
    if (table.has(key) && !table.has(other)) {
      problems.push_back(problem_at(table, key, "together with " + other, "says nothing alone"));
      return std::nullopt;
    }
  if (!table.has(holds)) return std::nullopt;
  return BoughtRate{table.quantity(holds), table.quantity(price)};
}

// A rate in one of two units.
double minutes(const Values& table, const std::string& metric, const std::string& inch, double inch_to_metric,
               std::vector<Problem>& problems) {
  if (table.has(metric) && table.has(inch))
    problems.push_back(
        problem_at(table, inch, metric + " or " + inch, "both say the same thing; give only one"));
  if (table.has(metric)) return table.quantity(metric);
  return table.has(inch) ? table.quantity(inch) * inch_to_metric : 0.0;
}

double ring_lengths(const Region& region) {
  double sum = polyline_length(region.outer, true);
  for (const Ring& hole : region.holes) sum += polyline_length(hole, true);
  return sum;
}

// What the boards say of each fitting: its pieces' contours and its share of what its boards cost.
struct OfBoards {
  double cut = 0.0;
  std::optional<double> cost;
};

std::map<std::string, OfBoards> of_boards(const BoardPlan& plan) {
  std::map<std::string, OfBoards> all;
  for (const PlannedBoard& board : plan.boards)
    for (const PlacedPiece& piece : board.pieces) {
      const BoardPart& part = plan.parts[piece.part];
      OfBoards& of = all[part.tag];
      of.cut += ring_lengths(part.pattern.cut);
      for (const auto& line : part.pattern.open_cuts) of.cut += polyline_length(line, false);
      if (board.cost && board.piece_area > 0.0)
        of.cost = of.cost.value_or(0.0) + *board.cost * area(part.pattern.cut) / board.piece_area;
    }
  return all;
}

long units_of(double needed, double holds) {
  return static_cast<long>(std::ceil(needed / holds * (1.0 - 1e-12)));
}

void add(std::optional<double>& sum, const std::optional<double>& value) {
  if (value) sum = sum.value_or(0.0) + *value;
}

class Estimator {
 public:
  Estimator(const JobTotals& totals, const BoardPlan& plan, const Rates& rates)
      : totals_(totals), plan_(plan), rates_(rates), of_boards_(of_boards(plan)) {}

  Estimate run() {
    estimate_.job = totals_.job;
    estimate_.units = totals_.units;
    estimate_.rates = rates_;
    for (const TotalsRow& row : totals_.rows) estimate_.rows.push_back(row_of(row));
    buy_boards();
    const TotalsFigures all = sum_of(totals_.rows);
    buy("roll of tape", rates_.tape, all.tape, Quantity::length, estimate_.all.tape);
    buy("tube of sealant", rates_.sealant, all.sealant, Quantity::length, estimate_.all.sealant);
    buy("tube of adhesive", rates_.adhesive, all.liner_area, Quantity::area, estimate_.all.adhesive);
    buy("box of pins", rates_.pins, all.fasteners, Quantity::number, estimate_.all.pins);
    for (const EstimateRow& row : estimate_.rows) {
      add(estimate_.all.hours, row.figures.hours);
      add(estimate_.all.labour, row.figures.labour);
    }
    note();
    return std::move(estimate_);
  }

 private:
  const JobTotals& totals_;
  const BoardPlan& plan_;
  const Rates& rates_;
  std::map<std::string, OfBoards> of_boards_;
  Estimate estimate_;
  bool boards_priced_ = false;

  EstimateRow row_of(const TotalsRow& row) const {
    EstimateRow out{row.tag, row.kind, row.count, {}};
    const auto count = static_cast<double>(row.count);
    const auto share = [&](const std::optional<BoughtRate>& rate, double each) -> std::optional<double> {
      if (!rate) return std::nullopt;
      return each * count / rate->holds * rate->price;
    };
    const auto found = of_boards_.find(row.tag);
    const OfBoards of = found == of_boards_.end() ? OfBoards{} : found->second;
    out.figures.board = of.cost;
    out.figures.tape = share(rates_.tape, row.each.tape);
    out.figures.sealant = share(rates_.sealant, row.each.sealant);
    out.figures.adhesive = share(rates_.adhesive, row.each.liner_area);
    out.figures.pins = share(rates_.pins, row.each.fasteners);
    if (rates_.any_minutes) {
      const double minutes = rates_.minutes_per_metre_cut * of.cut / k_metre +
                             rates_.minutes_per_piece * row.each.pieces * count +
                             rates_.minutes_per_area * row.each.liner_area * count * 1e-6;
      out.figures.hours = minutes / 60.0;
      if (rates_.hour_price) out.figures.labour = *out.figures.hours * *rates_.hour_price;
    }
    return out;
  }

  void buy_boards() {
    for (const TotalsStock& stock : stock_of(plan_)) {
      if (!stock.cost || stock.boards == 0) continue;
      boards_priced_ = true;
      const double each = *stock.cost / static_cast<double>(stock.boards);
      const bool packs = rates_.boards_in_pack && !is_roll(stock.name);
      const long per = packs ? *rates_.boards_in_pack : 1;
      const long units = (stock.boards + per - 1) / per;
      const char* what = packs ? "pack of boards " : is_roll(stock.name) ? "piece of roll " : "board ";
      estimate_.bought.push_back({what + stock.name, static_cast<double>(stock.boards),
                                  static_cast<double>(per), Quantity::number, units,
                                  static_cast<double>(units * per) * each});
      add(estimate_.all.board, estimate_.bought.back().price);
    }
  }

  bool is_roll(const std::string& name) const {
    return std::any_of(plan_.stock.begin(), plan_.stock.end(),
                       [&](const BoardStock& stock) { return stock.roll && stock.name == name; });
  }

  static std::vector<TotalsStock> stock_of(const BoardPlan& plan) {
    std::vector<TotalsStock> all;
    for (std::size_t s = 0; s < plan.stock.size(); ++s) {
      TotalsStock one;
      one.name = plan.stock[s].name;
      double cost = 0.0;
      for (const PlannedBoard& board : plan.boards)
        if (board.stock == s) {
          ++one.boards;
          cost += board.cost.value_or(0.0);
        }
      if (plan.stock[s].cost && plan.stock[s].remnant.empty()) one.cost = cost;
      all.push_back(std::move(one));
    }
    return all;
  }

  void buy(const char* what, const std::optional<BoughtRate>& rate, double needed, Quantity quantity,
           std::optional<double>& sum) {
    if (!rate) return;
    const long count = units_of(needed, rate->holds);
    estimate_.bought.push_back(
        {what, needed, rate->holds, quantity, count, static_cast<double>(count) * rate->price});
    sum = estimate_.bought.back().price;
  }

  void note() {
    std::vector<std::string>& notes = estimate_.notes;
    notes.emplace_back(
        "a fitting bears its share of what is bought; the job pays whole boards, packs, rolls, tubes and "
        "boxes");
    if (boards_priced_)
      notes.emplace_back("what a board costs is shared out among its pieces by their area, waste included");
    std::string without;
    const auto leave = [&](bool there, const char* what) {
      if (!there) without += (without.empty() ? "" : ", ") + std::string(what);
    };
    leave(boards_priced_, "boards (cost in [[stock]])");
    leave(rates_.tape.has_value(), "tape");
    leave(rates_.sealant.has_value(), "sealant");
    leave(rates_.adhesive.has_value(), "adhesive");
    leave(rates_.pins.has_value(), "pins");
    leave(rates_.any_minutes, "hours");
    leave(rates_.hour_price.has_value() && rates_.any_minutes, "pay");
    if (!without.empty()) notes.push_back("no rate is given, so the estimate is without: " + without);
    notes.emplace_back("without metal, delivery, travel, overheads and tax");
    for (const std::string& line : totals_notes(totals_)) notes.push_back(line);
    if (!plan_.problems.empty())
      notes.push_back(
          fmt::format("{} pieces are on no board and in no price of boards", plan_.problems.size()));
  }
};

}  // namespace

double EstimateFigures::sum() const {
  double sum = 0.0;
  for (const std::optional<double>& part : {board, tape, sealant, adhesive, pins, labour})
    sum += part.value_or(0.0);
  return sum;
}

Rates rates_of(const Values& table) {
  std::vector<Problem> problems;
  Rates rates;
  if (table.has("currency")) rates.currency = table.text("currency");
  if (table.has("boards_in_pack")) rates.boards_in_pack = table.integer("boards_in_pack");
  rates.tape = bought_rate(table, "tape_roll", "tape_roll_price", problems);
  rates.sealant = bought_rate(table, "sealant_tube", "sealant_tube_price", problems);
  rates.adhesive = bought_rate(table, "adhesive_tube", "adhesive_tube_price", problems);
  rates.pins = bought_rate(table, "pin_box", "pin_box_price", problems);
  rates.hour_price = table.maybe("hour_price");
  rates.minutes_per_metre_cut =
      minutes(table, "minutes_per_m_of_cut", "minutes_per_ft_of_cut", k_metre / k_foot, problems);
  rates.minutes_per_piece = table.maybe("minutes_per_piece").value_or(0.0);
  rates.minutes_per_area =
      minutes(table, "minutes_per_m2", "minutes_per_ft2", k_metre * k_metre / (k_foot * k_foot), problems);
  rates.any_minutes = rates.minutes_per_metre_cut + rates.minutes_per_piece + rates.minutes_per_area > 0.0;
  if (rates.hour_price && !rates.any_minutes)
    problems.push_back(problem_at(table, "hour_price",
                                  "together with minutes_per_piece, minutes_per_m2 or ...",
                                  "pays for no minutes"));
  if (!problems.empty()) throw InputError(std::move(problems));
  return rates;
}

Estimate estimate_of(const JobTotals& totals, const BoardPlan& plan, const Rates& rates) {
  return Estimator(totals, plan, rates).run();
}

}  // namespace linerwright
