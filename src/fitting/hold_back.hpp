// Linings that stop short of the metal's ends, for a flange or a joint that slips on.
#pragma once

#include <string>
#include <vector>

#include "common.hpp"

namespace linerwright {

// The keys of a kind whose fittings have these ports: "start", "end"; "branch" and "leg", of which there may
// be several.
std::vector<KeySpec> hold_back_keys(const std::vector<std::string>& ports);

// Moves the ends of the lining inward by what the request holds them back; the metal ends where it did. To be
// called once the walls and their ends stand and the pieces are known. Adds the reasons where no lining is
// left, or an end comes too near to a hole.
void hold_back(Fitting& fitting, Reasons& reasons);

// Puts the bare ends into the passages of a finished fitting, and into its steps.
void add_bare_ends(Fitting& fitting);

// Faces of an oblique taper are ruled from end to end: once it is divided, splits its bare metal as its
// lining.
void split_bare_ends(Fitting& fitting);

}  // namespace linerwright
