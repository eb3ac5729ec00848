// Columns for a terminal, and cells for a spreadsheet.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace linerwright {

constexpr std::size_t k_text_width = 100;  // columns of a terminal

// A column of figures is flush right; one of words is flush left, and narrowed where the table is too wide.
struct Column {
  std::string head;
  bool words = false;
};

// How many columns of a terminal UTF-8 text takes: two for East Asian wide characters, none for marks that
// combine.
std::size_t shown_width(std::string_view text);

// The text in at most `widest` columns: an ellipsis takes the place of its middle; control and direction
// characters, and bytes that are no UTF-8, are shown as ?.
std::string shortened(std::string_view text, std::size_t widest);

// Rows of cells under heads, two blanks between, at most k_text_width columns as long as the figures leave
// words some room. Columns with nothing in them are left out.
std::string text_table(std::vector<Column> columns, std::vector<std::vector<std::string>> rows);

// Whether such a table has room enough that no word in it needs to be narrowed.
bool fits(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows);

// Text broken at blanks to at most k_text_width columns, the first line behind `first`, the others as far in.
std::string wrapped(const std::string& first, std::string_view text);

// One CSV cell: quoted where needed (RFC 4180); one that a spreadsheet would take for a formula gets a
// leading '.
std::string csv_cell(const std::string& text);

}  // namespace linerwright
