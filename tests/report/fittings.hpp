// Fittings for the tests of the report, and the closed forms its figures are held against.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "linerwright/report/bore.hpp"
#include "support/requests.hpp"

namespace linerwright {

using support::fitting_from;
using support::Flags;
using support::with;

// A straight length of duct, in millimetres.
inline Fitting straight(const std::string& diameter, const std::string& thickness, Flags more = {}) {
  more["diameter"] = diameter;
  more["thickness"] = thickness;
  if (more.count("length") == 0) more["length"] = "2000";
  return fitting_from("straight", more);
}

// The same with bare numbers in inches.
inline Fitting straight_in(const std::string& diameter, const std::string& thickness, Flags more = {}) {
  more["diameter"] = diameter;
  more["thickness"] = thickness;
  if (more.count("length") == 0) more["length"] = "96";
  return make_fitting(request_from_flags("straight", more, Units::inch, job_schema()));
}

inline Value number(double value) {
  Value made;
  made.data = value;
  made.given = true;
  return made;
}

// Colebrook's law (J. Inst. Civ. Eng. 11, 1939) by plain iteration: 1/sqrt f = -2 log10(e/3.7 + 2.51/(Re sqrt
// f)).
inline double colebrook(double reynolds, double relative_roughness) {
  double x = 7.0;
  for (int i = 0; i < 200; ++i) x = -2.0 * std::log10(relative_roughness / 3.7 + 2.51 * x / reynolds);
  return 1.0 / (x * x);
}

// Pa per metre in a bore of `diameter` m: Darcy and Weisbach, standard air.
inline double friction(double diameter, double flow, double roughness) {
  const double velocity = flow / (0.25 * k_pi * diameter * diameter);
  return colebrook(velocity * diameter / 1.506e-5, roughness / diameter) / diameter * 0.5 * 1.204 * velocity *
         velocity;
}

}  // namespace linerwright
