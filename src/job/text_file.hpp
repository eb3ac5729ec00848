// Text files and the characters in them.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/error.hpp"

namespace linerwright {

// The whole file, at most 64 MB. Throws InputError with one problem when it cannot be read.
std::string read_text_file(const std::filesystem::path& file);

// `text` without a byte order mark. Throws InputError where it is not UTF-8 or holds a NUL.
std::string_view checked_utf8(std::string_view text, const std::string& file);

// The code points of UTF-8 text, or nothing if it is not valid UTF-8.
std::optional<std::u32string> code_points(std::string_view text);

// Text in which upper and lower case are alike (Latin, Greek, Cyrillic), for comparing file names.
std::u32string case_folded(const std::u32string& text);

}  // namespace linerwright
