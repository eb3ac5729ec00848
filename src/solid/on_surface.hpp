// Places on surfaces that have a closed form for them: planes, cylinders, cones and tori.
#pragma once

#include <BRepAdaptor_Surface.hxx>
#include <gp_Pnt.hxx>
#include <gp_Pnt2d.hxx>

namespace linerwright {

bool has_closed_feet(const BRepAdaptor_Surface& surface);
// The surface's parameters at the foot of the square from a point; only where has_closed_feet.
gp_Pnt2d foot_on(const BRepAdaptor_Surface& surface, const gp_Pnt& point);

}  // namespace linerwright
