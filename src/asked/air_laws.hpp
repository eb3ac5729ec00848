// What bores, bends, tapers and branches take of the air's pressure: friction, and coefficients on the
// pressure of a velocity.
#pragma once

#include <optional>

namespace linerwright::asked {

// Air in a round bore.
struct Stream {
  double flow = 0.0;       // m3/s, 0 or more
  double roughness = 0.0;  // of the wall, mm
  double density = 0.0;    // kg/m3
  double viscosity = 0.0;  // kinematic, m2/s
};

// Half the density times the square of the velocity, Pa; diameter mm.
double pressure_of(const Stream& air, double diameter);
// Reynolds number; diameter mm.
double reynolds_of(const Stream& air, double diameter);

// Friction of an even bore, Pa; diameter and length mm. Hagen and Poiseuille under a Reynolds number of 2300,
// Colebrook (J. Inst. Civil Eng. 11, 1939, 133) from 4000 on; between the two, where no law holds, not a
// number.
double friction_of(const Stream& air, double diameter, double length);
// The same of a bore whose diameter changes evenly.
double friction_of(const Stream& air, double from, double to, double length);

// Coefficient of a bend of so many mitres, angle in radians, radius of the line of centres and diameter mm.
// One alone: Idelchik, Handbook of Hydraulic Resistance, diagram 6-7. Several: Weisbach's of each (Lehrbuch
// der Ingenieur- und Maschinen-Mechanik, 1855; from memory), at least a smooth bend's (Idelchik, diagram
// 6-1). None where several stand closer than a radius of 1.5 diameters.
std::optional<double> mitres_take(const Stream& air, double angle, int mitres, double radius,
                                  double diameter);

// Coefficient, on the narrow end, of a taper on centre from one diameter to the other, in the air's way, mm.
// Wider: Idelchik's 3.2 tan^1.25 of half the angle times Borda's step, beyond 40 degrees the step alone.
// Narrower: Idelchik, diagram 5-23.
double taper_takes(double from, double to, double length);

// Coefficient, on the body's velocity before it, of the way past a branch that takes a part of the flow
// (Idelchik, section 7-16, after Levin): share of the flow and of the area, angle in radians between the
// ways. None outside of what the formula is said to hold for.
std::optional<double> branch_leaves_run(double share, double area, double angle);

}  // namespace linerwright::asked
