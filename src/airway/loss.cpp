#include "linerwright/airway/loss.hpp"

#include <algorithm>
#include <array>

#include "linerwright/units/figures.hpp"
#include "linerwright/units/vector.hpp"
#include "require.hpp"

namespace linerwright {

using namespace airway;

namespace {

constexpr double k_slack = 1.0 + 1e-9;
constexpr double k_degree = k_pi / 180.0;

LossCoefficient given(const char* name, const char* source, double value) {
  return {value, name, source, {}};
}

LossCoefficient refusal(const char* name, const char* source, std::string why) {
  return {0.0, name, source, std::move(why)};
}

double square(double x) {
  return x * x;
}

std::string degrees(double angle) {
  return trimmed(angle / k_degree, 1);
}

void require_order(double small, double large, const char* what) {
  if (small > large * k_slack)
    throw std::invalid_argument(fmt::format("{}: {} is over {}", what, trimmed(small, 3), trimmed(large, 3)));
}

}  // namespace

// Darcy-Weisbach over a bore that changes: dp = f(s) p_v(s) / d(s) ds. Between two places the diameter runs
// straight, where a cone's does exactly; eight points of Gauss-Legendre on each part are exact to rounding
// for what is so smooth.
double path_friction(const std::vector<PathPlace>& path, double roughness, const Air& air) {
  constexpr std::array<std::array<double, 2>, 4> k_points = {{{0.1834346424956498, 0.3626837833783620},
                                                              {0.5255324099163290, 0.3137066458778873},
                                                              {0.7966664774136267, 0.2223810344533745},
                                                              {0.9602898564975363, 0.1012285362903763}}};
  double sum = 0.0;
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    const PathPlace& a = path[i];
    const PathPlace& b = path[i + 1];
    const double length = b.along - a.along;
    require_not_negative(length, "length between two places of the path (mm)");
    if (length == 0.0 || a.flow == 0.0) continue;
    for (const auto& [x, weight] : k_points)
      for (const double side : {-1.0, 1.0}) {
        const double share = 0.5 * (1.0 + side * x);
        const double diameter = a.diameter + (b.diameter - a.diameter) * share;
        sum += 0.5 * weight * length * 1e-3 * bore_flow(diameter, std::fabs(a.flow), roughness, air).friction;
      }
  }
  return sum;
}

// J.-C. de Borda, Mem. Acad. Sci. Paris 1766, and L. N. M. Carnot 1803, from the balance of momentum:
// C = (1 - A1/A2)^2 on p_v in the narrow bore; for turbulent flow, any ratio.
LossCoefficient sudden_widening(double narrow_area, double wide_area) {
  require_positive(narrow_area, "area (mm2)");
  require_order(narrow_area, wide_area, "a widening grows");
  return given("sudden widening", "Borda 1766, Carnot 1803; turbulent flow",
               square(1.0 - std::min(1.0, narrow_area / wide_area)));
}

// I. E. Idelchik, Handbook of Hydraulic Resistance, diagram of sharp-edged entry from a wide pipe: C = 0.5 (1
// - A2/A1)^0.75 on p_v in the narrow bore, turbulent flow (Re over 10 000). His table of the factor (0.85,
// 0.68, 0.503, 0.300, 0.178 at 0.2, 0.4, 0.6, 0.8, 0.9) is this power.
LossCoefficient sudden_narrowing(double wide_area, double narrow_area) {
  require_positive(narrow_area, "area (mm2)");
  require_order(narrow_area, wide_area, "a narrowing shrinks");
  return given("sudden narrowing", "Idelchik, Handbook of Hydraulic Resistance, 3rd ed. 1994; turbulent flow",
               0.5 * std::pow(std::max(0.0, 1.0 - narrow_area / wide_area), 0.75));
}

// Idelchik, conical diffuser: C = 3.2 tan^1.25(alpha/2) (1 - A1/A2)^2 for a whole angle alpha up to 40
// degrees and an even flow before it. Steeper than that the air leaves the wall and the step's formula holds
// (his measured values there lie from 0.9 to 1.2 of it, from memory).
LossCoefficient widening_taper(double narrow_diameter, double wide_diameter, double length) {
  require_positive(narrow_diameter, "diameter (mm)");
  require_positive(length, "length of the taper (mm)");
  require_order(narrow_diameter, wide_diameter, "a widening grows");
  const double half = std::atan2(0.5 * (wide_diameter - narrow_diameter), length);
  const double step = square(1.0 - square(narrow_diameter / wide_diameter));
  if (half <= 20.0 * k_degree * k_slack)
    return given("widening taper",
                 "Idelchik, Handbook of Hydraulic Resistance, 1960; whole angle to 40 degrees, "
                 "even flow "
                 "before it",
                 3.2 * std::pow(std::tan(half), 1.25) * step);
  return given("widening taper", "Borda 1766, Carnot 1803, as a step: whole angle over 40 degrees", step);
}

// Idelchik, conical narrowing: C = (-0.0125 n^4 + 0.0224 n^3 - 0.00723 n^2 + 0.00444 n - 0.00745) (a^3 - 2 pi
// a^2 - 10 a), n the area ratio and a the whole angle in rad, on p_v in the narrow end; Re over 100 000.
LossCoefficient narrowing_taper(double wide_diameter, double narrow_diameter, double length) {
  require_positive(narrow_diameter, "diameter (mm)");
  require_positive(length, "length of the taper (mm)");
  require_order(narrow_diameter, wide_diameter, "a narrowing shrinks");
  const double n = std::min(1.0, square(narrow_diameter / wide_diameter));
  const double a = 2.0 * std::atan2(0.5 * (wide_diameter - narrow_diameter), length);
  const double by_ratio = (((-0.0125 * n + 0.0224) * n - 0.00723) * n + 0.00444) * n - 0.00745;
  const double value = by_ratio * ((a - 2.0 * k_pi) * a - 10.0) * a;
  return given("narrowing taper", "Idelchik, Handbook of Hydraulic Resistance, 3rd ed. 1994, diagram 5-23",
               std::max(0.0, value));
}

namespace {

// By the angle of the turn: 0.9 sin to 70 degrees, 1 at 90, 0.7 + 0.35 angle/90 from 100 on; straight
// between.
double by_angle(double angle) {
  const double d = angle / k_degree;
  const double at_70 = 0.9 * std::sin(70.0 * k_degree);
  const double at_100 = 0.7 + 0.35 * 100.0 / 90.0;
  if (d <= 70.0) return 0.9 * std::sin(angle);
  if (d <= 90.0) return at_70 + (1.0 - at_70) * (d - 70.0) / 20.0;
  if (d <= 100.0) return 1.0 + (at_100 - 1.0) * (d - 90.0) / 10.0;
  return 0.7 + 0.35 * d / 90.0;
}

}  // namespace

// Idelchik, diagram 6-1, round section: C = k_rough k_Re A1 B1, B1 = 0.21 (R/D)^-2.5 up to R/D 1, 0.21
// (R/D)^-0.5 beyond; k_Re = 11.5 / Re^0.19 from Re 40 000 on until it is 1 (R/D from 0.7); k_rough = f /
// f_smooth up to Re 200 000 and 1 + 1000 eps/D above, at most 2. Friction is not in it. His downstream length
// is 10 diameters at least.
LossCoefficient smooth_bend(double angle, double radius, double diameter, double reynolds, double roughness) {
  constexpr const char* k_name = "smooth bend";
  constexpr const char* k_source =
      "Idelchik, Handbook of Hydraulic Resistance, 3rd ed. 1994, diagram 6-1; R/D 0.7 to 3, Re from 40 000, "
      "180 degrees "
      "at most";
  require_positive(angle, "angle of the bend");
  require_positive(radius, "centreline radius (mm)");
  require_positive(diameter, "diameter (mm)");
  require_positive(reynolds, "Reynolds number");
  require_not_negative(roughness, "roughness (mm)");
  const double ratio = radius / diameter;
  if (ratio * k_slack < 0.7 || ratio > 3.0 * k_slack)
    return refusal(k_name, k_source,
                   fmt::format("R/D is {}; the formula holds for 0.7 to 3", trimmed(ratio, 2)));
  if (angle > k_pi * k_slack)
    return refusal(k_name, k_source, fmt::format("it turns by {} degrees, over 180", degrees(angle)));
  if (reynolds < 4e4)
    return refusal(k_name, k_source,
                   fmt::format("Re is {}; the formula holds from 40 000", fixed(reynolds, 0)));
  const double b1 = 0.21 * std::pow(ratio, ratio <= 1.0 ? -2.5 : -0.5);
  const double by_reynolds = std::max(1.0, 11.5 / std::pow(reynolds, 0.19));
  const double relative = roughness / diameter;
  const double rough = reynolds < 2e5 ? friction_factor(reynolds, relative) / friction_factor(reynolds, 0.0)
                                      : 1.0 + 1000.0 * relative;
  return given(k_name, k_source, std::clamp(rough, 1.0, 2.0) * by_reynolds * by_angle(angle) * b1);
}

// One mitre alone: C = (0.95 + 33.5/angle) (0.95 s^2 + 2.05 s^4), s the sine of half the angle, the angle in
// degrees (Idelchik, diagram 6-7, as a public library has it). Several: the sum of J. Weisbach's 0.9457 s^2
// + 2.047 s^4 (Lehrbuch der Ingenieur- und Maschinen-Mechanik, 1855; from memory), each as if alone. They are
// so at R/D 1.5 and beyond at the least; closer together they cost more than their sum and no closed form was
// found. With many mitres the sum falls to nothing while the bend becomes a smooth one, so a smooth bend of
// the same bore is the least.
LossCoefficient mitred_bend(double angle, int mitres, double radius, double diameter, double reynolds,
                            double roughness) {
  require_positive(angle, "angle of the bend");
  require_positive(diameter, "diameter (mm)");
  if (mitres < 1) throw std::invalid_argument("a mitred bend has one mitre at least");
  const double each = angle / mitres;
  const double s2 = square(std::sin(0.5 * each));
  if (mitres == 1)
    return given("single mitre",
                 "Idelchik, Handbook of Hydraulic Resistance, 3rd ed. 1994, diagram 6-7; to 180 degrees",
                 (0.95 + 33.5 * k_degree / each) * s2 * (0.95 + 2.05 * s2));
  constexpr const char* k_name = "mitred bend";
  constexpr const char* k_source =
      "sum of Weisbach 1855 over the mitres (from memory), at least a smooth bend's after Idelchik, diagram "
      "6-1; "
      "R/D from 1.5";
  require_positive(radius, "centreline radius (mm)");
  if (radius * k_slack < 1.5 * diameter)
    return refusal(
        k_name, k_source,
        fmt::format("R/D is {}; under 1.5 the mitres disturb each other", trimmed(radius / diameter, 2)));
  const LossCoefficient smooth = smooth_bend(angle, radius, diameter, reynolds, roughness);
  const double sum = mitres * s2 * (0.9457 + 2.047 * s2);
  return given(k_name, k_source, smooth.holds() ? std::max(sum, smooth.value) : sum);
}

namespace {

// As two public libraries of fluid mechanics quote them: I. E. Idelchik, Handbook of Hydraulic Resistance,
// 3rd ed., sections 7-15 and 7-16 with tables 7-1 and 7-4 and diagrams 7-2 to 7-20, and a handbook of flow
// through fittings of 2009, whose worked examples they reproduce.
constexpr const char* k_dividing =
    "Idelchik, Handbook of Hydraulic Resistance, 3rd ed., section 7-16, after Levin; branch at 15 to 60 or "
    "at 90 "
    "degrees";
constexpr const char* k_joining =
    "Idelchik, Handbook of Hydraulic Resistance, 3rd ed., section 7-15, after Levin; branch at 15 to 60 or "
    "at 90 "
    "degrees";

// Why the formulas say nothing of this branch; empty: they do.
std::string out_of_range(double share, double area_ratio, double turn) {
  require_positive(share, "share of the flow");
  require_positive(area_ratio, "area of the branch over the body's");
  require_positive(turn, "angle of the branch");
  if (share > k_slack) return "more air goes through the branch than through the body";
  if (area_ratio > k_slack) return "the branch is wider than the body";
  const bool square_on = std::fabs(turn - 0.5 * k_pi) < 0.5 * k_degree;
  const bool leans = turn > 14.999 * k_degree && turn < 60.001 * k_degree;
  if (square_on || leans) return {};
  return fmt::format("the branch's air is turned by {} degrees; the formulas hold for 15 to 60 and for 90",
                     degrees(turn));
}

bool leaning(double turn) {
  return turn < 75.0 * k_degree;
}

// The factor before the momentum of a branch that leaves.
double dividing_factor(double q, double area_ratio, double turn) {
  if (!leaning(turn)) return area_ratio <= 2.0 / 3.0 ? 1.0 : 1.0 + 0.3 * q * q;
  if (area_ratio <= 0.35) return q <= 0.4 ? 1.1 - 0.7 * q : 0.85;
  return q <= 0.6 ? 1.0 - 0.6 * q : 0.6;
}

double joining_factor(double q, double area_ratio) {
  if (area_ratio <= 0.35) return 1.0;
  return q <= 0.4 ? 0.9 * (1.0 - q) : 0.55;
}

}  // namespace

// Branch: C = A (1 + x^2 - 2 x cos(turn)), x the branch's velocity over the whole flow's; square on and with
// a diameter over two thirds of the body's A (1 + 0.3 x^2). Run: C = m q^2, m = 0.4 for an area ratio up to
// 0.4, then 2 (2 q - 1) up to q = 0.5 and 0.3 (2 q - 1) beyond, for a body that keeps its area.
BranchCoefficients dividing_flow(double share, double area_ratio, double turn) {
  const std::string why = out_of_range(share, area_ratio, turn);
  if (!why.empty())
    return {refusal("branch that leaves", k_dividing, why), refusal("run past a branch", k_dividing, why)};
  const double q = std::min(1.0, share);
  const double x = q / area_ratio;
  const bool momentum = leaning(turn) || std::sqrt(area_ratio) <= 2.0 / 3.0;
  const double branch = dividing_factor(q, area_ratio, turn) *
                        (momentum ? 1.0 + x * x - 2.0 * x * std::cos(turn) : 1.0 + 0.3 * x * x);
  const double m = area_ratio <= 0.4 ? 0.4 : (q <= 0.5 ? 2.0 : 0.3) * (2.0 * q - 1.0);
  return {given("branch that leaves", k_dividing, branch), given("run past a branch", k_dividing, m * q * q)};
}

// Branch: C = A (1 + x^2 - 2 (1 - q)^2 - 2 (q^2 / ratio) cos(turn)). Run: 1 - (1 - q)^2 - 2 (q^2 / ratio)
// cos(turn) where it leans, 1.55 q - q^2 square on. Either may be under 0: the faster stream draws the slower
// one along.
BranchCoefficients joining_flow(double share, double area_ratio, double turn) {
  const std::string why = out_of_range(share, area_ratio, turn);
  if (!why.empty())
    return {refusal("branch that joins", k_joining, why), refusal("run past a branch", k_joining, why)};
  const double q = std::min(1.0, share);
  const double x = q / area_ratio;
  const double cosine = leaning(turn) ? std::cos(turn) : 0.0;
  const double drawn = 2.0 * q * q / area_ratio * cosine;
  const double branch = joining_factor(q, area_ratio) * (1.0 + x * x - 2.0 * square(1.0 - q) - drawn);
  const double run = leaning(turn) ? 1.0 - square(1.0 - q) - drawn : 1.55 * q - q * q;
  return {given("branch that joins", k_joining, branch), given("run past a branch", k_joining, run)};
}

// Idelchik, 3rd ed., diagram 7-29, symmetric tee of equal diameters at 90 degrees: C = 1 + 1.5 x^2 where the
// flow divides (1.5 for standard make), x the leg's velocity over the inlet's, and A (1 + 1/r^2 + 3/r^2 (q^2
// - q)) where it joins, r = 1 and A as of branches; as a public library of fluid mechanics has them.
LossCoefficient leg_of_two(double share, double area_ratio, double angle, bool opposite, bool dividing) {
  const char* const name = dividing ? "leg that leaves" : "leg that joins";
  constexpr const char* k_source =
      "Idelchik, Handbook of Hydraulic Resistance, 3rd ed., diagram 7-29; two legs in one line, square to "
      "the inlet, "
      "all of one diameter";
  require_positive(share, "share of the flow");
  require_positive(area_ratio, "area of the leg over the inlet's");
  if (share > k_slack) return refusal(name, k_source, "more air goes through the leg than through the inlet");
  if (!opposite || std::fabs(angle - 0.5 * k_pi) > 0.5 * k_degree)
    return refusal(name, k_source,
                   "its turn: a formula was found for two legs in one line, square to the inlet, alone");
  if (std::fabs(area_ratio - 1.0) > 0.02)
    return refusal(name, k_source, "its turn: the formula holds for legs as wide as the inlet");
  const double q = std::min(1.0, share);
  return given(name, k_source,
               dividing ? 1.0 + 1.5 * q * q : joining_factor(q, 1.0) * (2.0 + 3.0 * (q * q - q)));
}

// P = dp Q / eta (work of a pressure on a flow).
double fan_power(double loss, double flow, double efficiency) {
  require_finite(loss, "loss (Pa)");
  require_not_negative(flow, "flow (m3/s)");
  require_positive(efficiency, "efficiency of the fan");
  if (efficiency > 1.0) throw std::invalid_argument("no fan gives back more than it takes");
  return loss * flow / efficiency;
}

}  // namespace linerwright
