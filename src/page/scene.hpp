// The data of the 3D view as JSON.
#pragma once

#include <string>

#include "linerwright/page.hpp"

namespace linerwright {

// Which bodies there are, what is said about each, how far each moves when the fitting is pulled apart, and
// their meshes in base64.
std::string scene_json(const FittingPage& page);
// What a body is called: "metal", "liner 3", "bore".
std::string part_title(const Fitting& fitting, const PagePart& part);

}  // namespace linerwright
