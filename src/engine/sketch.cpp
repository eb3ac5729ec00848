// The fitting in outline, with what changes as one of its keys does.
#include <algorithm>
#include <cmath>
#include <optional>

#include "linerwright/page/live_sketch.hpp"
#include "linerwright/units/error.hpp"
#include "state.hpp"

namespace linerwright {

namespace {

// The key's value changed by about this share; nothing where that is no number.
std::optional<Value> changed(const Value& value, double share) {
  Value other = value;
  if (auto* number = std::get_if<double>(&other.data)) {
    if (*number == 0.0) return std::nullopt;
    *number *= 1.0 + share;
  } else if (auto* whole = std::get_if<long>(&other.data)) {
    *whole += share > 0.0 ? 1 : -1;
  } else if (auto* several = std::get_if<std::vector<double>>(&other.data)) {
    for (double& each : *several) each *= 1.0 + share;
  } else if (auto* flag = std::get_if<bool>(&other.data)) {
    *flag = !*flag;
  } else {
    return std::nullopt;
  }
  return other;
}

// The fitting with this key a little larger, or smaller where it cannot be larger; nothing where neither can
// be made.
std::optional<Fitting> grown(const FittingRequest& request, const std::string& key) {
  const Value* value = request.values.find(key);
  if (value == nullptr) return std::nullopt;
  for (const double share : {0.12, -0.12, 0.04, -0.04}) {
    const std::optional<Value> other = changed(*value, share);
    if (!other) return std::nullopt;
    FittingRequest asked = request;
    asked.values.set(key, *other);
    try {
      return make_fitting(asked);
    } catch (const InputError&) {
      // the other way, or less
    } catch (const GeometryError&) {
    }
  }
  return std::nullopt;
}

}  // namespace

std::string sketch_answer(Engine::State& state, const JsonValue& question) {
  const std::size_t row = row_in(question);
  const Shaped& shaped = state.made(row);
  const JsonValue* key = question.find("key");
  std::optional<Fitting> other;
  std::string label;
  if (key != nullptr && key->is_text()) {
    const FittingRequest& request = *state.request(row);
    other = grown(request, key->text);
    label = key->text;
    std::replace_if(
        label.begin(), label.end(), [](char c) { return c == '_' || c == '.'; }, ' ');
    if (const Value* value = request.values.find(key->text)) label += " " + value->written;
  }
  JsonWriter json;
  json.begin_object();
  json.key("svg").text(live_sketch(shaped.fitting, other ? &*other : nullptr, label));
  json.key("shows").boolean(other.has_value());
  json.end_object();
  return json.str();
}

}  // namespace linerwright
