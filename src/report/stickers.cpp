// Stickers, one for each piece, for tables without a pen.
#include <fmt/format.h>

#include <algorithm>

#include "linerwright/fitting/choices.hpp"
#include "linerwright/report/board_sheets.hpp"
#include "linerwright/report/text_pdf.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_point = 25.4 / 72.0;  // mm
constexpr double k_inside = 2.5;         // mm from a sticker's edge

long along(double room, double size, double apart) {
  return static_cast<long>((room + apart + 1e-6) / (size + apart));
}

struct Counts {
  long across = 0, down = 0;
};

Counts counts_of(const StickerSheet& sheet) {
  return {along(sheet.paper.x - sheet.first.x, sheet.size.x, sheet.apart.x),
          along(sheet.paper.y - sheet.first.y, sheet.size.y, sheet.apart.y)};
}

}  // namespace

StickerSheet sticker_sheet(const Values* table, Units units, const std::string& file) {
  constexpr double k_inch = 25.4;
  const auto given = [&](const char* key) { return table == nullptr ? std::nullopt : table->maybe(key); };
  const bool named = table != nullptr && table->has("paper");
  const bool letter =
      named ? chosen(*table, "paper", k_paper_choices) == StickerPaper::letter : units == Units::inch;
  StickerSheet sheet = letter ? StickerSheet{{8.5 * k_inch, 11.0 * k_inch},
                                             {2.625 * k_inch, k_inch},
                                             {0.1875 * k_inch, 0.5 * k_inch},
                                             {0.125 * k_inch, 0.0}}
                              : StickerSheet{{210.0, 297.0}, {70.0, 37.0}, {0.0, 0.5}, {0.0, 0.0}};
  sheet.size = {given("width").value_or(sheet.size.x), given("height").value_or(sheet.size.y)};
  sheet.first = {given("left").value_or(sheet.first.x), given("top").value_or(sheet.first.y)};
  sheet.apart = {given("across").value_or(sheet.apart.x), given("down").value_or(sheet.apart.y)};
  const Counts counts = counts_of(sheet);
  if (counts.across < 1 || counts.down < 1) {
    const char* key = counts.across < 1 ? "width" : "height";
    const Value* value = table == nullptr ? nullptr : table->find(key);
    const double most = counts.across < 1 ? sheet.paper.x - sheet.first.x : sheet.paper.y - sheet.first.y;
    throw InputError({Problem{file, value == nullptr ? 0 : value->line, "stickers", key,
                              value == nullptr ? std::string() : value->written,
                              "at most " + format_quantity(Quantity::length, std::max(0.0, most), units, 2),
                              "not one sticker fits on the sheet"}});
  }
  return sheet;
}

std::string stickers_pdf(const BoardPlan& plan, const StickerSheet& sheet, const SheetHead& head) {
  TextPdf pdf(sheet.paper);
  const Counts counts = counts_of(sheet);
  const auto length = [&](double value) { return format_quantity(Quantity::length, value, plan.units, 1); };
  long at = 0;
  const auto stick = [&](const std::vector<std::string>& lines) {
    const long on_page = at % (counts.across * counts.down);
    if (on_page == 0) {
      pdf.begin_page();
      pdf.go_to(pdf.page_count() - 1);
    }
    ++at;
    const long down = on_page / counts.across;
    const Vec2 place{static_cast<double>(on_page % counts.across), static_cast<double>(down)};
    const Vec2 corner{sheet.first.x + place.x * (sheet.size.x + sheet.apart.x),
                      sheet.paper.y - sheet.first.y - place.y * (sheet.size.y + sheet.apart.y)};
    const Vec2 room = sheet.size - 2.0 * Vec2{k_inside, k_inside};
    // the first line is as high as two of the others
    const double row = room.y / (static_cast<double>(lines.size()) + 1.0);
    double y = corner.y - k_inside;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const double high = i == 0 ? 2.0 * row : row;
      const double points = std::min({i == 0 ? 22.0 : 10.0, 0.8 * high / k_point,
                                      room.x / std::max(1e-9, text_width(lines[i], 1.0, i == 0))});
      y -= high;
      pdf.text({corner.x + k_inside, y + 0.25 * high}, lines[i], points, i == 0);
    }
  };
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    const PlannedBoard& board = plan.boards[b];
    for (std::size_t i = 0; i < board.pieces.size(); ++i) {
      const PlacedPiece& piece = board.pieces[i];
      const BoardPart& part = plan.parts[piece.part];
      const Vec2 size = piece.box.high - piece.box.low;
      std::vector<std::string> lines{
          part.tag + "/" + part.piece, fmt::format("board {}, piece {}", b + 1, i + 1),
          fmt::format("liner {}, {} face up", length(board.thickness), face_up_word(board)),
          length(size.x) + " x " + length(size.y)};
      if (part.count > 1) lines[1] += fmt::format(", {} of {}", piece.copy + 1, part.count);
      if (const std::string next = next_pieces(part); !next.empty())
        lines.push_back((part.pattern.is_blank ? "makes " : "next: ") + next);
      stick(lines);
    }
  }
  return pdf.finish(head.job.empty() ? "stickers" : head.job + ": stickers", "linerwright " + head.version);
}

}  // namespace linerwright
