#include <fmt/format.h>
#include <cmath>

#include "linerwright/check/check_run.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/run/run_json.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/read_json.hpp"

namespace linerwright {

namespace {

constexpr double k_same = 1e-9;  // of numbers, and of their size

std::string shown(const JsonValue* value) {
  if (value == nullptr || value->kind == JsonValue::Kind::null) return "nothing";
  if (value->is_text()) return value->text;
  if (value->is_number()) return trimmed(value->number, 6);
  if (value->kind == JsonValue::Kind::boolean) return value->flag ? "true" : "false";
  return fmt::format("{} entries", value->items.size());
}

// The first place where what was made is not what is asked for; empty where there is none.
std::string difference(const std::string& where, const JsonValue* made, const JsonValue& wanted) {
  const auto differs = [&] {
    return fmt::format("{} is {} in the job, {} when it was made", where, shown(&wanted), shown(made));
  };
  if (made == nullptr || made->kind != wanted.kind) return differs();
  if (wanted.is_number() &&
      std::fabs(made->number - wanted.number) > k_same * (1.0 + std::fabs(wanted.number)))
    return differs();
  if (wanted.is_text() && made->text != wanted.text) return differs();
  if (wanted.kind == JsonValue::Kind::boolean && made->flag != wanted.flag) return differs();
  if (wanted.is_array() && made->items.size() != wanted.items.size()) return differs();
  for (std::size_t i = 0; i < wanted.items.size(); ++i) {
    const std::string at = wanted.is_object() ? (where.empty() ? "" : where + ".") + wanted.keys[i]
                                              : fmt::format("{}[{}]", where, i + 1);
    const JsonValue* other = wanted.is_object() ? made->find(wanted.keys[i]) : &made->items[i];
    std::string found = difference(at, other, wanted.items[i]);
    if (!found.empty()) return found;
  }
  return {};
}

}  // namespace

CheckResult run_as_in_job(const std::filesystem::path& folder, const LaidRun& wanted) {
  try {
    JsonWriter json;
    json.begin_object();
    write_run(json, wanted);
    json.end_object();
    const JsonValue now = read_json(json.str(), "the job");
    const JsonValue made = read_json(file_bytes(folder / "run.json", k_largest_json), "run.json");
    std::string found;
    for (const char* key : {"from", "fittings", "joints"})  // what people write, before what follows from it
      if (const JsonValue* wanted_key = now.find(key); wanted_key != nullptr && found.empty())
        found = difference(key, made.find(key), *wanted_key);
    if (found.empty()) found = difference("", &made, now);
    return {"as in the job",
            found.empty() ? 0.0 : 1.0,
            0.0,
            found.empty(),
            "keys",
            found.empty() ? "made of what the job asks for now" : found + ": make it again"};
  } catch (const InputError& error) {
    return {"as in the job", 1.0, 0.0, false, "keys", error.what()};
  }
}

}  // namespace linerwright
