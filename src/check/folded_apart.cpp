// Whether the pieces of a square-to-round reach into each other. They meet on faces that are ruled from the
// tips of flats, of which the kernel's booleans are often in doubt, and its search for points in a solid
// takes seconds; but which piece a point belongs to, the planes that touch the wall tell. Only those that
// they give to another piece are looked for in both.
#include <cmath>

#include <fmt/format.h>

#include "linerwright/sheet/part_places.hpp"
#include "linerwright/solid/inside_points.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

const Wall& wall_of(const Fitting& fitting, int piece) {
  return fitting.wall(fitting.piece(piece).wall);
}

// Whether all rulings under whose planes a point lies least deep are another piece's.
bool beyond(const PartPlaces& places, const Sheet& sheet, const Piece& piece, Vec3 point) {
  constexpr double k_on_seam = 1e-9;  // radians
  const double middle = piece.seam + 0.5 * piece.span;
  for (const PartPlaces::Spot& spot : places.least_deep(sheet.frame().local_point(point)))
    if (std::fabs(std::remainder(spot.place.theta - middle, k_two_pi)) <= 0.5 * piece.span + k_on_seam)
      return false;
  return true;
}

}  // namespace

bool are_folded(const Fitting& fitting, const Part& a, const Part& b) {
  return wall_of(fitting, a.piece).sheet.is_square_to_round() &&
         fitting.piece(a.piece).wall == fitting.piece(b.piece).wall;
}

CheckResult prove_folded_apart(const Fitting& fitting, const Model& model) {
  constexpr double k_depth = 0.02;  // mm
  constexpr std::size_t k_most = 1000;
  const MeshOptions fine{0.1 * k_depth, 0.2};
  std::size_t tried = 0;
  std::size_t strayed = 0;
  for (const Part& part : model.parts) {
    if (part.role != PartRole::liner) continue;
    const Sheet& sheet = wall_of(fitting, part.piece).sheet;
    if (!sheet.is_square_to_round()) continue;
    const Piece& piece = fitting.piece(part.piece);
    const PartPlaces places(sheet);
    std::vector<Vec3> out;
    for (const Vec3 point : points_under_facets(mesh_of(part.solid, fine, 1.0), k_depth, k_most)) {
      ++tried;
      if (beyond(places, sheet, piece, point)) out.push_back(point);
    }
    if (out.empty()) continue;
    // beside a sharp edge a point may come out on the other side of its own piece; and at the round end,
    // where depths lie beyond the tip of a flat, rulings cross: a point there lies in one piece all the same
    const std::vector<Vec3> own = inside(part.solid, out);
    for (const Part& other : model.parts)
      if (&other != &part && !own.empty() && other.role == PartRole::liner &&
          are_folded(fitting, part, other))
        strayed += inside(other.solid, own).size();
  }
  return within("interference", static_cast<double>(strayed), 0.0, "points",
                fmt::format("of {} points just inside the pieces, made again, that lie in another", tried));
}

}  // namespace linerwright
