#include "linerwright/units/base64.hpp"

#include <algorithm>
#include <cstdint>

namespace linerwright {

std::string base64(const std::string& bytes) {
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t have = std::min<std::size_t>(3, bytes.size() - i);
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 3; ++k)
      group = group << 8 | (k < have ? static_cast<unsigned char>(bytes[i + k]) : 0u);
    for (std::size_t k = 0; k < 4; ++k) out += k <= have ? k_base64_digits[group >> (18 - 6 * k) & 63u] : '=';
  }
  return out;
}

}  // namespace linerwright
