#include "linerwright/paper/workbook.hpp"

#include <xlsxwriter.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <optional>

#include "linerwright/job/csv.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/read_double.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

constexpr time_t k_made =
    946684800;                     // 2000-01-01: never a clock's, so that the same tables give the same file
constexpr double k_widest = 60.0;  // characters of a column
constexpr int k_most_decimals = 9;

std::optional<double> number_in(const std::string& cell) {
  if (cell.empty() || cell.find_first_not_of("+-.0123456789eE") != std::string::npos) return std::nullopt;
  const bool digits = cell.find_first_of("0123456789") != std::string::npos;
  // 007 is a name, not a number
  if (!digits || (cell.size() > 1 && cell[0] == '0' && cell[1] != '.')) return std::nullopt;
  double value = 0.0;
  const auto [end, error] = read_double(cell.data(), cell.data() + cell.size(), value);
  if (error != std::errc{} || end != cell.data() + cell.size()) return std::nullopt;
  return value;
}

int decimals_in(const std::string& cell) {
  const std::size_t point = cell.find('.');
  if (point == std::string::npos || cell.find_first_of("eE") != std::string::npos) return 0;
  return std::min(k_most_decimals, static_cast<int>(cell.size() - point - 1));
}

class Writer {
 public:
  Writer(lxw_workbook* book) : book_(book) {
    heads_ = workbook_add_format(book);
    format_set_bold(heads_);
    format_set_bottom(heads_, LXW_BORDER_THIN);
  }

  void add(const WorkbookSheet& sheet) {
    const CsvTable table = parse_csv(sheet.csv, CsvRules{',', false});
    if (table.rows.empty()) return;
    lxw_worksheet* page = workbook_add_worksheet(book_, sheet.name.c_str());
    if (page == nullptr) throw WriteError("workbook: no sheet can be called '" + sheet.name + "'");
    std::size_t columns = 0;
    for (const CsvRow& row : table.rows) columns = std::max(columns, row.cells.size());
    std::vector<int> decimals(columns, 0);
    std::vector<double> widths(columns, 8.0);
    for (std::size_t r = 0; r < table.rows.size(); ++r)
      for (std::size_t c = 0; c < table.rows[r].cells.size(); ++c) {
        const std::string& cell = table.rows[r].cells[c];
        widths[c] = std::max(widths[c], 1.5 + static_cast<double>(cell.size()));
        if (r > 0 && number_in(cell)) decimals[c] = std::max(decimals[c], decimals_in(cell));
      }
    for (std::size_t c = 0; c < columns; ++c) {
      const auto column = static_cast<lxw_col_t>(c);
      worksheet_set_column(page, column, column, std::min(k_widest, widths[c]), nullptr);
    }
    for (std::size_t r = 0; r < table.rows.size(); ++r)
      for (std::size_t c = 0; c < table.rows[r].cells.size(); ++c)
        put(page, r, c, table.rows[r].cells[c], decimals[c]);
    worksheet_freeze_panes(page, 1, 0);
  }

 private:
  lxw_workbook* book_;
  lxw_format* heads_;
  std::map<int, lxw_format*> formats_;

  lxw_format* with_decimals(int decimals) {
    lxw_format*& format = formats_[decimals];
    if (format == nullptr) {
      format = workbook_add_format(book_);
      const std::string pattern =
          decimals == 0 ? "0" : "0." + std::string(static_cast<std::size_t>(decimals), '0');
      format_set_num_format(format, pattern.c_str());
    }
    return format;
  }

  void put(lxw_worksheet* page, std::size_t r, std::size_t c, const std::string& cell, int decimals) {
    if (cell.empty()) return;
    const auto row = static_cast<lxw_row_t>(r);
    const auto column = static_cast<lxw_col_t>(c);
    if (const std::optional<double> value = r > 0 ? number_in(cell) : std::nullopt)
      worksheet_write_number(page, row, column, *value, with_decimals(decimals));
    else
      worksheet_write_string(page, row, column, cell.c_str(), r == 0 ? heads_ : nullptr);
  }
};

}  // namespace

void write_workbook(const fs::path& file, const std::vector<WorkbookSheet>& sheets) {
  fs::path part = file;
  part += ".part";
  const auto fail = [&](const std::string& why) {
    std::error_code error;
    fs::remove(part, error);
    throw WriteError(file.string() + ": " + why);
  };
  lxw_workbook* book = workbook_new(part.c_str());
  if (book == nullptr) fail("cannot write a workbook");
  lxw_doc_properties properties{};
  properties.created = k_made;
  workbook_set_properties(book, &properties);
  try {
    Writer writer(book);
    for (const WorkbookSheet& sheet : sheets)
      if (!sheet.csv.empty()) writer.add(sheet);
  } catch (...) {
    workbook_close(book);
    std::error_code error;
    fs::remove(part, error);
    throw;
  }
  if (const lxw_error failed = workbook_close(book); failed != LXW_NO_ERROR) fail(lxw_strerror(failed));
  std::error_code error;
  fs::rename(part, file, error);
  if (error) fail(error.message());
}

}  // namespace linerwright
