// The tables and lists of a fitting's page.
#pragma once

#include <string>

#include "linerwright/page/page.hpp"

namespace linerwright {

// Pieces in the order they go in: number, piece, board, seam, neighbours, largest tilt.
std::string pieces_table(const FittingPage& page);
// Edge heights and hole points at stations, one table a pattern.
std::string ordinate_tables(const FittingPage& page);
// Bore at every station of every passage.
std::string bore_table_of(const Fitting& fitting);
// The checks' values against their limits.
std::string checks_table(const FittingPage& page);
// Figures of this kind of fitting, and what was asked for.
std::string facts_table(const Fitting& fitting);
std::string asked_table(const Fitting& fitting);

}  // namespace linerwright
