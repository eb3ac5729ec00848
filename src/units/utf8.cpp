#include "linerwright/units/utf8.hpp"

#include <algorithm>
#include <iterator>

namespace linerwright {

CodePoint first_code_point(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return {first, 1};
  std::size_t length = 0;
  if (first >= 0xC2 && first <= 0xDF) length = 2;
  if (first >= 0xE0 && first <= 0xEF) length = 3;
  if (first >= 0xF0 && first <= 0xF4) length = 4;
  if (length == 0 || length > text.size()) return {};
  char32_t code = first & (0xFFu >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return {};
    code = (code << 6) | (byte(i) & 0x3Fu);
  }
  const bool overlong = (length == 3 && code < 0x800) || (length == 4 && code < 0x10000);
  if (overlong || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) return {};
  return {code, length};
}

void append_utf8(std::string& out, char32_t code) {
  const auto put = [&](char32_t byte) { out += static_cast<char>(static_cast<unsigned char>(byte)); };
  if (code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) code = k_replacement;
  if (code < 0x80) {
    put(code);
  } else if (code < 0x800) {
    put(0xC0 | (code >> 6));
    put(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    put(0xE0 | (code >> 12));
    put(0x80 | ((code >> 6) & 0x3F));
    put(0x80 | (code & 0x3F));
  } else {
    put(0xF0 | (code >> 18));
    put(0x80 | ((code >> 12) & 0x3F));
    put(0x80 | ((code >> 6) & 0x3F));
    put(0x80 | (code & 0x3F));
  }
}

// The Unicode Standard, chapter 23 (special areas and format characters); the list is from memory.
bool is_control(char32_t code) {
  struct Range {
    char32_t first, last;
  };
  constexpr Range k_ranges[] = {
      {0x0000, 0x001F},   {0x007F, 0x009F},  // controls
      {0x00AD, 0x00AD},                      // soft hyphen
      {0x061C, 0x061C},   {0x200E, 0x200F},  // direction marks
      {0x200B, 0x200B},   {0x2060, 0x2064},  // zero-width space, word joiner, invisible operators
      {0x2028, 0x2029},                      // line and paragraph separator
      {0x202A, 0x202E},   {0x2066, 0x206F},  // direction embeddings, overrides and isolates; old controls
      {0xD800, 0xDFFF},                      // surrogates
      {0xFDD0, 0xFDEF},                      // no characters
      {0xFEFF, 0xFEFF},   {0xFFF9, 0xFFFB},  // byte order mark, annotation marks
      {0xE0000, 0xE007F},                    // tag characters
  };
  if ((code & 0xFFFE) == 0xFFFE || code > 0x10FFFF) return true;  // the last two of each plane
  return std::any_of(std::begin(k_ranges), std::end(k_ranges),
                     [&](const Range& range) { return code >= range.first && code <= range.last; });
}

}  // namespace linerwright
