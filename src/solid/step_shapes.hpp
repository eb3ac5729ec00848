// Solids as STEP entities (ISO 10303-42): planes, cylinders, cones, tori and ruled splines between lines,
// circles, ellipses and splines. No curves on surfaces are written: readers find them.
#pragma once

#include <TopoDS_Shape.hxx>

#include "step_lines.hpp"

namespace linerwright {

// Adds a solid under this name and returns the number of its MANIFOLD_SOLID_BREP. Solids share the entities
// of equal curves and surfaces, but none of their faces, edges and vertices. Throws GeometryError for
// geometry that none of ours has.
int add_solid(StepLines& lines, const TopoDS_Shape& solid, const std::string& name);

}  // namespace linerwright
