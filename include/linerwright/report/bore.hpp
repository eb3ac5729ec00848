// The designer's check of a job: what the lining costs in bore, air, heat and sound, and what to step up to.
// Lengths mm, areas mm2, air in SI (m3/s, m/s, Pa, kg/m3), mass kg; bore_json writes the same units,
// bore_table and bore_csv the job's. These are aids to a designer's judgement: the licensed designer and
// local codes decide.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/airway/airway.hpp"
#include "linerwright/airway/heat.hpp"
#include "linerwright/airway/noise.hpp"
#include "linerwright/fitting/fitting.hpp"

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
  std::optional<double> flow;   // through it, from the passage's beginning on; under 0: the other way
};

// One thing that takes pressure beside friction.
struct LossPart {
  std::string what;          // "mitred bend"
  double coefficient = 0.0;  // on the velocity pressure that its formula names
  double pressure = 0.0;     // Pa, of one fitting
  double flow = 0.0;         // m3/s that loses it
  std::string source;        // author, year, range; "given" where the designer's
  bool given = false;        // by the designer; else a published default
};

// What one passage of one fitting takes of the air's total pressure.
struct BoreLoss {
  double friction = 0.0;  // Pa
  double total = 0.0;     // Pa, friction and parts
  double power = 0.0;     // W that the air gives up: each loss times the flow that loses it
  std::vector<LossPart> parts;
  std::vector<std::string> left_out;  // what is not in it, and why
  bool by_default() const;            // a published formula's coefficient is in it
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
  std::string kind;
  std::string passage;  // "through", "body", "branch"
  long count = 1;
  double length = 0.0;     // of the path
  double thickness = 0.0;  // of the lining, all layers
  double conductivity = 0.0;
  double metal_roughness = 0.0, roughness = 0.0;  // mm
  std::string as_written;  // sizes and flows that were written in other units than the tables', in their own
  std::string surface;     // where the lined roughness is from, in words
  std::vector<BorePlace> places;
  std::size_t narrowest = 0;  // index of the place with the smallest free area
  bool even = false;          // the same bore all along
  double velocity_factor = 0.0;
  // How far a pressed bend's gores stand inside a lined neighbour's bore at the heel of both ends.
  std::optional<double> exposed_step;

  // At the place where the air is fastest, where the flow is known: it goes through the first passage, and
  // branch_flow says what leaves or joins it.
  std::size_t fastest = 0;
  std::optional<double> flow;
  std::optional<BoreFlow> bare_air, lined_air;
  std::optional<double> velocity_limit;
  std::optional<BoreLoss> bare_loss, lined_loss;
  bool over_limit = false;  // the air is faster than the lining may see
  std::string nosing;       // which leading edges take metal nosing; empty: none by the rule

  std::vector<BoreStep> steps;  // one, or one for each end where both have a diameter of their own
  std::vector<BorePassedOver> passed_over;
  std::optional<double> added_metal;  // sheet for all `count` fittings, along the path; empty: no size found
  std::optional<double> added_mass;

  std::optional<LiningResistance> heat;  // at the narrowest place
  // Where the air's temperature and the room's are stated: of one metre where the air is fastest.
  std::optional<DuctHeat> bare_gain, lined_gain;
  std::optional<double> least_dry;     // thickness, mm, that keeps the metal over the room's dew point
  bool never_dry = false;              // no thickness does
  std::optional<InsertionLoss> sound;  // of straight lengths only
  std::optional<std::array<double, 8>> bare_sound;  // what the bare duct takes, dB
  std::optional<std::array<double, 8>> air_noise;   // sound power of the air's own noise in the lining, dB
  std::vector<std::string> notes;                   // plain words: limits, nosing, doubts

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

// Losses of all fittings of a kind, or of all kinds, as if in one line: each times its count.
struct BoreSum {
  std::string kind;                               // empty: of the job
  long fittings = 0;                              // counted in it, each once however many passages
  double length = 0.0;                            // of their passages
  double bare_loss = 0.0, lined_loss = 0.0;       // Pa
  std::optional<double> bare_power, lined_power;  // W, where the fan's efficiency is known
  std::size_t without = 0;                        // passages whose loss is not known
  std::size_t incomplete = 0;                     // whose loss leaves something out
  std::size_t by_default = 0;                     // with a published default in it
};

// What a run of fittings takes along its way: the sum of their passages, from its start on.
struct BoreRunPart {
  std::string fitting, passage;                   // no passage where the run begins or ends inside it
  std::optional<double> flow;                     // m3/s, where the air is fastest
  std::optional<double> bare, lined;              // Pa; none: not known
  bool by_default = false;                        // a published formula's coefficient is in it
  std::vector<std::string> left_out;              // what is not in it, and why
  double metal_roughness = 0.0, roughness = 0.0;  // mm, that its friction is counted with
};
struct BoreRun {
  std::string name;
  double length = 0.0;             // mm of the line of centres
  Air air;                         // that all is counted with
  std::vector<BoreRunPart> parts;  // in the order of the path
  double bare = 0.0, lined = 0.0;  // Pa, of those that are known
  std::size_t without = 0;         // fittings whose loss is not known
  // Of a run that starts from another one: the way to it from where the first one starts, the passage into
  // the port that it starts at last of all.
  std::vector<BoreRunPart> before;
};
// What the sum does not hold, a line each: fittings whose loss is not known, and what the others leave out.
std::vector<std::string> left_out_of(const BoreRun& run);

// The room a job's ducts hang in.
struct BoreRoom {
  double air_temperature = 0.0;  // in the ducts, C
  double temperature = 0.0;
  double emissivity = k_galvanised_emissivity;
  std::optional<double> dew_point;  // where its humidity is stated
};

// What a job says of its air as a whole.
struct BoreBasis {
  Air air;
  std::string air_basis;       // what the air's figures are from, in words
  std::optional<double> flow;  // of fittings that state none
  std::optional<double> fan_efficiency;
  std::optional<BoreRoom> room;
  std::optional<double> least_share;  // of a bare area; under it a row gets a note
};

struct BoreReport : BoreBasis {
  Units units = Units::metric;
  std::optional<StepUpCriterion> step_up;
  std::optional<double> step_limit;  // as asked for; empty: what the bare duct has
  DiameterSeries series = DiameterSeries::en1506;
  bool along = false;
  std::vector<BoreRow> rows;
  std::vector<BoreOpening> openings;
  std::vector<BoreRun> runs;      // of the job, with its air carried along
  double added_metal = 0.0;       // for the whole job's step up
  double added_mass = 0.0;        // of it
  std::size_t without_size = 0;   // passages for which the series has no size that is large enough
  std::vector<Problem> problems;  // what a figure cannot be given of, and why; the rest of the report stands
  bool contradicts = false;  // some of them are words that contradict each other, not figures out of range
  bool over_limit() const;   // true where any row is: the command then ends with exit code 1
};

// Notes of the rows, each once, behind the names of the rows that have it.
std::vector<std::string> notes_by_row(const BoreReport& report);

// The report without what to step up to.
BoreReport without_steps(BoreReport report);

// The same job with several linings side by side, one line a passage; `liners` are as written. The reports
// hold the same passages in the same order, as far as they can be made.
struct BoreComparison {
  std::vector<std::string> liners;
  std::vector<BoreReport> reports;
};
std::string comparison_table(const BoreComparison& comparison);
std::string comparison_csv(const BoreComparison& comparison);
std::string comparison_json(const BoreComparison& comparison);

// Sums by kind, in the order of the rows, and last of the job; none where no loss is known.
std::vector<BoreSum> bore_sums(const BoreReport& report);

// `air` is the job's [air] table, or null for the defaults. A fitting's own flow
// wins over the job's. Never throws on fittings that make_fitting returned.
BoreReport bore_report(const std::vector<Fitting>& fittings, const Values* air, const BoreOptions& options);
// The same with the air already understood.
BoreReport bore_report(const std::vector<Fitting>& fittings, const BoreBasis& basis,
                       const BoreOptions& options);

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
