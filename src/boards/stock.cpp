#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "groups.hpp"
#include "linerwright/boards/boards.hpp"
#include "linerwright/fitting/choices.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// Of stock of which its trim leaves nothing: the trim that is written, and what it must be under.
Problem no_room(const Values& values, const BoardStock& stock, const std::string& file, Units units) {
  const bool short_length = stock.room().x <= 0.0;
  const std::string key = [&]() -> std::string {
    for (const char* edge :
         {short_length ? "trim_left" : "trim_bottom", short_length ? "trim_right" : "trim_top"})
      if (values.has(edge)) return edge;
    return "edge_trim";
  }();
  const Value* trim = values.find(key);
  std::string shown = key;
  if (file.empty()) {
    std::replace(shown.begin(), shown.end(), '_', '-');
    shown = "--stock-" + shown;
  }
  const double side = short_length ? stock.length : stock.width;
  return {file,
          trim->line,
          {},
          shown,
          trim->written,
          key == "edge_trim" ? "under " + format_quantity(Quantity::length, 0.5 * side, units)
                             : "together under " + format_quantity(Quantity::length, side, units),
          fmt::format("trimmed on both sides nothing is left of stock {}", stock.name)};
}

}  // namespace

std::vector<BoardStock> board_stock(const std::vector<Values>& list, Units units, const std::string& file) {
  std::vector<BoardStock> all;
  std::vector<Problem> problems;
  for (const Values& values : list) {
    BoardStock stock;
    stock.width = values.quantity("width");
    stock.length = values.quantity("length");
    stock.roll = chosen(values, "form", k_stock_choices) == StockForm::roll;
    if (values.has("quantity")) stock.quantity = static_cast<int>(values.integer("quantity"));
    stock.thickness = values.maybe("thickness");
    const double trim = values.quantity("edge_trim");
    const auto edge = [&](const char* key) { return values.maybe(key).value_or(trim); };
    stock.trim = {edge("trim_left"), edge("trim_right"), edge("trim_bottom"), edge("trim_top")};
    stock.gap = values.quantity("gap");
    stock.kerf_pitch = values.maybe("kerf_pitch");
    stock.cost = values.maybe("cost");
    stock.mass = values.maybe("mass");
    const std::string size = fmt::format(
        "{} x {} {}", trimmed(to_units(Quantity::length, stock.width, units), 2),
        trimmed(to_units(Quantity::length, stock.length, units), 2), unit_name(Quantity::length, units));
    stock.name = values.has("name") ? values.text("name") : size;
    if (stock.room().x <= 0.0 || stock.room().y <= 0.0)
      problems.push_back(no_room(values, stock, file, units));
    all.push_back(std::move(stock));
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return all;
}

namespace {

// "none", "stop", "run past 3mm".
void read_corner(const Values& table, Units units, const std::string& file, Knife* knife) {
  constexpr double k_furthest = 50.0;  // mm
  const std::string head = "run past";
  const Value* value = table.find("corner");
  const std::string& words = table.text("corner");
  const auto wrong = [&](const std::string& why) {
    throw InputError({Problem{file, value->line, {}, "corner", words, "none, stop or run past 3mm", why}});
  };
  if (words == "none") return;
  if (words == "stop") {
    knife->corner = Corner::stop;
    return;
  }
  if (words.compare(0, head.size(), head) != 0) wrong("says nothing that a knife can do at a corner");
  knife->corner = Corner::run_past;
  try {
    knife->past = parse_quantity(Quantity::length, words.substr(head.size()), units);
  } catch (const std::invalid_argument& error) {
    wrong(error.what());
  }
  if (!(knife->past > 0.0 && knife->past <= k_furthest)) wrong("must be over 0 mm, up to 50 mm");
}

}  // namespace

Knife board_knife(const Values* table, Units units, const std::string& file) {
  Values defaults;
  if (table == nullptr) {
    defaults = table_from_flags(job_schema().tables.at("knife"), {}, Units::metric);
    table = &defaults;
  }
  Knife knife{table->quantity("cut_speed"),  table->quantity("mark_speed"), table->quantity("travel_speed"),
              table->quantity("entry_time"), table->quantity("mark_time"),  table->quantity("board_time"),
              table->quantity("overcut")};
  read_corner(*table, units, file, &knife);
  return knife;
}

void require_room_past(const Knife& knife, const std::vector<BoardStock>& stock, const BoardOptions& options,
                       Units units, const std::string& file) {
  const double gap = gap_of(stock, options);
  if (knife.past <= gap) return;
  throw InputError({Problem{file,
                            0,
                            {},
                            "corner",
                            "run past " + format_quantity(Quantity::length, knife.past, units),
                            "at most the gap, " + format_quantity(Quantity::length, gap, units),
                            "the knife would run into the next piece; make the stock's gap larger"}});
}

BoardRules board_rules(const Values* table) {
  BoardRules rules;
  if (table == nullptr) return rules;
  const ZeroCorner zero = chosen(*table, "zero", k_zero_choices);
  rules.zero = {zero.right, zero.upper, chosen(*table, "turn", k_turn_choices)};
  rules.by_fitting = chosen(*table, "sequence", k_sequence_choices) == BoardOrder::by_fitting;
  rules.pen_width = table->quantity("pen_width");
  return rules;
}

}  // namespace linerwright
