#include "linerwright/error.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "linerwright/utf8.hpp"

namespace linerwright {

namespace {

// Control characters shown as \n, \t, \x1b or \u202e and bytes that are not UTF-8 as \xff, so that a message
// stays one line that reads the same everywhere.
std::string escaped(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const CodePoint next = first_code_point(text);
    const std::size_t bytes = std::max<std::size_t>(next.bytes, 1);
    if (text[0] == '\n') {
      out += "\\n";
    } else if (text[0] == '\t') {
      out += "\\t";
    } else if (next.bytes == 0 || (bytes == 1 && is_control(next.code))) {
      out += fmt::format("\\x{:02x}", static_cast<unsigned char>(text[0]));
    } else if (is_control(next.code)) {
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(next.code));
    } else {
      out += text.substr(0, bytes);
    }
    text.remove_prefix(bytes);
  }
  return out;
}

// What a person wrote: escaped, and cut where it is long.
std::string printable(const std::string& text) {
  constexpr std::size_t k_longest = 60;
  const std::string out = escaped(text);
  if (out.size() <= k_longest) return out;
  std::size_t end = k_longest;
  while (end > 0 && (static_cast<unsigned char>(out[end]) & 0xC0) == 0x80)
    --end;  // not inside a UTF-8 sequence
  return out.substr(0, end) + "...";
}

std::string all_lines(const std::vector<Problem>& problems) {
  std::string text;
  for (const Problem& problem : problems) {
    if (!text.empty()) text += '\n';
    text += one_line(problem);
  }
  return text;
}

}  // namespace

std::string one_line(const Problem& problem) {
  std::string text;
  if (!problem.file.empty()) {
    text += escaped(problem.file);
    if (problem.line > 0) text += fmt::format(":{}", problem.line);
    text += ": ";
  }
  if (!problem.tag.empty()) text += printable(problem.tag) + ": ";
  if (!problem.key.empty()) {
    text += printable(problem.key);
    if (!problem.value.empty()) text += " = " + printable(problem.value);
    text += ": ";
  }
  text += escaped(problem.reason);
  if (!problem.allowed.empty()) text += " (allowed: " + escaped(problem.allowed) + ")";
  return text;
}

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(all_lines(problems)), problems_(std::move(problems)) {}

}  // namespace linerwright
