// Places on surfaces that have a closed form for them: planes, cylinders, cones and tori.
#pragma once

#include <Adaptor3d_Surface.hxx>
#include <gp_Pnt.hxx>
#include <gp_Pnt2d.hxx>

namespace linerwright {

bool has_closed_feet(const Adaptor3d_Surface& surface);
// The surface's parameters at the foot of the square from a point; only where has_closed_feet.
gp_Pnt2d foot_on(const Adaptor3d_Surface& surface, const gp_Pnt& point);

}  // namespace linerwright
