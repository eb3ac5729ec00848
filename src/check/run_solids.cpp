#include "run_solids.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/solid/assembly.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

constexpr double k_volume = 1e-6;  // of a volume

using Groups = std::vector<std::vector<Part>>;

// The parts of the STEP, fitting by fitting: each begins with its metal.
Groups by_fitting(std::vector<Part> parts) {
  Groups groups;
  for (Part& part : parts) {
    if (groups.empty() || (part.role == PartRole::metal && groups.back().back().role != PartRole::metal))
      groups.emplace_back();
    groups.back().push_back(std::move(part));
  }
  return groups;
}

void add_volumes(std::vector<CheckResult>& results, const std::string& what, const Groups& groups,
                 const std::vector<SolidsOf>& fittings) {
  double metal = 0.0, liner = 0.0, bore = 0.0;
  for (const auto& group : groups)
    for (const Part& part : group)
      (part.role == PartRole::metal ? metal : part.role == PartRole::liner ? liner : bore) += part.volume;
  double metal_asked = 0.0, liner_asked = 0.0, bore_asked = 0.0;
  for (const SolidsOf& each : fittings) {
    const double open = shell_volume(*each.fitting, each.fitting->liner.bore_depth());
    metal_asked += metal_volume(*each.fitting);
    liner_asked += shell_volume(*each.fitting, 0.0) - open;
    bore_asked += open;
  }
  const auto compare = [&](const char* name, double found, double asked) {
    results.push_back(within(
        fmt::format("{} of the {}", name, what), std::fabs(found - asked) / asked, k_volume, "",
        fmt::format("{} mm3 in the STEP, {} by the fittings' integrals", fixed(found, 0), fixed(asked, 0))));
  };
  compare("metal", metal, metal_asked);
  compare("liner", liner, liner_asked);
  compare("bore", bore, bore_asked);
}

bool apart(const SolidBox& a, const SolidBox& b) {
  return a.high.x < b.low.x || b.high.x < a.low.x || a.high.y < b.low.y || b.high.y < a.low.y ||
         a.high.z < b.low.z || b.high.z < a.low.z;
}

CheckResult metals_apart(const std::string& name, const Groups& groups,
                         const std::vector<SolidsOf>& fittings) {
  std::vector<const Part*> metals;
  std::vector<SolidBox> boxes;
  std::vector<std::size_t> of;  // which fitting
  for (std::size_t i = 0; i < groups.size(); ++i)
    for (const Part& part : groups[i]) {
      if (part.role != PartRole::metal) continue;
      metals.push_back(&part);
      boxes.push_back(box_around(part.solid));
      of.push_back(i);
    }
  double worst = 0.0;
  std::string where = fmt::format("{} bodies, none in another's place", metals.size());
  for (std::size_t i = 0; i < metals.size(); ++i)
    for (std::size_t j = i + 1; j < metals.size(); ++j) {
      if (apart(boxes[i], boxes[j])) continue;
      const double share =
          common_volume(metals[i]->solid, metals[j]->solid) / std::min(metals[i]->volume, metals[j]->volume);
      if (share <= worst) continue;
      worst = share;
      where = fmt::format("{} and {} share the most", fittings[of[i]].name, fittings[of[j]].name);
    }
  return within(name, worst, k_volume, "", where);
}

// Each bore becomes one solid with those that it is joined to: together they are one.
CheckResult one_bore(const std::string& name, const Groups& groups, const std::vector<SolidsOf>& fittings,
                     const std::vector<std::pair<std::size_t, std::size_t>>& met) {
  std::size_t parted = 0;
  std::string where = fmt::format("{} bores are one connected solid", groups.size());
  for (const auto& [before, after] : met) {
    const Part& a = groups[before].back();
    const Part& b = groups[after].back();
    const Fused both = fused({a.solid, b.solid});
    const bool one = a.role == PartRole::bore && b.role == PartRole::bore && both.solids == 1 &&
                     std::fabs(both.volume - a.volume - b.volume) <= k_volume * both.volume;
    if (one || ++parted > 1) continue;
    where =
        fmt::format("{} and {} make {} bores of {} mm3 instead of one of {} mm3", fittings[before].name,
                    fittings[after].name, both.solids, fixed(both.volume, 0), fixed(a.volume + b.volume, 0));
  }
  return within(name, static_cast<double>(parted), 0.0, "places", where);
}

}  // namespace

std::vector<CheckResult> prove_run_solids(const std::filesystem::path& step, const std::string& what,
                                          const std::vector<SolidsOf>& fittings,
                                          const std::vector<std::pair<std::size_t, std::size_t>>& met) {
  const Groups groups = by_fitting(read_step(step));
  if (groups.size() != fittings.size()) {
    CheckResult result =
        within(what, static_cast<double>(groups.size()), static_cast<double>(fittings.size()), "fittings",
               "the STEP holds another number of fittings");
    result.pass = false;
    return {result};
  }
  std::vector<CheckResult> results;
  add_volumes(results, what, groups, fittings);
  const std::string in = what == "assembly" ? std::string() : " of the " + what;
  results.push_back(metals_apart("metal in one place" + in, groups, fittings));
  results.push_back(one_bore("bore parted" + in, groups, fittings, met));
  return results;
}

}  // namespace linerwright
