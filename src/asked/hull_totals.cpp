// What a square-to-round takes, for the totals of its job.
#include <cmath>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "hull_openings.hpp"
#include "hull_proofs.hpp"
#include "kinds.hpp"

namespace linerwright::asked {

namespace {

// Length of the collar's joint at a depth: by chords, halved where that adds to it, which is about its
// corners.
double joint_of(const Hull& hull, double w) {
  constexpr int k_chords = 2880;
  constexpr double k_adds = 1e-6;  // mm
  constexpr int k_most_halvings = 24;
  const auto at = [&](double phi) {
    return Place{(hull.radius - w) * std::cos(phi), (hull.radius - w) * std::sin(phi),
                 hull.joint_height(phi, w)};
  };
  const std::function<double(double, Place, double, Place, int)> length_between =
      [&](double from, Place first, double to, Place last, int halvings) {
        const double middle = 0.5 * (from + to);
        const Place half = at(middle);
        const double both = size(half - first) + size(last - half);
        if (halvings == k_most_halvings || both - size(last - first) < k_adds) return both;
        return length_between(from, first, middle, half, halvings + 1) +
               length_between(middle, half, to, last, halvings + 1);
      };
  double length = 0.0;
  Place first = at(0.0);
  for (int i = 0; i < k_chords; ++i) {
    const double to = k_turn * (i + 1) / k_chords;
    const Place last = at(to);
    length += length_between(k_turn * i / k_chords, first, to, last, 0);
    first = last;
  }
  return length;
}

// A panel's joints with its flat and with the panel after it, on the air face.
double seal_of(const Hull& hull, int side, double w) {
  const int after = (side + 1) % 4;
  const int before = (side + 3) % 4;
  const double top = hull.square_top(side, w);
  const double next = hull.square_top(after, w);
  const auto at = [&](double z) { return Place{hull.side_off(side, z, w), hull.side_off(after, z, w), z}; };
  const double low = std::min(top, next);
  return hull.side_off(after, top, w) + hull.side_off(before, top, w) + low - hull.start() +
         size(at(std::max(top, next)) - at(low));
}

}  // namespace

std::map<std::string, double> totals_of_hull(const MadeFitting& made, double metal_density) {
  const Request& request = made.request;
  const Hull hull = hull_of(request);
  const double t = request.inner_face();
  const double cavity = hull.inside(0.0);
  std::map<std::string, double> each;
  each["liner_area"] = each["metal_area"] = hull.face_area();
  const double g = request.value("gauge");
  double liner = cavity - hull.inside(t);
  double metal = hull.inside(-g) - cavity;
  for (const HullOpening& opening : hull_openings(hull, request, false)) {
    each["liner_area"] -= opening_area(hull, opening, 0.0);
    liner -= opening_volume(hull, opening, 0.0, t);
  }
  for (const HullOpening& opening : hull_openings(hull, request, true)) {
    each["metal_area"] -= opening_area(hull, opening, 0.0);
    metal -= opening_volume(hull, opening, -g, 0.0);
  }
  for (const Wall& wall : wanted(request).walls) {
    for (const Rim& rim : wall.openings) {
      each["liner_area"] -= opening_area(wall, rim, 0.0);
      liner -= opening_volume(wall, rim, 0.0, t);
    }
    for (const Rim& rim : wall.metal_openings) {
      each["metal_area"] -= opening_area(wall, rim, 0.0);
      metal -= opening_volume(wall, rim, -g, 0.0);
    }
  }
  each["liner_mass"] = liner * 1e-9 * request.value("density");
  each["metal_mass"] = metal * 1e-9 * metal_density;
  const std::vector<HullPart> parts = parts_of(request);
  each["pieces"] = static_cast<double>(parts.size());
  for (const MadePiece& piece : made.pieces)
    if (belongs(piece.id, "collar")) {
      each["pieces"] += 1.0;
      if (!piece.ordinates.empty())
        each["tape"] += piece.ordinates.front().air_high - piece.ordinates.front().air_low;
    }
  if (hull.collar > 0.0) each["sealant"] = joint_of(hull, t);
  for (const MadePiece& piece : made.pieces)
    if (const int side = panel_side(piece.id); hull.square > 0.0 && side >= 0) {
      each["pieces"] += 1.0;
      each["sealant"] += seal_of(hull, side, t);
    }
  for (const HullPart& part : parts) {
    const HullBoard board(hull, part, {});
    each["tape"] += size(board.seam_at(false, board.tip_of(part.first, t)) -
                         board.seam_at(false, board.low_of(part.first, t)));
  }
  return each;
}

}  // namespace linerwright::asked
