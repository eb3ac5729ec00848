// A square-to-round's pieces laid flat: triangles by their true lengths, cones ruling by ruling.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "hull.hpp"

namespace linerwright::asked {

// From the middle line of one flat side to that of another.
struct HullPart {
  int first = 0;    // side it begins on, and corner after it
  int corners = 1;  // of the rectangle in it
};

// Where a corner and its rulings lie on the board, x the way phi grows, y toward the circle.
class HullBoard {
 public:
  // Outlines of layers at these depths.
  HullBoard(const Hull& hull, const HullPart& part, const std::vector<double>& depths);

  Point corner(int q) const { return at_[static_cast<std::size_t>(q - part_.first)].place; }
  // On the cone of corner q, v up its ruling phi.
  Point on_cone(int q, double phi, double v) const;
  // Of a place of the flat side q (before the corner q) or q + 1 (after it).
  Point on_flat(int q, bool after, const Place& place) const;
  // On the middle line of the part's first or last side, so high up its slope.
  Point on_seam(bool last, double up) const;
  Place seam_at(bool last, double up) const;  // in space
  // Angle between two rulings of a cone, laid flat.
  double turned(int q, double phi) const;

  // The outline of the layer w deep, drawn over the feet of its normals; from the start along the
  // rectangle's end, around its corners and back along the circle's.
  std::vector<Point> layer(double w) const;
  // The ruling of corner q at which its layer goes over from the one flat's to the other's.
  double fork(int q, double w) const;
  // Its rulings that come down to the rectangle's plane w deep, between two mitres: the first and the last.
  // None where the flats' layers meet before.
  std::optional<std::pair<double, double>> arc(int q, double w) const;
  // What lies around corner q alone: from the foot of its mitre on the side before to that on the side after.
  std::vector<Point> mitre(int q, double w) const;
  // An outline through the corners: `low` of each side up its slope, `high` of the i-th ruling.
  std::vector<Point> through_corners(const std::function<double(int side)>& low,
                                     const std::function<double(int q, std::size_t i)>& high,
                                     const std::function<double(int side)>& tip) const;

  // Where the layer w deep ends on each of a corner's rulings, which lie close together beside its flats.
  const std::vector<double>& highs(int q, double w) const;

  const Hull& hull() const { return hull_; }
  const HullPart& part() const { return part_; }
  int last_corner() const { return part_.first + part_.corners - 1; }
  // Height up the flat's slope where its layer w deep ends.
  double low_of(int side, double w) const;
  double tip_of(int side, double w) const;  // on its middle line

 private:
  struct Corner {
    Point place;
    double base;  // direction of the side before it
    std::vector<double> turned;
    std::vector<double> phis;  // of the rulings that outlines follow
  };
  double slope_length(int side) const { return hull_.length * hull_.size_of(side * k_quarter); }
  std::vector<Place> feet(int q, bool after, double w, const Place& foot) const;
  void add_rulings(int q, const std::vector<double>& depths);
  // A side's end on a collar that it widens toward, from one share of the side to another.
  void add_flat_top(std::vector<Point>& outline, int q, bool after, double from, double to, double w) const;
  void add_high(std::vector<Point>& outline, const std::function<double(int, std::size_t)>& high) const;

  const Hull& hull_;
  HullPart part_;
  std::vector<Corner> at_;
  mutable std::map<std::pair<int, double>, std::vector<double>> highs_;
};

}  // namespace linerwright::asked
