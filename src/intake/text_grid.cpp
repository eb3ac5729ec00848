// Text with separators as a grid.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "encoding.hpp"
#include "head.hpp"
#include "linerwright/job/csv.hpp"

namespace linerwright {

namespace {

Grid grid_of(const CsvTable& table, const std::string& file) {
  Grid grid{file, "", {}, {}};
  for (const CsvRow& row : table.rows) {
    GridRow cells{row.line, {}};
    for (const std::string& text : row.cells) {
      // a line break inside a cell is a space of the sentence
      std::string flat = text;
      std::replace(flat.begin(), flat.end(), '\n', ' ');
      cells.cells.push_back({std::move(flat), false});
    }
    grid.rows.push_back(std::move(cells));
  }
  return grid;
}

std::string name_of(char separator) {
  return separator == ';' ? "semicolons" : separator == '\t' ? "tabs" : separator == '|' ? "bars" : "commas";
}

}  // namespace

// The separator is the one by which the head row holds the most words of the trade; of two alike the first.
Grid grid_of_text(std::string_view bytes, const std::string& file, const ReadAnswers& answers,
                  const JobSchema& schema) {
  std::string encoding;
  std::string text = decoded(bytes, answers.encoding, file, encoding);
  int skipped = 0;
  // a first line "sep=;" is no row
  if (text.substr(0, 4) == "sep=") {
    text.erase(0, std::min(text.find('\n'), text.size() - 1) + 1);
    skipped = 1;
  }
  const std::vector<std::string> keys = keys_known(schema);
  std::optional<Grid> best;
  std::optional<Problem> broken;
  std::size_t most = 0;
  for (const char separator : std::array<char, 4>{',', ';', '\t', '|'}) {
    try {
      CsvRules rules;
      rules.separator = separator;
      rules.comments = false;
      Grid grid = grid_of(parse_csv(text, rules), file);
      std::size_t score = 0;
      for (std::size_t r = 0; r < std::min<std::size_t>(grid.rows.size(), 100); ++r)
        score = std::max(score, head_score(grid.rows[r], keys, answers));
      if (best && score <= most) continue;
      most = score;
      grid.told = "separated by " + name_of(separator) + (encoding.empty() ? "" : ", " + encoding);
      best = std::move(grid);
    } catch (const CsvError& error) {
      if (!broken) broken = Problem{file, error.line() + skipped, "", "", "", "", error.what()};
    }
  }
  if (broken && most == 0) throw InputError({*broken});
  if (!best) throw InputError({Problem{file, 0, "", "", "", "", "is no table"}});
  for (GridRow& row : best->rows) row.line += skipped;
  return *best;
}

}  // namespace linerwright
