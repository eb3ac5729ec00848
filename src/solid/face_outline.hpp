// The outline of a face in its own coordinates, side by side.
#pragma once

#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Pln.hxx>
#include <gp_Pnt2d.hxx>
#include <optional>
#include <vector>

#include "linerwright/units/vector.hpp"

namespace linerwright {

// A face is not of the forms that this library makes.
struct NoOutline {};

struct OutlineSide {
  TopoDS_Edge edge;
  bool forward;                  // the outline runs with the edge
  Handle(Geom2d_Curve) on_face;  // null on a plane, where the curve in space serves
  Handle(Geom_Curve) curve;
  std::optional<gp_Pln> plane;
  double first, last;

  // A side of no length, without a curve in space: the point of a part of a cone.
  bool is_point() const { return BRep_Tool::Degenerated(edge); }
  // The place at the edge's own parameter; and at a share of the way along the outline.
  gp_Pnt2d on_edge(double parameter) const;
  gp_Pnt2d at(double share) const;
  // How far the side's ends and middle lie apart in either coordinate.
  Vec2 extent() const;
};

struct FaceOutline {
  std::vector<OutlineSide> sides;
  // Sides in the order of the outline, counter-clockwise; then of the holes, clockwise.
  std::vector<std::vector<std::size_t>> loops;
};

// Throws NoOutline where the sides do not close up.
FaceOutline outline_of(const TopoDS_Face& face);

}  // namespace linerwright
