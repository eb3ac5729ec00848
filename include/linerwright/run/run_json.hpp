// A laid run as JSON.
#pragma once

#include "linerwright/run/run.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

// Writes the keys of a run into an object that is open: places, joints, centreline, bore, notes.
void write_run(JsonWriter& json, const LaidRun& run);

}  // namespace linerwright
