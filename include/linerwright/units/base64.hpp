// Bytes as text.
#pragma once

#include <string>

namespace linerwright {

// RFC 4648, section 4: its digits, and bytes as them.
constexpr char k_base64_digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
std::string base64(const std::string& bytes);

}  // namespace linerwright
