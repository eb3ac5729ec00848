#include "linerwright/engine/engine.hpp"

#include <cmath>

#include "linerwright/units/error.hpp"
#include "same_digits.hpp"
#include "state.hpp"

namespace linerwright {

namespace {

std::string failed(const std::vector<std::string>& lines) {
  JsonWriter json;
  json.begin_object();
  json.key("failed").begin_array();
  for (const std::string& line : lines) json.text(line);
  json.end_array();
  json.end_object();
  return json.str();
}

std::string answered(Engine::State& state, const JsonValue& question) {
  const std::string& ask = text_in(question, "ask");
  // what is looked at while somebody types may differ from the program's in a last digit; what leaves does
  // not
  const JsonValue* exact = question.find("exact");
  const bool looked_at = ask == "fitting" || ask == "scene" || ask == "sketch";
  same_digits::be_careful(!looked_at || (exact != nullptr && exact->flag));
  if (ask == "schema") return schema_answer();
  if (ask == "open") {
    open_job(state, question);
    return job_answer(state);
  }
  if (ask == "change") {
    change_job(state, question);
    return job_answer(state);
  }
  if (ask == "fitting") return fitting_answer(state, row_in(question));
  if (ask == "scene") return scene_answer(state, row_in(question));
  if (ask == "sheet_in") return sheet_in_answer(question);
  if (ask == "sketch") return sketch_answer(state, question);
  if (ask == "whole") return whole_answer(state, question);
  if (ask == "files") return files_answer(state, question);
  if (ask == "sheet") return sheet_answer(state, question);
  refuse_question("asks for " + ask);
}

}  // namespace

void refuse_question(const std::string& why) {
  throw InputError({{"", 0, "", "", "", "a question of src/engine/README.md", "the question " + why}});
}

const std::string& text_in(const JsonValue& question, const char* key) {
  const JsonValue* found = question.find(key);
  if (found == nullptr || !found->is_text()) refuse_question(std::string("has no text ") + key);
  return found->text;
}

std::size_t row_in(const JsonValue& question, const char* key) {
  constexpr double k_most = 1e6;
  const JsonValue* found = question.find(key);
  if (found == nullptr || !found->is_number() || !(found->number >= 0.0) || found->number > k_most ||
      found->number != std::floor(found->number))
    refuse_question(std::string("has no number of a ") + key);
  return static_cast<std::size_t>(found->number);
}

Engine::Engine(std::function<void(const std::string&)> told) : state_(std::make_unique<State>()) {
  state_->told = std::move(told);
}
Engine::~Engine() = default;

std::string Engine::answer(std::string_view question) {
  try {
    return answered(*state_, read_json(question, "question"));
  } catch (const InputError& error) {
    return failed(lines_once(error.problems()));
  } catch (const std::exception& error) {
    return failed({error.what()});
  }
}

}  // namespace linerwright
