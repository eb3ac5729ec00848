// Comma- or semicolon-separated text as RFC 4180 describes it, with what people do to it.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linerwright {

struct CsvRow {
  int line = 0;  // where the row begins
  std::vector<std::string> cells;
  std::size_t begin = 0, end = 0;                            // bytes of the row, its line break included
  std::vector<std::pair<std::size_t, std::size_t>> spans{};  // of each cell as it stands, quotes included
};

struct CsvTable {
  char separator = ',';
  std::vector<CsvRow> rows;      // blank rows and comment lines left out
  std::vector<CsvRow> comments;  // lines that begin with #, one cell each, without the #
};

class CsvError : public std::runtime_error {
 public:
  CsvError(int line, const std::string& reason) : std::runtime_error(reason), line_(line) {}
  int line() const { return line_; }

 private:
  int line_;
};

// Quotes around a cell, doubled quotes in it, line breaks in quotes; CR LF, LF or CR at line ends. A quote
// inside an unquoted cell is a plain character (24"). Cells lose spaces at both ends. The first row decides
// the separator: semicolon if it holds one outside quotes. Throws CsvError for an open quote and for text
// after a closing one.
CsvTable parse_csv(std::string_view text);

// How a sheet that nobody wrote for us is taken apart.
struct CsvRules {
  char separator = '\0';  // none: the first row decides
  bool comments = true;   // whether a line that begins with # is one
};
CsvTable parse_csv(std::string_view text, const CsvRules& rules);

}  // namespace linerwright
