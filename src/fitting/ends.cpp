// The joints that walls end on, and the holes in them.
#include <algorithm>
#include <cmath>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/joint/folded_ends.hpp"
#include "linerwright/sheet/panels.hpp"

namespace linerwright {

std::vector<JointUse> joints_at(const Wall& wall, End end) {
  const std::vector<JointUse>& rest = wall.rest(end);
  std::vector<JointUse> all{wall.use(end)};
  all.insert(all.end(), rest.begin(), rest.end());
  return all;
}

const JointUse& joint_at(const Wall& wall, End end, double theta) {
  for (const JointUse& use : wall.rest(end)) {
    const double on = theta - use.from;
    if (on - k_two_pi * std::floor(on / k_two_pi) < use.span) return use;
  }
  return wall.use(end);
}

std::vector<JointUse> joints_of(const Wall& wall) {
  std::vector<JointUse> all = joints_at(wall, End::low);
  for (const JointUse& use : joints_at(wall, End::high)) all.push_back(use);
  all.insert(all.end(), wall.holes.begin(), wall.holes.end());
  return all;
}

const Opening* opening_at(const Fitting& fitting, int joint) {
  const auto found = std::find_if(fitting.openings.begin(), fitting.openings.end(),
                                  [&](const Opening& opening) { return opening.joint == joint; });
  return found == fitting.openings.end() ? nullptr : &*found;
}

namespace {

std::vector<JointUse> holes_of_shell(const Fitting& fitting, const Wall& wall, bool metal) {
  std::vector<JointUse> holes;
  for (const JointUse& use : wall.holes) {
    const Opening* opening = opening_at(fitting, use.joint);
    if (opening == nullptr)
      holes.push_back(use);
    else if (metal && opening->metal_joint)
      holes.push_back({*opening->metal_joint, use.side});
  }
  return holes;
}

}  // namespace

std::vector<JointUse> shell_holes(const Fitting& fitting, const Wall& wall) {
  return holes_of_shell(fitting, wall, false);
}

std::vector<JointUse> metal_holes(const Fitting& fitting, const Wall& wall) {
  return holes_of_shell(fitting, wall, true);
}

bool ends_in(const Wall& wall, int joint) {
  const auto is_it = [&](const JointUse& use) { return use.joint == joint; };
  return is_it(wall.low) || is_it(wall.high) ||
         std::any_of(wall.low_rest.begin(), wall.low_rest.end(), is_it) ||
         std::any_of(wall.high_rest.begin(), wall.high_rest.end(), is_it);
}

bool share_a_joint(const Wall& a, const Wall& b) {
  const std::vector<JointUse> theirs = joints_of(b);
  for (const JointUse& use : joints_of(a))
    if (std::any_of(theirs.begin(), theirs.end(),
                    [&](const JointUse& other) { return other.joint == use.joint; }))
      return true;
  return false;
}

DepthPair depths_of_metal(const Fitting& fitting, const Joint& joint, double w) {
  // a disc alone is as wide as the duct on either face of its metal
  if (is_disc_alone(fitting) && !joint.of_opening()) return {0.0, w};
  return joint.on_duct ? DepthPair{w, -fitting.liner.gauge} : shell_depths(w);
}

DepthPair depths_of_shell(const Fitting& fitting, const Joint& joint, double w) {
  const bool alone = is_disc_alone(fitting) && !joint.of_opening();
  if (w < 0.0 || !(joint.on_duct || alone)) return depths_of_metal(fitting, joint, w);
  if (alone) return liner_depths(joint.style, Side::follow, w, fitting.liner.bore_depth());
  return liner_depths(joint.style, Side::lead, w, fitting.liner.bore_depth());
}

std::optional<int> joint_on_duct(const Fitting& fitting) {
  const auto found = std::find_if(fitting.joints.begin(), fitting.joints.end(),
                                  [](const Joint& joint) { return joint.on_duct; });
  if (found == fitting.joints.end()) return std::nullopt;
  return static_cast<int>(found - fitting.joints.begin());
}

int metal_end_of(const Fitting& fitting, const Wall& wall, End end) {
  const int own = wall.use(end).joint;
  return fitting.joint(own).metal_end.value_or(own);
}

bool has_bare_ends(const Fitting& fitting) {
  return !is_disc_alone(fitting) &&
         std::any_of(fitting.joints.begin(), fitting.joints.end(),
                     [](const Joint& joint) { return joint.metal_end.has_value(); });
}

std::vector<Wall> bare_ends(const Fitting& fitting) {
  std::vector<Wall> bare;
  if (is_disc_alone(fitting)) return bare;
  for (const Wall& wall : fitting.walls)
    for (const End end : k_both_ends) {
      const JointUse lining{wall.use(end).joint, Side::lead};
      const JointUse metal{metal_end_of(fitting, wall, end), Side::lead};
      if (wall.layer == 0 && lining.joint != metal.joint)
        bare.push_back({wall.sheet,
                        end == End::high ? lining : metal,
                        end == End::high ? metal : lining,
                        {},
                        wall.face_start});
    }
  return bare;
}

std::vector<std::size_t> holes_of(const Fitting& fitting, const Piece& piece) {
  const Wall& wall = fitting.wall_of(piece);
  std::vector<std::size_t> found;
  for (std::size_t h = 0; h < wall.holes.size(); ++h) {
    const Joint& joint = fitting.joint(wall.holes[h].joint);
    // any of its points: seams are clear of holes
    const double turn = place_on(joint, wall.holes[h].side, 0.0, shell_depths(0.0)).theta - piece.seam;
    if (piece.full_turn() || turn - k_two_pi * std::floor(turn / k_two_pi) < piece.span) found.push_back(h);
  }
  return found;
}

double liner_end(const Fitting& fitting, int wall, End end, double theta, double w) {
  const JointUse& use = joint_at(fitting.wall(wall), end, theta);
  const Joint& joint = fitting.joint(use.joint);
  const double bore = liner_of(fitting, wall).bore_depth();
  return height_at(joint, use.side, theta, liner_depths(joint.style, use.side, w, bore));
}

double shell_end(const Fitting& fitting, int wall, End end, double theta, double w) {
  const JointUse& use = joint_at(fitting.wall(wall), end, theta);
  const Joint& joint = fitting.joint(use.joint);
  return height_at(joint, use.side, theta, depths_of_shell(fitting, joint, w));
}

std::vector<double> corners_at(const Fitting& fitting, int wall, End end, double w) {
  const double bore = liner_of(fitting, wall).bore_depth();
  std::vector<double> corners;
  for (const JointUse& use : joints_at(fitting.wall(wall), end)) {
    const Joint& joint = fitting.joint(use.joint);
    const DepthPair depths = liner_depths(joint.style, use.side, w, bore);
    if (joint.folded()) {
      const std::vector<double> folded = folded_rulings(joint, use.side, depths.lead);
      corners.insert(corners.end(), folded.begin(), folded.end());
      continue;
    }
    if (const auto* panel = std::get_if<PanelTarget>(&joint.target)) {
      const std::vector<double> own = panel_rulings(panel->hull, panel->side, depths.lead);
      corners.insert(corners.end(), own.begin(), own.end());
      continue;
    }
    for (const double s : joint.splits)
      corners.push_back(use.side == Side::lead ? s : place_on(joint, use.side, s, depths).theta);
  }
  return corners;
}

}  // namespace linerwright
