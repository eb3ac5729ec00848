// What a fitting takes of the air's total pressure: friction along a bore that changes, and the coefficients
// of turns, steps, tapers and branches as handbook authors published their formulas. Pure functions of
// numbers, for a fitting and for a run of them. Lengths in mm, areas in mm2, angles in rad, air in SI. A
// coefficient outside the range its author gave is refused, never guessed. All are for bare smooth fittings
// between long straight lengths: aids to a designer's judgement, to be overridden by a tested figure.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "linerwright/airway/airway.hpp"

namespace linerwright {

// A place on a path: how far along it, how wide it is there, and the flow from there to the next place (any
// sign).
struct PathPlace {
  double along = 0.0;
  double diameter = 0.0;
  double flow = 0.0;
};

// Friction over the path in Pa, never under 0: the integral of f p_v / d ds, d running straight from place to
// place. Throws std::invalid_argument as bore_flow does, and where places are not in order.
double path_friction(const std::vector<PathPlace>& path, double roughness, const Air& air = {});

// A loss coefficient, or why there is none.
struct LossCoefficient {
  double value = 0.0;
  std::string name;     // "sudden widening"
  std::string source;   // author, year, range
  std::string refused;  // empty: the value holds
  bool holds() const { return refused.empty(); }
};

// From a narrow bore into a wide one at once, on the velocity pressure in the narrow one.
LossCoefficient sudden_widening(double narrow_area, double wide_area);
// From a wide bore into a narrow one at once, on the velocity pressure in the narrow one.
LossCoefficient sudden_narrowing(double wide_area, double narrow_area);
// A round taper over `length`, without its friction, on the velocity pressure in its narrow end.
LossCoefficient widening_taper(double narrow_diameter, double wide_diameter, double length);
LossCoefficient narrowing_taper(double wide_diameter, double narrow_diameter, double length);

// A smooth bend without its friction, on the velocity pressure in it. `radius` is the centreline's.
LossCoefficient smooth_bend(double angle, double radius, double diameter, double reynolds, double roughness);
// A bend of that many equal mitres without its friction, on the velocity pressure in it; never under that of
// a smooth bend of the same bore, where that one is known.
LossCoefficient mitred_bend(double angle, int mitres, double radius, double diameter, double reynolds,
                            double roughness);

// Coefficients at a branch, on the velocity pressure of the whole flow where it has not divided yet or has
// joined again. `share` is the branch's flow over the whole (over 0, to 1), `area_ratio` the branch's area
// over the body's, `turn` the angle by which the branch's air is turned.
struct BranchCoefficients {
  LossCoefficient branch;
  LossCoefficient run;
};
BranchCoefficients dividing_flow(double share, double area_ratio, double turn);
BranchCoefficients joining_flow(double share, double area_ratio, double turn);

// Coefficient of one of two legs that part to opposite sides, square to their inlet, all of one diameter; on
// the velocity pressure in the inlet. `share` is the leg's flow over the inlet's (over 0, to 1), `area_ratio`
// the leg's area over the inlet's, `angle` each leg's from the way on, `opposite` that they lie in one line.
LossCoefficient leg_of_two(double share, double area_ratio, double angle, bool opposite, bool dividing);

// Power of a fan in W that makes up a loss in Pa of a flow in m3/s at that efficiency (over 0, to 1).
double fan_power(double loss, double flow, double efficiency);

}  // namespace linerwright
