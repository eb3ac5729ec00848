// A flat pattern as the page shows it: to scale, with its main dimensions, stations and the cut's tilt.
#pragma once

#include <string>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

// A div with an SVG, its lines and letters styled by the page.
std::string pattern_figure(const Fitting& fitting, const Pattern& pattern);

}  // namespace linerwright
