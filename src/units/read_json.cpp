#include "linerwright/units/read_json.hpp"

#include <rapidjson/error/en.h>
#include <rapidjson/memorystream.h>
#include <rapidjson/reader.h>

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "linerwright/units/error.hpp"
#include "linerwright/units/utf8.hpp"

namespace linerwright {

namespace {

[[noreturn]] void refuse(const std::string& file, int line, const std::string& reason) {
  throw InputError({Problem{file, line, {}, {}, {}, {}, reason}});
}

// Builds the tree from the parser's events; an event that returns false ends the parse.
class Builder : public rapidjson::BaseReaderHandler<rapidjson::UTF8<>, Builder> {
 public:
  std::string why;  // the parse was ended; empty: it was not
  JsonValue root;

  bool Null() { return put({}); }
  bool Bool(bool value) {
    JsonValue made;
    made.kind = JsonValue::Kind::boolean;
    made.flag = value;
    return put(std::move(made));
  }
  bool Int(int value) { return Double(value); }
  bool Uint(unsigned value) { return Double(value); }
  bool Int64(std::int64_t value) { return Double(static_cast<double>(value)); }
  bool Uint64(std::uint64_t value) { return Double(static_cast<double>(value)); }
  bool Double(double value) {
    if (!std::isfinite(value)) return end("a number is not finite");
    JsonValue made;
    made.kind = JsonValue::Kind::number;
    made.number = value;
    return put(std::move(made));
  }
  bool String(const char* text, rapidjson::SizeType length, bool) {
    JsonValue made;
    made.kind = JsonValue::Kind::text;
    made.text.assign(text, length);
    return put(std::move(made));
  }
  bool Key(const char* text, rapidjson::SizeType length, bool) {
    if (!admit()) return false;
    open_.back()->keys.emplace_back(text, length);
    return true;
  }
  bool StartObject() { return begin(JsonValue::Kind::object); }
  bool StartArray() { return begin(JsonValue::Kind::array); }
  bool EndArray(rapidjson::SizeType) {
    open_.pop_back();
    return true;
  }
  bool EndObject(rapidjson::SizeType) {
    std::vector<std::string_view> keys(open_.back()->keys.begin(), open_.back()->keys.end());
    std::sort(keys.begin(), keys.end());
    const auto twice = std::adjacent_find(keys.begin(), keys.end());
    if (twice != keys.end()) return end(fmt::format("the key {} stands twice in one object", *twice));
    open_.pop_back();
    return true;
  }

 private:
  bool end(const std::string& reason) {
    why = reason;
    return false;
  }
  bool admit() {
    return ++count_ <= k_most_in_json || end("holds more values than any file of this program");
  }
  // The place of the next value: values of an open list or object do not move while they are open, for only
  // the last one is.
  JsonValue* place() {
    if (open_.empty()) return &root;
    open_.back()->items.emplace_back();
    return &open_.back()->items.back();
  }
  bool put(JsonValue value) {
    if (!admit()) return false;
    *place() = std::move(value);
    return true;
  }
  bool begin(JsonValue::Kind kind) {
    if (!admit()) return false;
    if (open_.size() == k_deepest_json) return end("is nested too deeply");
    JsonValue* made = place();
    made->kind = kind;
    open_.push_back(made);
    return true;
  }

  std::vector<JsonValue*> open_;
  std::size_t count_ = 0;
};

int line_at(std::string_view text, std::size_t offset) {
  const auto end = text.begin() + static_cast<std::ptrdiff_t>(std::min(offset, text.size()));
  return 1 + static_cast<int>(std::count(text.begin(), end, '\n'));
}

}  // namespace

const JsonValue* JsonValue::find(std::string_view key) const {
  for (std::size_t i = 0; i < keys.size() && i < items.size(); ++i)
    if (keys[i] == key) return &items[i];
  return nullptr;
}

JsonValue read_json(std::string_view text, const std::string& name) {
  if (text.size() > k_largest_json) refuse(name, 0, "is larger than any JSON file of this program");
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint next = first_code_point(text.substr(at));
    if (next.bytes == 0) refuse(name, line_at(text, at), "is not UTF-8 text");
    if (next.code == 0) refuse(name, line_at(text, at), "holds a NUL character, so it is no JSON");
    at += next.bytes;
  }
  constexpr unsigned k_safe = rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag |
                              rapidjson::kParseValidateEncodingFlag;
  rapidjson::MemoryStream in(text.data(), text.size());
  rapidjson::Reader parser;
  Builder builder;
  parser.Parse<k_safe>(in, builder);
  if (parser.HasParseError())
    refuse(name, line_at(text, parser.GetErrorOffset()),
           !builder.why.empty()
               ? builder.why
               : fmt::format("is no JSON: {}", rapidjson::GetParseError_En(parser.GetParseErrorCode())));
  return std::move(builder.root);
}

}  // namespace linerwright
