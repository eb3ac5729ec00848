// What the lengths of a run take of the air's pressure.
#pragma once

#include <map>
#include <string>

#include "json_members.hpp"
#include "made.hpp"
#include "worst.hpp"

namespace linerwright::asked {

// Friction of a round bore, Pa: diameter and roughness mm, length mm, flow m3/s, density kg/m3, kinematic
// viscosity m2/s. Hagen and Poiseuille under a Reynolds number of 2300, Colebrook (J. Inst. Civil Eng. 11,
// 1939, 133) from 4000 on; between the two, where no law holds, not a number.
double friction_of(double diameter, double length, double flow, double roughness, double density,
                   double viscosity);

// Every straight length of a run that is even from end to end, bare and lined, against friction_of, as parts
// of 1 Pa and what it takes. `tags`: of the run's fittings, by name.
void prove_friction(const Json& run, const std::map<std::string, std::string>& tags,
                    const std::map<std::string, MadeFitting>& fittings, Worst& friction);

}  // namespace linerwright::asked
