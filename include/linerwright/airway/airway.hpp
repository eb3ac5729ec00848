// The air side of a lined round duct: bore, velocity, friction, the size to step up to, heat and sound.
// Pure functions on numbers; they know no fitting. Lengths in mm, areas in mm2; air in SI (m3/s, m/s, Pa,
// kg/m3). Everything here throws std::invalid_argument, with a reason fit to be shown, on a value that is not
// finite or is outside what the declaration says ("positive" where it says nothing else). The formula and its
// source stand beside the code and in explain(). These are aids to a designer's judgement: the licensed
// designer and local codes decide.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/units/units.hpp"

namespace linerwright {

// ---- Defaults (explain("air"), explain("roughness"), explain("velocity limit") give their sources and
// doubts)

constexpr double k_foot_per_minute = 0.3048 / 60.0;                         // m/s
constexpr double k_default_bare_roughness = 0.09;                           // mm
constexpr double k_default_lined_roughness = 0.9;                           // mm
constexpr double k_default_velocity_limit = 6000.0 * k_foot_per_minute;     // 30.48 m/s
constexpr double k_nosing_on_all_edges_above = 4000.0 * k_foot_per_minute;  // 20.32 m/s
constexpr double k_steel_density = 7850.0;                                  // kg/m3, from memory

// ---- Air

struct Air {
  double density = 1.204;       // kg/m3
  double viscosity = 1.506e-5;  // kinematic, m2/s
};

// Density of dry air in kg/m3 from the absolute pressure in Pa and the temperature in degrees Celsius.
double air_density(double pressure, double temperature);
// Density and kinematic viscosity of dry air at that pressure and temperature; for -50 to 200 degrees Celsius
// only.
Air air_at(double pressure, double temperature);

constexpr double k_standard_pressure = 101325.0;  // Pa
// Pressure in Pa of the standard atmosphere at an altitude in m; for -500 to 11000 m only.
double pressure_at(double altitude);
// Pressure in Pa of water vapour over water that is saturated at a temperature; for -45 to 60 degrees
// Celsius.
double saturation_pressure(double temperature);
// Temperature in degrees Celsius to which air has to be cooled until water settles, from its temperature and
// its relative humidity in % (over 0, to 100).
double dew_point(double temperature, double humidity);
// Density and viscosity of air that holds water vapour, humidity in % (0 to 100) of saturation.
Air moist_air_at(double pressure, double temperature, double humidity);

// ---- The bore

// Area in mm2 of a circle of this diameter in mm.
double circle_area(double diameter);
// Diameter in mm of the circle of this area in mm2.
double equivalent_diameter(double area);
// Diameter in mm left by a lining of `thickness` mm (zero for bare metal); throws when the lining closes the
// duct.
double lined_diameter(double diameter, double thickness);
// Free area as a share of the bare area, both in mm2; throws when the free area is the larger.
double share_of_bare(double free_area, double bare_area);
// How many times faster the same flow runs through the free area than through the bare one.
double velocity_factor(double free_area, double bare_area);

// One cut square to the path: `along` mm from the path's start, its areas in mm2.
struct BoreSection {
  double along = 0.0;
  double free_area = 0.0;
  double bare_area = 0.0;
};
// Index of the section with the smallest free area (the first one of equals); throws when there is none.
std::size_t narrowest(const std::vector<BoreSection>& sections);

// ---- Flow

// Mean velocity in m/s of `flow` m3/s through `area` mm2.
double velocity(double flow, double area);
// Velocity pressure in Pa of `velocity` m/s.
double velocity_pressure(double velocity, const Air& air = {});
// Reynolds number of `velocity` m/s in a bore of `diameter` mm.
double reynolds(double velocity, double diameter, const Air& air = {});

enum class FlowRegime { laminar, transition, turbulent };
constexpr double k_laminar_below = 2300.0;    // Reynolds number
constexpr double k_turbulent_above = 4000.0;  // Reynolds number

// Darcy friction factor for a Reynolds number and a roughness divided by the bore (0 to under 0.5): 64/Re
// below 2300, Colebrook to machine precision above 4000, a straight line between the two ends in between (a
// doubtful region).
double friction_factor(double reynolds, double relative_roughness);
// Which of the three laws holds at a Reynolds number.
FlowRegime flow_regime(double reynolds);

// All that follows from a flow through a round bore.
struct BoreFlow {
  double velocity = 0.0;           // m/s
  double velocity_pressure = 0.0;  // Pa
  double reynolds = 0.0;
  double relative_roughness = 0.0;  // roughness / bore
  FlowRegime regime = FlowRegime::turbulent;
  double friction_factor = 0.0;     // Darcy
  double friction = 0.0;            // Pa per metre of path
  std::vector<std::string> doubts;  // why the friction is less sure than usual; empty in ordinary ducts
};
// Velocity and friction of `flow` m3/s in a bore of `diameter` mm whose wall has `roughness` mm (zero or
// more).
BoreFlow bore_flow(double diameter, double flow, double roughness, const Air& air = {});

// Flow in m3/s that runs at `velocity` m/s through a bore of `diameter` mm.
double flow_for_velocity(double diameter, double velocity);
// Flow in m3/s that loses `friction` Pa per metre in a bore of `diameter` mm.
double flow_for_friction(double diameter, double friction, double roughness, const Air& air = {});
// Smallest bore in mm that carries `flow` m3/s at no more than `velocity` m/s.
double bore_for_velocity(double flow, double velocity);
// Smallest bore in mm that carries `flow` m3/s for no more than `friction` Pa per metre; throws when that
// bore would not be wider than twice its roughness.
double bore_for_friction(double flow, double friction, double roughness, const Air& air = {});

// Pressure loss in Pa of a fitting: the designer's coefficient (any sign: a through branch may gain) times
// the velocity pressure in Pa, taken on the lined bore.
double fitting_loss(double coefficient, double lined_velocity_pressure);

// ---- Velocity against what the lining bears

// What the air comes out of where it meets a lining's first edge.
enum class Before { unknown, lined, metal };

struct VelocityCheck {
  bool over_limit = false;            // the lining may erode: choose a larger size or a lining rated for it
  bool nosing_on_all_edges = false;   // above 4000 fpm
  bool nosing_after_metal = false;    // the lining is preceded by bare metal
  std::vector<std::string> warnings;  // plain words for over_limit, with both numbers
  std::vector<std::string> notes;     // plain words for the nosing
};
// Checks `velocity` m/s in the lined bore against `limit` m/s (the lining's own listed rating where it has
// one). The words give the velocity in both systems, that of `units` first.
VelocityCheck check_velocity(double velocity, double limit = k_default_velocity_limit,
                             Before before = Before::lined, Units units = Units::metric);
// Which of a lining's leading edges take metal nosing, in plain words; empty: none by the rule. Without a
// velocity only what comes before the lining counts. In a run, `before` is what the neighbour upstream is.
std::string nosing_note(Before before, std::optional<double> velocity, Units units = Units::metric);

// ---- Step up

enum class DiameterSeries {
  en1506,      // standard diameters, 63 to 1250 mm
  en1506_all,  // with the additional ones
  inch,        // 3 to 24 in by 1 in, 26 to 84 in by 2 in (common practice, from memory)
};
// Inside diameters of the metal in mm, rising.
std::vector<double> diameters(DiameterSeries series);

enum class StepUpCriterion { area, velocity, friction };

struct StepUpRequest {
  double diameter = 0.0;          // the metal's inside diameter, mm
  double lining_thickness = 0.0;  // mm, kept on the larger size
  StepUpCriterion criterion = StepUpCriterion::area;
  // Least free area in mm2, most velocity in m/s or most friction in Pa/m; empty: what the bare duct of
  // `diameter` has.
  std::optional<double> limit;
  std::optional<double> flow;  // m3/s; needed for velocity and friction
  double bare_roughness = k_default_bare_roughness;
  double lined_roughness = k_default_lined_roughness;
  Air air;
  std::optional<double> gauge;  // metal thickness in mm, for the added mass
  double steel_density = k_steel_density;
};

// A lined size and what it gives.
struct LinedSize {
  double diameter = 0.0;             // the metal's inside diameter, mm
  double bore = 0.0;                 // mm
  double free_area = 0.0;            // mm2
  double share = 0.0;                // of the bare area of the duct that was asked about; may exceed 1
  std::optional<BoreFlow> air;       // when a flow was given
  double added_metal = 0.0;          // m2 of sheet per metre of duct, against the size asked about
  std::optional<double> added_mass;  // kg per metre, when a gauge was given
};

enum class StepUpOutcome { enough_already, stepped_up, none_large_enough };

struct StepUp {
  StepUpOutcome outcome = StepUpOutcome::none_large_enough;
  double limit = 0.0;             // the limit that was held, given or derived from the bare duct
  double bore_needed = 0.0;       // mm
  std::optional<LinedSize> size;  // empty when none is large enough
  std::string text;               // one sentence in plain words
};

// What lined duct with certain diameters at its ends leaves open, as diameters of round bores of equal area.
struct SizedBores {
  std::vector<double> at_ends;  // mm, one for each end that is asked about
  double narrowest = 0.0;       // mm, anywhere along the way
};
// The bores that these diameters inside the metal (mm, one for each end) leave; empty: it cannot be made so.
using BoresOfSizes = std::function<std::optional<SizedBores>(const std::vector<double>& diameters)>;

// The least sheet that meets the criterion at every end: one request for each end whose diameter may grow,
// and of all combinations of their present diameters and those of `series` (mm, any order), none under the
// present one, the first by the sum of diameters whose bores, as `bores` reads them, are wide enough at each
// end, and nowhere narrower than the least that an end needs. No bore is wider than its metal less the lining
// on both sides: what cannot do for that is not tried.
std::vector<StepUp> step_up(const std::vector<StepUpRequest>& ends, const std::vector<double>& series,
                            const BoresOfSizes& bores);

// The same for one straight duct, whose bore is D - 2t.
StepUp step_up(const StepUpRequest& request, const std::vector<double>& series);

// ---- Heat

struct LiningResistance {
  double per_length = 0.0;    // m K/W, of one metre of duct
  double on_duct_face = 0.0;  // m2 K/W, on the area of the lining's outside (the metal)
  double on_air_face = 0.0;   // m2 K/W, on the area of the bore
  double flat = 0.0;          // m2 K/W, the same lining laid flat, for comparison
};
// Thermal resistance of the lining alone, from its conductivity in W/(m K); air films and metal are not
// counted.
LiningResistance lining_resistance(double diameter, double thickness, double conductivity);
// Of two layers, the second inside the first: their resistances in series.
LiningResistance in_series(const LiningResistance& outer, const LiningResistance& inner);

// ---- Sound

struct BandLoss {
  double frequency = 0.0;  // octave band centre, Hz
  double per_metre = 0.0;  // dB/m, never under 0
  double total = 0.0;      // dB over the length, after the cap
  bool capped = false;     // the cap of 40 dB was reached
};
struct InsertionLoss {
  std::string_view label = "estimate";
  std::optional<std::array<BandLoss, 8>> bands;  // 63 to 8000 Hz; empty outside the regression's range
  std::vector<std::string> out_of_range;         // why there are no numbers
  std::vector<std::string> notes;                // what the estimate does not say
};
// Insertion loss of `length` mm of straight lined round duct, `diameter` mm inside the metal. Not for elbows.
InsertionLoss insertion_loss(double diameter, double thickness, double length);

// ---- Explanations

struct Explanation {
  std::string_view figure;   // "friction factor"
  std::string_view formula;  // plain text
  std::string_view source;
  std::string_view doubts;  // empty when there is none to speak of
};
// Every figure that has an entry, in the order they are printed.
const std::vector<Explanation>& explanations();
// The entry of that name, whatever the case and with "-" or "_" for blanks; nullptr when there is none.
const Explanation* explain(std::string_view figure);

}  // namespace linerwright
