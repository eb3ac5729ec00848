#include "linerwright/rolled_piece.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace linerwright {

namespace {

constexpr int k_guides = 96;

Placement expected_placement(const Fitting& fitting, const Pattern& pattern) {
  Placement placement = pattern.placement;
  placement.mirrored = liner_of(fitting, pattern).face_up == Face::air;
  return placement;
}

// A ruling to begin with, by Newton's steps, for the normal plane through a point: on a cylinder or right
// cone the one on the point's side of the axis; of a few on an oblique cone the one under whose tangent plane
// it lies least deep, for the wall is convex.
double nearest_ruling(const Sheet& sheet, Vec3 local) {
  if (sheet.offset() == 0.0) return std::atan2(local.y, local.x);
  constexpr int k_tries = 32;
  double best = 0.0;
  double least = 1e300;
  for (int i = 0; i < k_tries; ++i) {
    const double theta = k_two_pi * i / k_tries;
    const Sheet::Ruling ruling = sheet.ruling(theta);
    const double depth = -dot(local - ruling.base, ruling.normal);
    if (depth >= least) continue;
    least = depth;
    best = theta;
  }
  return best;
}

}  // namespace

RolledPiece::RolledPiece(const Fitting& fitting, const Pattern& pattern, std::size_t part)
    : piece_(fitting.pieces.at(static_cast<std::size_t>(pattern.pieces.at(part)))),
      sheet_(fitting.walls[static_cast<std::size_t>(piece_.wall)].sheet),
      development_(development_of(fitting, piece_)),
      placement_(expected_placement(fitting, pattern)),
      lift_(pattern.lifts.empty() ? 0.0 : pattern.lifts.at(part)),
      reference_depth_(liner_of(fitting, piece_).reference_depth()) {
  const LinerSpec& liner = liner_of(fitting, piece_);
  for (int i = 0; i <= k_guides; ++i) {
    const double theta = piece_.seam + piece_.span * i / k_guides;
    // both faces': under a steep taper one ends far beyond the other
    const auto end = [&](bool high) {
      return std::minmax({end_height(fitting, piece_.wall, high, theta, liner.outer_depth),
                          end_height(fitting, piece_.wall, high, theta, liner.inner_depth())});
    };
    guides_.push_back(
        {theta, development_.point(theta, end(false).first), development_.point(theta, end(true).second)});
  }
}

Sheet::Place RolledPiece::place(Vec2 board) const {
  Vec2 flat = placement_.flat(board);
  flat.y -= lift_;
  double nearest = 1e300;
  double guess = piece_.seam;
  for (const Guide& guide : guides_) {
    const double away = distance_to_segment(flat, guide.low, guide.high);
    if (away >= nearest) continue;
    nearest = away;
    guess = guide.theta;
  }
  return development_.place(flat, guess);
}

double RolledPiece::overrun(Sheet::Place place) const {
  const double beyond = std::max({0.0, piece_.seam - place.theta, place.theta - (piece_.seam + piece_.span)});
  return beyond * development_.scale() * std::fabs(sheet_.spread(place.theta, place.v, reference_depth_));
}

Vec2 RolledPiece::board(Sheet::Place place) const {
  Vec2 flat = development_.point(place.theta, place.v);
  flat.y += lift_;
  return placement_.board(flat);
}

RolledPiece::Spot RolledPiece::spot(Vec3 point) const {
  const Vec3 local = sheet_.frame().local_point(point);
  double theta = nearest_ruling(sheet_, local);
  Spot spot{{theta, 0.0}, 0.0};
  for (int step = 0; step < 40; ++step) {
    const Sheet::Ruling ruling = sheet_.ruling(theta);
    const Vec3 from_base = local - ruling.base;
    spot = {{theta, dot(from_base, ruling.direction)}, -dot(from_base, ruling.normal)};
    const double change = dot(from_base, ruling.around) / sheet_.spread(theta, spot.place.v, spot.depth);
    theta += change;
    if (!(std::fabs(change) > 1e-13)) break;
  }
  double turn = std::fmod(spot.place.theta - piece_.seam, k_two_pi);
  if (turn < 0.0) turn += k_two_pi;
  spot.place.theta = piece_.seam + turn;
  return spot;
}

}  // namespace linerwright
