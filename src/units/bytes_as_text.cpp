#include "linerwright/units/bytes_as_text.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <stdexcept>

namespace linerwright {

namespace {

// Up to `size` bytes from `at` as one number, the first the highest; missing ones are zero.
std::uint32_t group_of(std::string_view bytes, std::size_t at, std::size_t size) {
  std::uint32_t group = 0;
  for (std::size_t k = at; k < at + size; ++k)
    group = group << 8 | (k < bytes.size() ? static_cast<unsigned char>(bytes[k]) : 0u);
  return group;
}

}  // namespace

std::string base64(std::string_view bytes) {
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t have = std::min<std::size_t>(3, bytes.size() - i);
    const std::uint32_t group = group_of(bytes, i, 3);
    for (std::size_t k = 0; k < 4; ++k) out += k <= have ? k_base64_digits[group >> (18 - 6 * k) & 63u] : '=';
  }
  return out;
}

std::string from_base64(std::string_view text) {
  if (text.size() % 4 != 0) throw std::invalid_argument("base64 stands in groups of four");
  while (!text.empty() && text.back() == '=') text.remove_suffix(1);
  std::array<int, 256> values{};
  values.fill(-1);
  for (std::size_t k = 0; k < k_base64_digits.size(); ++k)
    values[static_cast<unsigned char>(k_base64_digits[k])] = static_cast<int>(k);
  std::string out;
  out.reserve(text.size() / 4 * 3 + 2);
  std::uint32_t held = 0;
  int bits = 0;
  for (const char digit : text) {
    const int value = values[static_cast<unsigned char>(digit)];
    if (value < 0) throw std::invalid_argument("no digit of base64");
    held = held << 6 | static_cast<std::uint32_t>(value);
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    out += static_cast<char>(held >> bits & 0xFFu);
  }
  return out;
}

std::string base85(std::string_view bytes) {
  std::string out;
  out.reserve((bytes.size() + 3) / 4 * 5);
  for (std::size_t i = 0; i < bytes.size(); i += 4) {
    const std::size_t have = std::min<std::size_t>(4, bytes.size() - i);
    std::uint32_t group = group_of(bytes, i, 4);
    std::array<char, 5> digits{};
    for (auto digit = digits.rbegin(); digit != digits.rend(); ++digit, group /= 85)
      *digit = k_base85_digits[group % 85];
    out.append(digits.data(), have + 1);
  }
  return out;
}

}  // namespace linerwright
