#include "text_file.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <memory>
#include <system_error>

#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

[[noreturn]] void refuse(const std::string& file, int line, const std::string& reason) {
  throw InputError({Problem{file, line, "", "", "", "", reason}});
}

}  // namespace

std::string read_text_file(const std::filesystem::path& file) {
  const std::string name = file.string();
  std::error_code error;
  const auto status = std::filesystem::status(file, error);
  if (status.type() == std::filesystem::file_type::not_found) refuse(name, 0, "there is no such file");
  if (std::filesystem::is_directory(status)) refuse(name, 0, "is a folder, not a job file");
  const bool device = std::filesystem::is_block_file(status) || std::filesystem::is_character_file(status);
  if (device) refuse(name, 0, "is a device, not a job file");
  // one that nobody writes into would be waited for without end
  if (std::filesystem::is_fifo(status) || std::filesystem::is_socket(status))
    refuse(name, 0, "is a pipe, not a job file");
  errno = 0;
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> stream(std::fopen(name.c_str(), "rb"), &std::fclose);
  if (!stream) {
    refuse(name, 0, "cannot be read: " + std::error_code(errno, std::generic_category()).message());
  }
  std::string text;
  std::string block(1u << 16, '\0');
  for (std::size_t got = 0; (got = std::fread(block.data(), 1, block.size(), stream.get())) > 0;) {
    text.append(block, 0, got);
    if (text.size() > k_largest_file) refuse(name, 0, "is larger than 8 MB, too large for a job file");
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
  for (std::string_view rest = text; !rest.empty();) {
    const CodePoint next = first_code_point(rest);
    if (next.bytes == 0) refuse(file, line, "is not UTF-8 text; save the file as UTF-8");
    if (next.code == 0) refuse(file, line, "holds a NUL character, so it is not a text file");
    if (next.code == '\n') ++line;
    rest.remove_prefix(next.bytes);
  }
  return text;
}

std::optional<std::u32string> valid_code_points(std::string_view text) {
  std::u32string out;
  while (!text.empty()) {
    const CodePoint next = first_code_point(text);
    if (next.bytes == 0) return std::nullopt;
    out += next.code;
    text.remove_prefix(next.bytes);
  }
  return out;
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
