#include "round_collar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "collar_seams.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// The transition's parts, and where its layers' lower ends inside have corners: a ruling through one is a
// line between two faces.
std::vector<double> splits_of(const Sheet& sheet, double t) {
  std::vector<double> splits = flat_lines_and_bends();
  for (int corner = 0; corner < 4; ++corner)
    for (const LowArc& arc : corner_low(sheet, corner, t).arcs) {
      const double theta = corner_theta(corner, arc.to);
      if (arc.to < 0.5 * k_pi && !high_end(sheet, theta, t, RoundEnd::collar).meets) splits.push_back(theta);
    }
  std::sort(splits.begin(), splits.end());
  return splits;
}

}  // namespace

CollarReach collar_reach(const Sheet& sheet, double w) {
  CollarReach reach{1e300, -1e300};
  constexpr int k_rulings = 144;
  for (int i = 0; i < k_rulings; ++i) {
    const double height = collar_meeting(sheet, k_two_pi * i / k_rulings, w).height - sheet.height();
    reach = {std::min(reach.least, height), std::max(reach.most, height)};
  }
  return reach;
}

void add_round_collar(Reasons& reasons, Fitting& fitting, int wall, double length) {
  const Sheet sheet = fitting.wall(wall).sheet;
  const double t = fitting.liner.bore_depth();
  double most = 0.0;
  for (const double w : {-fitting.liner.gauge, t}) most = std::max(most, collar_reach(sheet, w).most);
  if (length < most + k_shortest_piece)
    reasons.add("round_collar", "at least " + reasons.length(most + k_shortest_piece) + ", or none",
                fmt::format("the layers of the transition reach {} into it", reasons.length(most)));
  Frame top = sheet.frame();
  top.origin = top.point({sheet.centre().x, sheet.centre().y, sheet.height()});
  const int collar = add_wall(fitting, Sheet::cylinder(top, sheet.r2()));
  add_joint(fitting, wall, collar, Side::lead, CollarTarget{End::high}, splits_of(sheet, t));
  const int joint = fitting.wall(collar).low.joint;
  // staggered against the transition's seams, which lie on middle lines of flats
  const double seam = clear_ruling(fitting, fitting.joint(joint), 0.25 * k_pi);
  fitting.wall(collar).face_start = seam;
  add_collar_seam(fitting, fitting.joint(joint), seam);
  add_open_end(fitting, collar, End::high, length);

  Piece piece;
  piece.id = "collar";
  piece.role = "round collar";
  piece.wall = collar;
  piece.seam = seam;
  piece.seam_place =
      fmt::format("{} degrees around from the middle of the right side", trimmed(seam * 180.0 / k_pi, 1));
  constexpr const char* k_sides[] = {"right", "top", "left", "bottom"};
  for (int side = 0; side < 4; ++side)
    piece.marks.push_back({0.5 * k_pi * side, fmt::format("middle of the {} side", k_sides[side])});
  for (Piece& other : fitting.pieces) {
    piece.next.push_back(other.id);
    other.next.push_back(piece.id);
  }
  fitting.insertion.push_back(static_cast<int>(fitting.pieces.size()));
  fitting.pieces.push_back(std::move(piece));
  const CollarReach air = collar_reach(sheet, t);
  fitting.facts.push_back({"collar_joint_lowest",
                           "lowest place of the collar's joint on the air face, from the metal's joint up",
                           Quantity::length, air.least});
  fitting.facts.push_back({"collar_joint_highest", "highest place of it", Quantity::length, air.most});
}

}  // namespace linerwright
