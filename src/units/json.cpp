#include "linerwright/units/json.hpp"

#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>

#include <cmath>

#include "linerwright/units/units.hpp"
#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

std::string as_utf8(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = first_code_point(text.substr(at)).bytes;
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

JsonWriter& JsonWriter::number(const std::optional<double>& value, int decimals) {
  return value ? number(*value, decimals) : null();
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
