// A table of comma-separated values with a head, read by the names of its columns.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linerwright {

struct TableRow {
  int line = 0;
  std::vector<std::string> cells;
};

struct TableFile {
  std::string name;  // of the file
  std::vector<std::string> heads;
  std::vector<TableRow> rows;
  std::vector<std::string> comments;  // lines that begin with #, without it

  // The cell of a row under this head. Throws InputError where there is no such column.
  const std::string& text(std::size_t row, const std::string& head) const;
  // The same as a number; throws InputError where it is none.
  double number(std::size_t row, const std::string& head) const;
};

constexpr std::size_t k_largest_table = 64u << 20;  // bytes
constexpr std::size_t k_most_cells_in_table = 4'000'000;

// Throws InputError (one problem, with file and line) for what cannot be read, is not UTF-8, has no head, has
// rows of another length than the head, an open quote, or goes beyond the limits above.
TableFile read_table(const std::filesystem::path& file);
TableFile read_table(std::string_view text, const std::string& name);

}  // namespace linerwright
