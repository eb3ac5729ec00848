#include "linerwright/units/seal.hpp"

#include <fmt/format.h>

#include <string_view>

#include "linerwright/units/digest.hpp"

namespace linerwright {

namespace {

constexpr std::string_view k_seal = "own_digest";
constexpr std::size_t k_digits = 64;

// Where the seal's digits begin.
std::size_t seal_place(const std::string& text) {
  const std::string before = fmt::format("\"{}\": \"", k_seal);
  const std::size_t at = text.rfind(before);
  return at == std::string::npos || at + before.size() + k_digits > text.size() ? std::string::npos
                                                                                : at + before.size();
}

}  // namespace

void write_contents(JsonWriter& json, const std::vector<std::string>& files, const Contents& digests) {
  json.key("files").begin_array();
  for (const std::string& file : files) json.text(file);
  json.end_array();
  json.key("digests").begin_object();
  for (const auto& [name, sum] : digests) json.key(name).text(sum);
  json.end_object();
}

void write_seal(JsonWriter& json) {
  json.key(k_seal).text(std::string(k_digits, '0'));
}

std::string sealed(std::string text) {
  const std::string sum = digest(text);
  if (const std::size_t at = seal_place(text); at != std::string::npos) text.replace(at, k_digits, sum);
  return text;
}

bool seal_holds(const std::string& text) {
  const std::size_t at = seal_place(text);
  if (at == std::string::npos) return true;
  std::string blank = text;
  blank.replace(at, k_digits, std::string(k_digits, '0'));
  return digest(blank) == text.substr(at, k_digits);
}

}  // namespace linerwright
