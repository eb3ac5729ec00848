// Seams and notches against openings, once a fitting is divided.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "branch.hpp"
#include "folded_openings.hpp"
#include "linerwright/fitting/notched_places.hpp"
#include "opening_words.hpp"
#include "openings.hpp"

namespace linerwright {

namespace {

// A line of a piece that no opening may lie over.
struct Kept {
  double theta;
  std::string what;
};

// Its seams, and where it is closed by notches, these.
std::vector<Kept> kept_lines(const Fitting& fitting, const Piece& piece) {
  const std::string seam = fmt::format("the seam of piece {} ({})", piece.id, piece.seam_place);
  std::vector<Kept> lines{{piece.seam, seam}, {piece.seam + piece.span, seam}};
  const int index = static_cast<int>(&piece - fitting.pieces.data());
  const NotchedBlank* blank = notched_with(fitting, index);
  if (blank == nullptr || blank->taper != index) return lines;
  const NotchedPlaces places(fitting, *blank);
  for (const Notch& notch : places.layout().notches) {
    const double theta = places.theta_at(notch.centre);
    lines.push_back(
        {theta, fmt::format("a notch of piece {} (at {})", piece.id,
                            trimmed(std::remainder(theta, k_two_pi) / k_pi * 180.0, 2) + " deg")});
  }
  return lines;
}

}  // namespace

void require_clear_seams(Reasons& reasons, const Fitting& fitting) {
  for (const Piece& piece : fitting.pieces) {
    const Wall& wall = fitting.wall_of(piece);
    if (wall.sheet.is_flat()) continue;  // it has none
    for (const std::size_t h : holes_of(fitting, piece)) {
      const Joint& joint = fitting.joint(wall.holes[h].joint);
      const auto* opening = std::get_if<OpeningTarget>(&joint.target);
      if (opening == nullptr) continue;
      const HoleBox box = box_of(joint, liner_of(fitting, piece), opening->theta);
      const double radius = wall.sheet.spread(opening->theta, opening->v, 0.0);
      double clear = std::numeric_limits<double>::infinity();
      std::string what;
      for (const Kept& line : kept_lines(fitting, piece)) {
        const double off = std::remainder(line.theta - 0.5 * (box.theta_low + box.theta_high), k_two_pi);
        const double here = wall.sheet.is_square_to_round()
                                ? clear_of_seam(joint, liner_of(fitting, piece), line.theta)
                                : radius * (std::fabs(off) - 0.5 * (box.theta_high - box.theta_low));
        if (here >= clear) continue;
        clear = here;
        what = line.what;
      }
      if (clear >= k_margin) continue;
      const std::string name = opening_at(fitting, wall.holes[h].joint)->name;
      reasons.add(
          k_openings, fmt::format("{} of liner beside it", reasons.length(k_margin)),
          fmt::format("{}: {} {}: {} is missing around", name,
                      clear > 0.0 ? "only " + reasons.length(clear) + " of liner is left to" : "it lies on",
                      what, reasons.length(k_margin - clear)));
    }
  }
}

}  // namespace linerwright
