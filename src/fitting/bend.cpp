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

KeySpec seam_key() {
  return choice_key("seam", "where the first piece's seam lies; the next ones alternate", k_seam_choices,
                    FirstSeam::throat);
}

std::vector<KeySpec> form_keys() {
  return {choice_key("form", "gored: the metal is mitred too; smooth: the metal is a pressed bend",
                     k_form_choices, BendForm::gored),
          optional_key(length_key("gap_limit", "smooth form: widest gap you accept behind the liner", {},
                                  0.01, 500.0))};
}

void require_form(Reasons& reasons, const Fitting& fitting, const Bend* gores) {
  const Values& values = fitting.request.values;
  if (gores == nullptr) {
    if (values.has("gap_limit"))
      reasons.add("gap_limit", "with form = \"smooth\"", "a gored bend leaves no gap behind its liner");
    return;
  }
  const double depth = fitting.liner.bore_depth();
  if (reasons.none() && gores->radius - depth < 0.5 * k_smallest_bore)
    reasons.add("pieces", "more pieces or a thinner liner",
                fmt::format("the largest gores that fit inside have a diameter of {}; liner {} closes them",
                            reasons.length(2.0 * gores->radius), reasons.length(depth)));
  if (reasons.none()) require_fit(reasons, fitting, 2.0 * gores->radius, "gore inside the bend");
  // gores do not touch the metal all around, so where they end the air would reach behind them
  for (const char* key : {"hold_back_start", "hold_back_end"})
    if (values.quantity(key) > 0.0)
      reasons.add(
          key, "with form = \"gored\"",
          "in a pressed bend the liner's end would stand free of the metal, open to the air behind it");
}

void add_smooth_facts(Fitting& fitting, const Reasons& reasons, const Bend& metal, const InsideBend& inside) {
  const auto add = [&](const char* key, const std::string& label, Quantity quantity, double value) {
    fitting.facts.push_back({key, label, quantity, value});
  };
  const double gap = inside.gap(metal);
  const double depth = fitting.liner.bore_depth();
  add("gore_diameter", "diameter of the gores inside the bend", Quantity::length, 2.0 * inside.radius);
  add("gap_behind_liner", "widest gap behind the liner", Quantity::length, gap);
  add("exposed_step", fmt::format("step {} either end against a lined neighbour's bore", inside.where),
      Quantity::length, inside.exposed);
  if (inside.exposed > depth)
    fitting.warnings.push_back(fmt::format(
        "{} either end the liner stands {} inside a lined neighbour's bore, more than its own {}: "
        "the space behind it is open to the air; take more pieces, or close it",
        inside.where, reasons.length(inside.exposed), reasons.length(depth)));
  const auto limit = fitting.request.values.maybe("gap_limit");
  if (!limit) return;
  Bend finer = metal;
  constexpr int k_most = 1000;
  while (inside.gap(finer) > *limit && finer.pieces < k_most) ++finer.pieces;
  add("pieces_for_gap_limit", "pieces that keep the gap under the limit", Quantity::number,
      static_cast<double>(finer.pieces));
  if (finer.pieces > metal.pieces)
    fitting.warnings.push_back(
        fmt::format("the gap behind the liner is {}, over the limit of {}: {} pieces would keep it",
                    reasons.length(gap), reasons.length(*limit), finer.pieces));
}

}  // namespace linerwright
