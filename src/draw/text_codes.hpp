// Text between UTF-8, code points and the escapes of a DXF string.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "linerwright/units/utf8.hpp"

namespace linerwright {

// The code points of UTF-8 text; every byte that is not part of valid UTF-8 becomes k_replacement.
std::vector<char32_t> repaired_code_points(std::string_view utf8);
// True when all of it is valid UTF-8.
bool is_utf8(std::string_view bytes);
// True for the controls of ASCII and Latin-1 (tab and line ends among them).
bool is_control_code(char32_t code);

// One line of printable ASCII that a DXF reader shows as `utf8`: controls become spaces, what ASCII lacks
// is written as \U+ and four hexadecimal digits. Cut short after k_longest_dxf_text characters.
std::string dxf_escaped(std::string_view utf8);
constexpr std::size_t k_longest_dxf_text = 240;
// The UTF-8 text that a DXF string stands for; bytes that are not UTF-8 are taken as Latin-1.
std::string dxf_unescaped(std::string_view raw);

}  // namespace linerwright
