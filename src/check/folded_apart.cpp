// Whether the pieces of a square-to-round reach into each other. They meet on faces that are ruled from the
// tips of flats, of which the kernel's booleans are often in doubt, and its search for points in a solid
// takes seconds; but which piece a point belongs to, the planes that touch the wall tell. Only those that
// they give to another piece are looked for in both, in their meshes first.
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "linerwright/fitting/port.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/part_places.hpp"
#include "linerwright/solid/inside_points.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

// Whether all rulings under whose planes a point lies least deep are another piece's.
bool beyond_seams(const PartPlaces& places, const Sheet& sheet, const Piece& piece, Vec3 point) {
  constexpr double k_on_seam = 1e-9;  // radians
  const double middle = piece.seam + 0.5 * piece.span;
  for (const PartPlaces::Spot& spot : places.least_deep(sheet.frame().local_point(point)))
    if (std::fabs(std::remainder(spot.place.theta - middle, k_two_pi)) <= 0.5 * piece.span + k_on_seam)
      return false;
  return true;
}

// Whether a point lies on the collar's side of its joint with the transition: higher than where the layer of
// the point's depth under the collar is met.
bool in_collar(const Sheet& transition, Vec3 point) {
  const Vec3 local = transition.frame().local_point(point);
  const Vec2 off = Vec2{local.x, local.y} - transition.centre();
  const CollarMeeting met = collar_meeting(transition, std::atan2(off.y, off.x), transition.r2() - norm(off));
  return local.z > met.height;
}

// The transition whose collar's joint ends this wall, or that it is itself.
const Sheet* transition_at(const Fitting& fitting, const Wall& wall) {
  for (const JointUse& use : {wall.low, wall.high})
    if (const Joint& joint = fitting.joint(use.joint); joint.folded()) return &joint.lead;
  return nullptr;
}

}  // namespace

bool are_folded(const Fitting& fitting, const Part& a, const Part& b) {
  const Wall& one = wall_of(fitting, a);
  const Wall& other = wall_of(fitting, b);
  if (!one.sheet.is_square_to_round() && !other.sheet.is_square_to_round()) return false;
  return &one == &other || share_a_joint(one, other);
}

CheckResult prove_folded_apart(const Fitting& fitting, const Model& model) {
  constexpr double k_depth = 0.02;  // mm
  constexpr std::size_t k_most = 1000;
  const MeshOptions fine{0.1 * k_depth, 0.2};
  std::size_t tried = 0;
  std::size_t strayed = 0;
  std::map<const Part*, Mesh> meshes;
  for (const Part& part : model.parts)
    if (part.role == PartRole::liner) meshes.emplace(&part, mesh_of(part.solid, fine, 1.0));
  for (const Part& part : model.parts) {
    if (part.role != PartRole::liner) continue;
    const Wall& wall = wall_of(fitting, part);
    const Sheet* sheet = transition_at(fitting, wall);
    if (sheet == nullptr) continue;
    const Piece& piece = fitting.piece(part.piece.value());
    const bool of_collar = !wall.sheet.is_square_to_round();
    const bool has_collar = of_collar || !fitting.joint(wall.high.joint).open();
    const PartPlaces places(*sheet);
    std::vector<Vec3> beside;  // as another piece of the transition has it
    std::vector<Vec3> across;  // as one on the other side of the collar's joint
    for (const Vec3 point : points_under_facets(meshes.at(&part), k_depth, k_most)) {
      ++tried;
      if (!of_collar && beyond_seams(places, *sheet, piece, point)) beside.push_back(point);
      if (has_collar && in_collar(*sheet, point) != of_collar) across.push_back(point);
    }
    // beside a sharp edge a point may come out on the other side of its own piece; and at the round end,
    // where depths lie beyond the tip of a flat, rulings cross: a point there lies in one piece all the same;
    // a collar's joint is ruled from face to face, beside where layers of equal depth meet
    for (std::vector<Vec3>* out : {&beside, &across}) {
      for (const Part& other : model.parts) {
        if (&other == &part || other.role != PartRole::liner || !are_folded(fitting, part, other) ||
            (&wall_of(fitting, other) == &wall) != (out == &beside))
          continue;
        strayed += count_in_both(part.solid, other.solid, meshes.at(&other), *out);
      }
    }
  }
  return within("interference", static_cast<double>(strayed), 0.0, "points",
                fmt::format("of {} points just inside the pieces, made again, that lie in another", tried));
}

}  // namespace linerwright
