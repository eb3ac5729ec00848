// A fitting in outline for whoever is typing its sizes.
#pragma once

#include <string>

#include "linerwright/fitting/fitting.hpp"

namespace linerwright {

// An SVG: the fitting from the side, metal and bore, its openings with their diameters, and, where `grown` is
// given, the same fitting with one size a little larger, with `label` where that changes most. All text in it
// is escaped.
std::string live_sketch(const Fitting& fitting, const Fitting* grown, const std::string& label);

}  // namespace linerwright
