#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <iterator>
#include <stdexcept>

#include "bore_steps.hpp"
#include "linerwright/bore.hpp"
#include "linerwright/figures.hpp"

namespace linerwright {

namespace {

constexpr double k_equal = 1e-9;  // areas and diameters that differ by no more are one

// Speed of sound in dry air at 20 C: sqrt(1.4 R T), R = 287.05 J/(kg K), T = 293.15 K.
constexpr double k_speed_of_sound = 343.2;  // m/s

bool equal(double a, double b) {
  return std::fabs(a - b) <= k_equal * std::max(std::fabs(a), std::fabs(b));
}

void add_notes(BoreRow& row, const std::vector<std::string>& notes, const std::string& before = {}) {
  for (const std::string& note : notes) add_note(row, before + note);
}

// The smallest free area; where a seam lies within the bore of a collar, the collar is the place, because its
// metal is the narrower.
std::size_t narrowest_of(const std::vector<BorePlace>& places) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < places.size(); ++i) {
    const bool same = equal(places[i].free_area, places[best].free_area);
    const bool less_metal = places[i].bare_diameter < places[best].bare_diameter * (1.0 - k_equal);
    if (same ? less_metal : places[i].free_area < places[best].free_area) best = i;
  }
  return best;
}

BoreRow row_of(const Fitting& fitting, const Passage& passage) {
  BoreRow row;
  row.tag = fitting.tag;
  row.passage = passage.name;
  row.count = fitting.count;
  for (const Station& station : passage.stations)
    row.places.push_back({station.distance, station.place, station.bare_diameter, station.lined_area,
                          share_of_bare(station.lined_area, circle_area(station.bare_diameter)),
                          equivalent_diameter(station.lined_area)});
  row.length = row.places.back().distance - row.places.front().distance;
  row.narrowest = narrowest_of(row.places);
  const BorePlace& at = row.narrowest_place();
  row.even = std::all_of(row.places.begin(), row.places.end(), [&](const BorePlace& place) {
    return equal(place.free_area, at.free_area) && equal(place.bare_diameter, at.bare_diameter);
  });
  row.velocity_factor = velocity_factor(at.free_area, circle_area(at.bare_diameter));
  return row;
}

// Makes the report of one fitting; what is wrong with its numbers goes to the report's problems.
class FittingReport {
 public:
  FittingReport(BoreReport& report, const Fitting& fitting, const BoreOptions& options)
      : report_(report), fitting_(fitting), values_(fitting.request.values), options_(options) {}

  void add(std::optional<double> flow) {
    for (std::size_t i = 0; i < fitting_.passages.size(); ++i) {
      BoreRow row = row_of(fitting_, fitting_.passages[i]);
      if (i == 0 && flow)
        add_air(row, *flow);
      else if (flow)
        add_note(row, "no air figures: the flow that goes this way is not stated");
      else if (values_.has("loss_coefficient"))
        add_note(row, "the loss coefficient needs a flow to act on");
      if (options_.step_up) add_steps(report_, row, fitting_, i, options_);
      if (options_.heat_and_sound) add_heat_and_sound(row);
      report_.rows.push_back(std::move(row));
    }
    add_openings();
  }

 private:
  bool air_is_sound(const BorePlace& at, double flow) {
    const std::size_t before = report_.problems.size();
    const auto rough = [&](const char* key, double bore, const char* which) {
      if (values_.quantity(key) < 0.5 * bore) return;
      report_.problems.push_back(problem_of(
          fitting_.request, key, "under " + format_quantity(Quantity::length, 0.5 * bore, fitting_.units),
          fmt::format("no friction can be given: the roughness is half the {} bore or more", which)));
    };
    rough("metal_roughness", at.bare_diameter, "bare");
    rough("roughness", at.lined_diameter, "lined");
    const double fastest = flow / (at.free_area * 1e-6);
    if (fastest > k_speed_of_sound)
      report_.problems.push_back(problem_of(
          fitting_.request, "flow",
          "under " + shown_quantity(Quantity::flow, k_speed_of_sound * at.free_area * 1e-6, fitting_.units),
          fmt::format("{} through the lined bore would be faster than sound",
                      shown_quantity(Quantity::flow, flow, fitting_.units))));
    return report_.problems.size() == before;
  }

  void add_air(BoreRow& row, double flow) {
    const BorePlace& at = row.narrowest_place();
    if (!air_is_sound(at, flow)) return;
    row.flow = flow;
    row.bare_air = bore_flow(at.bare_diameter, flow, values_.quantity("metal_roughness"), report_.air);
    row.lined_air = bore_flow(at.lined_diameter, flow, values_.quantity("roughness"), report_.air);
    row.velocity_limit = values_.quantity("max_velocity");
    const VelocityCheck check = check_velocity(row.lined_air->velocity, *row.velocity_limit);
    row.over_limit = check.over_limit;
    add_notes(row, check.warnings);
    add_notes(row, check.notes);
    add_notes(row, row.bare_air->doubts, "bare: ");
    add_notes(row, row.lined_air->doubts, "lined: ");
    if (const auto coefficient = values_.maybe("loss_coefficient"))
      row.loss = fitting_loss(*coefficient, row.lined_air->velocity_pressure);
  }

  void add_heat_and_sound(BoreRow& row) const {
    const double diameter = row.narrowest_place().bare_diameter;
    const LinerSpec& first = fitting_.liner;
    row.heat = lining_resistance(diameter, first.thickness, values_.quantity("conductivity"));
    for (const LinerSpec& layer : fitting_.inner_layers)
      row.heat = in_series(*row.heat, lining_resistance(diameter - 2.0 * layer.outer_depth, layer.thickness,
                                                        layer.conductivity));
    if (!fitting_.straight_run) return;
    row.sound = insertion_loss(diameter, first.bore_depth(), row.length);
    if (fitting_.inner_layers.empty()) return;
    row.sound->bands.reset();
    row.sound->notes.clear();
    row.sound->out_of_range = {
        "the lining is in two layers; the regression was made on linings of one board"};
  }

  // The piece whose wall ends in this joint.
  std::string piece_at(int joint) const {
    for (const Piece& piece : fitting_.pieces) {
      const Wall& wall = fitting_.walls[static_cast<std::size_t>(piece.wall)];
      if (wall.low.joint == joint || wall.high.joint == joint) return piece.id;
    }
    return "opening";
  }

  void add_openings() {
    for (std::size_t w = 0; w < fitting_.walls.size(); ++w)
      for (std::size_t h = 0; fitting_.walls[w].layer == 0 && h < fitting_.walls[w].holes.size(); ++h) {
        BoreOpening opening{fitting_.tag, piece_at(fitting_.walls[w].holes[h].joint), fitting_.count};
        opening.bare_area = hole_area(fitting_, static_cast<int>(w), h, 0.0);
        opening.free_area = hole_area(fitting_, static_cast<int>(w), h, fitting_.liner.bore_depth());
        opening.share = opening.free_area / opening.bare_area;
        report_.openings.push_back(std::move(opening));
      }
  }

  BoreReport& report_;
  const Fitting& fitting_;
  const Values& values_;
  const BoreOptions& options_;
};

}  // namespace

bool BoreReport::over_limit() const {
  return std::any_of(rows.begin(), rows.end(), [](const BoreRow& row) { return row.over_limit; });
}

BoreReport bore_report(const std::vector<Fitting>& fittings, const Values* air, const BoreOptions& options) {
  BoreReport report;
  std::optional<double> job_flow;
  if (air != nullptr) {
    report.air.density = air->maybe("density").value_or(report.air.density);
    report.air.viscosity = air->maybe("viscosity").value_or(report.air.viscosity);
    job_flow = air->maybe("flow");
  }
  if (!fittings.empty()) report.units = fittings.front().units;
  report.step_up = options.step_up;
  report.series =
      options.series.value_or(report.units == Units::inch ? DiameterSeries::inch : DiameterSeries::en1506);
  report.along = options.along;
  const BoreReport empty = report;
  for (const Fitting& fitting : fittings) {
    const std::optional<double> own = fitting.request.values.maybe("flow");
    BoreReport one = empty;
    try {
      FittingReport(one, fitting, options).add(own ? own : job_flow);
    } catch (const std::exception& error) {  // nothing that one fitting does ends the report of the others
      one = empty;
      one.problems.push_back({fitting.request.file,
                              fitting.request.line,
                              fitting.tag,
                              {},
                              {},
                              {},
                              fmt::format("its bore cannot be told: {}", error.what())});
    }
    append(report, std::move(one));
  }
  return report;
}

void append(BoreReport& report, BoreReport&& more) {
  const auto take = [](auto& all, auto& from) {
    all.insert(all.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
  };
  if (report.rows.empty()) {
    std::vector<Problem> problems = std::move(report.problems);
    take(problems, more.problems);
    report = std::move(more);
    report.problems = std::move(problems);
    return;
  }
  take(report.rows, more.rows);
  take(report.openings, more.openings);
  take(report.problems, more.problems);
  report.added_metal += more.added_metal;
  report.added_mass += more.added_mass;
  report.without_size += more.without_size;
}

}  // namespace linerwright
