// A wall at one depth as one ruled face of the kernel, on which the edges of openings lie.
#pragma once

#include <Geom2d_Curve.hxx>
#include <functional>
#include <vector>

#include "faces.hpp"

namespace linerwright {

// The angle that is `angle` and whole turns, nearest to another.
double in_turns(double angle, double near);

// Between two heights on each ruling: u is theta, v runs from 0 to 1. The lower one may be one point for all
// rulings.
class RuledWall {
 public:
  using Height = std::function<double(double theta)>;
  RuledWall(const Sheet& sheet, double w, Height low, Height high, const std::vector<double>& thetas);

  const Handle(Geom_Surface) & surface() const { return surface_; }
  // Of a place of the wall.
  Vec2 at(Sheet::Place place) const;

  // Adds an opening's edge to a face of this surface, as it runs or the other way around.
  void add_loop(TopoDS_Face& face, const Joint& joint, const Loop& loop, const std::vector<ArcEdge>& arcs,
                double middle, TopAbs_Orientation orientation) const;

 private:
  Height low_, high_;
  Handle(Geom_Surface) surface_;
};

}  // namespace linerwright
