#include "linerwright/divisible.hpp"

#include "divide.hpp"

namespace linerwright {

std::vector<DivisiblePiece> divisible_pieces(const FittingRequest& request) {
  if (request.values.has("division") || request.values.has("second_layer")) return {};
  const Fitting whole = build_whole(request);
  if (whole.pieces.size() != 1) return {};
  const BoardRoom room = room_of(request);
  const Divider divider(whole, whole.pieces.front(), room);
  if (!divider.is_plain() || !room.other_joints.empty()) return {};
  DivisiblePiece piece;
  piece.piece = whole.pieces.front().id;
  piece.length = divider.mean_length();
  piece.around = divider.size().x;
  piece.least = room.least;
  piece.end_extra = whole.liner.end_allowance;
  piece.butt_extra = whole.liner.butt_allowance;
  piece.fits_whole = divider.fits_whole();
  if (piece.fits_whole) {
    piece.today = {{piece.length, 1}};
    return {piece};
  }
  const std::optional<Division> division = divider.find({});
  if (!division) return {};
  double before = 0.0;
  for (const double cut : divider.heights(*division)) {
    piece.today.push_back({cut - before, division->panels});
    before = cut;
  }
  return {piece};
}

}  // namespace linerwright
