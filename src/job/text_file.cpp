#include "text_file.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <memory>
#include <system_error>

namespace linerwright {

namespace {

constexpr std::size_t k_largest_file = 64u << 20;

[[noreturn]] void refuse(const std::string& file, int line, const std::string& reason) {
  throw InputError({Problem{file, line, "", "", "", "", reason}});
}

// Reads one code point at `at` and moves on; false where the bytes are not UTF-8 (RFC 3629).
bool next_code_point(std::string_view text, std::size_t& at, char32_t& out) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(at);
  if (first < 0x80) {
    out = first;
    ++at;
    return true;
  }
  std::size_t length = 0;
  if (first >= 0xC2 && first <= 0xDF) length = 2;
  if (first >= 0xE0 && first <= 0xEF) length = 3;
  if (first >= 0xF0 && first <= 0xF4) length = 4;
  if (length == 0 || at + length > text.size()) return false;
  char32_t value = first & (0xFFu >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(at + i) & 0xC0) != 0x80) return false;
    value = (value << 6) | (byte(at + i) & 0x3Fu);
  }
  const bool overlong = (length == 3 && value < 0x800) || (length == 4 && value < 0x10000);
  if (overlong || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return false;
  out = value;
  at += length;
  return true;
}

}  // namespace

std::string read_text_file(const std::filesystem::path& file) {
  const std::string name = file.string();
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (status.type() == std::filesystem::file_type::not_found) refuse(name, 0, "there is no such file");
  if (std::filesystem::is_directory(status)) refuse(name, 0, "is a folder, not a job file");
  errno = 0;
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> stream(std::fopen(name.c_str(), "rb"), &std::fclose);
  if (!stream) {
    refuse(name, 0, "cannot be read: " + std::error_code(errno, std::generic_category()).message());
  }
  std::string text;
  std::string block(1u << 16, '\0');
  for (std::size_t got = 0; (got = std::fread(block.data(), 1, block.size(), stream.get())) > 0;) {
    text.append(block, 0, got);
    if (text.size() > k_largest_file) refuse(name, 0, "is larger than 64 MB, too large for a job file");
  }
  if (std::ferror(stream.get()) != 0) {
    refuse(name, 0, "cannot be read: " + std::error_code(errno, std::generic_category()).message());
  }
  return text;
}

std::string_view checked_utf8(std::string_view text, const std::string& file) {
  if (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF") {
    refuse(file, 0, "is UTF-16 text; save it as UTF-8");
  }
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  int line = 1;
  char32_t c = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (!next_code_point(text, at, c)) refuse(file, line, "is not UTF-8 text; save the file as UTF-8");
    if (c == 0) refuse(file, line, "holds a NUL character, so it is not a text file");
    if (c == '\n') ++line;
  }
  return text;
}

std::optional<std::u32string> code_points(std::string_view text) {
  std::u32string out;
  char32_t c = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (!next_code_point(text, at, c)) return std::nullopt;
    out += c;
  }
  return out;
}

bool is_control(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x2028 || c == 0x2029 || (c >= 0x202A && c <= 0x202E) ||
         (c >= 0x2066 && c <= 0x2069);
}

// Simple case folding of the Unicode blocks named in the header; pairs of even and odd letters in Latin
// Extended-A.
std::u32string case_folded(const std::u32string& text) {
  std::u32string out;
  for (const char32_t c : text) {
    char32_t folded = c;
    if ((c >= 'A' && c <= 'Z') || (c >= 0xC0 && c <= 0xDE && c != 0xD7)) folded = c + 32;
    if ((c >= 0x391 && c <= 0x3A9) || (c >= 0x410 && c <= 0x42F)) folded = c + 32;
    if (c >= 0x400 && c <= 0x40F) folded = c + 80;
    if (((c >= 0x100 && c <= 0x137) || (c >= 0x14A && c <= 0x177)) && c % 2 == 0) folded = c + 1;
    if (((c >= 0x139 && c <= 0x148) || (c >= 0x179 && c <= 0x17E)) && c % 2 == 1) folded = c + 1;
    out += folded;
  }
  return out;
}

}  // namespace linerwright
