#include "linerwright/error.hpp"

#include <fmt/format.h>

namespace linerwright {

namespace {

// Control characters shown as \n, \t or \x1b, so that a message stays one line.
std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else if (byte < 0x20 || byte == 0x7f) {
      out += fmt::format("\\x{:02x}", byte);
    } else {
      out += c;
    }
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
