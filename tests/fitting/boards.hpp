// A fitting's walls as boards, measured on the board alone: edges and areas by differences and Green's
// theorem, to be held against the same things in space.
#pragma once

#include <gtest/gtest.h>

#include "fitting/helpers.hpp"

namespace linerwright {

// Both walls' boards see a joint's edge as long as it is in space, at depth w, piece by piece: the speeds
// along the curve agree at some parameters. Returns how many were compared.
inline int expect_edges_match(const Fitting& fitting, double w, Dice& dice) {
  int compared = 0;
  for (const Joint& joint : fitting.joints) {
    if (joint.open()) continue;
    const Development lead(joint.lead, w, 1.0, 0.0);
    const Development follow(joint.follow[0], w, 1.0, 0.0);
    for (const Arc& arc : arcs_of(joint)) {
      const double s = arc.from + dice.between(0.05, 0.95) * (arc.to - arc.from);
      const double first = place_on(joint, Side::follow, s, shell_depths(w)).theta;
      const auto in_space = [&](double at) { return point_of(joint, at, shell_depths(w)); };
      const auto on_lead = [&](double at) {
        return lead.point(at, height_on_lead(joint, at, shell_depths(w)));
      };
      const auto on_follow = [&](double at) {
        const Sheet::Place place = place_on(joint, Side::follow, at, shell_depths(w));
        return follow.point(first + std::remainder(place.theta - first, k_two_pi), place.v);
      };
      const double speed = norm(slope(in_space, s));
      EXPECT_NEAR(norm(slope(on_lead, s)) / speed, 1.0, 1e-7);
      EXPECT_NEAR(norm(slope(on_follow, s)) / speed, 1.0, 1e-7);
      ++compared;
    }
  }
  return compared;
}

// Area enclosed by a hole's edge on a wall's board.
inline double hole_on_board(const Development& flat, const Joint& joint, double w) {
  const double first = place_on(joint, Side::follow, 0.5, shell_depths(w)).theta;
  double sum = 0.0;
  for (const Arc& arc : arcs_of(joint)) {
    const auto at = [&](double psi) {
      const double s = 0.5 * (arc.from + arc.to) - 0.5 * (arc.to - arc.from) * std::cos(psi);
      const Sheet::Place place = place_on(joint, Side::follow, s, shell_depths(w));
      return flat.point(first + std::remainder(place.theta - first, k_two_pi), place.v);
    };
    sum += integrate([&](double psi) { return 0.5 * cross(at(psi), slope(at, psi)); }, 0.0, k_pi, 20);
  }
  return std::fabs(sum);
}

// Area of a wall's board between its ends at depth w, holes taken out: Green's theorem around the outline.
inline double board_area(const Fitting& fitting, int index, double w) {
  const Wall& wall = fitting.wall(index);
  const double seam = 0.5 * k_pi;  // where no end has a corner inside the pieces integrated
  const Development flat(wall.sheet, w, 1.0, seam);
  const auto edge = [&](End end) {
    const auto at = [&](double theta) { return flat.point(theta, shell_end(fitting, index, end, theta, w)); };
    double sum = 0.0;
    for (int half = 0; half < 2; ++half) {  // saddles have their corners at a quarter and three quarters
      const double from = seam + half * k_pi;
      sum += integrate(
          [&](double psi) {
            const auto by_psi = [&](double p) { return at(from + 0.5 * k_pi * (1.0 - std::cos(p))); };
            return 0.5 * cross(by_psi(psi), slope(by_psi, psi));
          },
          0.0, k_pi, 6);
    }
    return sum;
  };
  const auto corner = [&](End end, double theta) {
    return flat.point(theta, shell_end(fitting, index, end, theta, w));
  };
  double area = edge(End::low) - edge(End::high) +
                0.5 * cross(corner(End::low, seam + k_two_pi), corner(End::high, seam + k_two_pi)) -
                0.5 * cross(corner(End::low, seam), corner(End::high, seam));
  for (const JointUse& hole : wall.holes) area -= hole_on_board(flat, fitting.joint(hole.joint), w);
  return area;
}

// What holds for any fitting: shells shrink with depth; edges match on both sides.
inline void expect_consistent(const Fitting& fitting, Dice& dice) {
  const double t = fitting.liner.thickness;
  double last = shell_volume(fitting, -fitting.liner.gauge);
  for (const double share : {0.0, 0.5, 1.0}) {
    const double volume = shell_volume(fitting, share * t);
    EXPECT_LT(volume, last) << share;
    last = volume;
  }
  EXPECT_GT(last, 0.0);
  int joints = 0;
  for (const Joint& joint : fitting.joints) joints += joint.open() ? 0 : 1;
  EXPECT_GE(expect_edges_match(fitting, 0.0, dice), joints);
  EXPECT_GE(expect_edges_match(fitting, t, dice), joints);
}

// What holds for any fitting and takes longer to see: shells shrink at the rate of their area, as walls of
// equal depth meet at their joints and ends are plane; boards have their walls' areas.
inline void expect_areas(const Fitting& fitting) {
  const double t = fitting.liner.thickness;
  const double liner = shell_volume(fitting, 0.0) - shell_volume(fitting, t);
  const auto area = [&](double w) { return total_wall_area(fitting, w); };
  const double swept = integrate(area, 0.0, t, 1);
  EXPECT_NEAR(swept / liner, 1.0, 1e-8);
  for (int i = 0; i < static_cast<int>(fitting.walls.size()); ++i) {
    const double w = i % 2 == 0 ? 0.0 : t;
    EXPECT_NEAR(board_area(fitting, i, w) / wall_area(fitting, i, w), 1.0, 1e-8) << "wall " << i;
  }
}

}  // namespace linerwright
