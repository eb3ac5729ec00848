#include "linerwright/json.hpp"

#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>

#include <cmath>

#include "linerwright/units.hpp"

namespace linerwright {

namespace {

// Length of the UTF-8 sequence at `at`, 0 where it is none (RFC 3629: no overlong forms, no surrogates).
std::size_t sequence_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
  const unsigned char first = byte(0);
  const std::size_t length = first < 0x80   ? 1
                             : first < 0xC2 ? 0
                             : first < 0xE0 ? 2
                             : first < 0xF0 ? 3
                             : first < 0xF5 ? 4
                                            : 0;
  if (length == 0 || at + length > text.size()) return 0;
  for (std::size_t i = 1; i < length; ++i)
    if ((byte(i) & 0xC0) != 0x80) return 0;
  if (length == 3 && ((first == 0xE0 && byte(1) < 0xA0) || (first == 0xED && byte(1) > 0x9F))) return 0;
  if (length == 4 && ((first == 0xF0 && byte(1) < 0x90) || (first == 0xF4 && byte(1) > 0x8F))) return 0;
  return length;
}

std::string as_utf8(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = sequence_at(text, at);
    if (length == 0) {
      out += "\xEF\xBF\xBD";
      ++at;
    } else {
      out.append(text.substr(at, length));
      at += length;
    }
  }
  return out;
}

}  // namespace

struct JsonWriter::Writer {
  rapidjson::StringBuffer buffer;
  rapidjson::PrettyWriter<rapidjson::StringBuffer> out{buffer};
};

JsonWriter::JsonWriter() : writer_(std::make_unique<Writer>()) {
  writer_->out.SetIndent(' ', 2);
}
JsonWriter::~JsonWriter() = default;

JsonWriter& JsonWriter::begin_object() {
  writer_->out.StartObject();
  return *this;
}

JsonWriter& JsonWriter::end_object() {
  writer_->out.EndObject();
  return *this;
}

JsonWriter& JsonWriter::begin_array() {
  writer_->out.StartArray();
  return *this;
}

JsonWriter& JsonWriter::end_array() {
  writer_->out.EndArray();
  return *this;
}

JsonWriter& JsonWriter::key(std::string_view name) {
  const std::string clean = as_utf8(name);
  writer_->out.Key(clean.data(), static_cast<rapidjson::SizeType>(clean.size()));
  return *this;
}

JsonWriter& JsonWriter::text(std::string_view value) {
  const std::string clean = as_utf8(value);
  writer_->out.String(clean.data(), static_cast<rapidjson::SizeType>(clean.size()));
  return *this;
}

JsonWriter& JsonWriter::number(double value, int decimals) {
  if (!std::isfinite(value)) return null();
  const std::string digits = trimmed(value, decimals);
  writer_->out.RawValue(digits.data(), digits.size(), rapidjson::kNumberType);
  return *this;
}

JsonWriter& JsonWriter::integer(long value) {
  writer_->out.Int64(value);
  return *this;
}

JsonWriter& JsonWriter::boolean(bool value) {
  writer_->out.Bool(value);
  return *this;
}

JsonWriter& JsonWriter::null() {
  writer_->out.Null();
  return *this;
}

std::string JsonWriter::str() const {
  return std::string(writer_->buffer.GetString(), writer_->buffer.GetSize()) + "\n";
}

}  // namespace linerwright
