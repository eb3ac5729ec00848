#include "run_losses.hpp"

#include <cmath>
#include <limits>

namespace linerwright::asked {

namespace {

const std::string k_list = "run.json";

// 1/sqrt(f) = -2 log10(e/(3.7 d) + 2.51/(Re sqrt(f))): the right side less the left one falls as f grows, so
// halving finds the one f.
double colebrook(double reynolds, double relative) {
  double low = 1e-4;
  double high = 10.0;
  for (int i = 0; i < 200; ++i) {
    const double f = std::sqrt(low * high);
    const double root = std::sqrt(f);
    (1.0 / root + 2.0 * std::log10(relative / 3.7 + 2.51 / (reynolds * root)) > 0.0 ? low : high) = f;
  }
  return std::sqrt(low * high);
}

// A length of duct that is lined from end to end, whose loss nobody states and which no bare metal joins.
bool plain_length(const Request& request) {
  if (request.kind != "straight") return false;
  for (const char* key : {"loss_coefficient", "bare_loss_coefficient", "upstream", "downstream"})
    if (request.written.count(key) > 0) return false;
  for (const auto& [key, words] : request.written)
    if (key.find("hold_back") != std::string::npos) return false;
  return true;
}

// Whether there is a number; null where it is not known.
bool is_known(const Json& row, const char* key) {
  if (!row.HasMember(key)) throw Unreadable(k_list + ": " + key + " is missing");
  return row[key].IsNumber();
}

}  // namespace

double friction_of(double diameter, double length, double flow, double roughness, double density,
                   double viscosity) {
  const double d = 1e-3 * diameter;
  const double velocity = flow / (0.78539816339744831 * d * d);
  const double reynolds = velocity * d / viscosity;
  if (reynolds == 0.0) return 0.0;
  double f = std::numeric_limits<double>::quiet_NaN();
  if (reynolds < 2300.0) f = 64.0 / reynolds;
  if (reynolds >= 4000.0) f = colebrook(reynolds, roughness / diameter);
  return f * length / diameter * 0.5 * density * velocity * velocity;  // Darcy and Weisbach
}

void prove_friction(const Json& run, const std::map<std::string, std::string>& tags,
                    const std::map<std::string, MadeFitting>& fittings, Worst& friction) {
  if (!run.HasMember("loss") || !run["loss"].IsObject() || !run["loss"].HasMember("air")) return;
  const Json& loss = run["loss"];
  const double density = number_of(loss["air"], "density", k_list);
  const double viscosity = number_of(loss["air"], "viscosity", k_list);
  const Json& rows = list_of(loss, "fittings", k_list);
  const Json& places = list_of(run, "fittings", k_list);
  for (rapidjson::SizeType i = 0; i < rows.Size() && i < places.Size(); ++i) {
    const Json& row = rows[i];
    const std::string name = text_of(row, "fitting", k_list);
    const auto tag = tags.find(name);
    friction.expect(tag != tags.end(), name + " is none of the run's fittings");
    if (tag == tags.end()) continue;
    const Request& request = fittings.at(tag->second).request;
    if (!plain_length(request) || !is_known(row, "flow") || !is_known(row, "lined")) continue;
    const double flow = std::abs(number_of(row, "flow", k_list));
    const double length = number_of(places[i], "to", k_list) - number_of(places[i], "from", k_list);
    const double bare = request.value("diameter");
    const auto hold = [&](const char* key, double diameter, const char* roughness) {
      const double own =
          friction_of(diameter, length, flow, number_of(row, roughness, k_list), density, viscosity);
      if (!std::isnan(own)) friction.off((number_of(row, key, k_list) - own) / (1.0 + own), name + " " + key);
    };
    hold("bare", bare, "metal_roughness");
    hold("lined", bare - 2.0 * request.bore_depth(), "roughness");
  }
}

}  // namespace linerwright::asked
