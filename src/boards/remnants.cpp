// Offcuts that go back into stock: their ids, and what the pen writes on them.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "linerwright/units/digest.hpp"
#include "remnants.hpp"

namespace linerwright {

namespace {

constexpr double k_highest = 40.0;  // mm, of a capital letter
constexpr double k_lowest = 5.0;
constexpr std::size_t k_digits = 8;  // of an id

std::string place(const Box& box) {
  return fmt::format("{},{},{},{}", fixed(box.low.x, 1), fixed(box.low.y, 1), fixed(box.high.x, 1),
                     fixed(box.high.y, 1));
}

// All that says which boards these are.
std::string all_boards(const BoardPlan& plan, const std::string& job) {
  std::string text = job;
  for (const PlannedBoard& board : plan.boards) {
    text += "|" + plan.stock[board.stock].name;
    for (const PlacedPiece& piece : board.pieces)
      text += fmt::format(";{}/{} {} {}", plan.parts[piece.part].tag, plan.parts[piece.part].piece,
                          piece.copy, place(piece.box));
  }
  return text;
}

}  // namespace

std::vector<Text> remnant_words(const BoardRemnant& remnant, Units units) {
  constexpr double k_share = 0.8;  // of the room
  constexpr double k_second = 0.5;
  const Vec2 size = remnant.box.high - remnant.box.low;
  const std::string second = fmt::format("{} x {}", format_quantity(Quantity::length, size.x, units, 1),
                                         format_quantity(Quantity::length, size.y, units, 1));
  const double wide = std::max(stroke_text_width(remnant.id, 1.0), k_second * stroke_text_width(second, 1.0));
  const double high = std::min({k_highest, k_share * size.x / wide, k_share * size.y / 2.4});
  if (high < k_lowest) return {};
  const Vec2 middle = 0.5 * (remnant.box.low + remnant.box.high);
  return {{Layer::label, middle + Vec2{0.0, 0.1 * high}, high, 0.0, true, remnant.id},
          {Layer::label, middle - Vec2{0.0, 0.9 * high}, k_second * high, 0.0, true, second}};
}

void label_remnants(BoardPlan& plan, const std::string& job) {
  const std::string all = all_boards(plan, job);
  for (std::size_t b = 0; b < plan.boards.size(); ++b) {
    PlannedBoard& board = plan.boards[b];
    for (const Box& offcut : board.offcuts) {
      std::string id = digest(fmt::format("{}|{}|{}", all, b, place(offcut))).substr(0, k_digits);
      for (char& c : id) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
      BoardRemnant remnant{"R-" + id, offcut};
      const std::vector<Text> words = remnant_words(remnant, plan.units);
      if (words.empty()) continue;
      for (const Text& text : words) {
        for (std::vector<Vec2>& stroke : stroke_text(text))
          board.pen.push_back({{Layer::label, false, std::move(stroke)}, true});
        board.texts.push_back(text);
      }
      board.remnants.push_back(std::move(remnant));
    }
  }
}

}  // namespace linerwright
