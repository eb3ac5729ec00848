// Volumes, areas and lengths of a fitting as integrals over its walls: the numbers that solids and patterns
// are held against.
#include <algorithm>
#include <cmath>

#include "around_joint.hpp"
#include "disc_alone.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/fitting/pressed_bend.hpp"
#include "linerwright/sheet/panels.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

double in_turn(double angle) {
  return angle - k_two_pi * std::floor(angle / k_two_pi);
}

// Weight of a ruling's stretch from v = 0 to v: integral of the spread, (b'.e - w n'.e) v + d'.e v^2 / 2.
double swept(const Sheet::Ruling& r, double v, double w) {
  return dot(r.base_slope - w * r.normal_slope, r.around) * v +
         0.5 * dot(r.direction_slope, r.around) * v * v;
}

// Integral over the part of a rolled sheet at depth w that a joint at these depths encloses, of
// weight(ruling); positive where the joint runs counter-clockwise, seen from outside.
template <class F>
double within_joint(const Joint& joint, Side side, const Sheet& sheet, double w, DepthPair depths,
                    F&& weight) {
  const double first = place_on(joint, side, 0.5, depths).theta;
  const auto place = [&](double psi, const Arc& arc) {
    Sheet::Place p = place_on(joint, side, at_psi(arc, psi), depths);
    p.theta += k_two_pi * std::round((first - p.theta) / k_two_pi);
    return p;
  };
  const auto turn = [&](double psi, const Arc& arc) {
    const double per_psi = 0.5 * (arc.to - arc.from) * std::sin(psi);
    const auto exact = side == Side::follow ? turn_on_body(joint, at_psi(arc, psi), depths) : std::nullopt;
    return exact ? *exact * per_psi : slope_at([&](double at) { return place(at, arc).theta; }, psi);
  };
  return -around_joint(joint, [&](double psi, const Arc& arc) {
    const Sheet::Place p = place(psi, arc);
    const Sheet::Ruling r = sheet.ruling(p.theta);
    return weight(r) * swept(r, p.v, w) * turn(psi, arc);
  });
}

// The same of any sheet and whichever way around, of a weight that is nowhere less than zero or, on a flat
// one, the same all over.
template <class F>
double over_hole(const Joint& joint, Side side, const Sheet& sheet, double w, DepthPair depths, F&& weight) {
  if (!sheet.is_flat()) return std::fabs(within_joint(joint, side, sheet, w, depths, weight));
  // in its plane, about its centre or not
  const auto at = [&](double psi, const Arc& arc) {
    return point_of(joint, at_psi(arc, psi), depths) - sheet.frame().origin;
  };
  const double twice = around_joint(joint, [&](double psi, const Arc& arc) {
    const Vec3 slope = slope_at([&](double p) { return at(p, arc); }, psi);
    return dot(cross(at(psi, arc), slope), sheet.frame().z);
  });
  return 0.5 * std::fabs(twice) * weight(sheet.ruling(0.0));
}

// The same of a wall's hole.
template <class F>
double over_hole(const Fitting& fitting, const Wall& wall, const JointUse& use, double w, F&& weight) {
  return over_hole(fitting.joint(use.joint), use.side, wall.sheet, w, shell_depths(w), weight);
}

// v of a wall's end on its ruling at the shell's depth w, or of the metal's face there.
double shell_height(const Fitting& fitting, const Wall& wall, End end, double theta, double w, bool metal) {
  const JointUse& use = joint_at(wall, end, theta);
  const Joint& joint = fitting.joint(use.joint);
  return height_at(joint, use.side, theta,
                   metal ? depths_of_metal(fitting, joint, w) : depths_of_shell(fitting, joint, w));
}

// Integral over the wall's surface at depth w of weight(ruling), ends and holes taken at shell depths; with
// `metal` over the metal's face.
template <class F>
double over_wall(const Fitting& fitting, const Wall& wall, double w, const std::vector<JointUse>& holes,
                 F&& weight, bool metal = false) {
  double sum = 0.0;
  // a polygon without holes, on which any weight is one all over
  if (const auto* panel = std::get_if<PanelTarget>(&fitting.joint(wall.low.joint).target))
    return panel_area(panel->hull, panel->side, w) * weight(wall.sheet.ruling(0.0));
  // Rulings are cut into arcs where either end has a corner on this wall.
  std::vector<double> cuts{0.0, k_two_pi};
  int panels = wall.sheet.is_square_to_round() ? k_panels_of_part : k_panels;
  bool doubling = false;
  for (const End end : k_both_ends)
    for (const JointUse& use : joints_at(wall, end)) {
      const Joint& joint = fitting.joint(use.joint);
      doubling = doubling || may_turn_sharply(joint);
      panels = std::max(panels, panels_of(joint));
      const bool folded = joint.folded();
      const std::vector<double> own = folded ? folded_rulings(joint, use.side, w) : joint.splits;
      if (joint.stretch)
        cuts.push_back(in_turn(use.from));
      else if (use.side == Side::lead || folded)
        cuts.insert(cuts.end(), own.begin(), own.end());
    }
  std::sort(cuts.begin(), cuts.end());
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    if (cuts[i + 1] - cuts[i] < 1e-12) continue;
    const Arc arc{cuts[i], cuts[i + 1]};
    const auto on_ruling = [&](double psi) {
      const double theta = at_psi(arc, psi);
      const Sheet::Ruling r = wall.sheet.ruling(theta);
      const double low = shell_height(fitting, wall, End::low, theta, w, metal);
      const double high = shell_height(fitting, wall, End::high, theta, w, metal);
      return weight(r) * (swept(r, high, w) - swept(r, low, w)) * 0.5 * (arc.to - arc.from) * std::sin(psi);
    };
    sum +=
        doubling ? integrate_doubling(on_ruling, 0.0, k_pi, panels) : integrate(on_ruling, 0.0, k_pi, panels);
  }
  for (const JointUse& use : holes) sum -= over_hole(fitting, wall, use, w, weight);
  return sum;
}

// Area of the flat disk that closes an open end.
double end_area(const Joint& joint, const PlaneTarget& plane, Vec3 outward, double w) {
  const Sheet& sheet = joint.lead;
  if (w >= 0.0 && on_square_collar(joint))
    return 4.0 * (sheet.half_sides().x - w) * (sheet.half_sides().y - w);
  const bool round = sheet.is_cylinder() || sheet.is_right_cone();
  if (round && norm(cross(plane.normal, sheet.frame().z)) < 1e-12) {
    const Vec3 p = sheet.frame().local_point(point_of(joint, 0.0, shell_depths(w)));
    return k_pi * (p.x * p.x + p.y * p.y);
  }
  return 0.5 * std::fabs(around_joint(
                   joint,
                   [&](double psi, const Arc& arc) {
                     const auto at = [&](double s) {
                       return point_of(joint, at_psi(arc, s), shell_depths(w)) - plane.point;
                     };
                     return dot(cross(at(psi), slope_at(at, psi)), outward);
                   },
                   shell_depths(w)));
}

// Flux of x/3 through that disk.
double end_flux(const Fitting& fitting, const JointUse& use, double w, End end) {
  const Joint& joint = fitting.joint(use.joint);
  if (!joint.open()) return 0.0;
  const PlaneTarget& plane = std::get<PlaneTarget>(joint.target);
  const Vec3 away =
      outward(end) * (dot(plane.normal, joint.lead.frame().z) > 0.0 ? plane.normal : -plane.normal);
  const double area = end_area(joint, plane, away, w);
  // the metal's outside stands upright on it: x.n of its walls, all around, makes twice the area
  const double walls = w < 0.0 && on_square_collar(joint) ? 2.0 * joint.lead.square_collar() * area : 0.0;
  return (dot(plane.point, away) * area + walls) / 3.0;
}

// Flux of x/3 down through the patch of the duct's cylinder that a tap's shell at depth w stands on, at the
// depths of the joint there: x.n is minus the cylinder's radius all over it, for its axis runs through the
// origin.
double patch_flux(const Joint& joint, DepthPair depths) {
  const double radius = joint.follow.front().r1() - depths.follow;
  return -radius * opening_area(joint, depths) / 3.0;
}

// Flux of x/3 down through the ruled face between the joint's curves at two depths, where it is no part of
// the duct's cylinder. Gauss across is exact: what is integrated is of the third degree there.
double ruled_flux(const Joint& joint, DepthPair outer, DepthPair inner, Vec3 origin = {}) {
  const auto between = [](Vec3 from, Vec3 to, double share) { return (1.0 - share) * from + share * to; };
  const auto of_rung = [&](double psi, const Arc& arc) {
    const auto on_outer = [&](double at) { return point_of(joint, at_psi(arc, at), outer) - origin; };
    const auto on_inner = [&](double at) { return point_of(joint, at_psi(arc, at), inner) - origin; };
    const Vec3 from = on_outer(psi);
    const Vec3 to = on_inner(psi);
    const Vec3 slope_from = slope_at(on_outer, psi);
    const Vec3 slope_to = slope_at(on_inner, psi);
    return integrate(
        [&](double share) {
          return dot(between(from, to, share), cross(to - from, between(slope_from, slope_to, share)));
        },
        0.0, 1.0, 1);
  };
  return around_joint(joint, of_rung) / 3.0;
}

// Flux of x/3 through a wall at depth w and its flat ends. On a wall x.n = b.n - w along the whole ruling,
// since d.n = 0 and n.n = 1.
double flux_of_wall(const Fitting& fitting, const Wall& wall, double w, bool metal) {
  // outside of the duct face a collar's walls are under its end
  if (w < 0.0 && fitting.joint(wall.low.joint).of_panel()) return 0.0;
  const Frame& frame = wall.sheet.frame();
  const auto out = [&](const Sheet::Ruling& r) {
    return dot(frame.point(r.base), frame.direction(r.normal)) - w;
  };
  return over_wall(fitting, wall, w, shell_holes(fitting, wall), out, metal) / 3.0 +
         end_flux(fitting, wall.low, w, End::low) + end_flux(fitting, wall.high, w, End::high);
}

// What closes a tap's shell at depth w toward the duct: the liner's end faces from there on inward, and in
// their middle the bore's opening.
double standing_flux(const Fitting& fitting, const JointUse& use, double w) {
  const Joint& joint = fitting.joint(use.joint);
  if (!joint.on_duct) return 0.0;
  const DepthPair innermost = depths_of_shell(fitting, joint, fitting.liner.bore_depth());
  if (joint.style != JointStyle::mitre) return patch_flux(joint, depths_of_shell(fitting, joint, w));
  double sum = patch_flux(joint, innermost);
  for (int layer = 0; layer < layer_count(fitting); ++layer) {
    const auto [outer, inner] = layer_of(fitting, layer).faces();
    if (inner > w + 1e-9)
      sum += ruled_flux(joint, depths_of_shell(fitting, joint, std::max(w, outer)),
                        depths_of_shell(fitting, joint, inner));
  }
  return sum;
}

}  // namespace

// Divergence theorem with F = x/3.
double shell_volume(const Fitting& fitting, double w) {
  if (is_disc_alone(fitting)) return disc_volume(fitting, w);
  double volume = 0.0;
  for (const Wall& wall : fitting.walls) {
    if (wall.layer != 0) continue;
    volume += flux_of_wall(fitting, wall, w, false) + standing_flux(fitting, wall.low, w);
  }
  // no liner narrows what lies beyond the lining
  for (const Wall& bare : bare_ends(fitting)) volume += flux_of_wall(fitting, bare, std::min(w, 0.0), false);
  return volume;
}

double opening_area(const Joint& joint, DepthPair depths) {
  return over_hole(joint, Side::follow, joint.follow.front(), depths.follow, depths,
                   [](const Sheet::Ruling&) { return 1.0; });
}

double wall_area(const Fitting& fitting, int wall, double w) {
  const Wall& of = fitting.wall(wall);
  return over_wall(fitting, of, w, of.holes, [](const Sheet::Ruling&) { return 1.0; });
}

double hole_area(const Fitting& fitting, int wall, std::size_t hole, double w) {
  const Wall& of = fitting.wall(wall);
  return over_hole(fitting, of, of.holes.at(hole), w, [](const Sheet::Ruling&) { return 1.0; });
}

double metal_area(const Fitting& fitting) {
  // by Pappus's theorem, as the volume
  if (fitting.pressed) return k_two_pi * fitting.pressed->radius * centreline_of(*fitting.pressed);
  double sum = 0.0;
  for (const Wall& wall : fitting.walls)
    if (wall.layer == 0)
      sum += over_wall(
          fitting, wall, 0.0, metal_holes(fitting, wall), [](const Sheet::Ruling&) { return 1.0; }, true);
  for (const Wall& bare : bare_ends(fitting))
    sum += over_wall(
        fitting, bare, 0.0, {}, [](const Sheet::Ruling&) { return 1.0; }, true);
  return sum;
}

namespace {

// What the metal's face at depth w encloses of a tap, down to the outside of the duct's metal.
double metal_enclosed(const Fitting& fitting, double w) {
  double volume = 0.0;
  for (const Wall& wall : fitting.walls) {
    if (wall.layer != 0) continue;
    volume += flux_of_wall(fitting, wall, w, true);
    const Joint& joint = fitting.joint(wall.low.joint);
    if (joint.on_duct) volume += patch_flux(joint, depths_of_metal(fitting, joint, w));
  }
  for (const Wall& bare : bare_ends(fitting)) volume += flux_of_wall(fitting, bare, w, true);
  return volume;
}

}  // namespace

double metal_volume(const Fitting& fitting) {
  const double gauge = fitting.liner.gauge;
  if (fitting.pressed) {
    const double section = k_pi * gauge * (2.0 * fitting.pressed->radius + gauge);
    return section * centreline_of(*fitting.pressed);
  }
  double cut_out = 0.0;
  for (const Opening& opening : fitting.openings)
    if (opening.metal_joint) cut_out += plug_volume(fitting, *opening.metal_joint, -gauge, 0.0);
  if (is_disc_alone(fitting)) return gauge * disc_area(fitting) - cut_out;
  if (joint_on_duct(fitting)) return metal_enclosed(fitting, -gauge) - metal_enclosed(fitting, 0.0) - cut_out;
  return shell_volume(fitting, -gauge) - shell_volume(fitting, 0.0) - cut_out;
}

// Divergence theorem with F = x/3, x from the opening's middle: on the wall at depth w x.n is that of each
// ruling less w; between the two depths the edge runs on straight lines.
double plug_volume(const Fitting& fitting, int joint, double from, double to) {
  const Joint& edge = fitting.joint(joint);
  const Sheet& wall = edge.follow.front();
  const auto& opening = std::get<OpeningTarget>(edge.target);
  const Vec3 middle = wall.point(opening.theta, opening.v, 0.0);
  const Vec3 local = wall.frame().local_point(middle);
  const auto on_wall = [&](double w) {
    const auto away = [&](const Sheet::Ruling& r) { return dot(r.base - local, r.normal) - w; };
    return wall.is_flat() ? over_hole(edge, Side::follow, wall, w, shell_depths(w), away)
                          : within_joint(edge, Side::follow, wall, w, shell_depths(w), away);
  };
  return (on_wall(from) - on_wall(to)) / 3.0 + ruled_flux(edge, shell_depths(from), shell_depths(to), middle);
}

double plug_volume(const Fitting& fitting, int layer) {
  const LinerSpec& liner = layer_of(fitting, layer);
  double sum = 0.0;
  for (const Wall& wall : fitting.walls)
    for (const JointUse& use : wall.holes)
      if (wall.layer == layer && opening_at(fitting, use.joint) != nullptr)
        sum += plug_volume(fitting, use.joint, liner.outer_depth, liner.inner_depth());
  return sum;
}

double plug_volume(const Fitting& fitting) {
  double sum = 0.0;
  for (int layer = 0; layer < layer_count(fitting); ++layer) sum += plug_volume(fitting, layer);
  return sum;
}

double joint_length(const Joint& joint, DepthPair depths) {
  return around_joint(
      joint,
      [&](double psi, const Arc& arc) {
        const auto at = [&](double p) { return point_of(joint, at_psi(arc, p), depths); };
        return norm(slope_at(at, psi));
      },
      depths);
}

}  // namespace linerwright
