#include "made_boards.hpp"

#include <algorithm>
#include <cmath>

#include "json_members.hpp"
#include "written.hpp"

namespace linerwright::asked {

namespace {

std::map<std::string, std::string> words_in(const Json& table, const std::string& name) {
  std::map<std::string, std::string> words;
  for (const auto& word : table.GetObject()) {
    if (!word.value.IsString()) throw Unreadable(name + ": what was written is no text");
    words[word.name.GetString()] = word.value.GetString();
  }
  return words;
}

BoardWords board_words(const Json& written, const std::string& name) {
  if (!written.IsObject()) throw Unreadable(name + ": written is no table");
  BoardWords words;
  words.inches = text_of(written, "units", name) == "in";
  for (const auto& table : written.GetObject()) {
    if (table.value.IsObject()) words.tables[table.name.GetString()] = words_in(table.value, name);
    if (!table.value.IsArray()) continue;
    for (const Json& row : table.value.GetArray()) {
      if (!row.IsObject()) throw Unreadable(name + ": stock is no list of tables");
      words.stock.push_back(words_in(row, name));
    }
  }
  return words;
}

std::optional<std::array<double, 4>> box_in(const Json& row, const char* key, const std::string& name) {
  if (!row.HasMember(key)) return std::nullopt;
  const Json& box = list_of(row, key, name);
  if (box.Size() != 4) throw Unreadable(name + ": a box needs four numbers");
  std::array<double, 4> found{};
  for (unsigned k = 0; k < 4; ++k) {
    if (!box[k].IsNumber()) throw Unreadable(name + ": a box needs four numbers");
    found[k] = box[k].GetDouble();
  }
  return found;
}

}  // namespace

MadeBoards read_boards(const std::string& json) {
  const std::string name = "boards.json";
  rapidjson::Document document;
  parse(document, json, name);
  MadeBoards made;
  if (document.HasMember("of"))
    for (const Json& row : list_of(document, "of", name).GetArray())
      made.of.emplace(text_of(row, "tag", name), text_of(row, "state", name));
  made.stock_area = number_of(document, "stock_area", name);
  made.piece_area = number_of(document, "piece_area", name);
  made.yield = number_of(document, "yield", name);
  made.bound = number_of(document, "bound", name);
  if (document.HasMember("least_boards") && document["least_boards"].IsNumber())
    made.least_boards = number_of(document, "least_boards", name);
  for (const char* key : {"cut_speed", "mark_speed", "travel_speed", "entry_time", "mark_time", "board_time"})
    made.knife[key] = document.HasMember("knife") ? number_of(document["knife"], key, name) : 0.0;
  made.homeless =
      document.HasMember("problems") && document["problems"].IsArray() && !document["problems"].Empty();
  if (document.HasMember("zero")) {
    for (const Json& word : list_of(document, "zero", name).GetArray()) {
      made.zero_right = made.zero_right || (word.IsString() && std::string(word.GetString()) == "right");
      made.zero_upper = made.zero_upper || (word.IsString() && std::string(word.GetString()) == "upper");
    }
    made.quarters = static_cast<int>(std::lround(number_of(document, "turn", name) / 90.0));
  }
  if (document.HasMember("written")) {
    made.words = board_words(document["written"], name);
    made.gap = number_of(document, "gap", name);
    made.sequence = text_of(document, "sequence", name);
  }
  for (const Json& row : list_of(document, "boards", name).GetArray()) {
    MadeBoard board;
    board.stock = text_of(row, "stock", name);
    board.knife = number_of(row, "knife_length", name);
    board.pen = number_of(row, "pen_length", name);
    board.travel = number_of(row, "travel_length", name);
    board.time = number_of(row, "cutting_time", name);
    board.mass = number_of(row, "mass", name);
    if (row.HasMember("cost") && row["cost"].IsNumber()) board.cost = row["cost"].GetDouble();
    board.thickness = number_of(row, "thickness", name);
    board.usable = box_in(row, "usable", name);
    board.width = number_of(row, "width", name);
    board.length = number_of(row, "length", name);
    board.used = number_of(row, "used_length", name);
    board.area = number_of(row, "piece_area", name);
    board.yield = number_of(row, "yield", name);
    for (const Json& one : list_of(row, "pieces", name).GetArray()) {
      BoardPiece piece{
          text_of(one, "tag", name), text_of(one, "piece", name), number_of(one, "copy", name), false, {}};
      piece.turned = one.HasMember("turned") && one["turned"].IsTrue();
      const auto box = box_in(one, "box", name);
      if (!box) throw Unreadable(name + ": box is no list");
      std::copy(box->begin(), box->end(), piece.box);
      board.pieces.push_back(std::move(piece));
    }
    made.boards.push_back(std::move(board));
  }
  return made;
}

Drawn straightened(Drawn drawn, const MadeBoards& all, const MadeBoard& board) {
  const double angle = -0.5 * k_pi * all.quarters;
  const double c = std::round(std::cos(angle));
  const double s = std::round(std::sin(angle));
  for (Entity& entity : drawn.entities)
    for (Point& p : entity.points)
      p = {c * p[0] - s * p[1] + (all.zero_right ? board.length : 0.0),
           s * p[0] + c * p[1] + (all.zero_upper ? board.width : 0.0)};
  return drawn;
}

MadeTotals read_totals(const std::string& json) {
  const std::string name = "totals.json";
  rapidjson::Document document;
  parse(document, json, name);
  MadeTotals totals;
  for (const Json& row : list_of(document, "fittings", name).GetArray()) {
    TotalsLine line{text_of(row, "tag", name), number_of(row, "count", name), {}};
    if (row.HasMember("each") && row["each"].IsObject())
      for (const auto& figure : row["each"].GetObject())
        if (figure.value.IsNumber()) line.each[figure.name.GetString()] = figure.value.GetDouble();
    totals.lines.push_back(std::move(line));
  }
  totals.boards_older = document.HasMember("boards_older") && document["boards_older"].IsTrue();
  if (document.HasMember("stock") && document["stock"].IsArray())
    for (const Json& row : document["stock"].GetArray()) {
      StockLine line{text_of(row, "name", name), {}, false};
      for (const auto& figure : row.GetObject())
        if (figure.value.IsNumber()) line.figures[figure.name.GetString()] = figure.value.GetDouble();
      line.priced = line.figures.count("cost") > 0;
      totals.stock.push_back(std::move(line));
    }
  if (document.HasMember("sums") && document["sums"].IsObject())
    for (const auto& figure : document["sums"].GetObject())
      if (figure.value.IsNumber()) totals.sums[figure.name.GetString()] = figure.value.GetDouble();
  if (document.HasMember("boards") && document["boards"].IsObject())
    for (const auto& figure : document["boards"].GetObject())
      if (figure.value.IsNumber()) totals.all_stock[figure.name.GetString()] = figure.value.GetDouble();
  if (document.HasMember("rules")) totals.metal_density = number_of(document["rules"], "metal_density", name);
  return totals;
}

}  // namespace linerwright::asked
