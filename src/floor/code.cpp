#include "code.hpp"

#include <qrcodegen/qrcodegen.hpp>

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

std::vector<std::vector<Vec2>> code_lines(const CodeSquares& code, Vec2 middle, double square) {
  const std::size_t n = code.dark.size();
  const double half = 0.5 * static_cast<double>(n);
  std::vector<std::vector<Vec2>> lines;
  for (std::size_t row = 0; row < n; ++row)
    for (const double share : {0.25, 0.75}) {
      const double y = middle.y + square * (half - static_cast<double>(row) - share);
      for (std::size_t from = 0; from < n; ++from) {
        if (!code.dark[row][from]) continue;
        std::size_t to = from;
        while (to < n && code.dark[row][to]) ++to;
        // the pen's own width reaches a quarter of a square beyond either end
        lines.push_back({{middle.x + square * (static_cast<double>(from) - half + 0.25), y},
                         {middle.x + square * (static_cast<double>(to) - half - 0.25), y}});
        from = to;
      }
    }
  return lines;
}

}  // namespace linerwright
