// JSON as a tree, read with limits that no file of this program comes near.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace linerwright {

// A JSON value. An object's values stand in `items` beside their `keys`.
struct JsonValue {
  enum class Kind { null, boolean, number, text, array, object };
  Kind kind = Kind::null;
  bool flag = false;
  double number = 0.0;
  std::string text;
  std::vector<std::string> keys;
  std::vector<JsonValue> items;

  bool is_text() const { return kind == Kind::text; }
  bool is_number() const { return kind == Kind::number; }
  bool is_array() const { return kind == Kind::array; }
  bool is_object() const { return kind == Kind::object; }
  // The value of a key; null where there is none, or this is no object.
  const JsonValue* find(std::string_view key) const;
};

constexpr std::size_t k_largest_json = 64u << 20;  // bytes
constexpr std::size_t k_most_in_json = 2'000'000;  // values and keys
constexpr std::size_t k_deepest_json = 64;

// Throws InputError (one problem, with file and line) for what is no JSON, is not UTF-8, holds a key twice in
// one object or a number that is not finite, or goes beyond the limits above.
JsonValue read_json(std::string_view text, const std::string& name);

}  // namespace linerwright
