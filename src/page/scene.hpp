// The data of the 3D view as JSON.
#pragma once

#include <string>

#include "linerwright/page/page.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

// Which bodies there are, what is said about each, how far each moves when the fitting is pulled apart, and
// their meshes.
std::string scene_json(const FittingPage& page);
// A mesh: its points in whole steps from the origin, each as its difference from the point before, and so its
// triangles, in three columns of digits (solids.mjs reads them). All bodies of a view are rounded on one
// grid, so that faces that touch still touch.
void write_mesh(JsonWriter& json, const Mesh& mesh, Vec3 origin, double step);
// What a body is called: "metal", "liner 3", "bore".
std::string part_title(const Fitting& fitting, const PagePart& part);

}  // namespace linerwright
