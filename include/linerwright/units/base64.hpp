// Bytes as text.
#pragma once

#include <string>

namespace linerwright {

// RFC 4648, section 4.
std::string base64(const std::string& bytes);

}  // namespace linerwright
