// The boards of a job on paper, for whoever stands at the table.
#pragma once

#include <string>

#include "linerwright/boards/boards.hpp"
#include "linerwright/report/bore_sheet.hpp"

namespace linerwright {

class TextPdf;

// A PDF on A4, or on letter where the job is in inches, lying: a page with all boards, then each board as it
// lies on the table, with its pieces numbered in the order they come free and named as large as they allow,
// and a list of them. The same plan gives the same bytes.
std::string jobsheet_pdf(const BoardPlan& plan, const SheetHead& head);
// One board of it alone.
std::string board_pdf(const BoardPlan& plan, std::size_t board, const SheetHead& head);
// A page, or several, for each board onto a PDF that holds more than them.
void add_board_pages(TextPdf& pdf, Vec2 size, const BoardPlan& plan, const SheetHead& head);
// "board-2.pdf", as board_file() is called.
std::string board_pdf_file(const BoardPlan& plan, std::size_t board);

// Where stickers lie on a sheet, mm from its upper left corner.
struct StickerSheet {
  Vec2 paper;
  Vec2 size;
  Vec2 first;
  Vec2 apart;  // from one to the next
};
// The table [stickers]; nothing given: the usual sheets of the job's units (common practice, no source).
// Throws InputError where not one fits.
StickerSheet sticker_sheet(const Values* table, Units units, const std::string& file);
// A sticker for each piece in the order they come free, board by board: fitting and piece, board and number,
// liner and face, size, next pieces.
std::string stickers_pdf(const BoardPlan& plan, const StickerSheet& sheet, const SheetHead& head);

}  // namespace linerwright
