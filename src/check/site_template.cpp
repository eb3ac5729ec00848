// Templates of the hole in the duct that a tap stands on.
#include <algorithm>

#include <fmt/format.h>

#include "beside.hpp"
#include "linerwright/units/error.hpp"
#include "proof.hpp"
#include "tally.hpp"

namespace linerwright {

std::vector<CheckResult> prove_templates(const Fitting& fitting, const JsonValue& json) {
  const std::vector<Pattern> templates = site_templates(fitting);
  const JsonValue* list = json.find("holes");
  if (templates.empty() && list == nullptr) return {};
  constexpr double k_millionth = 0.51e-6;
  constexpr double k_degree = 57.295779513082320877;  // 180 / pi
  Tally tally("figures of holes");
  const std::size_t have = list == nullptr ? 0 : list->items.size();
  tally.require(have == templates.size(), fmt::format("{} templates, not {}", have, templates.size()));
  for (std::size_t i = 0; i < std::min(have, templates.size()); ++i) {
    const Pattern& pattern = templates[i];
    const JsonValue& found = list->items[i];
    const std::string where = fmt::format("holes[{}].", i);
    tally.text(where + "id", found.find("id"), pattern.id);
    tally.text(where + "seen_from", found.find("seen_from"),
               pattern.placement.mirrored ? "inside" : "outside");
    tally.number(where + "width", found.find("width"), pattern.board.x, k_millionth);
    tally.number(where + "height", found.find("height"), pattern.board.y, k_millionth);
    const JsonValue* rows = found.find("hole");
    const std::size_t stations = rows == nullptr ? 0 : rows->items.size();
    tally.require(stations == pattern.hole_ordinates.size(),
                  fmt::format("{}hole has {} stations", where, stations));
    for (std::size_t k = 0; k < std::min(stations, pattern.hole_ordinates.size()); ++k) {
      const HoleOrdinate& o = pattern.hole_ordinates[k];
      const JsonValue& row = rows->items[k];
      const std::string at = fmt::format("{}hole[{}].", where, k);
      tally.number(at + "branch_angle", row.find("branch_angle"), o.s * k_degree, k_millionth);
      tally.number(at + "x", row.find("x"), o.duct.x, k_millionth);
      tally.number(at + "y", row.find("y"), o.duct.y, k_millionth);
    }
  }
  return {tally.result("figures, as made again")};
}

}  // namespace linerwright
