#include "dxf_groups.hpp"

#include <charconv>
#include <cmath>
#include <limits>

#include "linerwright/draw/draw.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/read_double.hpp"

namespace linerwright {

namespace {

constexpr std::size_t k_longest_line = 65536;

}  // namespace

std::string_view without_spaces(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

Groups::Groups(std::istream& in, const std::string& name) : in_(in), name_(name) {
  advance();
  if (ended_) fail(0, "", "the file is empty");
}

Group Groups::next() {
  Group group = group_;
  advance();
  return group;
}

double Groups::number(const Group& group) const {
  std::string_view text = without_spaces(group.value);
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  double value = 0.0;
  const auto [end, error] = read_double(text.data(), text.data() + text.size(), value);
  if (error == std::errc::result_out_of_range) return std::numeric_limits<double>::infinity();
  if (error != std::errc() || end != text.data() + text.size()) fail(group.line, group.value, "not a number");
  return value;
}

int Groups::integer(const Group& group) const {
  const double value = number(group);
  if (!(std::abs(value) <= 2147483647.0)) fail(group.line, group.value, "not a whole number");
  return static_cast<int>(value);
}

std::uint64_t Groups::handle(const Group& group) const {
  const std::string_view text = without_spaces(group.value);
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value, 16);
  if (error != std::errc() || end != text.data() + text.size()) fail(group.line, group.value, "not a handle");
  return value;
}

void Groups::fail(int line, const std::string& value, const std::string& reason) const {
  Problem problem;
  problem.file = name_;
  problem.line = line;
  problem.key = value.empty() ? "" : "DXF";
  problem.value = value;
  problem.reason = reason;
  throw InputError({problem});
}

bool Groups::read_line(std::string& line) {
  line.clear();
  std::streambuf* buffer = in_.rdbuf();
  for (int c = buffer->sbumpc(); c != std::char_traits<char>::eof(); c = buffer->sbumpc()) {
    if (++bytes_ > k_largest_dxf) fail(line_, "", "the file is larger than any pattern");
    if (c == '\n') {
      if (!line.empty() && line.back() == '\r') line.pop_back();
      ++line_;
      return true;
    }
    if (line.size() >= k_longest_line) fail(line_ + 1, "", "the line is longer than a DXF file may hold");
    line += static_cast<char>(c);
  }
  if (line.empty()) return false;
  ++line_;
  return true;
}

void Groups::advance() {
  std::string code;
  if (!read_line(code)) {
    ended_ = true;
    group_ = Group{0, "", line_};
    return;
  }
  std::string_view text = code;
  if (line_ == 1 && text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  if (line_ == 1 && text.find("Binary DXF") != std::string_view::npos) {
    fail(1, "", "this is a binary DXF file; only text DXF files are read");
  }
  text = without_spaces(text);
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), group_.code);
  if (error != std::errc() || end != text.data() + text.size()) {
    fail(line_, code.empty() ? " " : code, "a group code (a whole number) belongs here");
  }
  constexpr int k_last_code = 1071;  // those under 0 are of programs' memory and never stand in a file
  if (group_.code < 0 || group_.code > k_last_code)
    fail(line_, code, "a group code from 0 to 1071 belongs here");
  if (!read_line(group_.value)) fail(line_, "", "the file is cut short: the last group code has no value");
  group_.line = line_;
}

}  // namespace linerwright
