// What a passage takes of the air's total pressure, bare and lined.
#pragma once

#include "bore_flows.hpp"
#include "linerwright/report/bore.hpp"

namespace linerwright {

// Fills the row's losses; its places must have their flows. Throws as the air's functions do.
void add_losses(BoreRow& row, const Fitting& fitting, std::size_t passage, const FittingFlows& flows,
                const Air& air);

}  // namespace linerwright
