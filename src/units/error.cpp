#include "linerwright/units/error.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string_view>

#include "linerwright/units/utf8.hpp"

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
  std::string out = escaped(text);
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

std::vector<std::string> lines_once(const std::vector<Problem>& problems) {
  constexpr std::size_t k_places = 8;
  struct Group {
    Problem first;
    std::vector<int> lines;  // of the others
  };
  std::vector<Group> groups;
  std::map<std::vector<std::string>, std::size_t> known;
  for (const Problem& problem : problems) {
    const auto [place, is_new] = known.emplace(
        std::vector<std::string>{problem.file, problem.key, problem.value, problem.allowed, problem.reason},
        groups.size());
    if (is_new)
      groups.push_back({problem, {}});
    else
      groups[place->second].lines.push_back(problem.line);
  }
  std::vector<std::string> out;
  for (const Group& group : groups) {
    std::string line = one_line(group.first);
    if (!group.lines.empty()) {
      line += fmt::format(" (and {} more", group.lines.size());
      for (std::size_t i = 0; i < std::min(group.lines.size(), k_places) && group.lines.front() > 0; ++i)
        line += fmt::format("{}{}", i == 0 ? (group.lines.size() > 1 ? ": lines " : ": line ") : ", ",
                            group.lines[i]);
      line += group.lines.size() > k_places ? " ...)" : ")";
    }
    out.push_back(std::move(line));
  }
  return out;
}

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(all_lines(problems)), problems_(std::move(problems)) {}

}  // namespace linerwright
