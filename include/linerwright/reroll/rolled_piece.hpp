// One piece between its board and the space it is rolled into.
#pragma once

#include <optional>
#include <vector>

#include "linerwright/fitting/notched_places.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/sheet/part_places.hpp"

namespace linerwright {

class RolledPiece {
 public:
  // `part` counts the pieces of the pattern. The side that lies up is taken from the fitting, not from the
  // pattern, so that a pattern laid down on the wrong side does not roll up.
  RolledPiece(const Fitting& fitting, const Pattern& pattern, std::size_t part);

  // Ruling (counted from the seam on) and height of a board point; throws std::invalid_argument where it lies
  // on no ruling, or where the pattern is a notched blank, which is folded: of that `board` alone is known.
  Sheet::Place place(Vec2 board) const;
  // All of them: beside the corners of a square-to-round a board point may belong to either of two flats.
  std::vector<Sheet::Place> places(Vec2 board) const;
  Vec3 space(Sheet::Place place, double depth) const { return sheet_.point(place.theta, place.v, depth); }
  // How far a place lies beyond the board's seams, mm along the board; 0 between them.
  double overrun(Sheet::Place place) const;
  // How far along the board neighbouring rulings stand apart there, mm for each radian.
  double spread(Sheet::Place place) const;
  Vec2 board(Sheet::Place place) const;

  struct Spot {
    Sheet::Place place;  // theta within a turn from the seam
    double depth;
  };
  // Where a point in space lies on the sheet.
  Spot spot(Vec3 point) const;

  const Piece& piece() const { return piece_; }
  bool is_flat() const { return sheet_.is_flat(); }  // a disc: its one edge is its rim, and it has no seams
  bool is_folded() const { return sheet_.is_square_to_round(); }

 private:
  int index_;
  const Piece& piece_;
  Sheet sheet_;
  Development development_;
  Placement placement_;
  double lift_;
  double reference_depth_;
  std::optional<PartPlaces> parts_{};       // of a square-to-round
  std::optional<NotchedPlaces> notched_{};  // of a notched blank
  struct Guide {
    double theta;
    Vec2 low, high;
  };
  std::vector<Guide> guides_;  // rulings spread over the board, to start searches from
};

}  // namespace linerwright
