#include "linerwright/report/cut_list.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "linerwright/units/figures.hpp"
#include "linerwright/units/json.hpp"
#include "text_table.hpp"
#include "totals_units.hpp"

namespace linerwright {

namespace {

// Lengths of a cell, in mm or in.
class Cells {
 public:
  explicit Cells(Units units) : units_(units) {}
  std::string length(double value) const {
    return trimmed(to_units(Quantity::length, value, units_), units_ == Units::inch ? 4 : 2);
  }
  std::string area(double value) const {
    return significant(to_units(Quantity::area, value, units_), k_csv_figures);
  }
  std::string way(double value) const { return trimmed(in_unit(TotalsUnit::length, value, units_), 2); }
  std::string mass(double value) const { return trimmed(to_units(Quantity::mass, value, units_), 2); }
  // "24 x 30 & 6 x 48", around by along.
  std::string boxes(const std::vector<Box>& boxes) const {
    std::string text;
    for (const Box& box : boxes)
      text += fmt::format("{}{} x {}", text.empty() ? "" : " & ", length(box.high.x - box.low.x),
                          length(box.high.y - box.low.y));
    return text;
  }

 private:
  Units units_;
};

double stock_area(const BoardPlan& plan, const PlannedBoard& board) {
  return board.length * plan.stock[board.stock].width;
}

std::string percent(double share) {
  return fixed(100.0 * share, 1) + " %";
}

// Of all boards together.
PlannedBoard sum_of(const BoardPlan& plan) {
  PlannedBoard sum;
  sum.cost = 0.0;
  for (const PlannedBoard& board : plan.boards) {
    sum.knife_length += board.knife_length;
    sum.pen_length += board.pen_length;
    sum.travel_length += board.travel_length;
    sum.shared_length += board.shared_length;
    sum.time += board.time;
    sum.mass += board.mass;
    sum.cost = sum.cost && board.cost ? std::optional<double>(*sum.cost + *board.cost) : std::nullopt;
  }
  return sum;
}

std::size_t piece_count(const BoardPlan& plan) {
  std::size_t count = 0;
  for (const PlannedBoard& board : plan.boards) count += board.pieces.size();
  return count;
}

// What no nest of these pieces can better.
std::string bound_words(const BoardPlan& plan) {
  const std::size_t boards = plan.boards.size();
  if (plan.least_boards == 0) return percent(plan.bound) + " is the most that any nest of these pieces gives";
  if (boards <= plan.least_boards)
    return fmt::format("no nest of these pieces takes fewer boards, {} is the most it gives",
                       percent(plan.bound));
  return fmt::format("these pieces need at least {}, which would give {}; --effort thorough searches longer",
                     plan.least_boards == 1 ? "1 board" : fmt::format("{} boards", plan.least_boards),
                     percent(plan.bound));
}

}  // namespace

std::string cut_list_csv(const BoardPlan& plan) {
  const Cells cells(plan.units);
  const std::string_view unit = unit_name(Quantity::length, plan.units);
  std::string text =
      fmt::format("board,order,tag,piece,copy,x_{0},y_{0},around_{0},along_{0},turned\n", unit);
  for (std::size_t b = 0; b < plan.boards.size(); ++b)
    for (std::size_t i = 0; i < plan.boards[b].pieces.size(); ++i) {
      const PlacedPiece& piece = plan.boards[b].pieces[i];
      const BoardPart& part = plan.parts[piece.part];
      const Vec2 size = piece.box.high - piece.box.low;
      text += fmt::format("{},{},{},{},{},{},{},{},{},{}\n", b + 1, i + 1, csv_cell(part.tag),
                          csv_cell(part.piece), piece.copy + 1, cells.length(piece.box.low.x),
                          cells.length(piece.box.low.y), cells.length(size.x), cells.length(size.y),
                          piece.turned ? "yes" : "no");
    }
  return text;
}

std::string boards_csv(const BoardPlan& plan) {
  const Cells cells(plan.units);
  const std::string_view unit = unit_name(Quantity::length, plan.units);
  const std::string_view area = unit_of(TotalsUnit::area, plan.units);
  const std::string_view way = unit_of(TotalsUnit::length, plan.units);
  std::string text = fmt::format(
      "board,stock,thickness_{0},face_up,width_{0},length_{0},used_{0},pieces,piece_area_{1},yield,bound,"
      "waste_{1},"
      "knife_{2},pen_{2},travel_{2},shared_{2},time_s,mass_{3},cost,offcuts_{0}\n",
      unit, area, way, unit_of(TotalsUnit::mass, plan.units));
  const auto tail = [&](const PlannedBoard& board, double waste) {
    return fmt::format("{},{},{},{},{},{},{},{},{}\n", cells.area(waste), cells.way(board.knife_length),
                       cells.way(board.pen_length), cells.way(board.travel_length),
                       cells.way(board.shared_length), trimmed(board.time, 1), cells.mass(board.mass),
                       board.cost ? trimmed(*board.cost, 4) : std::string(), cells.boxes(board.offcuts));
  };
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    const PlannedBoard& board = plan.boards[b];
    const BoardStock& stock = plan.stock[board.stock];
    text +=
        fmt::format("{},{},{},{},{},{},{},{},{},{},,", b + 1, csv_cell(stock.name),
                    cells.length(board.thickness), std::string(face_up_word(board)),
                    cells.length(stock.width), cells.length(board.length), cells.length(board.used_length),
                    board.pieces.size(), cells.area(board.piece_area), trimmed(board.yield, 6)) +
        tail(board, stock_area(plan, board) - board.piece_area);
  }
  text += fmt::format("all,,,,,,,{},{},{},{},", piece_count(plan), cells.area(plan.piece_area),
                      trimmed(plan.yield(), 6), trimmed(plan.bound, 6)) +
          tail(sum_of(plan), plan.stock_area - plan.piece_area);
  return text;
}

std::string boards_table(const BoardPlan& plan) {
  const Units units = plan.units;
  const std::string length(unit_name(Quantity::length, units));
  const std::string way(unit_of(TotalsUnit::length, units));
  const auto shown_length = [&](double value) {
    return fixed(to_units(Quantity::length, value, units), units == Units::inch ? 1 : 0);
  };
  std::vector<std::vector<std::string>> rows;
  const auto add = [&](std::string name, std::string stock, std::string liner, std::string used,
                       std::size_t pieces, double yield, const PlannedBoard& board,
                       const std::string& offcut) {
    rows.push_back({std::move(name), std::move(stock), std::move(liner), std::to_string(pieces),
                    percent(yield), std::move(used), shown(TotalsUnit::length, board.knife_length, units),
                    shown_time(board.time), shown(TotalsUnit::mass, board.mass, units),
                    board.cost ? fixed(*board.cost, 2) : std::string(), offcut});
  };
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    const PlannedBoard& board = plan.boards[b];
    std::string offcut;
    if (!board.offcuts.empty()) {
      const Vec2 size = board.offcuts.front().high - board.offcuts.front().low;
      offcut = shown_length(size.x) + " x " + shown_length(size.y);
      if (board.offcuts.size() > 1) offcut += fmt::format(" +{}", board.offcuts.size() - 1);
    }
    add(std::to_string(b + 1), plan.stock[board.stock].name,
        trimmed(to_units(Quantity::length, board.thickness, units), 2) + ", " +
            std::string(face_up_word(board)),
        shown_length(board.used_length), board.pieces.size(), board.yield, board, offcut);
  }
  if (plan.boards.size() > 1) add("all", {}, {}, {}, piece_count(plan), plan.yield(), sum_of(plan), {});
  std::vector<Column> columns{{"board"},
                              {"stock", true},
                              {"liner " + length, true},
                              {"pieces"},
                              {"yield"},
                              {"used " + length},
                              {"knife " + way},
                              {"min:s"},
                              {std::string(unit_of(TotalsUnit::mass, units))},
                              {"cost"},
                              {"offcuts " + length, true}};
  std::string text;
  if (fits(columns, rows)) {
    text = text_table(columns, rows);
  } else {  // sizes are not to be shortened: the offcuts stand in a table of their own
    std::vector<std::vector<std::string>> offcuts;
    for (auto& row : rows) {
      if (!row.back().empty()) offcuts.push_back({row.front(), row.back()});
      row.pop_back();
    }
    const Column last = columns.back();
    columns.pop_back();
    text = text_table(columns, rows) + "\n" + text_table({{"board"}, last}, offcuts) + "\n";
  }
  if (!plan.boards.empty()) text += fmt::format("yield {}; {}\n", percent(plan.yield()), bound_words(plan));
  return text;
}

namespace {

// Tables in their order, of stock a list: "written": {"units": "mm", "stock": [{"width": "1220"}], "boards":
// {...}}.
void put_words(JsonWriter& json, const BoardPlan& plan) {
  json.key("written").begin_object();
  json.key("units").text(plan.units == Units::inch ? "in" : "mm");
  for (std::size_t i = 0; i < plan.words.size(); ++i) {
    const BoardWord& word = plan.words[i];
    const BoardWord* before = i == 0 ? nullptr : &plan.words[i - 1];
    const BoardWord* after = i + 1 == plan.words.size() ? nullptr : &plan.words[i + 1];
    const bool listed = word.table == "stock";
    const bool opens = before == nullptr || before->table != word.table;
    const bool closes = after == nullptr || after->table != word.table;
    if (opens) json.key(word.table);
    if (opens && listed) json.begin_array();
    if (opens || before->row != word.row) json.begin_object();
    json.key(word.key).text(word.text);
    if (closes || after->row != word.row) json.end_object();
    if (closes && listed) json.end_array();
  }
  json.end_object();
}

}  // namespace

std::string boards_json(const BoardPlan& plan, const std::function<void(JsonWriter&)>& more) {
  JsonWriter json;
  const auto box = [&](const Box& b) {
    json.begin_array().number(b.low.x).number(b.low.y).number(b.high.x).number(b.high.y).end_array();
  };
  json.begin_object();
  json.key("format").integer(k_json_format);
  json.key("units").text("mm, mm2, kg, s, m/s; boxes as low x, low y, high x, high y");
  json.key("yield").number(plan.yield(), 9);
  json.key("bound").number(plan.bound, 9);
  json.key("least_boards");
  if (plan.least_boards == 0)
    json.null();
  else
    json.integer(static_cast<long>(plan.least_boards));
  json.key("stock_area").number(plan.stock_area, 3);
  json.key("piece_area").number(plan.piece_area, 3);
  put_words(json, plan);
  json.key("gap").number(plan.gap);
  json.key("sequence").text(plan.by_fitting ? "by fitting" : "by board");
  json.key("knife").begin_object();
  json.key("cut_speed").number(plan.knife.cut_speed).key("mark_speed").number(plan.knife.mark_speed);
  json.key("travel_speed").number(plan.knife.travel_speed).key("entry_time").number(plan.knife.entry_time);
  json.key("mark_time").number(plan.knife.mark_time).key("board_time").number(plan.knife.board_time);
  json.key("overcut").number(plan.knife.overcut);
  if (plan.knife.corner != Corner::none)
    json.key("corner").text(plan.knife.corner == Corner::stop ? "stop" : "run past");
  if (plan.knife.past > 0.0) json.key("past").number(plan.knife.past);
  json.end_object();
  if (plan.zero.right || plan.zero.upper || plan.zero.quarter_turns != 0) {
    json.key("zero").begin_array();
    json.text(plan.zero.right ? "right" : "left").text(plan.zero.upper ? "upper" : "lower").end_array();
    json.key("turn").integer(90L * plan.zero.quarter_turns);
  }
  json.key("boards").begin_array();
  for (const PlannedBoard& board : plan.boards) {
    const BoardStock& stock = plan.stock[board.stock];
    json.begin_object();
    json.key("stock").text(stock.name);
    json.key("thickness").number(board.thickness);
    json.key("face_up").text(std::string(face_up_word(board)));
    json.key("width").number(stock.width).key("length").number(board.length);
    json.key("usable");
    box({stock.trim.low(), {board.length - stock.trim.end, stock.width - stock.trim.above}});
    json.key("used_length").number(board.used_length);
    json.key("piece_area").number(board.piece_area, 3).key("yield").number(board.yield, 9);
    json.key("knife_length").number(board.knife_length, 3).key("pen_length").number(board.pen_length, 3);
    json.key("travel_length")
        .number(board.travel_length, 3)
        .key("shared_length")
        .number(board.shared_length, 3);
    json.key("cutting_time").number(board.time, 3).key("mass").number(board.mass);
    json.key("cost").number(board.cost);
    json.key("offcuts").begin_array();
    for (const Box& offcut : board.offcuts) box(offcut);
    json.end_array();
    json.key("remnants").begin_array();
    for (const BoardRemnant& remnant : board.remnants) {
      json.begin_object().key("id").text(remnant.id).key("box");
      box(remnant.box);
      json.end_object();
    }
    json.end_array();
    json.key("pieces").begin_array();
    for (const PlacedPiece& piece : board.pieces) {
      json.begin_object();
      json.key("tag").text(plan.parts[piece.part].tag).key("piece").text(plan.parts[piece.part].piece);
      json.key("copy").integer(piece.copy + 1).key("turned").boolean(piece.turned).key("box");
      box(piece.box);
      json.key("cuts").integer(static_cast<long>(piece.cuts));
      json.end_object();
    }
    json.end_array();
    json.end_object();
  }
  json.end_array();
  json.key("problems").begin_array();
  for (const Problem& problem : plan.problems) json.text(one_line(problem));
  json.end_array();
  if (more) more(json);
  json.end_object();
  return json.str();
}

std::vector<TotalsStock> stock_totals(const BoardPlan& plan) {
  std::vector<TotalsStock> all;
  for (std::size_t s = 0; s < plan.stock.size(); ++s) {
    TotalsStock sum;
    sum.name = plan.stock[s].name;
    double cost = 0.0;
    bool priced = true;
    for (const PlannedBoard& board : plan.boards) {
      if (board.stock != s) continue;
      ++sum.boards;
      sum.stock_area += stock_area(plan, board);
      sum.piece_area += board.piece_area;
      sum.knife_length += board.knife_length;
      sum.cutting_time += board.time;
      cost += board.cost.value_or(0.0);
      priced = priced && board.cost.has_value();
    }
    if (sum.boards == 0) continue;
    sum.stock_area = held(sum.stock_area, resolution_of(TotalsUnit::area));
    sum.piece_area = held(sum.piece_area, resolution_of(TotalsUnit::area));
    sum.knife_length = held(sum.knife_length, resolution_of(TotalsUnit::length));
    sum.cutting_time = held(sum.cutting_time, k_time_resolution);
    if (priced) sum.cost = held(cost, k_cost_resolution);
    all.push_back(std::move(sum));
  }
  return all;
}

}  // namespace linerwright
