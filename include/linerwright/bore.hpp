// The designer's check of a job: what the lining costs in bore, air, heat and sound, and what to step up to.
// Lengths mm, areas mm2, air in SI (m3/s, m/s, Pa, kg/m3), mass kg; bore_json writes the same units,
// bore_table and bore_csv the job's. These are aids to a designer's judgement: the licensed designer and
// local codes decide.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/airway.hpp"
#include "linerwright/fitting.hpp"

namespace linerwright {

struct BoreOptions {
  std::optional<StepUpCriterion> step_up;  // what a larger size has to give back; none: no step up
  std::optional<DiameterSeries> series;    // empty: EN 1506 for metric jobs, the inch series for inch jobs
  std::optional<double> limit;             // for the criterion; empty: what the bare duct has
  bool heat_and_sound = false;
  bool along = false;  // bore_table prints every station of bores that change on the way
};

// One cut square to the path.
struct BorePlace {
  double distance = 0.0;  // from the path's beginning
  std::string place;      // in words; may be empty
  double bare_diameter = 0.0;
  double free_area = 0.0;
  double share = 0.0;           // of the bare area there
  double lined_diameter = 0.0;  // of the circle with the free area
};

// What to step up to at one end of a passage.
struct BoreStep {
  std::string place;
  StepUpRequest asked;
  StepUp found;
};

// Sizes that were passed over in a step up because the fitting cannot be made so.
struct BorePassedOver {
  std::vector<double> diameters;  // one for each end that is asked about
  std::string reason;
};

// One passage of one fitting.
struct BoreRow {
  std::string tag;
  std::string passage;  // "through", "body", "branch"
  long count = 1;
  double length = 0.0;  // of the path
  std::vector<BorePlace> places;
  std::size_t narrowest = 0;  // index of the place with the smallest free area
  bool even = false;          // the same bore all along
  double velocity_factor = 0.0;

  // At the narrowest place, where the flow is known. The job or the fitting names one flow: it goes through
  // the first passage; how a branch shares it nobody said.
  std::optional<double> flow;
  std::optional<BoreFlow> bare_air, lined_air;
  std::optional<double> velocity_limit;
  std::optional<double> loss;  // from the designer's coefficient
  bool over_limit = false;     // the air is faster than the lining may see

  std::vector<BoreStep> steps;  // one, or one for each end where both have a diameter of their own
  std::vector<BorePassedOver> passed_over;
  std::optional<double> added_metal;  // sheet for all `count` fittings, along the path; empty: no size found
  std::optional<double> added_mass;

  std::optional<LiningResistance> heat;  // at the narrowest place
  std::optional<InsertionLoss> sound;    // of straight lengths only
  std::vector<std::string> notes;        // plain words: limits, nosing, doubts

  const BorePlace& narrowest_place() const { return places[narrowest]; }
};

// Where a branch's bore opens into the wall it leaves, measured on the curved walls.
struct BoreOpening {
  std::string tag;
  std::string name;  // the piece that enters: "branch"
  long count = 1;
  double bare_area = 0.0;  // of the hole in the duct face
  double free_area = 0.0;  // of the hole in the air face
  double share = 0.0;
};

struct BoreReport {
  Units units = Units::metric;
  Air air;
  std::optional<StepUpCriterion> step_up;
  DiameterSeries series = DiameterSeries::en1506;
  bool along = false;
  std::vector<BoreRow> rows;
  std::vector<BoreOpening> openings;
  double added_metal = 0.0;       // for the whole job's step up
  double added_mass = 0.0;        // of it
  std::size_t without_size = 0;   // passages for which the series has no size that is large enough
  std::vector<Problem> problems;  // what a figure cannot be given of, and why; the rest of the report stands
  bool over_limit() const;        // true where any row is: the command then ends with exit code 1
};

// `air` is the job's [air] table (density, viscosity, flow), or null for the defaults. A fitting's own flow
// wins over the job's. Never throws on fittings that make_fitting returned.
BoreReport bore_report(const std::vector<Fitting>& fittings, const Values* air, const BoreOptions& options);

// Adds the rows of another report of the same job behind the ones there; the first to have any says the
// units.
void append(BoreReport& report, BoreReport&& more);

// What a person wrote as the limit of a step up: an area, a velocity, or a friction such as "1 Pa/m" or
// "0.1 in w.g./100ft", whose bare number is Pa/m or in w.g. per 100 ft by `units`. Throws
// std::invalid_argument, with a reason fit to be shown, on anything else and unless over 0.
double step_up_limit(StepUpCriterion criterion, std::string_view written, Units units);

// Compact tables of at most 100 columns in the job's units, and notes; long tags are shortened.
std::string bore_table(const BoreReport& report);
// One line for each passage, tags in full, the unit in every head; cells a spreadsheet would run are defused.
std::string bore_csv(const BoreReport& report);
// Everything, stations and openings included.
std::string bore_json(const BoreReport& report);

// Formula, source and doubts of a figure, or of all where `figure` is empty or "all". Throws InputError for
// an unknown one.
std::string explain_text(const std::string& figure);

}  // namespace linerwright
