#include "text_codes.hpp"

#include <fmt/format.h>

#include <charconv>
#include <optional>

#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

// The number that `text` starts with in exactly `digits` digits; none when it does not.
std::optional<char32_t> leading_number(std::string_view text, std::size_t digits, int base) {
  if (text.size() < digits) return std::nullopt;
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + digits, value, base);
  if (error != std::errc() || end != text.data() + digits || text[0] == '-') return std::nullopt;
  return static_cast<char32_t>(value);
}

char32_t lower(char c) {
  return static_cast<unsigned char>(c) | 0x20u;
}

}  // namespace

std::vector<char32_t> repaired_code_points(std::string_view utf8) {
  std::vector<char32_t> codes;
  codes.reserve(utf8.size());
  while (!utf8.empty()) {
    const CodePoint next = first_code_point(utf8);
    codes.push_back(next.bytes == 0 ? k_replacement : next.code);
    utf8.remove_prefix(next.bytes == 0 ? 1 : next.bytes);
  }
  return codes;
}

bool is_utf8(std::string_view bytes) {
  while (!bytes.empty()) {
    const CodePoint next = first_code_point(bytes);
    if (next.bytes == 0) return false;
    bytes.remove_prefix(next.bytes);
  }
  return true;
}

bool is_control_code(char32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0);
}

// A percent sign before another, a caret, and a backslash before U+ or M+ would start an escape of their own:
// %%% stands for one percent sign, "^ " for a caret, and the backslash is written by its number. The number
// has four digits, so what lies beyond them is shown as a question mark.
std::string dxf_escaped(std::string_view utf8) {
  std::string out;
  const std::vector<char32_t> codes = repaired_code_points(utf8);
  const auto at = [&](std::size_t i) { return i < codes.size() ? codes[i] : U'\0'; };
  for (std::size_t i = 0; i < codes.size() && out.size() < k_longest_dxf_text; ++i) {
    const char32_t code = codes[i];
    const bool doubled_percent = code == U'%' && (at(i + 1) == U'%' || (i > 0 && codes[i - 1] == U'%'));
    const bool starts_escape = code == U'\\' && at(i + 2) == U'+' && (at(i + 1) == U'U' || at(i + 1) == U'M');
    if (is_control_code(code)) {
      out += ' ';
    } else if (doubled_percent) {
      out += "%%%";
    } else if (code == U'^') {
      out += "^ ";
    } else if (code > 0xFFFF) {
      out += '?';
    } else if (code >= 0x80 || starts_escape) {
      out += fmt::format("\\U+{:04X}", static_cast<unsigned>(code));
    } else {
      out += static_cast<char>(code);
    }
  }
  return out;
}

std::string dxf_unescaped(std::string_view raw) {
  const bool utf8 = is_utf8(raw);
  std::string out;
  while (!raw.empty()) {
    std::size_t used = 1;
    const bool is_escape = raw.substr(0, 3) == "\\U+";
    if (const auto code = is_escape ? leading_number(raw.substr(3), 4, 16) : std::nullopt) {
      append_utf8(out, *code);
      used = 7;
    } else if (raw.size() >= 3 && raw.substr(0, 2) == "%%") {
      used = 3;
      const char32_t kind = lower(raw[2]);
      if (const auto number = leading_number(raw.substr(2), 3, 10)) {
        append_utf8(out, *number);
        used = 5;
      } else if (raw[2] == '%') {
        out += '%';
      } else if (kind == U'd') {
        append_utf8(out, 0xB0);
      } else if (kind == U'p') {
        append_utf8(out, 0xB1);
      } else if (kind == U'c') {
        append_utf8(out, 0xD8);
      } else if (kind != U'u' && kind != U'o' && kind != U'k') {
        out += "%%";
        used = 2;
      }
    } else if (raw.size() >= 2 && raw[0] == '^') {
      out += raw[1] == ' ' ? '^' : ' ';
      used = 2;
    } else if (utf8) {
      out += raw[0];
    } else {
      append_utf8(out, static_cast<unsigned char>(raw[0]));
    }
    raw.remove_prefix(used);
  }
  return out;
}

}  // namespace linerwright
