#include "linerwright/draw/page_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <optional>
#include <sstream>

#include "helvetica.hpp"
#include "linerwright/draw/letters.hpp"
#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

constexpr double k_mm = 25.4 / 72.0;  // of a point

// Characters that WinAnsiEncoding has from 0x80 to 0x9F (ISO 32000-1, annex D.2).
constexpr std::array<char32_t, 32> k_high = {0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
                                             0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0,      0x017D, 0,
                                             0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
                                             0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

std::optional<char> code_of(char32_t code) {
  if (code >= 0x20 && code < 0x7F) return static_cast<char>(code);
  if (code >= 0xA0 && code <= 0xFF && code != 0xAD)
    return static_cast<char>(static_cast<unsigned char>(code));
  for (std::size_t i = 0; code != 0 && i < k_high.size(); ++i)
    if (k_high[i] == code) return static_cast<char>(static_cast<unsigned char>(0x80 + i));
  return std::nullopt;
}

}  // namespace

std::string page_codes(std::string_view utf8) {
  std::string out;
  while (!utf8.empty()) {
    const CodePoint next = first_code_point(utf8);
    const char32_t code = next.bytes == 0 ? k_replacement : next.code;
    utf8.remove_prefix(next.bytes == 0 ? 1 : next.bytes);
    if (const auto own = code_of(code))
      out += *own;
    else if (const auto letters = spelling_of(code))
      out += *letters;
    else
      out += fmt::format("<U+{:X}>", static_cast<unsigned long>(code));
  }
  return out;
}

const std::array<int, 224>& letter_widths(bool bold) {
  return bold ? k_helvetica_bold : k_helvetica;
}

double text_width(std::string_view utf8, double points, bool bold) {
  const LetterWidths& widths = letter_widths(bold);
  int thousandths = 0;
  for (const char c : page_codes(utf8)) thousandths += widths.at(static_cast<unsigned char>(c) - 32U);
  return thousandths * 1e-3 * points * k_mm;
}

double Lettering::pitch() const {
  constexpr double k_pitch = 1.3;  // of a size
  return k_pitch * points * k_mm;
}

std::string cut_to(const std::string& text, Lettering lettering, double width) {
  if (lettering.width(text) <= width) return text;
  std::string cut = text;
  while (!cut.empty() && lettering.width(cut + "...") > width) {
    while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U) cut.pop_back();
    if (!cut.empty()) cut.pop_back();
  }
  return cut + "...";
}

std::vector<std::string> broken(const std::string& text, Lettering lettering, double width, double hang) {
  std::vector<std::string> lines;
  std::istringstream words(text);
  std::string current;
  const auto room = [&] { return width - (lines.empty() ? 0.0 : hang); };
  for (std::string word; words >> word;) {
    const std::string longer = current.empty() ? word : current + " " + word;
    if (!current.empty() && lettering.width(longer) > room()) {
      lines.push_back(cut_to(current, lettering, room()));
      current = word;
    } else {
      current = longer;
    }
  }
  lines.push_back(cut_to(current, lettering, room()));
  return lines;
}

Columns columns_of(const std::vector<std::string>& heads, const std::vector<std::vector<std::string>>& rows,
                   std::size_t words, double room, double points, double least) {
  for (;; points = std::max(least, 0.96 * points)) {
    std::vector<double> widths;
    for (std::size_t c = 0; c < heads.size(); ++c) {
      double widest = Lettering{points, true}.width(heads[c]);
      for (const auto& row : rows) widest = std::max(widest, Lettering{points, c == 0}.width(row[c]));
      widths.push_back(widest + k_column_gap);
    }
    double all = std::accumulate(widths.begin(), widths.end(), 0.0);
    for (int step = 0; step < 200 && all > room; ++step) {
      const auto last = widths.begin() + static_cast<std::ptrdiff_t>(words);
      const auto widest = std::max_element(widths.begin(), last);
      if (widest == last || *widest < 28.0) break;
      const double less = std::min(all - room, 0.1 * *widest);
      *widest -= less;
      all -= less;
    }
    if (all <= room + 1e-6 || points <= least) return {points, std::move(widths)};
  }
}

}  // namespace linerwright
