// Bytes as text, and back.
#pragma once

#include <string>
#include <string_view>

namespace linerwright {

// RFC 4648, section 4: its digits, and bytes as them.
constexpr std::string_view k_base64_digits =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
std::string base64(std::string_view bytes);

// The bytes of such text. Throws std::invalid_argument where it is none.
std::string from_base64(std::string_view text);

// Four bytes as five digits of base 85, the highest first, as in RFC 1924 and Ascii85; one to three bytes
// left over as one digit more than they are. The digits are those that HTML and JSON carry as they stand: no
// quotes, brackets of tags, slashes, ampersands.
constexpr std::string_view k_base85_digits =
    "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz!#%()*+,-.:;=?@[]^_{|}~";
std::string base85(std::string_view bytes);

}  // namespace linerwright
