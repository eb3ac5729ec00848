#include "square_collar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/sheet/panels.hpp"
#include "square_to_round.hpp"

namespace linerwright {

namespace {

// What two sides that face each other leave of a panel between them where it meets its flat, at most: across
// the rectangle, per millimetre of depth.
double taken_along(const Sheet& sheet, int side) {
  double taken = 0.0;
  for (const int corner : {side, (side + 3) % 4}) {
    const PanelCorner at = panel_corner(sheet, corner);
    const Vec3 way = side % 2 == 0 ? Vec3{0.0, 1.0, 0.0} : Vec3{1.0, 0.0, 0.0};
    taken += std::max(std::fabs(dot(at.low, way)), std::fabs(dot(at.high, way)));
  }
  return taken;
}

}  // namespace

SquareCollarReach square_collar_reach(const Sheet& sheet, double w) {
  SquareCollarReach reach{1e300, -1e300};
  for (int side = 0; side < 4; ++side) {
    const double height = w * panel_top(sheet, side);
    reach = {std::min(reach.least, height), std::max(reach.most, height)};
  }
  return reach;
}

void require_square_collar(Reasons& reasons, const Fitting& fitting, const Sheet& sheet) {
  const double t = fitting.liner.bore_depth();
  const double least = std::max(0.0, -square_collar_reach(sheet, t).least) + k_shortest_piece;
  if (sheet.square_collar() < least)
    reasons.add("square_collar", "at least " + reasons.length(least) + ", or none",
                fmt::format("the liner's joint with the transition reaches {} down into it",
                            reasons.length(least - k_shortest_piece)));
  else if (!panels_seen_whole(sheet, t))
    reasons.add("square_collar", "none",
                "beside a side that flares so far an upper corner of a panel is undercut: we do not draw "
                "such a panel yet");
  for (int side = 0; side < 4; ++side)
    if (ears_undercut_flats(sheet, side, t))
      reasons.add("square_collar", "none",
                  fmt::format("the circle's middle lies beyond the collar's air face on the {} side, and the "
                              "flats beside that one are undercut by its panel: we do not draw such flats "
                              "yet",
                              k_square_sides[side]));
  for (int side = 0; side < 4; ++side) {
    const double whole = 2.0 * (side % 2 == 0 ? sheet.half_sides().y : sheet.half_sides().x);
    const double taken = taken_along(sheet, side);
    if (whole - t * taken > 0.0) continue;
    reasons.add("thickness", "under " + reasons.length(whole / taken),
                fmt::format("on the {} side nothing would be left of the air face where the collar meets the "
                            "transition",
                            k_square_sides[side]));
  }
}

void require_panel_board(Reasons& reasons, const Fitting& fitting, const Piece& piece,
                         const PanelTarget& panel, Vec2 board) {
  Vec2 least{1e300, 1e300};
  Vec2 most{-1e300, -1e300};
  for (const double w : fitting.liner.faces())
    for (const Vec2 corner : panel_face(panel.hull, panel.side, w)) {
      least = {std::min(least.x, corner.x), std::min(least.y, corner.y)};
      most = {std::max(most.x, corner.x), std::max(most.y, corner.y)};
    }
  const Vec2 size = most - least;
  const auto fits = [&](double across, double along) { return across <= board.x && along <= board.y; };
  if (fits(size.x, size.y) || fits(size.y, size.x)) return;
  const double longer = std::max(size.x, size.y);
  reasons.add(longer > std::max(board.x, board.y) ? "board_length" : "board_width", "a larger board",
              fmt::format("the {} is {} by {}, its board leaves {} by {}; it is cut in one, so that no seam "
                          "faces the air",
                          piece.role, reasons.length(size.x), reasons.length(size.y), reasons.length(board.x),
                          reasons.length(board.y)));
}

namespace {

// Whether a piece of the transition has a half of a side, seams being on the sides' middle lines.
bool has_of_side(const Piece& piece, int side) {
  const double turn = 0.5 * k_pi * side - piece.seam;
  const double on = turn - k_two_pi * std::floor(turn / k_two_pi + 1e-9);
  return on < piece.span + 1e-9 || piece.full_turn();
}

}  // namespace

void add_square_collar(Fitting& fitting, int wall) {
  const Sheet sheet = fitting.wall(wall).sheet;
  const std::size_t others = fitting.pieces.size();
  for (int side = 0; side < 4; ++side) {
    const Sheet disc = panel_disc(sheet, side);
    const int panel = add_wall(fitting, disc, panel_rulings(sheet, side, 0.0).front());
    fitting.joints.push_back(
        {disc, {disc}, PanelTarget{sheet, side}, JointStyle::mitre, panel_rulings(sheet, side, 0.0)});
    fitting.wall(panel).low = {static_cast<int>(fitting.joints.size()) - 1, Side::lead};
    fitting.joints.push_back({disc, {disc}, CentreTarget{}, JointStyle::mitre, {0.0}});
    fitting.wall(panel).high = {static_cast<int>(fitting.joints.size()) - 1, Side::lead};
    Piece piece;
    piece.id = fmt::format("panel{}", side + 1);
    piece.role = fmt::format("collar panel on the {} side", k_square_sides[side]);
    piece.wall = panel;
    piece.seam_place = "none, it stays flat";
    for (std::size_t i = 0; i < others; ++i) {
      Piece& above = fitting.pieces[i];
      if (above.wall != wall || !has_of_side(above, side)) continue;
      piece.next.push_back(above.id);
      above.next.push_back(piece.id);
    }
    for (const int beside : {(side + 1) % 4, (side + 3) % 4})
      piece.next.push_back(fmt::format("panel{}", beside + 1));
    fitting.insertion.push_back(static_cast<int>(fitting.pieces.size()));
    fitting.pieces.push_back(std::move(piece));
  }
}

}  // namespace linerwright
