// Columns for a terminal.
#pragma once

#include <string>
#include <vector>

namespace linerwright {

// Rows of cells under heads, the first `left` columns flush left and the rest flush right, two blanks
// between. Cells are UTF-8; one wider than `widest` characters is cut with an ellipsis, and control
// characters are shown as ?.
std::string text_table(const std::vector<std::string>& heads,
                       const std::vector<std::vector<std::string>>& rows, std::size_t left = 1,
                       std::size_t widest = 24);

// One CSV cell: quoted where needed (RFC 4180); one that a spreadsheet would take for a formula gets a
// leading '.
std::string csv_cell(const std::string& text);

}  // namespace linerwright
