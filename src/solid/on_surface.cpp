#include "on_surface.hpp"

#include <ElSLib.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Torus.hxx>

#include "linerwright/units/error.hpp"

namespace linerwright {

bool has_closed_feet(const Adaptor3d_Surface& surface) {
  switch (surface.GetType()) {
    case GeomAbs_Plane:
    case GeomAbs_Cylinder:
    case GeomAbs_Cone:
    case GeomAbs_Torus:
      return true;
    default:
      return false;
  }
}

gp_Pnt2d foot_on(const Adaptor3d_Surface& surface, const gp_Pnt& point) {
  double u = 0.0;
  double v = 0.0;
  switch (surface.GetType()) {
    case GeomAbs_Plane:
      ElSLib::Parameters(surface.Plane(), point, u, v);
      break;
    case GeomAbs_Cylinder:
      ElSLib::Parameters(surface.Cylinder(), point, u, v);
      break;
    case GeomAbs_Cone:
      ElSLib::Parameters(surface.Cone(), point, u, v);
      break;
    case GeomAbs_Torus:
      ElSLib::Parameters(surface.Torus(), point, u, v);
      break;
    default:
      throw GeometryError("a place on a surface without closed form was asked for");
  }
  return {u, v};
}

}  // namespace linerwright
