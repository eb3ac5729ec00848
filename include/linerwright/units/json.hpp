// JSON for the files and for --json: numbers with fixed decimals, whatever the locale.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace linerwright {

// The `format` of every JSON document that the program writes. A change that breaks readers raises it.
constexpr int k_json_format = 2;

// Writes one JSON document, indented. Calls must nest properly: a key before every value inside an object.
class JsonWriter {
 public:
  JsonWriter();
  ~JsonWriter();
  JsonWriter(const JsonWriter&) = delete;
  JsonWriter& operator=(const JsonWriter&) = delete;

  JsonWriter& begin_object();
  JsonWriter& end_object();
  JsonWriter& begin_array();
  JsonWriter& end_array();
  JsonWriter& key(std::string_view name);
  JsonWriter& text(std::string_view value);            // bytes that are no UTF-8 are replaced
  JsonWriter& number(double value, int decimals = 6);  // trailing zeros dropped; null when not finite
  JsonWriter& number(const std::optional<double>& value, int decimals = 6);  // null where there is none
  JsonWriter& integer(long value);
  JsonWriter& boolean(bool value);
  JsonWriter& null();

  // The document, ending in a newline.
  std::string str() const;

 private:
  struct Writer;
  std::unique_ptr<Writer> writer_;
};

}  // namespace linerwright
