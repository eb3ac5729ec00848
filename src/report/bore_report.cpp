#include <algorithm>

#include "linerwright/bore.hpp"

namespace linerwright {

namespace {

void add_air(BoreRow& row, const Fitting& fitting, double flow, const Air& air) {
  const Values& values = fitting.request.values;
  row.bare_air = bore_flow(row.bare_diameter, flow, values.quantity("metal_roughness"), air);
  row.lined_air = bore_flow(row.lined_diameter, flow, values.quantity("roughness"), air);
  const VelocityCheck check = check_velocity(row.lined_air->velocity, values.quantity("max_velocity"));
  row.over_limit = check.over_limit;
  row.notes.insert(row.notes.end(), check.warnings.begin(), check.warnings.end());
  row.notes.insert(row.notes.end(), check.notes.begin(), check.notes.end());
  row.notes.insert(row.notes.end(), row.lined_air->doubts.begin(), row.lined_air->doubts.end());
  if (const auto coefficient = values.maybe("loss_coefficient"))
    row.loss = fitting_loss(*coefficient, row.lined_air->velocity_pressure);
}

void add_step(BoreRow& row, const Fitting& fitting, std::optional<double> flow, const Air& air,
              const BoreOptions& options) {
  if (*options.step_up != StepUpCriterion::area && !flow) {
    row.notes.push_back("a step up by velocity or friction needs a flow");
    return;
  }
  StepUpRequest request;
  request.diameter = row.bare_diameter;
  request.lining_thickness = fitting.liner.thickness;
  request.criterion = *options.step_up;
  request.limit = options.limit;
  request.flow = flow;
  request.bare_roughness = fitting.request.values.quantity("metal_roughness");
  request.lined_roughness = fitting.request.values.quantity("roughness");
  request.air = air;
  request.gauge = fitting.liner.gauge;
  const DiameterSeries series =
      options.series.value_or(fitting.units == Units::inch ? DiameterSeries::inch : DiameterSeries::en1506);
  row.step = step_up(request, diameters(series));
}

BoreRow row_of(const Fitting& fitting, const Passage& passage) {
  BoreRow row;
  row.tag = fitting.tag;
  row.passage = passage.name;
  row.count = fitting.count;
  std::vector<BoreSection> sections;
  for (const Station& station : passage.stations)
    sections.push_back({station.distance, station.lined_area, circle_area(station.bare_diameter)});
  const std::size_t at = narrowest(sections);
  const Station& station = passage.stations[at];
  row.bare_diameter = station.bare_diameter;
  row.lined_diameter = station.lined_diameter;
  row.free_area = station.lined_area;
  row.share = share_of_bare(station.lined_area, sections[at].bare_area);
  row.velocity_factor = velocity_factor(station.lined_area, sections[at].bare_area);
  row.narrowest_at = station.distance;
  row.narrowest_place = station.place;
  row.length = passage.stations.back().distance - passage.stations.front().distance;
  // one bore all along has no narrowest place
  const bool even = std::all_of(passage.stations.begin(), passage.stations.end(), [&](const Station& s) {
    return std::fabs(s.lined_area - station.lined_area) < 1e-9 * station.lined_area;
  });
  if (even) row.narrowest_place = "all along";
  return row;
}

}  // namespace

bool BoreReport::over_limit() const {
  return std::any_of(rows.begin(), rows.end(), [](const BoreRow& row) { return row.over_limit; });
}

BoreReport bore_report(const std::vector<Fitting>& fittings, const Values* air_table,
                       const BoreOptions& options) {
  BoreReport report;
  Air air;
  std::optional<double> job_flow;
  if (air_table != nullptr) {
    air.density = air_table->maybe("density").value_or(air.density);
    air.viscosity = air_table->maybe("viscosity").value_or(air.viscosity);
    job_flow = air_table->maybe("flow");
  }
  if (!fittings.empty()) report.units = fittings.front().units;
  for (const Fitting& fitting : fittings) {
    std::optional<double> flow = fitting.request.values.maybe("flow");
    if (!flow) flow = job_flow;
    bool main_passage = true;
    for (const Passage& passage : fitting.passages) {
      BoreRow row = row_of(fitting, passage);
      // the flow named is the one through the fitting; what a branch takes of it nobody said
      const std::optional<double> here = main_passage ? flow : std::nullopt;
      if (here) add_air(row, fitting, *here, air);
      if (options.step_up) add_step(row, fitting, here, air, options);
      if (options.heat_and_sound) {
        row.heat = lining_resistance(row.bare_diameter, fitting.liner.thickness,
                                     fitting.request.values.quantity("conductivity"));
        if (fitting.straight_run)
          row.sound = insertion_loss(row.bare_diameter, fitting.liner.thickness, row.length);
      }
      if (row.step && row.step->size) {
        const double metres = row.length / 1000.0 * static_cast<double>(row.count);
        report.added_metal += row.step->size->added_metal * metres;
        report.added_mass += row.step->size->added_mass.value_or(0.0) * metres;
      }
      report.rows.push_back(std::move(row));
      main_passage = false;
    }
  }
  return report;
}

}  // namespace linerwright
