#include "rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "cells.hpp"
#include "row_values.hpp"

namespace linerwright {

namespace {

struct RowCell {
  std::size_t column = 0;
  GridCell cell;
};

// The filled cells of a row.
std::vector<RowCell> filled(const GridRow& row) {
  std::vector<RowCell> cells;
  for (std::size_t i = 0; i < row.cells.size(); ++i)
    if (!row.cells[i].text.empty()) cells.push_back({i, row.cells[i]});
  return cells;
}

std::string shown(const std::vector<RowCell>& cells) {
  std::string out;
  for (const RowCell& one : cells) {
    if (out.size() > 60) return out + " ...";
    out += (out.empty() ? "" : " | ") + shown_text(one.cell.text);
  }
  return out;
}

class RowReader {
 public:
  RowReader(const Grid& grid, const IntakeHead& head, RowContext& context)
      : grid_(grid), head_(head), context_(context) {}

  void read() {
    for (std::size_t r = head_.row + 1; r < grid_.rows.size(); ++r) {
      const GridRow& row = grid_.rows[r];
      std::vector<RowCell> cells = filled(row);
      if (cells.empty() || left_out(row, cells)) continue;
      fill_down(cells);
      RowFitting fitting(context_, row.line);
      for (const RowCell& one : cells) fitting.add(head_.columns[one.column], one.cell);
      if (auto read = fitting.finished()) {
        counted_ += read->second;
        context_.rows.fittings.push_back(std::move(read->first));
      }
    }
  }

 private:
  const std::string& meaning(const RowCell& one) const { return head_.columns[one.column].words.meaning; }

  const RowCell* cell_of(const std::vector<RowCell>& cells, const std::string& wanted) const {
    const auto found =
        std::find_if(cells.begin(), cells.end(), [&](const RowCell& one) { return meaning(one) == wanted; });
    return found == cells.end() || says_nothing_at_all(found->cell.text) ? nullptr : &*found;
  }

  void leave(const GridRow& row, const std::vector<RowCell>& cells, const std::string& what) {
    context_.rows.left.push_back(fmt::format("line {}: {}: {}", row.line, what, shown(cells)));
  }

  // Rows of sums, headings, units and heads told again.
  bool left_out(const GridRow& row, const std::vector<RowCell>& cells) {
    const bool again = std::all_of(cells.begin(), cells.end(), [&](const RowCell& one) {
      return one.cell.text == head_.columns[one.column].head;
    });
    if (again) {
      leave(row, cells, "the heads again");
      return true;
    }
    const auto total = std::find_if(cells.begin(), cells.end(),
                                    [](const RowCell& one) { return says_total(one.cell.text); });
    const RowCell* kind = cell_of(cells, "kind");
    if (total != cells.end() && (kind == nullptr || kind == &*total)) {
      sums(row, cells);
      return true;
    }
    const bool heading = kind != nullptr && cells.size() == 1 && !kind_words(kind->cell.text, context_.kinds);
    if (kind != nullptr && !heading) return false;
    const bool named = cell_of(cells, "tag") != nullptr && cells.size() > 1;
    if (cells.size() == 1 && !cells.front().cell.number && meaning(cells.front()) != "count") {
      // a heading between the rows, in whatever column
      leave(row, cells, "a heading");
      return true;
    }
    const bool only_sums = std::all_of(cells.begin(), cells.end(), [&](const RowCell& one) {
      return meaning(one) == "count" || meaning(one) == "left";
    });
    if (!named && only_sums) {
      sums(row, cells);
      return true;
    }
    return false;
  }

  // A row of sums; a count that differs from what stands above is told.
  void sums(const GridRow& row, const std::vector<RowCell>& cells) {
    leave(row, cells, "a row of sums");
    const RowCell* count = cell_of(cells, "count");
    if (count == nullptr) return;
    std::string fault;
    const std::string text =
        count->cell.number ? count->cell.text : context_.marks.plain(count->cell.text, fault);
    try {
      const double said = parse_quantity(Quantity::number, text, Units::metric);
      if (said != static_cast<double>(counted_) && context_.problems.empty())
        context_.rows.left.back() += fmt::format(" (says {}, but the rows above it hold {})", text, counted_);
    } catch (const std::invalid_argument&) {
      return;
    }
  }

  // Blank cells of the columns that a person named repeat the one above.
  void fill_down(std::vector<RowCell>& cells) {
    for (const std::string& key : context_.answers.fill_down) {
      if (const RowCell* own = cell_of(cells, key)) {
        above_[key] = *own;
      } else if (above_.count(key) != 0) {
        cells.push_back(above_[key]);
      }
    }
  }

  const Grid& grid_;
  const IntakeHead& head_;
  RowContext& context_;
  std::map<std::string, RowCell> above_;
  long counted_ = 0;
};

}  // namespace

const KeySpec* intake_key(const JobSchema& schema, const std::string& kind, const std::string& key) {
  for (const KindSchema& one : schema.kinds)
    if (one.kind == kind)
      for (const KeySpec& spec : one.keys)
        if (spec.name == key) return &spec;
  for (const KeySpec& spec : schema.liner_keys)
    if (spec.name == key) return &spec;
  return nullptr;
}

bool is_measure(const std::string& meaning, const JobSchema& schema) {
  if (meaning == "throat_radius" || meaning == "to_size" || meaning == "count" || meaning == "gores")
    return true;
  for (const KindSchema& kind : schema.kinds) {
    const KeySpec* key = intake_key(schema, kind.kind, meaning);
    if (key != nullptr && (key->type == ValueType::quantity || key->type == ValueType::integer)) return true;
  }
  return false;
}

IntakeRows read_rows(const Grid& grid, const IntakeHead& head, const DecimalMarks& marks,
                     const JobSchema& schema, const ReadAnswers& answers, std::optional<Units> units,
                     std::vector<Problem>& problems) {
  IntakeRows rows;
  RowContext context{grid.file, schema, answers, marks, units, rows, problems, {}, false, {}};
  context.counted = std::any_of(head.columns.begin(), head.columns.end(),
                                [](const IntakeColumn& column) { return column.words.meaning == "count"; });
  for (const KindSchema& kind : schema.kinds) context.kinds.push_back(kind.kind);
  RowReader(grid, head, context).read();
  for (const auto& [what, problem] : context.questions) problems.push_back(problem);
  return rows;
}

}  // namespace linerwright
