// Where points lie on the parts of a square-to-round, in space and on its board.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "linerwright/sheet/sheet.hpp"

namespace linerwright {

class PartPlaces {
 public:
  explicit PartPlaces(const Sheet& sheet);

  struct Spot {
    Sheet::Place place;  // theta between the part's own first and last
    double depth;        // under that ruling's plane
    double miss;         // how far beside the ruling the point lies, mm
  };
  // The parts under whose planes a local point lies least deep, all within a millionth of a millimetre of
  // the least: where it lies on some layer of the wall, which is convex, and in a mitre more than one.
  std::vector<Spot> least_deep(Vec3 local) const;

 private:
  struct Plane {
    double theta, inside;
    Vec3 normal, slope;
  };
  struct Cone {
    Vec3 corner;
    std::vector<Plane> planes{};
    double step;  // the largest between neighbouring normals
  };
  Spot between(double low, double high, Vec3 local) const;
  Spot spot(double theta, Vec3 local) const;

  Sheet sheet_;
  std::array<Cone, 4> cones_;
};

// The place of a point of the board on the guess's own part; none where it lies on or beyond its edges.
std::optional<Sheet::Place> place_on_part(const Development& board, const Sheet& sheet, Vec2 flat,
                                          double theta_guess);

// All places of a point of the board on the parts about the guess; throws std::invalid_argument where it lies
// on no ruling of theirs. Beside a corner two parts may have one: where the board between the flats is more
// than half a turn, what either's air face has below the rectangle's edge lies on the other's. The likeliest
// comes first.
std::vector<Sheet::Place> places_on_board(const Development& board, const Sheet& sheet, Vec2 flat,
                                          double theta_guess);

}  // namespace linerwright
