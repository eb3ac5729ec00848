#include "cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <stdexcept>

#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

std::string lower(std::string_view text) {
  std::string out;
  for (const char c : text) out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

// Signs that say "diameter" and typographic marks, as plain characters.
std::string plain_signs(std::string_view text) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 14> signs = {{{"\xC3\x98", " "},
                                                                                    {"\xC3\xB8", " "},
                                                                                    {"\xE2\x8C\x80", " "},
                                                                                    {"\xCF\x86", " "},
                                                                                    {"\xCE\xA6", " "},
                                                                                    {"\xC3\x97", "x"},
                                                                                    {"\xE2\x86\x92", " to "},
                                                                                    {"->", " to "},
                                                                                    {"\xC2\xA0", " "},
                                                                                    {"\xE2\x80\x9D", "\""},
                                                                                    {"\xE2\x80\x9C", "\""},
                                                                                    {"\xE2\x80\xB3", "\""},
                                                                                    {"''", "\""},
                                                                                    {"*", "x"}}};
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto sign = std::find_if(signs.begin(), signs.end(), [&](const auto& one) {
      return text.substr(i, one.first.size()) == one.first;
    });
    out += sign == signs.end() ? text.substr(i, 1) : sign->second;
    i += sign == signs.end() ? 1 : sign->first.size();
  }
  return out;
}

// Takes words such as dia and ID from both ends of one size.
std::string without_words(std::string_view written, std::string& size_is) {
  struct Word {
    std::string_view word;
    std::string_view size_is;
  };
  constexpr std::array<Word, 13> words = {{{"diameter", ""},
                                           {"diam.", ""},
                                           {"diam", ""},
                                           {"dia.", ""},
                                           {"dia", ""},
                                           {"round", ""},
                                           {"rd", ""},
                                           {"i.d.", "metal"},
                                           {"id", "metal"},
                                           {"o.d.", "outside"},
                                           {"od", "outside"},
                                           {"clear", "clear"},
                                           {"d", ""}}};
  std::string text = trimmed_text(written);
  for (bool changed = true; changed;) {
    changed = false;
    for (const Word& word : words) {
      const std::string low = lower(text);
      const std::size_t n = word.word.size();
      if (low.size() <= n) continue;
      const bool ends = low.substr(low.size() - n) == word.word && !is_letter(low[low.size() - n - 1]);
      const bool begins = low.substr(0, n) == word.word && !is_letter(low[n]);
      if (!ends && !begins) continue;
      text = trimmed_text(ends ? text.substr(0, text.size() - n) : text.substr(n));
      if (!word.size_is.empty()) size_is = word.size_is;
      changed = true;
    }
  }
  return text;
}

// 24/12 and not 1/2, 5/8, 1 1/2: whole numbers of which the first is no less, so that it is no fraction.
bool is_pair(const std::string& text) {
  const std::size_t slash = text.find('/');
  if (slash == std::string::npos || text.find('/', slash + 1) != std::string::npos) return false;
  const std::string above = trimmed_text(text.substr(0, slash));
  const std::string below = trimmed_text(text.substr(slash + 1));
  std::size_t digits = 0;
  while (digits < below.size() && is_digit(below[digits])) ++digits;
  if (above.empty() || digits == 0 || digits > 5 || above.size() > 5) return false;
  if (!std::all_of(above.begin(), above.end(), is_digit)) return false;
  return std::stol(above) >= std::stol(below.substr(0, digits));
}

// "24-18", "24\" - 18\"": two whole numbers with a dash between, neither feet and inches nor a mixed number.
bool is_span(const std::string& text) {
  const std::size_t dash = text.find('-');
  if (text.find_first_of("'/.", 0) != std::string::npos || text.find('-', dash + 1) != std::string::npos)
    return false;
  const auto whole = [](std::string part) {
    part = trimmed_text(part);
    if (!part.empty() && part.back() == '"') part.pop_back();
    return !part.empty() && std::all_of(part.begin(), part.end(), is_digit);
  };
  return dash != std::string::npos && whole(text.substr(0, dash)) && whole(text.substr(dash + 1));
}

// Where the text is parted: an x between two sizes, "to", "by", a slash after a unit or between spaces.
std::vector<std::string> parted(const std::string& text, bool slash) {
  std::vector<std::string> parts(1);
  const std::string low = lower(text);
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t before = text.find_last_not_of(' ', i == 0 ? std::string::npos : i - 1);
    const bool after_size = i > 0 && before != std::string::npos && before < i;
    const auto size_follows = [&](std::size_t at) {
      const std::size_t next = text.find_first_not_of(' ', at);
      return next != std::string::npos &&
             (is_digit(text[next]) || text[next] == '.' || lower(text.substr(next, 3)) == "dia");
    };
    std::size_t taken = 0;
    const bool ends_word = after_size && (is_digit(text[before]) || text[before] == '"' ||
                                          text[before] == '\'' || is_letter(text[before]));
    if (ends_word && low[i] == 'x' && size_follows(i + 1) &&
        (!is_letter(text[i - 1]) || text[i - 1] == 'm' || text[i - 1] == 'n'))
      taken = 1;
    for (const std::string_view word : {" to ", " by "})
      if (ends_word && low.compare(i, word.size(), word) == 0 && size_follows(i + word.size()))
        taken = word.size();
    if (after_size && text[i] == '/' && size_follows(i + 1)) {
      const bool unit_before = text[before] == '"' || is_letter(text[before]);
      const bool spaced = text[i - 1] == ' ' || (i + 1 < text.size() && text[i + 1] == ' ');
      if (unit_before || spaced || (slash && is_pair(text))) taken = 1;
    }
    // 24-18: whole numbers, with marks or without, and no feet before inches
    const bool dash =
        slash && after_size && i + 1 < text.size() && text[i] == '-' && size_follows(i + 1) && is_span(text);
    if (dash) taken = 1;
    if (taken == 0) {
      parts.back() += text[i++];
      continue;
    }
    parts.emplace_back();
    i += taken;
  }
  return parts;
}

bool is_bare(const std::string& text) {
  return parse_quantity(Quantity::length, text, Units::metric) !=
         parse_quantity(Quantity::length, text, Units::inch);
}

// The unit at the end of a length: letters or marks after its last digit.
std::string unit_of(const std::string& text) {
  const std::size_t last = text.find_last_of("0123456789");
  return last == std::string::npos ? "" : trimmed_text(std::string_view(text).substr(last + 1));
}

}  // namespace

std::string trimmed_text(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  return first == std::string_view::npos
             ? std::string()
             : std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

std::string shown_text(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const CodePoint next = first_code_point(text);
    const std::size_t bytes = std::max<std::size_t>(next.bytes, 1);
    if (next.bytes == 0 || is_control(next.code))
      out += '?';
    else
      out += text.substr(0, bytes);
    text.remove_prefix(bytes);
  }
  return out;
}

LengthText length_text(std::string_view cell, std::string_view unit) {
  LengthText out{trimmed_text(cell), false};
  out.bare = is_bare(out.text);
  if (out.bare && !unit.empty()) {
    out.text += fmt::format(" {}", unit);
    out.bare = false;
    parse_quantity(Quantity::length, out.text, Units::metric);
  }
  return out;
}

SizesText sizes_text(std::string_view cell, bool slash) {
  SizesText out;
  const std::string text = trimmed_text(plain_signs(cell));
  for (const std::string& part : parted(text, slash && (is_pair(text) || is_span(text))))
    out.sizes.push_back(without_words(part, out.size_is));
  if (out.sizes.size() < 2) return out;
  // a unit named once goes for those before it, and after it
  std::string unit;
  for (const bool back : {true, false}) {
    for (std::size_t k = 0; k < out.sizes.size(); ++k) {
      std::string& size = out.sizes[back ? out.sizes.size() - 1 - k : k];
      const std::string own = unit_of(size);
      if (!own.empty()) {
        unit = own;
      } else if (!unit.empty() && !size.empty()) {
        size += unit;
      }
    }
  }
  return out;
}

std::string count_text(std::string_view cell) {
  std::string text = trimmed_text(cell);
  if (text.size() > 1 && (text[0] == 'x' || text[0] == 'X')) text.erase(0, 1);
  const std::size_t digits = text.find_first_not_of("0123456789.");
  if (digits == std::string::npos || digits == 0) return text;
  const std::string word = lower(trimmed_text(text.substr(digits)));
  for (const std::string_view known : {"ea", "ea.", "each", "pc", "pcs", "pcs.", "piece", "pieces", "no",
                                       "nos", "no.", "nos.", "off", "x", "st", "unit", "units"})
    if (word == known) return text.substr(0, digits);
  return text;
}

std::string ratio_text(std::string_view cell) {
  std::string text = trimmed_text(cell);
  if (text.empty() || (text.back() != 'D' && text.back() != 'd')) return text;
  text.pop_back();
  while (!text.empty() && (text.back() == ' ' || text.back() == 'x' || text.back() == 'X')) text.pop_back();
  return text;
}

}  // namespace linerwright
