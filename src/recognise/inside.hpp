// The inside of drawn metal: its surfaces and its openings.
#pragma once

#include <string>
#include <vector>

#include "fit.hpp"

namespace linerwright {

// Faces of one surface.
struct InsideSurface {
  FittedSurface fit;
  std::vector<DrawnPoint> points;
  std::vector<int> faces;  // indices in the body
  double area = 0.0;
};

// A round edge at which the inside ends.
struct DrawnEnd {
  FittedCircle circle;      // its normal points out of the fitting
  std::size_t surface = 0;  // of the inside, that ends there
};

// Edges along which two surfaces of the inside meet.
struct InsideJoint {
  std::size_t a = 0, b = 0;
  std::vector<Vec3> points;
};

struct Inside {
  double within = 1e-3;                 // mm: what points may stray from their surfaces
  std::vector<InsideSurface> surfaces;  // largest first
  std::vector<DrawnEnd> openings;
  std::vector<InsideJoint> joints;
  std::vector<int> others;  // faces among them that lie on no surface of ours
  std::vector<DrawnPoint> other_points;
  std::vector<std::string> faults;   // what is no opening of ours, a line each
  std::vector<InsideSurface> outer;  // round faces of the outside, each by itself
  std::size_t left = 0;  // faces that are not of the inside: outside, ends, flanges, holes for bolts
};

// The connected inside of a body; empty where it has none. `apart`: faces of one surface that do not touch
// are several surfaces, as where a duct goes round a beam and back to its axis.
Inside inside_of(const DrawnBody& body, bool apart = false);

// Two fits of one surface, to a hundredth of a millimetre.
bool same_surface(const FittedSurface& a, const FittedSurface& b);

// "(12.0, 0.0, -3.5)", mm.
std::string place_text(Vec3 point);

}  // namespace linerwright
