#include "linerwright/job/csv.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "names.hpp"
#include "text_file.hpp"

namespace linerwright {

namespace {

constexpr std::string_view k_blanks = " \t";

bool all_blank(const std::vector<std::string>& cells) {
  return std::all_of(cells.begin(), cells.end(), [](const std::string& cell) { return cell.empty(); });
}

struct Reader {
  std::string_view text;
  std::size_t at = 0;
  int line = 1;

  bool end() const { return at >= text.size(); }
  char peek() const { return end() ? '\0' : text[at]; }
  bool at_break() const { return end() || peek() == '\n' || peek() == '\r'; }

  // Over one line break, if there is one.
  void skip_break() {
    if (end()) return;
    if (peek() == '\r' && at + 1 < text.size() && text[at + 1] == '\n') ++at;
    ++at;
    ++line;
  }

  // A tab that separates cells is no blank.
  void skip_blanks(char separator = '\0') {
    while (!end() && peek() != separator && k_blanks.find(peek()) != std::string_view::npos) ++at;
  }

  std::string_view rest_of_line() {
    const std::size_t start = at;
    while (!at_break()) ++at;
    return text.substr(start, at - start);
  }

  // Adds the cell at `at`; afterwards at a separator or line break.
  void cell(char separator, CsvRow& row) {
    skip_blanks(separator);
    const std::size_t start = at;
    if (peek() == '"') return quoted_cell(separator, row);
    while (!at_break() && peek() != separator) ++at;
    row.cells.emplace_back(without_ends(text.substr(start, at - start)));
    row.spans.emplace_back(start, start + row.cells.back().size());
  }

  void quoted_cell(char separator, CsvRow& row) {
    const int opened = line;
    const std::size_t start = at;
    std::string out;
    ++at;
    while (true) {
      if (end()) throw CsvError(opened, "a quote is opened here and never closed");
      const char c = peek();
      if (c == '"') {
        ++at;
        if (peek() != '"') break;
        out += '"';
        ++at;
      } else if (c == '\n' || c == '\r') {
        out += '\n';
        skip_break();
      } else {
        out += c;
        ++at;
      }
    }
    row.spans.emplace_back(start, at);
    skip_blanks(separator);
    if (!at_break() && peek() != separator) {
      throw CsvError(line, "text follows a closing quote; double the quotes inside a quoted cell");
    }
    row.cells.emplace_back(without_ends(out));
  }
};

// Semicolon if the line at the reader holds one outside quotes.
char separator_of(Reader reader) {
  bool inside = false;
  char before = ',';  // the last character that is not blank; a quote opens only where a cell begins
  for (; !reader.end() && (inside || !reader.at_break()); ++reader.at) {
    const char c = reader.peek();
    if (c == '"' && (inside || before == ',')) inside = !inside;
    if (c == ';' && !inside) return ';';
    if (k_blanks.find(c) == std::string_view::npos) before = c;
  }
  return ',';
}

}  // namespace

CsvTable parse_csv(std::string_view text) {
  return parse_csv(text, {});
}

CsvTable parse_csv(std::string_view text, const CsvRules& rules) {
  CsvTable table;
  table.separator = rules.separator == '\0' ? table.separator : rules.separator;
  Reader reader{text};
  while (!reader.end()) {
    CsvRow row;
    row.line = reader.line;
    if (std::max(table.rows.size(), table.comments.size()) > k_most_fittings)
      throw CsvError(row.line, fmt::format("holds more than {} rows: split the schedule", k_most_fittings));
    const Reader start = reader;
    reader.skip_blanks();
    if (rules.comments && reader.peek() == '#') {
      ++reader.at;
      row.cells.emplace_back(without_ends(reader.rest_of_line()));
      table.comments.push_back(std::move(row));
      reader.skip_break();
      continue;
    }
    reader = start;
    const bool open = rules.separator == '\0' && table.rows.empty();
    const char separator = open ? separator_of(reader) : table.separator;
    row.begin = reader.at;
    reader.cell(separator, row);
    while (!reader.at_break()) {
      if (row.cells.size() == k_most_cells)
        throw CsvError(row.line, fmt::format("holds more than {} cells in a row", k_most_cells));
      ++reader.at;
      reader.cell(separator, row);
    }
    reader.skip_break();
    row.end = reader.at;
    if (all_blank(row.cells)) continue;
    table.separator = separator;
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace linerwright
