#include "encoding.hpp"

#include <algorithm>
#include <array>

#include "linerwright/units/error.hpp"
#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

[[noreturn]] void refuse(const std::string& file, int line, const std::string& allowed,
                         const std::string& reason) {
  throw InputError({Problem{file, line, "", "", "", allowed, reason}});
}

std::string from_utf16(std::string_view bytes, bool little, const std::string& file) {
  if (bytes.size() % 2 != 0)
    refuse(file, 0, "", "is UTF-16 text cut short: it ends in the middle of a character");
  const auto unit = [&](std::size_t i) {
    const auto first = static_cast<unsigned char>(bytes[i]);
    const auto second = static_cast<unsigned char>(bytes[i + 1]);
    return static_cast<char32_t>(little ? first | second << 8 : first << 8 | second);
  };
  std::string out;
  for (std::size_t i = 0; i < bytes.size(); i += 2) {
    char32_t code = unit(i);
    if (code >= 0xD800 && code < 0xDC00 && i + 3 < bytes.size()) {
      const char32_t low = unit(i + 2);
      if (low >= 0xDC00 && low < 0xE000) {
        code = 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00);
        i += 2;
      }
    }
    if (code >= 0xD800 && code < 0xE000)
      refuse(file, 0, "", "is broken UTF-16 text: half of a pair stands alone");
    append_utf8(out, code);
  }
  return out;
}

// Windows code page 1252: as Latin-1 but for 80 to 9F (its published table; five places are not used).
std::string from_windows_1252(std::string_view bytes, const std::string& file) {
  constexpr std::array<char32_t, 32> high = {0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
                                             0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0,      0x017D, 0,
                                             0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
                                             0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};
  std::string out;
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    const char32_t code = byte >= 0x80 && byte < 0xA0 ? high[byte - 0x80u] : byte;
    if (code == 0) refuse(file, 0, "", "is not Windows-1252 text: it holds a byte that stands for nothing");
    append_utf8(out, code);
  }
  return out;
}

// UTF-16 without a mark: text of the trade is mostly ASCII, so that every second byte is nothing.
bool looks_little(std::string_view bytes, std::size_t offset) {
  const std::size_t seen = std::min<std::size_t>(bytes.size() / 2, 1000);
  std::size_t none = 0;
  for (std::size_t i = 0; i < seen; ++i) none += bytes[2 * i + offset] == '\0' ? 1u : 0u;
  return seen > 1 && none * 10 > seen * 7;
}

int line_at(std::string_view text, std::size_t at) {
  return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

}  // namespace

std::string decoded(std::string_view bytes, const std::string& said, const std::string& file,
                    std::string& told) {
  const std::string_view mark = bytes.substr(0, 2);
  const bool little = mark == "\xFF\xFE";
  const bool big = mark == "\xFE\xFF";
  std::string text;
  if (little || big || said == "utf-16" ||
      (said.empty() && (looks_little(bytes, 1) || looks_little(bytes, 0)))) {
    const bool is_little = little || (!big && !looks_little(bytes, 0));
    text = from_utf16(little || big ? bytes.substr(2) : bytes, is_little, file);
    told = "UTF-16";
  } else if (said == "windows-1252") {
    text = from_windows_1252(bytes, file);
    told = "Windows-1252";
  } else {
    if (bytes.substr(0, 3) == "\xEF\xBB\xBF") bytes.remove_prefix(3);
    text = bytes;
  }
  for (std::size_t i = 0; i < text.size();) {
    const CodePoint next = first_code_point(std::string_view(text).substr(i));
    if (next.bytes == 0)
      refuse(file, line_at(text, i), "--encoding windows-1252, or save it as UTF-8", "is not UTF-8 text");
    if (next.code == 0) refuse(file, line_at(text, i), "", "holds a NUL character, so it is not text");
    i += next.bytes;
  }
  return text;
}

}  // namespace linerwright
