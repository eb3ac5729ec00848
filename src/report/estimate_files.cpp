// An estimate as a table, as comma-separated values and as JSON.
#include <algorithm>

#include <fmt/format.h>

#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/report/estimate.hpp"
#include "linerwright/units/json.hpp"
#include "text_table.hpp"
#include "totals_units.hpp"

namespace linerwright {

namespace {

struct Figure {
  const char* key;
  std::optional<double> EstimateFigures::*value;
  int decimals;
};

const std::vector<Figure>& figures() {
  static const std::vector<Figure> all{
      {"board", &EstimateFigures::board, 2},     {"tape", &EstimateFigures::tape, 2},
      {"sealant", &EstimateFigures::sealant, 2}, {"adhesive", &EstimateFigures::adhesive, 2},
      {"pins", &EstimateFigures::pins, 2},       {"hours", &EstimateFigures::hours, 2},
      {"labour", &EstimateFigures::labour, 2}};
  return all;
}

std::string cell(const std::optional<double>& value, int decimals) {
  return value ? fmt::format("{:.{}f}", *value, decimals) : std::string();
}

std::vector<std::string> cells_of(const EstimateFigures& of) {
  std::vector<std::string> cells;
  for (const Figure& figure : figures()) cells.push_back(cell(of.*figure.value, figure.decimals));
  cells.push_back(fmt::format("{:.2f}", of.sum()));
  return cells;
}

// Metres or feet, square metres or feet, pieces.
std::string amount(Quantity quantity, double value, Units units) {
  if (quantity == Quantity::number) return trimmed(value, 3);
  if (quantity == Quantity::area) return format_quantity(quantity, value, units, 2);
  const TotalsUnit unit = TotalsUnit::length;
  return fmt::format("{} {}", trimmed(in_unit(unit, value, units), 1), unit_of(unit, units));
}

std::string price_head(const Estimate& estimate) {
  return estimate.rates.currency.empty() ? "price" : "price " + estimate.rates.currency;
}

}  // namespace

std::string estimate_table(const Estimate& estimate) {
  std::vector<Column> columns{{"tag", true}, {"kind", true}, {"count"}};
  for (const Figure& figure : figures()) columns.push_back({figure.key});
  columns.push_back({price_head(estimate)});
  std::vector<std::vector<std::string>> rows;
  for (const EstimateRow& row : estimate.rows) {
    rows.push_back({row.tag, kind_title(row.kind), std::to_string(row.count)});
    const std::vector<std::string> cells = cells_of(row.figures);
    rows.back().insert(rows.back().end(), cells.begin(), cells.end());
  }
  rows.push_back({"the job", "", ""});
  const std::vector<std::string> cells = cells_of(estimate.all);
  rows.back().insert(rows.back().end(), cells.begin(), cells.end());
  std::string text = text_table(columns, rows) + "\n";
  std::vector<std::vector<std::string>> bought;
  for (const BoughtLine& line : estimate.bought)
    bought.push_back({line.what, amount(line.quantity, line.needed, estimate.units),
                      amount(line.quantity, line.holds, estimate.units), std::to_string(line.units),
                      fmt::format("{:.2f}", line.price)});
  if (!bought.empty())
    text +=
        text_table({{"to buy", true}, {"needed"}, {"one holds"}, {"whole"}, {price_head(estimate)}}, bought) +
        "\n";
  for (const std::string& note : estimate.notes) text += wrapped("", note);
  return text;
}

std::string estimate_csv(const Estimate& estimate) {
  std::string text = "tag,kind,count";
  for (const Figure& figure : figures()) text += std::string(",") + figure.key;
  text += ",price\n";
  const auto line = [&](const std::string& tag, const std::string& kind, const std::string& count,
                        const EstimateFigures& of) {
    text += csv_cell(tag) + "," + kind + "," + count;
    for (const std::string& each : cells_of(of)) text += "," + each;
    text += "\n";
  };
  for (const EstimateRow& row : estimate.rows)
    line(row.tag, row.kind, std::to_string(row.count), row.figures);
  line("the job in whole units", "", "", estimate.all);
  return text;
}

std::string estimate_json(const Estimate& estimate) {
  JsonWriter json;
  const auto write = [&](const EstimateFigures& of) {
    for (const Figure& figure : figures()) json.key(figure.key).number(of.*figure.value);
    json.key("price").number(of.sum(), 6);
  };
  json.begin_object();
  json.key("format").integer(k_json_format);
  json.key("units").text("money, hours; needed in mm, mm2 or pieces");
  json.key("currency").text(estimate.rates.currency);
  json.key("fittings").begin_array();
  for (const EstimateRow& row : estimate.rows) {
    json.begin_object().key("tag").text(row.tag).key("kind").text(row.kind).key("count").integer(row.count);
    write(row.figures);
    json.end_object();
  }
  json.end_array();
  json.key("bought").begin_array();
  for (const BoughtLine& line : estimate.bought)
    json.begin_object()
        .key("what")
        .text(line.what)
        .key("needed")
        .number(line.needed, 6)
        .key("holds")
        .number(line.holds, 6)
        .key("whole")
        .integer(line.units)
        .key("price")
        .number(line.price, 6)
        .end_object();
  json.end_array();
  json.key("job").begin_object();
  write(estimate.all);
  json.end_object();
  json.key("notes").begin_array();
  for (const std::string& note : estimate.notes) json.text(note);
  json.end_array();
  json.end_object();
  return json.str() + "\n";
}

std::string estimates_table(const std::vector<std::pair<std::string, Estimate>>& estimates) {
  std::vector<Column> columns{{"liner", true}};
  for (const Figure& figure : figures()) columns.push_back({figure.key});
  columns.push_back({estimates.empty() ? "price" : price_head(estimates.front().second)});
  std::vector<std::vector<std::string>> rows;
  for (const auto& [liner, estimate] : estimates) {
    rows.push_back({liner});
    const std::vector<std::string> cells = cells_of(estimate.all);
    rows.back().insert(rows.back().end(), cells.begin(), cells.end());
  }
  return text_table(columns, rows) + "\n";
}

}  // namespace linerwright
