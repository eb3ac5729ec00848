// The faces of a joint between two pieces, and what lies under them.
#pragma once

#include <BRepAdaptor_Surface.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Vec.hxx>
#include <limits>
#include <vector>

namespace linerwright {

bool is_ruled(const BRepAdaptor_Surface& surface);
// Outward normals of a flat or ruled face, of the latter all along its knots; none of other faces.
std::vector<gp_Vec> normals_of(const TopoDS_Face& face);
// Run per rise of a direction, whichever way it points; of a face, the most of its rulings, and where it is
// flat of its steepest lines.
double lean_of(const gp_Vec& along, const gp_Vec& up);
double lean_of(const TopoDS_Face& face, const gp_Vec& up);
// The greatest height of a shape's edges, and so of what is straight between them.
double highest(const TopoDS_Shape& shape, const gp_Vec& up);

// Faces of a joint, as seen from the body below, and how high and steep they are along `up`.
struct JointFaces {
  TopTools_IndexedMapOfShape faces, edges, vertices;
  double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
  double slope = 0.0;

  void add(const TopoDS_Face& face, const gp_Vec& up);
};

// Does the body lie under the joint, which is carried on with slopes of at most `slope` and nowhere below
// `low`? The other body, with -up and -high, lies over it. Throws UnknownForm.
bool lies_under(const TopoDS_Shape& body, const JointFaces& joint, const gp_Vec& up, double low,
                double slope);

}  // namespace linerwright
