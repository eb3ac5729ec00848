#include "plain_text.hpp"

#include <algorithm>
#include <cstddef>

#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

struct Replacement {
  std::string_view from;  // UTF-8
  std::string_view to;
};

constexpr Replacement k_replacements[] = {
    {"\xE2\x80\xB2", "'"},    {"\xE2\x80\xB3", "\""},  // prime, double prime
    {"\xE2\x80\x98", "'"},    {"\xE2\x80\x99", "'"},   // single curly quotes
    {"\xE2\x80\x9C", "\""},   {"\xE2\x80\x9D", "\""},  // double curly quotes
    {"\xC2\xA0", " "},        {"\xE2\x80\xAF", " "},   // no-break spaces
    {"\xE2\x80\x89", " "},                             // thin space
    {"\xE2\x88\x92", "-"},    {"\xE2\x80\x93", "-"},   // minus sign, en dash
    {"\xE2\x80\x91", "-"},                             // no-break hyphen
    {"\xE2\x81\x84", "/"},                             // fraction slash
    {"\xC2\xB2", "2"},        {"\xC2\xB3", "3"},       // superscripts
    {"\xC2\xB7", " "},        {"\xE2\x8B\x85", " "},   // multiplication dots
    {"\xC2\xBA", "\xC2\xB0"},                          // ordinal sign, often typed for degrees
    {"\xC2\xBD", "1/2"},      {"\xC2\xBC", "1/4"},
    {"\xC2\xBE", "3/4"},      {"\xE2\x85\x9B", "1/8"},
    {"\xE2\x85\x9C", "3/8"},  {"\xE2\x85\x9D", "5/8"},
    {"\xE2\x85\x9E", "7/8"},  {"\xE2\x85\x93", "1/3"},
    {"\xE2\x85\x94", "2/3"},  {"''", "\""},
};

}  // namespace

std::string plain_text(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const Replacement* match = nullptr;
    for (const Replacement& candidate : k_replacements) {
      if (text.substr(i, candidate.from.size()) == candidate.from) match = &candidate;
    }
    if (match == nullptr) {
      out += text[i] == '\t' ? ' ' : text[i];
      ++i;
      continue;
    }
    // "1½" is 1 1/2, not 11/2.
    if (match->to.find('/') == 1 && !out.empty() && is_digit(out.back())) out += ' ';
    out += match->to;
    i += match->from.size();
  }
  return out;
}

std::string quoted(std::string_view text) {
  constexpr std::size_t k_longest = 20;
  std::size_t end = text.size();
  if (end > k_longest) {
    end = k_longest;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
  }
  std::string out = "'";
  for (std::string_view rest = text.substr(0, end); !rest.empty();) {
    const CodePoint next = first_code_point(rest);
    const std::size_t bytes = std::max<std::size_t>(next.bytes, 1);
    if (next.bytes == 0 || is_control(next.code)) {
      out += '?';
    } else {
      out += rest.substr(0, bytes);
    }
    rest.remove_prefix(bytes);
  }
  return out + (end < text.size() ? "...'" : "'");
}

}  // namespace linerwright
