#include "run_losses.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "air_laws.hpp"
#include "branch.hpp"

namespace linerwright::asked {

namespace {

const std::string k_list = "run.json";

// Lined from end to end, with a loss that nobody states, and no bare metal beside it.
bool plain(const Request& request) {
  for (const char* key : {"loss_coefficient", "bare_loss_coefficient", "upstream", "downstream"})
    if (request.written.count(key) > 0) return false;
  return std::none_of(request.written.begin(), request.written.end(),
                      [](const auto& key) { return key.first.find("hold_back") != std::string::npos; });
}

// Whether there is a number; null where it is not known.
bool is_known(const Json& row, const char* key) {
  if (!row.HasMember(key)) throw Unreadable(k_list + ": " + key + " is missing");
  return row[key].IsNumber();
}

// A fitting on the air's way, from one of its ends to the other.
struct Passed {
  const Request& request;
  double length;  // of its line of centres, mm
  bool forward;   // from its start to its end
};

// What a fitting takes with its metal bare and with its liner, Pa. Bends, tapers and branches that one side
// has no formula for are left out of both.
struct Taken {
  double bare = 0.0, lined = 0.0;

  void add(std::optional<double> of_bare, std::optional<double> of_lined) {
    if (!of_bare || !of_lined) return;
    bare += *of_bare;
    lined += *of_lined;
  }
};

struct Sides {
  Stream bare, lined;
};

Taken straight(const Passed& passed, const Sides& air) {
  const double metal = passed.request.value("diameter");
  const double bore = metal - 2.0 * passed.request.bore_depth();
  return {friction_of(air.bare, metal, passed.length), friction_of(air.lined, bore, passed.length)};
}

std::optional<Taken> elbow(const Passed& passed, const Sides& air) {
  const Request& request = passed.request;
  if (request.word("form") != "gored" || !request.stated("pieces")) return {};
  const double metal = request.value("diameter");
  const double radius = request.stated("centreline_radius") ? request.value("centreline_radius")
                                                            : request.value("radius_ratio") * metal;
  const int mitres = static_cast<int>(request.value("pieces")) - 1;
  const auto take = [&](const Stream& side, double diameter) -> std::optional<double> {
    const auto coefficient = mitres_take(side, request.value("angle"), mitres, radius, diameter);
    if (!coefficient) return {};
    return *coefficient * pressure_of(side, diameter);
  };
  Taken taken = straight(passed, air);
  taken.add(take(air.bare, metal), take(air.lined, metal - 2.0 * request.bore_depth()));
  return taken;
}

// Diameters of a taper's ends and how far along they lie, with the length of all.
struct Profile {
  double first, second;
  double begins, ends;
  double length;
};

double taken_by(const Profile& profile, bool forward, const Stream& air) {
  const double length = profile.ends - profile.begins;
  const double coefficient = forward ? taper_takes(profile.first, profile.second, length)
                                     : taper_takes(profile.second, profile.first, length);
  return friction_of(air, profile.first, profile.begins) +
         friction_of(air, profile.first, profile.second, length) +
         friction_of(air, profile.second, profile.length - profile.ends) +
         coefficient * pressure_of(air, std::min(profile.first, profile.second));
}

// Behind a liner of depth t a taper is as long as its metal: where a collar meets it, it lies t times the
// tangent of a quarter of the whole angle further to the wide end; where it ends open, it is t over the
// cosine of half of that angle under the metal.
std::optional<Taken> reducer(const Passed& passed, const Sides& air) {
  const Request& request = passed.request;
  const double first = request.value("diameter");
  const double second = request.value("to_diameter");
  if (request.flag("flat") || request.value("offset") != 0.0 || first == second) return {};
  const double collar = request.value("collar");
  const double to_collar = request.value("to_collar");
  const double length = request.value("length");
  const double t = request.bore_depth();
  const double half = std::atan(std::abs(first - second) / 2.0 / length);
  const double to_wide = t * std::tan(half / 2.0) * (first > second ? -1.0 : 1.0);
  const double first_moves = collar > 0.0 ? to_wide : 0.0;
  const double second_moves = to_collar > 0.0 ? to_wide : 0.0;
  // a wide collar shorter than that has no bore of its own
  if ((collar > 0.0 && collar + to_wide <= 0.0) || (to_collar > 0.0 && to_collar - to_wide <= 0.0)) return {};
  const auto bore = [&](double metal, double of_collar) {
    return metal - 2.0 * t / (of_collar > 0.0 ? 1.0 : std::cos(half));
  };
  const double whole = collar + length + to_collar;
  const Profile bare{first, second, collar, collar + length, whole};
  const Profile lined{bore(first, collar), bore(second, to_collar), collar + first_moves,
                      collar + length + second_moves, whole};
  return Taken{taken_by(bare, passed.forward, air.bare), taken_by(lined, passed.forward, air.lined)};
}

// How far along the body the middle of the branch's hole lies, through metal and liner.
double middle_of_hole(const Request& request, const Branch& branch) {
  constexpr int k_rulings = 3600;
  const double body = request.value("diameter") / 2.0;
  std::pair<double, double> reach{1e300, -1e300};
  for (const double w : {-request.value("gauge"), 0.0, request.bore_depth()})
    for (int i = 0; i < k_rulings; ++i) {
      const double psi = k_turn * i / k_rulings;
      const double s = leaves_body(branch.wall, {}, body - w, psi, w);
      const double z = branch.wall.at(psi, s, w)[2];
      reach = {std::min(reach.first, z), std::max(reach.second, z)};
    }
  return (reach.first + reach.second) / 2.0;
}

std::optional<Taken> body(const Passed& passed, const Sides& air) {
  const Request& request = passed.request;
  if (!passed.forward || request.count("branch_diameter") != 1 || request.stated("branch_base", 0) ||
      request.word("joint") != "mitre" || request.word("flow_arrow") != "along" ||
      !request.stated("branch_flow", 0))
    return {};
  const double out = request.value("branch_flow", 0);
  if (!(out > 0.0 && out < air.bare.flow)) return {};
  const Branch branch = branch_of(request, 0, 1);
  const double metal = request.value("diameter");
  const double branch_metal = request.value("branch_diameter", 0);
  const double depth = 2.0 * request.bore_depth();
  const double middle = middle_of_hole(request, branch);
  const auto way = [&](Stream side, double diameter) {
    const double before = friction_of(side, diameter, middle);
    side.flow -= out;
    return before + friction_of(side, diameter, passed.length - middle);
  };
  const auto past = [&](const Stream& side, double diameter, double of_branch) -> std::optional<double> {
    const auto coefficient =
        branch_leaves_run(out / side.flow, std::pow(of_branch / diameter, 2.0), branch.angle);
    if (!coefficient) return {};
    return *coefficient * pressure_of(side, diameter);
  };
  Taken taken{way(air.bare, metal), way(air.lined, metal - depth)};
  taken.add(past(air.bare, metal, branch_metal), past(air.lined, metal - depth, branch_metal - depth));
  return taken;
}

// Nothing where nothing is proved of it.
std::optional<Taken> taken_by(const Passed& passed, const Sides& air) {
  if (!plain(passed.request)) return {};
  if (passed.request.kind == "straight") return straight(passed, air);
  if (passed.request.kind == "elbow") return elbow(passed, air);
  if (passed.request.kind == "reducer") return reducer(passed, air);
  if (passed.request.kind == "tee") return body(passed, air);
  return {};
}

// From its start to its end or back; nothing where it is left by a branch.
std::optional<bool> goes_forward(const Json& place) {
  const bool both = is_text(place, "in") && is_text(place, "out");
  const std::string way = both ? text_of(place, "in", k_list) + "-" + text_of(place, "out", k_list) : "";
  if (way == "start-end") return true;
  if (way == "end-start") return false;
  return {};
}

}  // namespace

void prove_losses(const Json& run, const std::map<std::string, std::string>& tags,
                  const std::map<std::string, MadeFitting>& fittings, Worst& losses) {
  if (!run.HasMember("loss") || !run["loss"].IsObject() || !run["loss"].HasMember("air")) return;
  const Json& loss = run["loss"];
  Stream air;
  air.density = number_of(loss["air"], "density", k_list);
  air.viscosity = number_of(loss["air"], "viscosity", k_list);
  const Json& rows = list_of(loss, "fittings", k_list);
  const Json& places = list_of(run, "fittings", k_list);
  for (rapidjson::SizeType i = 0; i < rows.Size() && i < places.Size(); ++i) {
    const Json& row = rows[i];
    const std::string name = text_of(row, "fitting", k_list);
    const auto tag = tags.find(name);
    losses.expect(tag != tags.end(), name + " is none of the run's fittings");
    if (tag == tags.end()) continue;
    const auto forward = goes_forward(places[i]);
    if (!forward || !is_known(row, "flow") || !is_known(row, "lined")) continue;
    const double flow = number_of(row, "flow", k_list);
    air.flow = std::abs(flow);
    const double length = number_of(places[i], "to", k_list) - number_of(places[i], "from", k_list);
    Sides sides{air, air};
    sides.bare.roughness = number_of(row, "metal_roughness", k_list);
    sides.lined.roughness = number_of(row, "roughness", k_list);
    const auto own = taken_by({fittings.at(tag->second).request, length, *forward == (flow >= 0.0)}, sides);
    if (!own) continue;
    for (const auto& [key, value] : {std::pair{"bare", own->bare}, std::pair{"lined", own->lined}})
      if (!std::isnan(value))
        losses.off((number_of(row, key, k_list) - value) / (1.0 + std::abs(value)), name + " " + key);
  }
}

}  // namespace linerwright::asked
