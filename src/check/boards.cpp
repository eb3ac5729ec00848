// A folder of boards: the lists that stand in it, and each board's drawing.
#include "boards.hpp"

#include <algorithm>
#include <map>

#include "beside.hpp"
#include "linerwright/check/check_job.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/units/error.hpp"
#include "read_table.hpp"
#include "tally.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

double number_of(const JsonValue& object, const char* key) {
  const JsonValue* found = object.find(key);
  if (found == nullptr || !found->is_number())
    throw InputError({Problem{"boards.json", 0, {}, {}, {}, {}, std::string(key) + " is no number"}});
  return found->number;
}

const std::string& text_of(const JsonValue& object, const char* key) {
  const JsonValue* found = object.find(key);
  if (found == nullptr || !found->is_text())
    throw InputError({Problem{"boards.json", 0, {}, {}, {}, {}, std::string(key) + " is no text"}});
  return found->text;
}

const std::vector<JsonValue>& list_of(const JsonValue& object, const char* key) {
  const JsonValue* found = object.find(key);
  if (found == nullptr || !found->is_array())
    throw InputError({Problem{"boards.json", 0, {}, {}, {}, {}, std::string(key) + " is no list"}});
  return found->items;
}

Box box_of(const std::vector<JsonValue>& box) {
  if (box.size() != 4 ||
      !std::all_of(box.begin(), box.end(), [](const JsonValue& v) { return v.is_number(); }))
    throw InputError({Problem{"boards.json", 0, {}, {}, {}, {}, "a box is no four numbers"}});
  return {{box[0].number, box[1].number}, {box[2].number, box[3].number}};
}

ListedPiece listed_piece(const JsonValue& json) {
  const JsonValue* turned = json.find("turned");
  return {text_of(json, "tag"), text_of(json, "piece"), static_cast<long>(number_of(json, "copy")),
          turned != nullptr && turned->flag, box_of(list_of(json, "box"))};
}

TableZero listed_zero(const JsonValue& json) {
  TableZero zero;
  if (json.find("zero") == nullptr) return zero;
  const std::vector<JsonValue>& words = list_of(json, "zero");
  const auto says = [&](const char* word) {
    return std::any_of(words.begin(), words.end(), [&](const JsonValue& each) { return each.text == word; });
  };
  zero.right = says("right");
  zero.upper = says("upper");
  zero.quarter_turns = static_cast<int>(std::lround(number_of(json, "turn") / 90.0));
  return zero;
}

std::vector<ListedBoard> listed_boards(const JsonValue& json) {
  std::vector<ListedBoard> boards;
  const TableZero zero = listed_zero(json);
  const JsonValue* knife = json.find("knife");
  for (const JsonValue& each : list_of(json, "boards")) {
    ListedBoard board{text_of(each, "stock"),
                      number_of(each, "thickness"),
                      text_of(each, "face_up"),
                      number_of(each, "width"),
                      number_of(each, "length"),
                      number_of(each, "yield"),
                      {},
                      {},
                      {},
                      {},
                      0.0,
                      zero};
    if (knife != nullptr && knife->find("past") != nullptr) board.past = number_of(*knife, "past");
    if (json.find("gap") != nullptr)
      board.space = BoardSpace{box_of(list_of(each, "usable")), number_of(json, "gap")};
    for (const JsonValue& box : list_of(each, "offcuts"))
      board.offcuts.push_back(box_of(box.is_array() ? box.items : std::vector<JsonValue>{}));
    for (const JsonValue& one : list_of(each, "remnants"))
      board.remnants.push_back({text_of(one, "id"), box_of(list_of(one, "box"))});
    for (const JsonValue& piece : list_of(each, "pieces")) board.pieces.push_back(listed_piece(piece));
    boards.push_back(std::move(board));
  }
  return boards;
}

// Every piece of a fitting on the boards, once for each of its copies.
void require_all_pieces(Tally& tally, const std::string& tag, const MadeAgain& made,
                        const std::map<std::pair<std::string, long>, int>& on_boards) {
  for (long copy = 1; copy <= made.fitting.count; ++copy) {
    std::vector<int> times(made.fitting.pieces.size(), 0);
    for (const Pattern& pattern : made.patterns) {
      const auto found = on_boards.find({pattern.id, copy});
      if (found == on_boards.end()) continue;
      for (const int piece : pattern.pieces) times[static_cast<std::size_t>(piece)] += found->second;
    }
    for (std::size_t i = 0; i < times.size(); ++i)
      tally.require(times[i] == 1, fmt::format("{}/{}, copy {}, is on the boards {} times, not once", tag,
                                               made.fitting.pieces[i].id, copy, times[i]));
  }
}

CheckResult counts(const std::vector<ListedBoard>& boards, const JsonValue& json, const MakeAgain& again) {
  Tally tally("boards pieces");
  const JsonValue* problems = json.find("problems");
  const bool all_placed = problems == nullptr || problems->items.empty();
  std::map<std::string, std::map<std::pair<std::string, long>, int>> by_tag;
  for (const ListedBoard& board : boards)
    for (const ListedPiece& piece : board.pieces) ++by_tag[piece.tag][{piece.piece, piece.copy}];
  for (const auto& [tag, on_boards] : by_tag) {
    const std::shared_ptr<const MadeAgain> made = again(tag);
    tally.require(made != nullptr, tag + " is on the boards, but no such fitting was made");
    if (made == nullptr) continue;
    for (const auto& [piece, times] : on_boards)
      tally.require(times == 1 && piece.second >= 1 && piece.second <= made->fitting.count,
                    fmt::format("{}/{}, copy {}: there are {} to make", tag, piece.first, piece.second,
                                made->fitting.count));
    if (all_placed) require_all_pieces(tally, tag, *made, on_boards);
  }
  return tally.result("facts of who lies on the boards");
}

// Lengths in the table's unit, by the heads' endings.
struct TableUnit {
  std::string ending;
  double per_unit;
  double half_a_place;  // in the unit
};

TableUnit unit_of_table(const TableFile& table, const std::string& column) {
  const auto has = [&](const std::string& head) {
    return std::find(table.heads.begin(), table.heads.end(), head) != table.heads.end();
  };
  if (has(column + "_in")) return {"_in", 25.4, 0.51e-4};
  return {"_mm", 1.0, 0.51e-2};
}

// A spreadsheet must not take a name for a formula: such names stand behind an apostrophe.
bool same_name(const std::string& cell, const std::string& name) {
  return cell == name || cell == "'" + name;
}

CheckResult cut_list(const fs::path& folder, const std::vector<ListedBoard>& boards) {
  Tally tally("boards cutlist");
  try {
    TableFile table = read_table(folder / "cutlist.csv");
    table.name = "cutlist.csv";
    const TableUnit unit = unit_of_table(table, "x");
    std::size_t row = 0;
    for (std::size_t b = 0; b < boards.size(); ++b)
      for (std::size_t i = 0; i < boards[b].pieces.size(); ++i, ++row) {
        if (row >= table.rows.size()) continue;
        const ListedPiece& piece = boards[b].pieces[i];
        const std::string where = fmt::format("cutlist.csv:{}: ", table.rows[row].line);
        const auto figure = [&](const std::string& head, double expected, double tolerance) {
          const double found = table.number(row, head);
          tally.require(
              std::fabs(found - expected) <= tolerance,
              fmt::format("{}{} is {}, not {}", where, head, trimmed(found, 4), trimmed(expected, 4)));
        };
        const auto length = [&](const char* head, double mm) {
          figure(head + unit.ending, mm / unit.per_unit, unit.half_a_place);
        };
        tally.require(
            same_name(table.text(row, "tag"), piece.tag) && same_name(table.text(row, "piece"), piece.piece),
            where + "not " + piece.tag + "/" + piece.piece);
        tally.require(table.text(row, "turned") == (piece.turned ? "yes" : "no"),
                      where + "turned is not as on the board");
        figure("board", static_cast<double>(b + 1), 0.0);
        figure("order", static_cast<double>(i + 1), 0.0);
        figure("copy", static_cast<double>(piece.copy), 0.0);
        length("x", piece.box.low.x);
        length("y", piece.box.low.y);
        length("around", piece.box.high.x - piece.box.low.x);
        length("along", piece.box.high.y - piece.box.low.y);
      }
    tally.require(row == table.rows.size(),
                  fmt::format("cutlist.csv has {} rows, not {}", table.rows.size(), row));
  } catch (const InputError& error) {
    tally.wrong(error.what());
  }
  return tally.result("cells of the cut list");
}

CheckResult board_table(const fs::path& folder, const std::vector<ListedBoard>& boards) {
  Tally tally("boards table");
  try {
    TableFile table = read_table(folder / "boards.csv");
    table.name = "boards.csv";
    const TableUnit unit = unit_of_table(table, "thickness");
    tally.require(table.rows.size() == boards.size() + 1,
                  fmt::format("boards.csv has {} rows, not {}", table.rows.size(), boards.size() + 1));
    for (std::size_t b = 0; b < std::min(boards.size(), table.rows.size()); ++b) {
      const ListedBoard& board = boards[b];
      const std::string where = fmt::format("boards.csv:{}: ", table.rows[b].line);
      tally.require(same_name(table.text(b, "stock"), board.stock), where + "stock is not " + board.stock);
      tally.require(table.text(b, "face_up") == board.face_up, where + "face_up is not " + board.face_up);
      const auto figure = [&](const std::string& head, double expected, double tolerance) {
        const double found = table.number(b, head);
        tally.require(
            std::fabs(found - expected) <= tolerance,
            fmt::format("{}{} is {}, not {}", where, head, trimmed(found, 4), trimmed(expected, 4)));
      };
      figure("board", static_cast<double>(b + 1), 0.0);
      figure("pieces", static_cast<double>(board.pieces.size()), 0.0);
      figure("yield", board.yield, 0.51e-6);
      figure("thickness" + unit.ending, board.thickness / unit.per_unit, unit.half_a_place);
      figure("width" + unit.ending, board.width / unit.per_unit, unit.half_a_place);
      figure("length" + unit.ending, board.length / unit.per_unit, unit.half_a_place);
    }
    if (table.rows.size() == boards.size() + 1) {
      double pieces = 0.0;
      for (const ListedBoard& board : boards) pieces += static_cast<double>(board.pieces.size());
      tally.require(
          table.text(boards.size(), "board") == "all" && table.number(boards.size(), "pieces") == pieces,
          "boards.csv: the last row is not of all boards and their pieces");
    }
  } catch (const InputError& error) {
    tally.wrong(error.what());
  }
  return tally.result("cells of the table of boards");
}

// The list of remnants holds each of the boards' own, as large as it is there. It may hold more: what of
// earlier boards another job has taken.
CheckResult remnant_list(const fs::path& file, const std::vector<ListedBoard>& boards) {
  Tally tally("boards remnants");
  try {
    const JsonValue json = json_of(file);
    std::map<std::string, const JsonValue*> listed;
    for (const JsonValue& one : list_of(json, "remnants")) listed[text_of(one, "id")] = &one;
    for (const ListedBoard& board : boards)
      for (const BoardRemnant& remnant : board.remnants) {
        const auto found = listed.find(remnant.id);
        tally.require(found != listed.end(), "remnants.json does not list " + remnant.id);
        if (found == listed.end()) continue;
        const Vec2 size = remnant.box.high - remnant.box.low;
        const auto same = [&](const char* key, double mm) {
          tally.require(std::fabs(number_of(*found->second, key) - mm) <= 2e-3,
                        fmt::format("remnants.json: {} of {} is not as on the board", key, remnant.id));
        };
        same("length", size.x);
        same("width", size.y);
        same("thickness", board.thickness);
      }
  } catch (const InputError& error) {
    tally.wrong(error.what());
  }
  return tally.result("figures of remnants");
}

// Where boards are cut by fitting: none that is cut later would have completed more fittings.
CheckResult sequence(const std::vector<ListedBoard>& boards) {
  Tally tally("boards sequence");
  std::map<std::string, long> left;
  for (const ListedBoard& board : boards)
    for (const ListedPiece& piece : board.pieces) ++left[piece.tag];
  const auto completed = [&](const ListedBoard& board) {
    std::map<std::string, long> here;
    for (const ListedPiece& piece : board.pieces) ++here[piece.tag];
    return std::count_if(here.begin(), here.end(),
                         [&](const auto& each) { return left.at(each.first) == each.second; });
  };
  for (std::size_t b = 0; b < boards.size(); ++b) {
    const auto own = completed(boards[b]);
    for (std::size_t later = b + 1; later < boards.size(); ++later)
      tally.require(completed(boards[later]) <= own,
                    fmt::format("board {} would complete more fittings than board {}, which is cut before it",
                                later + 1, b + 1));
    for (const ListedPiece& piece : boards[b].pieces) --left[piece.tag];
  }
  return tally.result("boards that others come before");
}

}  // namespace

std::vector<CheckResult> check_boards(const fs::path& folder, const MakeAgain& again) {
  std::vector<CheckResult> results;
  try {
    const JsonValue json = read_json(file_bytes(folder / "boards.json", k_largest_json), "boards.json");
    const std::vector<ListedBoard> boards = listed_boards(json);
    results.push_back(counts(boards, json, again));
    results.push_back(board_table(folder, boards));
    results.push_back(cut_list(folder, boards));
    if (json.find("gap") == nullptr)
      results.push_back(
          noted("boards apart", "made by an earlier version, which did not state gap, trim and order"));
    else if (text_of(json, "sequence") == "by fitting")
      results.push_back(sequence(boards));
    if (json.find("written") == nullptr)
      results.push_back(
          noted("boards as asked", "made by an earlier version, which did not state what was asked"));
    if (fs::exists(folder / "remnants.json"))
      results.push_back(remnant_list(folder / "remnants.json", boards));
    const std::size_t digits = std::to_string(boards.size()).size();
    for (std::size_t b = 0; b < boards.size(); ++b) {
      const std::string file = fmt::format("board-{:0{}}.dxf", b + 1, digits);
      const std::vector<CheckResult> more = prove_board(folder / file, b + 1, boards[b], again);
      results.insert(results.end(), more.begin(), more.end());
    }
  } catch (const InputError& error) {
    results.push_back(undone("boards", error.what()));
  }
  return results;
}

}  // namespace linerwright
