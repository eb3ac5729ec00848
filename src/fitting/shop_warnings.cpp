// What cannot be done as usual, or costs more bore than asked for.
#include <fmt/format.h>

#include <algorithm>

#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/shop_words.hpp"

namespace linerwright {

namespace {

// A piece that no opening lets in.
void warn_of_ways(const Fitting& fitting, std::vector<std::string>& warnings) {
  if (is_disc_alone(fitting)) return;  // its place is open all around
  std::vector<int> before;
  const std::optional<double> fold_above = folds_above(fitting, 0);
  for (const int index : fitting.insertion) {
    const Piece& piece = fitting.piece(index);
    const Sheet& sheet = fitting.wall_of(piece).sheet;
    if (fitting.wall_of(piece).layer != 0) continue;
    if (fitting.joint(fitting.wall_of(piece).low.joint).of_panel()) continue;  // no wider than its own end
    if (piece.full_turn() && ways_in(fitting, piece, before).empty()) {
      const bool taper = !sheet.is_cylinder();
      const bool small = fold_above && 2.0 * sheet.r1() <= *fold_above;
      warnings.push_back(fmt::format(
          "{} is wider than every way to its place: {}", piece_title(fitting, piece),
          taper   ? "a taper is not folded, so it goes in before the metal is closed"
          : small ? fmt::format(
                        "a ring of {} or less is not folded (fold_above), so it goes in before the metal is "
                        "closed",
                        shop_length(fitting, *fold_above))
                  : "it goes in folded, never at its seam, or before the metal is closed"));
    }
    before.push_back(index);
  }
}

void warn_of_area(const Fitting& fitting, std::vector<std::string>& warnings) {
  const std::optional<double> least = fitting.request.values.maybe("least_open_area");
  if (!least) return;
  for (const Passage& passage : fitting.passages)
    for (const Station& station : passage.stations) {
      const double share = station.lined_area / (0.25 * k_pi * station.bare_diameter * station.bare_diameter);
      if (share >= *least) continue;
      warnings.push_back(
          fmt::format("{}: the liner leaves {} % of the area open, under least_open_area of {} %",
                      passage.name, trimmed(100.0 * share, 1), trimmed(100.0 * *least, 1)));
      break;
    }
}

}  // namespace

std::vector<std::string> shop_warnings(const Fitting& fitting) {
  std::vector<std::string> warnings;
  warn_of_ways(fitting, warnings);
  warn_of_area(fitting, warnings);
  return warnings;
}

}  // namespace linerwright
