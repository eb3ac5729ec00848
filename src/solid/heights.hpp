// How bodies made of our faces lie over a plane.
#pragma once

#include <BRepAdaptor_Curve.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Vec.hxx>
#include <vector>

namespace linerwright {

struct UnknownForm {};  // thrown where a face or an edge is of another form than ours

// The ends of an edge's curve and, in order between them, all parameters between which its height along the
// normal has no turning point. Throws UnknownForm.
std::vector<double> turning_points(const BRepAdaptor_Curve& curve, const gp_Vec& normal);

// Does the plane of a flat face of one of the bodies lie between the two, which may touch it? Their other
// faces are straight between their edges, so a body reaches no further than its edges do. False where none
// does, or where a face is of another form.
bool plane_between(const TopoDS_Shape& a, const TopoDS_Shape& b);

// Is one of the bodies convex between flat faces, and does each face of the other lie outside one of its
// planes, as the faces of a square-to-round do of a rectangular collar's panel? That it does not stand within
// the other is told by a corner of its own outside the other's box. False where that cannot be shown.
bool convex_beside(const TopoDS_Shape& a, const TopoDS_Shape& b);

}  // namespace linerwright
