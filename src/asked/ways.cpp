// A table draws in the order of the file: the way in the air goes from where a line ends (a closed one where
// it began) to where the next one begins, from the board's zero on. Times are ways over speeds and so much
// for each line.
#include "ways.hpp"

#include <algorithm>

#include "readers.hpp"

namespace linerwright::asked {

namespace {

struct Ways {
  double knife = 0.0, pen = 0.0, travel = 0.0;
  double cuts = 0.0, strokes = 0.0;
  bool whole = true;  // everything that the pen draws is in the file
};

Ways ways_of(const Drawn& drawn, bool bare) {
  Ways ways;
  ways.whole = !bare;
  Point tool{0.0, 0.0};
  for (const Entity& entity : drawn.entities) {
    const bool cut = entity.layer == "CUT" || (bare && entity.layer == "0");
    const bool pen = entity.layer == "MARK" || entity.layer == "LABEL";
    if (!cut && !pen) continue;
    if (entity.points.size() < 2) {
      ways.whole = false;  // a text: its strokes are the table's own
      continue;
    }
    double length = 0.0;
    for (std::size_t i = 1; i < entity.points.size(); ++i)
      length += std::hypot(entity.points[i][0] - entity.points[i - 1][0],
                           entity.points[i][1] - entity.points[i - 1][1]);
    const Point& first = entity.points.front();
    const Point& last = entity.points.back();
    if (entity.closed) length += std::hypot(last[0] - first[0], last[1] - first[1]);
    ways.travel += std::hypot(first[0] - tool[0], first[1] - tool[1]);
    tool = entity.closed ? first : last;
    (cut ? ways.knife : ways.pen) += length;
    (cut ? ways.cuts : ways.strokes) += 1.0;
  }
  return ways;
}

// What is drawn beside the cuts: open lines of the pen, the board's rectangle, and a line that is 100 mm or 4
// in long; all of it on the board.
void prove_frame(const Drawn& drawn, const MadeBoard& board, const std::string& name, Worst& frame) {
  double longest = 0.0;
  bool rectangle = false;
  for (const Entity& entity : drawn.entities) {
    const bool pen = entity.layer == "MARK" || entity.layer == "LABEL" || entity.layer == "SCALE";
    if (pen) frame.expect(!entity.closed, name + ": a closed line on " + entity.layer);
    if (entity.layer == "SCALE" && entity.points.size() == 2)
      longest = std::max(longest, std::hypot(entity.points[1][0] - entity.points[0][0],
                                             entity.points[1][1] - entity.points[0][1]));
    for (const Point& point : entity.points)
      frame.expect(point[0] > -0.003 && point[1] > -0.003 && point[0] < board.length + 0.003 &&
                       point[1] < board.width + 0.003,
                   name + ": something on " + entity.layer + " runs off the board");
    if (entity.layer != "STOCK" || !entity.closed) continue;
    frame.expect(entity.points.size() == 4, name + ": a closed line on STOCK that is no board");
    if (entity.points.size() != 4) continue;
    Point low{1e300, 1e300};
    Point high{-1e300, -1e300};
    for (const Point& point : entity.points)
      for (std::size_t k = 0; k < 2; ++k) {
        low[k] = std::min(low[k], point[k]);
        high[k] = std::max(high[k], point[k]);
      }
    rectangle =
        rectangle || (std::hypot(low[0], low[1]) < 0.003 && std::abs(high[0] - board.length) < 0.003 &&
                      std::abs(high[1] - board.width) < 0.003);
  }
  frame.expect(rectangle, name + ": the board's own rectangle");
  frame.expect(std::abs(longest - 100.0) < 0.003 || std::abs(longest - 101.6) < 0.003,
               name + ": the line to measure");
}

std::vector<std::vector<std::string>> cells_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows(1, std::vector<std::string>(1));
  bool quoted = false;
  for (const char c : csv) {
    if (c == '"')
      quoted = !quoted;
    else if (c == '\n' && !quoted)
      rows.push_back({""});
    else if (c == ',' && !quoted)
      rows.back().push_back("");
    else if (c != '\r')
      rows.back().back() += c;
  }
  return rows;
}

// The row of all boards against those of each stock, cell by cell.
void prove_table(const std::string& csv, Worst& sums) {
  const auto rows = cells_of(csv);
  const std::vector<std::string>& heads = rows.front();
  for (const auto& all : rows) {
    if (all.size() != heads.size() || all[0] != "all" || all[1] != "boards") continue;
    for (std::size_t k = 2; k < heads.size(); ++k) {
      if (heads[k] == "yield") continue;
      double sum = 0.0;
      std::size_t stated = 0;
      std::size_t rows_of_stock = 0;
      for (const auto& row : rows) {
        if (row.size() != heads.size() || row[1] != "stock") continue;
        ++rows_of_stock;
        if (row[k].empty()) continue;
        ++stated;
        sum += value_of(row[k], What::number, false);
      }
      // what one stock does not state, a price, is not stated of all
      const bool known = stated > 0 && stated == rows_of_stock;
      sums.expect(all[k].empty() != known, "totals.csv: " + heads[k] + " of all boards");
      if (known && !all[k].empty())
        sums.off((value_of(all[k], What::number, false) - sum) / std::max(1.0, sum),
                 "totals.csv " + heads[k]);
    }
  }
}

// The figures of all boards against those of each stock. A price that one stock does not have is not stated
// of all.
void prove_all_stock(const MadeTotals& totals, Worst& sums) {
  if (totals.stock.empty()) return;
  std::map<std::string, double> added;
  std::map<std::string, std::size_t> stated;
  for (const StockLine& line : totals.stock)
    for (const auto& [key, value] : line.figures) {
      added[key] += value;
      ++stated[key];
    }
  added["yield"] = added["piece_area"] / added["stock_area"];
  for (const auto& [key, count] : stated) {
    const auto all = totals.all_stock.find(key);
    const bool known = count == totals.stock.size();
    sums.expect((all != totals.all_stock.end()) == known, "totals.json: " + key + " of all boards");
    if (known && all != totals.all_stock.end())
      sums.off((all->second - added[key]) / std::max(1.0, added[key]), "totals.json, all boards' " + key);
  }
}

// What no nest of the pieces betters: not even the one that was made; of one stock that many whole boards, at
// least as many as are said to be needed.
void prove_bound(const MadeBoards& made, std::vector<Finding>& findings) {
  if (!(made.bound > 0.0) || made.homeless) return;
  Worst bound("boards' bound", 1e-6, "",
              "the yield that was reached, and whole boards where there is one stock");
  const auto count = static_cast<double>(made.boards.size());
  bound.off(std::max(0.0, made.yield / made.bound - 1.0), "boards.json states less than was reached");
  bound.off(std::max(0.0, made.bound - 1.0), "boards.json states more than all");
  bound.expect(made.least_boards <= count, "boards.json needs more boards than there are");
  if (made.least_boards > 0.0 && made.words && made.words->stock.size() == 1) {
    const double boards =
        made.piece_area / made.bound / (made.boards.front().width * made.boards.front().length);
    bound.off(boards - std::round(boards), "boards.json states a part of a board");
    bound.expect(std::round(boards) >= made.least_boards, "boards.json states fewer boards than it needs");
  }
  bound.into(findings);
}

}  // namespace

std::string board_file(std::size_t index, std::size_t digits) {
  std::string number = std::to_string(index + 1);
  number.insert(0, digits - std::min(digits, number.size()), '0');
  return "board-" + number + ".dxf";
}

void prove_ways(const MadeBoards& made, const Files& files, const MadeFitting* fitting,
                std::vector<Finding>& findings) {
  if (fitting == nullptr) return;
  Worst ways("boards' ways", 2e-5, "", "knife, pen and way in the air along each board's drawing");
  Worst times("boards' times", 2e-5, "", "ways over speeds, and so much for each line and board");
  Worst frame("boards' frames", 0.0, "", "open lines of the pen, the board's rectangle, the line to measure");
  const std::size_t digits = std::to_string(made.boards.size()).size();
  for (std::size_t i = 0; i < made.boards.size(); ++i) {
    const std::string name = board_file(i, digits);
    const auto file = files.find(name);
    if (file == files.end()) continue;  // told elsewhere
    const Drawn drawn = read_drawn(file->second, name, fitting->inch_drawings ? 25.4 : 1.0);
    const Ways found = ways_of(drawn, fitting->bare_drawings);
    const MadeBoard& board = made.boards[i];
    const auto same = [&](double stated, double counted, const char* what) {
      ways.off((stated - counted) / std::max(1.0, counted), name + " " + what);
    };
    same(board.knife, found.knife, "knife");
    if (!fitting->bare_drawings) prove_frame(straightened(drawn, made, board), board, name, frame);
    if (!found.whole) continue;
    same(board.pen, found.pen, "pen");
    same(board.travel, found.travel, "in the air");
    const auto knife = [&](const char* key) { return made.knife.at(key); };
    const double time = 1e-3 * (found.knife / knife("cut_speed") + found.pen / knife("mark_speed") +
                                found.travel / knife("travel_speed")) +
                        found.cuts * knife("entry_time") + found.strokes * knife("mark_time") +
                        knife("board_time");
    times.off((board.time - time) / time, name);
  }
  ways.into(findings);
  times.into(findings);
  frame.into(findings);
}

void prove_stock(const MadeBoards& made, const Files& above, std::vector<Finding>& findings) {
  // times of a board are written to a thousandth of a second
  Worst sums("boards' sums", 1e-5, "", "boards of a stock added up, and all of them");
  std::map<std::string, std::map<std::string, double>> added;
  std::map<std::string, bool> priced;
  double stock_area = 0.0;
  double piece_area = 0.0;
  for (const MadeBoard& board : made.boards) {
    auto& sum = added[board.stock];
    const double area = board.width * board.length;
    sum["boards"] += 1.0;
    sum["stock_area"] += area;
    sum["piece_area"] += board.area;
    sum["knife_length"] += board.knife;
    sum["cutting_time"] += board.time;
    sum["cost"] += board.cost.value_or(0.0);
    priced.emplace(board.stock, true).first->second &= board.cost.has_value();
    stock_area += area;
    piece_area += board.area;
    sums.off(board.yield - board.area / area, "yield of a board");
  }
  const auto same = [&](double stated, double counted, const std::string& what) {
    sums.off((stated - counted) / std::max(1.0, std::abs(counted)), what);
  };
  same(made.stock_area, stock_area, "stock area");
  same(made.piece_area, piece_area, "area of pieces");
  if (stock_area > 0.0) same(made.yield, piece_area / stock_area, "yield");
  const auto json = above.find("totals.json");
  if (json != above.end()) {
    const MadeTotals totals = read_totals(json->second);
    if (!totals.boards_older) {
      std::map<std::string, std::map<std::string, double>> stated;
      for (const StockLine& line : totals.stock) {
        sums.expect(added.count(line.name) > 0, "totals.json names a stock '" + line.name + "'");
        sums.expect(
            line.priced || !priced[line.name] || added[line.name]["boards"] != line.figures.at("boards"),
            "totals.json states no cost of '" + line.name + "'");
        for (const auto& [key, value] : line.figures) stated[line.name][key] += value;
      }
      for (const auto& [name, figures] : added)
        for (const auto& [key, value] : figures)
          if (key != "cost" || stated[name].count("cost") > 0)
            same(stated[name][key], value, name + " " + key);
      prove_all_stock(totals, sums);
      const auto csv = above.find("totals.csv");
      if (csv != above.end()) prove_table(csv->second, sums);
    }
  }
  sums.into(findings);
  prove_bound(made, findings);
}

}  // namespace linerwright::asked
