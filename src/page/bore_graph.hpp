// The bore along the path, drawn.
#pragma once

#include <string>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// An SVG of one passage: bare and lined diameter along the path in the fitting's units, with what the lining
// takes shaded between them.
std::string bore_graph(const Fitting& fitting, const Passage& passage);

}  // namespace linerwright
