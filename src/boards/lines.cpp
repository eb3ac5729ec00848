#include "lines.hpp"

#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "code.hpp"

namespace linerwright {

namespace {

constexpr double k_code_square = 1.0;  // mm, at least: a pen of half a millimetre draws it in two strokes

void lay(Ring& points, const NestedPiece& place) {
  points = placed(points, place);
}

void lay(Region& region, const NestedPiece& place) {
  lay(region.outer, place);
  for (Ring& hole : region.holes) lay(hole, place);
}

void lay(std::vector<std::vector<Vec2>>& lines, const NestedPiece& place) {
  for (auto& line : lines) lay(line, place);
}

}  // namespace

LaidPiece laid(const BoardPart& part, const NestedPiece& place, std::optional<double> code_pen) {
  LaidPiece piece{part.pattern, {}};
  Pattern& pattern = piece.pattern;
  const long copy = part.first_copy + place.copy + 1;
  lay(pattern.cut, place);
  lay(pattern.open_cuts, place);
  lay(pattern.duct, place);
  lay(pattern.air, place);
  lay(pattern.duct_rest, place);
  lay(pattern.air_rest, place);
  lay(pattern.duct_lines, place);
  lay(pattern.air_lines, place);
  lay(pattern.marks, place);
  place_labels_of(pattern, part.pattern, place.turned, {place.x, place.y},
                  part.count > 1 ? fmt::format("  {}/{}", copy, part.count) : "");
  if (!code_pen) return piece;
  const double square = std::max(k_code_square, *code_pen);
  for (const LabelBlock& block : pattern.label_blocks) {
    std::string text = fmt::format("{}|{}", part.tag, block.piece);
    if (part.count > 1) text += fmt::format("|{}/{}", copy, part.count);
    try {
      const CodeSquares squares = code_squares(text);
      const double side = square * static_cast<double>(squares.side());
      if (const auto middle = free_place(pattern, block, {side, side})) {
        const auto lines = code_lines(squares, *middle, square, *code_pen);
        piece.code.insert(piece.code.end(), lines.begin(), lines.end());
      }
    } catch (const std::invalid_argument&) {
      // a tag too long for any code: the label says it in letters
    }
  }
  return piece;
}

std::vector<PenLine> pen_lines(const LaidPiece& piece) {
  std::vector<PenLine> lines;
  const auto add = [&](Layer layer, const std::vector<std::vector<Vec2>>& given, bool of_text) {
    for (const auto& line : given)
      if (line.size() >= 2) lines.push_back({{layer, false, line}, of_text});
  };
  add(Layer::mark, piece.pattern.marks, false);
  add(Layer::label, piece.pattern.label_lines, false);
  add(Layer::label, piece.code, false);
  for (const Text& text : piece.pattern.labels) add(Layer::label, stroke_text(text), true);
  return lines;
}

std::vector<Vec2> run_on(std::vector<Vec2> line, double overcut) {
  double left = std::min(overcut, 0.5 * polyline_length(line, false));
  for (std::size_t i = 0; left > 0.0; ++i) {
    const Vec2 step = line[i + 1] - line[i];
    const double length = norm(step);
    if (length <= 0.0) continue;
    line.push_back(line[i] + (std::min(left, length) / length) * step);
    left -= length;
  }
  return line;
}

}  // namespace linerwright
