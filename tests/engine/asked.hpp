// Questions to an engine and what its answers hold.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "linerwright/engine/engine.hpp"
#include "linerwright/units/json.hpp"
#include "linerwright/units/read_json.hpp"

namespace linerwright::support {

inline std::string open_question(const std::string& text, const std::string& name = "job.toml") {
  JsonWriter json;
  json.begin_object();
  json.key("ask").text("open");
  json.key("name").text(name);
  json.key("text").text(text);
  json.end_object();
  return json.str();
}

inline const std::string& text_of(const JsonValue& object, const char* key) {
  const JsonValue* found = object.find(key);
  static const std::string none = "(none)";
  return found != nullptr && found->is_text() ? found->text : none;
}

inline const JsonValue& member(const JsonValue& object, const char* key) {
  static const JsonValue none;
  const JsonValue* found = object.find(key);
  return found == nullptr ? none : *found;
}

class Asked : public ::testing::Test {
 protected:
  JsonValue ask(const std::string& question) { return read_json(engine_.answer(question), "answer"); }
  Engine engine_;
};

}  // namespace linerwright::support
