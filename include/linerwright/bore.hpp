// The designer's check of a job: what the lining costs in bore, air, heat and sound, and what to step up to.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/airway.hpp"
#include "linerwright/fitting.hpp"

namespace linerwright {

struct BoreOptions {
  std::optional<StepUpCriterion> step_up;  // what a larger size has to give back; none: no step up
  std::optional<DiameterSeries> series;    // empty: EN 1506 for metric jobs, the inch series for inch jobs
  std::optional<double> limit;             // for the criterion; empty: what the bare duct has
  bool heat_and_sound = false;
};

// One passage of one fitting at its narrowest place. Lengths mm, areas mm2, air in SI.
struct BoreRow {
  std::string tag;
  std::string passage;                               // "through", "body", "branch"
  double bare_diameter = 0.0, lined_diameter = 0.0;  // at the narrowest place
  double free_area = 0.0, share = 0.0, velocity_factor = 0.0;
  double narrowest_at = 0.0;  // along the path
  std::string narrowest_place;
  double length = 0.0;  // of the path
  std::optional<BoreFlow> bare_air, lined_air;
  std::optional<double> loss;  // Pa, from the designer's coefficient
  bool over_limit = false;
  std::vector<std::string> notes;
  std::optional<StepUp> step;
  std::optional<LiningResistance> heat;
  std::optional<InsertionLoss> sound;
  long count = 1;
};

struct BoreReport {
  Units units = Units::metric;
  std::vector<BoreRow> rows;
  double added_metal = 0.0;  // m2 of sheet for the whole job's step up, along the paths
  double added_mass = 0.0;   // kg
  bool over_limit() const;
};

// `air` is the job's [air] table, or null for the defaults. A fitting's own flow wins over the job's.
BoreReport bore_report(const std::vector<Fitting>& fittings, const Values* air, const BoreOptions& options);

// Tables no wider than 100 columns in the job's units; CSV with the units in its heads; JSON in mm, mm2, m/s,
// Pa.
std::string bore_table(const BoreReport& report);
std::string bore_csv(const BoreReport& report);
std::string bore_json(const BoreReport& report);

// Formula, source and doubts of a figure, or of all where `figure` is empty. Throws InputError for an unknown
// one.
std::string explain_text(const std::string& figure);

}  // namespace linerwright
