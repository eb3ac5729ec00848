// Guide bands on paper at full size.
#pragma once

#include <string>
#include <vector>

#include "linerwright/paper/paper.hpp"
#include "linerwright/pattern/guide_band.hpp"

namespace linerwright {

// A map of all sheets, then each band on as few as it takes, to be laid on thin sheet. The same input gives
// the same bytes. Throws InputError where more than k_most_sheets are needed.
std::string guide_bands_pdf(const std::vector<GuideBand>& bands, const std::vector<Fitting>& fittings,
                            const Paper& paper);

}  // namespace linerwright
