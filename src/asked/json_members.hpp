// What a list of ours holds under its keys. Each throws Unreadable, naming the list and the key.
#pragma once

#include <rapidjson/document.h>

#include <string>

#include "written.hpp"

namespace linerwright::asked {

using Json = rapidjson::Value;

inline void parse(rapidjson::Document& document, const std::string& json, const std::string& name) {
  document.Parse<rapidjson::kParseIterativeFlag>(json.data(), json.size());
  if (document.HasParseError() || !document.IsObject()) throw Unreadable(name + " is no JSON table");
}

inline double number_of(const Json& object, const char* key, const std::string& name) {
  if (!object.IsObject() || !object.HasMember(key) || !object[key].IsNumber())
    throw Unreadable(name + ": " + key + " is no number");
  return object[key].GetDouble();
}

inline std::string text_of(const Json& object, const char* key, const std::string& name) {
  if (!object.IsObject() || !object.HasMember(key) || !object[key].IsString())
    throw Unreadable(name + ": " + key + " is no text");
  return object[key].GetString();
}

inline bool is_text(const Json& object, const char* key) {
  return object.IsObject() && object.HasMember(key) && object[key].IsString();
}

inline const Json& list_of(const Json& object, const char* key, const std::string& name) {
  if (!object.IsObject() || !object.HasMember(key) || !object[key].IsArray())
    throw Unreadable(name + ": " + key + " is no list");
  return object[key];
}

}  // namespace linerwright::asked
