#include "code.hpp"

#include <qrcodegen/qrcodegen.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace linerwright {

CodeSquares code_squares(const std::string& text) {
  try {
    const auto code = qrcodegen::QrCode::encodeText(text.c_str(), qrcodegen::QrCode::Ecc::MEDIUM);
    CodeSquares squares;
    for (int y = 0; y < code.getSize(); ++y) {
      squares.dark.emplace_back();
      for (int x = 0; x < code.getSize(); ++x) squares.dark.back().push_back(code.getModule(x, y));
    }
    return squares;
  } catch (const qrcodegen::data_too_long& error) {
    throw std::invalid_argument(error.what());
  }
}

std::vector<std::vector<Vec2>> code_lines(const CodeSquares& code, Vec2 middle, double square, double pen) {
  const std::size_t n = code.dark.size();
  const double half = 0.5 * static_cast<double>(n);
  constexpr double k_shortest = 0.05;  // mm: a dot is a short line
  const int strokes = static_cast<int>(std::ceil(square / pen - 1e-9));
  const double edge = std::min(0.5, 0.5 * pen / square);
  std::vector<std::vector<Vec2>> lines;
  for (std::size_t row = 0; row < n; ++row)
    for (int stroke = 0; stroke < strokes; ++stroke) {
      // the first and the last stroke lie half the pen's width inside the row's edges, the others between
      const double share = strokes == 1 ? 0.5 : edge + stroke * (1.0 - 2.0 * edge) / (strokes - 1);
      const double y = middle.y + square * (half - static_cast<double>(row) - share);
      for (std::size_t from = 0; from < n; ++from) {
        if (!code.dark[row][from]) continue;
        std::size_t to = from;
        while (to < n && code.dark[row][to]) ++to;
        // the pen's own width reaches beyond either end
        const Vec2 left{middle.x + square * (static_cast<double>(from) - half + edge), y};
        Vec2 right{middle.x + square * (static_cast<double>(to) - half - edge), y};
        right.x = std::max(right.x, left.x + k_shortest);
        lines.push_back({left, right});
        from = to;
      }
    }
  return lines;
}

}  // namespace linerwright
