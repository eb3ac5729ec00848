// The step up of one passage: the fitting made anew at larger diameters, and its bore read.
#pragma once

#include <string>

#include "linerwright/report/bore.hpp"

namespace linerwright {

// Adds a note that the row does not have yet.
void add_note(BoreRow& row, const std::string& note);

// The lined diameter at a passage's first or last station, or, where the metal goes on bare there, at the
// lining's end.
double lined_near(const Passage& passage, bool last);

// Adds what the passage (by its index in the fitting) is to be stepped up to, and the metal of it to the
// job's.
void add_steps(BoreReport& report, BoreRow& row, const Fitting& fitting, std::size_t passage,
               const BoreOptions& options);

}  // namespace linerwright
