// Text as code points, and which of them upset a label, a terminal or a file name.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace linerwright {

struct CodePoint {
  char32_t code = 0;
  std::size_t bytes = 0;  // 0: not valid UTF-8 (RFC 3629)
};

// The code point that `text`, which is not empty, begins with.
CodePoint first_code_point(std::string_view text);

constexpr char32_t k_replacement = 0xFFFD;

// Adds a code point in UTF-8; k_replacement for what is none.
void append_utf8(std::string& out, char32_t code);

// Whether it is a control character, a line separator, an invisible mark (direction marks and overrides among
// them) or no character at all. The joiners that some scripts are written with are none of these.
bool is_control(char32_t code);

}  // namespace linerwright
