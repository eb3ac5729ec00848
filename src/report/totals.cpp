#include "linerwright/report/totals.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "linerwright/airway/airway.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "totals_units.hpp"

namespace linerwright {

namespace {

// What closes a notched taper beside its seam: one butt of two edges per notch, from the bend line to the
// small end.
double notch_length(const Fitting& fitting, const NotchedBlank& blank) {
  const Piece& taper = fitting.piece(blank.taper);
  const NotchedLayout layout = layout_of(fitting, blank);
  double sum = 0.0;
  for (const Notch& notch : layout.notches)
    sum += blank_reach(fitting, blank, false, taper.seam + taper.span * notch.centre / layout.width,
                       fitting.liner.thickness);
  return sum;
}

double sealed_length(const Fitting& fitting) {
  double sum = 0.0;
  for (int i = 0; i < static_cast<int>(fitting.joints.size()); ++i) sum += seal_length(fitting, i);
  return sum;
}

std::int64_t steps_of(double value, double resolution) {
  return std::llround(value / resolution);
}

}  // namespace

const std::vector<TotalsFigure>& totals_figures() {
  using F = TotalsFigures;
  static const std::vector<TotalsFigure> figures{
      {"pieces", "pieces", TotalsUnit::count, &F::pieces},
      {"board_area", "board", TotalsUnit::area, &F::board_area},
      {"liner_area", "liner", TotalsUnit::area, &F::liner_area},
      {"liner_mass", "liner", TotalsUnit::mass, &F::liner_mass},
      {"tape", "tape", TotalsUnit::length, &F::tape},
      {"sealant", "sealant", TotalsUnit::length, &F::sealant},
      {"fasteners", "fasteners", TotalsUnit::count, &F::fasteners},
      {"metal_area", "metal", TotalsUnit::area, &F::metal_area},
      {"metal_mass", "metal", TotalsUnit::mass, &F::metal_mass},
      {"spared_area", "spared", TotalsUnit::area, &F::spared_area},
      {"spared_mass", "spared", TotalsUnit::mass, &F::spared_mass},
  };
  return figures;
}

double held(double value, double resolution) {
  // a whole number over a power of ten: what a reader makes of its decimals is the same double
  return static_cast<double>(steps_of(value, resolution)) / std::round(1.0 / resolution);
}

TotalsRules totals_rules(const Values* table) {
  TotalsRules rules;
  rules.metal_density = k_steel_density;
  if (table == nullptr) return rules;
  rules.metal_density = table->quantity("metal_density");
  rules.inner_gauge = table->maybe("inner_gauge");
  rules.inner_open = table->quantity("inner_open");
  return rules;
}

TotalsRow totals_row(const Fitting& fitting, const std::vector<Pattern>& patterns, const TotalsRules& rules) {
  constexpr double k_cubic_metre = 1e9;  // mm3
  TotalsRow row{fitting.tag, fitting.kind, fitting.count, {}};
  TotalsFigures& each = row.each;
  for (const std::size_t i : patterns_to_cut(patterns)) each.board_area += patterns[i].board_area;
  each.pieces = static_cast<double>(patterns_to_cut(patterns, true).size());
  double bore_area = 0.0;
  double covered = 0.0;  // of the metal
  for (int wall = 0; wall < static_cast<int>(fitting.walls.size()); ++wall) {
    const LinerSpec& liner = liner_of(fitting, wall);
    const double area = wall_area(fitting, wall, liner.outer_depth);
    each.liner_area += area;
    if (fitting.wall(wall).layer != 0) continue;
    covered += area;
    if (rules.inner_gauge) bore_area += wall_area(fitting, wall, liner.bore_depth());
  }
  for (int layer = 0; layer < layer_count(fitting); ++layer) {
    const LinerSpec& liner = layer_of(fitting, layer);
    const double volume = shell_volume(fitting, liner.outer_depth) -
                          shell_volume(fitting, liner.inner_depth()) - plug_volume(fitting, layer);
    each.liner_mass += volume / k_cubic_metre * liner.density;
  }
  for (const Piece& piece : fitting.pieces) {
    each.tape += seam_length(fitting, piece);
    each.fasteners += fastener_count(fitting, piece);
  }
  for (const NotchedBlank& blank : fitting.notched) each.tape += notch_length(fitting, blank);
  each.sealant = sealed_length(fitting);
  const bool own_metal = fitting.pressed || joint_on_duct(fitting) || has_bare_ends(fitting) ||
                         is_disc_alone(fitting) ||
                         !fitting.openings.empty();  // ends, or has its holes, elsewhere than the liner
  each.metal_area = own_metal ? metal_area(fitting) : covered;
  each.metal_mass = metal_volume(fitting) / k_cubic_metre * rules.metal_density;
  if (rules.inner_gauge) {
    each.spared_area = bore_area;
    each.spared_mass =
        bore_area * *rules.inner_gauge * (1.0 - rules.inner_open) / k_cubic_metre * rules.metal_density;
  }
  for (const TotalsFigure& figure : totals_figures())
    each.*figure.value = held(each.*figure.value, resolution_of(figure.unit));
  return row;
}

TotalsFigures sum_of(const std::vector<TotalsRow>& rows) {
  TotalsFigures sum;
  for (const TotalsFigure& figure : totals_figures()) {
    const double resolution = resolution_of(figure.unit);
    std::int64_t steps = 0;
    for (const TotalsRow& row : rows) steps += row.count * steps_of(row.each.*figure.value, resolution);
    sum.*figure.value = static_cast<double>(steps) / std::round(1.0 / resolution);
  }
  return sum;
}

TotalsStock sum_of(const std::vector<TotalsStock>& stock) {
  TotalsStock sum;
  const auto add = [&](double TotalsStock::*value, double resolution) {
    std::int64_t steps = 0;
    for (const TotalsStock& each : stock) steps += steps_of(each.*value, resolution);
    sum.*value = static_cast<double>(steps) / std::round(1.0 / resolution);
  };
  add(&TotalsStock::stock_area, resolution_of(TotalsUnit::area));
  add(&TotalsStock::piece_area, resolution_of(TotalsUnit::area));
  add(&TotalsStock::knife_length, resolution_of(TotalsUnit::length));
  add(&TotalsStock::cutting_time, k_time_resolution);
  double cost = 0.0;
  bool known = !stock.empty();
  for (const TotalsStock& each : stock) {
    sum.boards += each.boards;
    known = known && each.cost;
    cost += each.cost.value_or(0.0);
  }
  if (known) sum.cost = held(cost, k_cost_resolution);
  return sum;
}

}  // namespace linerwright
