#include "run_air.hpp"

#include <algorithm>

#include "linerwright/check/check_job.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/read_json.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

std::string text_at(const JsonValue& json, const char* key) {
  const JsonValue* found = json.find(key);
  return found != nullptr && found->is_text() ? found->text : std::string();
}

long number_at(const JsonValue& json) {
  const JsonValue* found = json.find("number");
  return found != nullptr && found->is_number() ? static_cast<long>(found->number) : 1;
}

const std::vector<JsonValue>& list_at(const JsonValue& json, const char* key) {
  static const std::vector<JsonValue> none;
  const JsonValue* found = json.find(key);
  return found != nullptr ? found->items : none;
}

}  // namespace

AirInRuns::AirInRuns(const std::vector<fs::path>& runs) {
  for (const fs::path& run : runs) try {
      const JsonValue json = read_json(file_bytes(run / "run.json", k_largest_json), "run.json");
      for (const JsonValue& port : list_at(json, "ports")) {
        Place& place = places_[text_at(port, "tag")][number_at(port)];
        const std::string name = text_at(port, "name");
        place.joined[name] = true;
        const JsonValue* flow = port.find("volume_flow");
        if (flow != nullptr && flow->is_number()) place.air[name] = flow->number;
      }
      for (const JsonValue& port : list_at(json, "open_ends"))
        places_[text_at(port, "tag")][number_at(port)].joined[text_at(port, "name")] = false;
    } catch (const InputError&) {
      // its own check tells why
    }
}

std::optional<AirOfTag> AirInRuns::of(const Fitting& fitting) const {
  const auto found = places_.find(fitting.tag);
  if (found == places_.end()) return std::nullopt;
  const auto shared = std::make_shared<const Fitting>(fitting);
  const std::vector<Port> ports = ports_of(fitting);
  std::vector<Placed> placed;
  for (const auto& [number, place] : found->second) {
    Placed one;
    one.part = {fitting.tag, number};
    one.fitting = shared;
    one.ports = ports;
    for (const Port& port : ports) {
      const auto air = place.air.find(port.name);
      const auto joined = place.joined.find(port.name);
      one.air.push_back(air == place.air.end() ? std::nullopt : std::optional<double>(air->second));
      one.joined.push_back(joined != place.joined.end() && joined->second);
    }
    placed.push_back(std::move(one));
  }
  std::vector<const Placed*> places;
  for (const Placed& one : placed) places.push_back(&one);
  return most_air(places);
}

}  // namespace linerwright
