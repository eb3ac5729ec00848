#include "read_table.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

#include "linerwright/check/file_bytes.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

[[noreturn]] void refuse(const std::string& file, int line, const std::string& reason) {
  throw InputError({Problem{file, line, {}, {}, {}, {}, reason}});
}

// One line of cells at a time (RFC 4180: quotes around a cell, doubled inside it).
class TableReader {
 public:
  TableReader(std::string_view text, const std::string& name) : text_(text), name_(name) {}

  bool ended() const { return at_ >= text_.size(); }
  int line() const { return line_; }

  std::optional<std::string> comment() {
    if (text_[at_] != '#') return std::nullopt;
    const std::size_t from = ++at_;
    while (!ended() && text_[at_] != '\n') ++at_;
    std::string found(text_.substr(from, at_ - from));
    step_over_break();
    return found;
  }

  std::vector<std::string> row() {
    std::vector<std::string> cells;
    for (;;) {
      if (++cells_ > k_most_cells_in_table) refuse(name_, line_, "holds more cells than any table");
      cells.push_back(cell());
      if (ended() || text_[at_] != ',') break;
      ++at_;
    }
    step_over_break();
    return cells;
  }

 private:
  void step_over_break() {
    if (!ended() && text_[at_] == '\r') ++at_;
    if (ended()) return;
    if (text_[at_] != '\n') refuse(name_, line_, "text follows a closing quote");
    ++at_;
    ++line_;
  }

  std::string cell() {
    std::string out;
    if (ended() || text_[at_] != '"') {
      while (!ended() && text_[at_] != ',' && text_[at_] != '\n' && text_[at_] != '\r') out += text_[at_++];
      return out;
    }
    const int opened = line_;
    for (++at_;; ++at_) {
      if (ended()) refuse(name_, opened, "a quote is opened here and never closed");
      if (text_[at_] == '\n') ++line_;
      if (text_[at_] != '"') {
        out += text_[at_];
      } else if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
        out += text_[at_++];
      } else {
        ++at_;
        return out;
      }
    }
  }

  std::string_view text_;
  const std::string& name_;
  std::size_t at_ = 0;
  int line_ = 1;
  std::size_t cells_ = 0;
};

std::size_t column(const TableFile& table, const std::string& head) {
  const auto found = std::find(table.heads.begin(), table.heads.end(), head);
  if (found == table.heads.end()) refuse(table.name, 1, "has no column " + head);
  return static_cast<std::size_t>(found - table.heads.begin());
}

}  // namespace

const std::string& TableFile::text(std::size_t row, const std::string& head) const {
  return rows.at(row).cells[column(*this, head)];
}

double TableFile::number(std::size_t row, const std::string& head) const {
  const std::string& cell = text(row, head);
  double value = 0.0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (error != std::errc() || end != cell.data() + cell.size() || !std::isfinite(value))
    refuse(name, rows[row].line, fmt::format("{} is '{}', no number", head, cell));
  return value;
}

TableFile read_table(std::string_view text, const std::string& name) {
  if (text.size() > k_largest_table) refuse(name, 0, "is larger than any table");
  int line = 1;
  for (std::string_view rest = text; !rest.empty();) {
    const CodePoint next = first_code_point(rest);
    if (next.bytes == 0) refuse(name, line, "is not UTF-8 text");
    if (next.code == 0) refuse(name, line, "holds a NUL character, so it is no table");
    if (next.code == '\n') ++line;
    rest.remove_prefix(next.bytes);
  }
  TableFile table;
  table.name = name;
  TableReader reader(text, name);
  while (!reader.ended()) {
    if (const auto comment = reader.comment()) {
      table.comments.push_back(*comment);
      continue;
    }
    TableRow row{reader.line(), reader.row()};
    if (table.heads.empty()) {
      table.heads = std::move(row.cells);
      continue;
    }
    if (row.cells.size() != table.heads.size())
      refuse(name, row.line,
             fmt::format("holds {} cells under {} heads", row.cells.size(), table.heads.size()));
    table.rows.push_back(std::move(row));
  }
  if (table.heads.empty()) refuse(name, 0, "the table is empty");
  return table;
}

TableFile read_table(const std::filesystem::path& file) {
  return read_table(file_bytes(file, k_largest_table), file.string());
}

}  // namespace linerwright
