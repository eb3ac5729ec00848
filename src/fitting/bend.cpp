#include "bend.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace linerwright {

std::vector<KeySpec> bend_keys() {
  KeySpec ratio = with_default(
      length_key("radius_ratio", "centreline radius as a multiple of the diameter (usual: 1 and 1.5)", "1.5",
                 0.5, 20.0),
      "1.5");
  ratio.quantity = Quantity::number;
  return {ratio, optional_key(length_key("centreline_radius", "centreline radius, instead of radius_ratio",
                                         {}, 12.0, 50000.0))};
}

Bend read_bend(const FittingRequest& request, double angle, Reasons& reasons) {
  const Values& values = request.values;
  const double diameter = values.quantity("diameter");
  Bend bend;
  bend.radius = 0.5 * diameter;
  bend.angle = angle;
  bend.pieces = static_cast<int>(values.integer("pieces"));
  bend.collar = values.quantity("collar");
  bend.centreline = values.quantity("radius_ratio") * diameter;
  if (const auto radius = values.maybe("centreline_radius")) {
    if (values.given("radius_ratio"))
      reasons.add("centreline_radius", "one of the two", "radius_ratio says the same thing; give only one");
    bend.centreline = *radius;
  }
  return bend;
}

void require_throat(Reasons& reasons, const Fitting& fitting, const Bend& bend) {
  const double a = bend.mitre();
  if (a > k_steepest_mitre) {
    reasons.add("pieces",
                fmt::format("at least {}",
                            static_cast<int>(std::ceil(bend.angle / (2.0 * k_steepest_mitre) - 1e-9)) + 1),
                fmt::format("{} pieces would be mitred at {} degrees; the steepest mitre is 60", bend.pieces,
                            trimmed(a * 180.0 / k_pi, 2)));
    return;
  }
  const bool by_ratio = !fitting.request.values.has("centreline_radius");
  const std::string key = by_ratio ? "radius_ratio" : "centreline_radius";
  const double throat = (bend.centreline - bend.radius - fitting.liner.gauge) * std::tan(a);
  const double shortest =
      bend.pieces > 2 ? std::min(2.0 * throat, throat + bend.collar) : throat + bend.collar;
  if (shortest >= k_shortest_piece) return;
  const double needed = bend.radius + fitting.liner.gauge + k_shortest_piece / std::tan(a);
  reasons.add(
      key, "a centreline radius of at least " + reasons.length(needed) + ", or fewer pieces",
      fmt::format("the throat of a piece would be {} long: it has no length", reasons.length(shortest)));
}

}  // namespace linerwright
