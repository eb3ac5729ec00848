#include "head.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cells.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_rows_looked_at = 100;

bool has_digit(const std::string& text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

std::vector<std::string> kinds_known(const JobSchema& schema) {
  std::vector<std::string> kinds;
  for (const KindSchema& kind : schema.kinds) kinds.push_back(kind.kind);
  return kinds;
}

// The filled cells of one column below the head.
std::vector<std::string> cells_below(const Grid& grid, const IntakeHead& head, std::size_t column) {
  std::vector<std::string> cells;
  for (std::size_t r = head.row + 1; r < grid.rows.size(); ++r) {
    const auto& row = grid.rows[r].cells;
    if (column < row.size() && !says_nothing_at_all(row[column].text) &&
        row[column].text != head.columns[column].head)
      cells.push_back(row[column].text);
  }
  return cells;
}

// Whether most cells name kinds (a sheet may hold one that does not).
bool are_kinds(const std::vector<std::string>& cells, const std::vector<std::string>& kinds) {
  const auto named = std::count_if(cells.begin(), cells.end(), [&](const std::string& cell) {
    return kind_words(cell, kinds).has_value();
  });
  return named > 0 && 2 * static_cast<std::size_t>(named) > cells.size();
}

// 1, 2, 3 ... down the column: rows are numbered.
bool are_row_numbers(const std::vector<std::string>& cells) {
  if (cells.size() < 3) return false;
  for (std::size_t i = 0; i < cells.size(); ++i)
    if (cells[i] != std::to_string(i + 1) && i + 1 < cells.size()) return false;
  return true;
}

struct Settling {
  IntakeHead& head;
  const Grid& grid;
  std::vector<std::string> kinds;
  std::vector<Problem>& questions;

  int line() const { return grid.rows[head.row].line; }
  bool has(const std::string& meaning) const {
    return std::any_of(head.columns.begin(), head.columns.end(),
                       [&](const IntakeColumn& c) { return c.words.meaning == meaning; });
  }
  void ask(const IntakeColumn& column, const std::string& answer, const std::string& reason) {
    questions.push_back({grid.file, line(), "", "column " + column.head, "", answer, reason});
  }
  void leave(IntakeColumn& column, const std::string& why) {
    column.words.meaning = "left";
    column.how = why;
  }

  // "Item", "Fitting", "Description", "No.", or a head that says nothing to us: the cells tell.
  void by_cells(std::size_t i) {
    IntakeColumn& column = head.columns[i];
    std::string& meaning = column.words.meaning;
    const std::vector<std::string> cells = cells_below(grid, head, i);
    if (meaning.empty() && column.how != "left by the map" && !has("kind") && are_kinds(cells, kinds)) {
      meaning = "kind";
      column.how = "its cells are kinds of fitting";
    } else if (meaning == "item" || meaning == "description") {
      if (!has("kind") && are_kinds(cells, kinds)) {
        meaning = "kind";
        column.how = "its cells are kinds of fitting";
      } else if (meaning == "item" && !has("tag")) {
        meaning = "tag";
      } else if (meaning == "description") {
        meaning = "note";
      } else {
        leave(column, "numbers of rows beside the tags");
      }
    } else if (meaning == "number") {
      if (are_row_numbers(cells)) {
        if (has("tag")) return leave(column, "numbers of rows beside the tags");
        meaning = "tag";
      } else if (has("count") && !has("tag")) {
        meaning = "tag";
      } else if (has("tag") && has("count")) {
        leave(column, "neither tag nor count, which have columns of their own");
      } else {
        ask(column,
            fmt::format("[columns] \"{0}\" = \"count\" or \"tag\" in a map for --columns", column.head),
            "can be how many or which one");
        meaning = "left";
      }
    }
  }

  // "No. of Pcs" beside a quantity counts the pieces of a bend.
  void pieces() {
    std::vector<std::size_t> counts;
    for (std::size_t i = 0; i < head.columns.size(); ++i)
      if (head.columns[i].words.meaning == "count") counts.push_back(i);
    if (counts.size() != 2 || has("pieces")) return;
    const auto of_pieces = [&](std::size_t i) {
      return (" " + plain_words(head.columns[i].head)).find(" pc") != std::string::npos;
    };
    if (of_pieces(counts[0]) == of_pieces(counts[1])) return;
    IntakeColumn& column = head.columns[of_pieces(counts[0]) ? counts[0] : counts[1]];
    column.words.meaning = "pieces";
    column.how = "pieces of a bend: another column says how many";
  }

  void radius(std::size_t i) {
    IntakeColumn& column = head.columns[i];
    if (column.words.meaning != "radius") return;
    const std::vector<std::string> cells = cells_below(grid, head, i);
    const bool ratios =
        !cells.empty() && std::all_of(cells.begin(), cells.end(), [](const std::string& cell) {
          return has_digit(cell) && (cell.back() == 'D' || cell.back() == 'd');
        });
    if (ratios) {
      column.words.meaning = "radius_ratio";
      column.how = "its cells are multiples of D";
    } else if (cells.empty()) {
      leave(column, "is empty");
    } else {
      ask(column,
          fmt::format("[columns] \"{}\" = \"centreline_radius\", \"throat_radius\" or \"radius_ratio\" in a "
                      "map for --columns",
                      column.head),
          "can be the centreline's or the throat's");
      column.words.meaning = "left";
    }
  }

  // What no word tells: text goes with the rows' notes no further than the table; numbers are asked for.
  void unknown(std::size_t i) {
    IntakeColumn& column = head.columns[i];
    if (!column.words.meaning.empty() || column.how == "left by the map") return;
    const std::vector<std::string> cells = cells_below(grid, head, i);
    const bool numbers = std::any_of(cells.begin(), cells.end(), [](const std::string& cell) {
      return has_digit(cell) && cell.size() < 24;
    });
    if (cells.empty()) return leave(column, "is empty");
    if (!numbers) return leave(column, "no word of the trade, and holds no numbers");
    ask(column,
        column.head.empty()
            ? std::string("a head above it")
            : fmt::format("[columns] \"{}\" = a key, or \"\" to leave it out, in a map for --columns",
                          column.head),
        column.head.empty() ? "has no head, and its cells hold numbers"
                            : "holds numbers, and its head is not understood");
    column.words.meaning = "left";
  }

  void twice() {
    std::set<std::string> seen;
    for (const IntakeColumn& column : head.columns) {
      const std::string& meaning = column.words.meaning;
      if (meaning.empty() || meaning == "left" || meaning == "note") continue;
      if (!seen.insert(meaning).second)
        ask(column,
            fmt::format("[columns] \"{}\" = another key, or \"\" to leave it out, in a map for --columns",
                        column.head),
            fmt::format("stands for {}, as another column does", meaning));
    }
  }
};

[[noreturn]] void refuse_headless(const Grid& grid) {
  const std::string why =
      grid.rows.empty() ? "is empty" : "no row holds heads of columns that are English words of the trade";
  const std::string row = "a row such as Tag, Type, Dia (mm), Length, Qty";
  if (grid.others.empty()) throw InputError({Problem{grid.file, 0, "", "", "", row, why}});
  std::string sheets;
  for (const std::string& other : grid.others)
    sheets += (sheets.empty() ? "--sheet " : " or ") + fmt::format("\"{}\"", shown_text(other));
  throw InputError({Problem{grid.file, 0, "", "", "", sheets + ", or " + row,
                            grid.told + ", the first that is shown: " + why}});
}

}  // namespace

bool says_nothing_at_all(const std::string& cell) {
  static const std::set<std::string, std::less<>> nothing = {
      "", "-", "--", "\xE2\x80\x93", "\xE2\x80\x94", ".", "n/a", "N/A", "na", "NA", "none", "None", "nil"};
  return nothing.count(cell) != 0;
}

std::vector<std::string> keys_known(const JobSchema& schema) {
  std::set<std::string> keys = {"tag", "kind", "count", "size_is", "throat_radius"};
  for (const KindSchema& kind : schema.kinds)
    for (const KeySpec& key : kind.keys) keys.insert(key.name);
  for (const KeySpec& key : schema.liner_keys) keys.insert(key.name);
  return {keys.begin(), keys.end()};
}

std::size_t head_score(const GridRow& row, const std::vector<std::string>& keys, const ReadAnswers& answers) {
  std::size_t score = 0;
  std::size_t told = 0;
  for (const GridCell& cell : row.cells) {
    if (cell.text.empty() || cell.number || cell.text.size() > 60) continue;
    const bool mapped = std::any_of(answers.columns.begin(), answers.columns.end(),
                                    [&](const auto& one) { return one.first == cell.text; });
    const std::string meaning = head_words(cell.text, keys).meaning;
    score += mapped || !meaning.empty() ? 1u : 0u;
    told += mapped || (!meaning.empty() && meaning != "left") ? 1u : 0u;
  }
  return told >= 2 ? score : 0;
}

IntakeHead find_head(const Grid& grid, const JobSchema& schema, const ReadAnswers& answers) {
  const std::vector<std::string> keys = keys_known(schema);
  IntakeHead head;
  std::size_t most = 0;
  for (std::size_t r = 0; r < std::min(grid.rows.size(), k_rows_looked_at); ++r) {
    const std::size_t score = head_score(grid.rows[r], keys, answers);
    if (score > most) {
      most = score;
      head.row = r;
    }
  }
  if (most == 0) refuse_headless(grid);
  for (const GridCell& cell : grid.rows[head.row].cells) {
    IntakeColumn column{cell.text, {}, "by its head"};
    if (!cell.text.empty()) column.words = head_words(cell.text, keys);
    const auto mapped = std::find_if(answers.columns.begin(), answers.columns.end(),
                                     [&](const auto& one) { return one.first == cell.text; });
    if (mapped != answers.columns.end()) {
      column.words.meaning = mapped->second.empty() ? "left" : mapped->second;
      column.how = mapped->second.empty() ? "left by the map" : "by the map";
    }
    head.columns.push_back(std::move(column));
  }
  return head;
}

void settle_columns(IntakeHead& head, const Grid& grid, const JobSchema& schema, const ReadAnswers& answers,
                    std::vector<Problem>& questions) {
  std::size_t widest = head.columns.size();
  for (std::size_t r = head.row + 1; r < grid.rows.size(); ++r)
    widest = std::max(widest, grid.rows[r].cells.size());
  head.columns.resize(widest);
  Settling settling{head, grid, kinds_known(schema), questions};
  for (std::size_t i = 0; i < widest; ++i) settling.by_cells(i);
  settling.pieces();
  for (std::size_t i = 0; i < widest; ++i) {
    settling.radius(i);
    settling.unknown(i);
  }
  settling.twice();
  if (!settling.has("kind"))
    questions.push_back({grid.file, settling.line(), "", "", "", "a column headed Type or Kind",
                         "no column says what kinds of fitting they are"});
  if (!settling.has("tag") && answers.tags.empty())
    questions.push_back({grid.file, settling.line(), "", "", "",
                         "a column headed Tag, or --tags rows to name them after their rows",
                         "no column names the fittings"});
}

}  // namespace linerwright
