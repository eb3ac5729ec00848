// Text files and the characters in them.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/units/error.hpp"

namespace linerwright {

// Far above any real job, and low enough that what is made of a file fits in memory.
constexpr std::size_t k_largest_file = 8u << 20;
constexpr std::size_t k_most_fittings = 50'000;  // or rows, or keys of a table
constexpr std::size_t k_most_cells = 1000;       // of a row
constexpr std::size_t k_longest_line = 65'536;

// The whole file, at most k_largest_file. Throws InputError with one problem when it cannot be read.
std::string read_text_file(const std::filesystem::path& file);

// `text` without a byte order mark. Throws InputError where it is not UTF-8 or holds a NUL.
std::string_view checked_utf8(std::string_view text, const std::string& file);

// Puts other text in the place of a part and has all of it read again; where that throws, the text is as
// before, and read as it was.
template <class Read>
void replace_part(std::string& text, std::size_t begin, std::size_t end, std::string_view by,
                  const Read& read) {
  const std::string before = text;
  text.replace(begin, end - begin, by);
  try {
    read();
  } catch (...) {
    text = before;
    read();
    throw;
  }
}

// The code points of UTF-8 text, or nothing if it is not valid UTF-8.
std::optional<std::u32string> valid_code_points(std::string_view text);

// Text in which upper and lower case are alike (Latin, Greek, Cyrillic), for comparing file names.
std::u32string case_folded(const std::u32string& text);

}  // namespace linerwright
