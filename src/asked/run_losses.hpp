// What the fittings of a run take of the air's pressure.
#pragma once

#include <map>
#include <string>

#include "json_members.hpp"
#include "made.hpp"
#include "worst.hpp"

namespace linerwright::asked {

// Straight lengths of a run, elbows of gores, reducers on centre and bodies past one branch that leaves, bare
// and lined, against air_laws.hpp, as parts of 1 Pa and what they take. Others, and any whose loss somebody
// states or that bare metal joins, are passed over. `tags`: of the run's fittings, by name.
void prove_losses(const Json& run, const std::map<std::string, std::string>& tags,
                  const std::map<std::string, MadeFitting>& fittings, Worst& losses);

}  // namespace linerwright::asked
