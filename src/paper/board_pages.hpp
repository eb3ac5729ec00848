// Boards on the pages of a PDF that holds more than them.
#pragma once

#include "linerwright/board_sheets.hpp"
#include "text_pdf.hpp"

namespace linerwright {

// A page, or several, for each board: its drawing and its pieces.
void add_board_pages(TextPdf& pdf, Vec2 size, const FloorPlan& plan, const SheetHead& head);

}  // namespace linerwright
