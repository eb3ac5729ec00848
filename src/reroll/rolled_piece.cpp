#include "linerwright/reroll/rolled_piece.hpp"

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
// cone the one on the point's side of the axis; on an oblique cone the one under whose tangent plane it lies
// least deep, for the wall is convex: of a few, and then by thirds between that one's neighbours, since
// beside a steep cone's flat side the rulings turn sharply.
double nearest_ruling(const Sheet& sheet, Vec3 local) {
  if (sheet.offset() == 0.0) return std::atan2(local.y, local.x);
  constexpr int k_tries = 32;
  constexpr int k_thirds = 16;
  const auto depth_under = [&](double theta) {
    const Sheet::Ruling ruling = sheet.ruling(theta);
    return -dot(local - ruling.base, ruling.normal);
  };
  double best = 0.0;
  double least = 1e300;
  for (int i = 0; i < k_tries; ++i) {
    const double theta = k_two_pi * i / k_tries;
    const double depth = depth_under(theta);
    if (depth >= least) continue;
    least = depth;
    best = theta;
  }
  double low = best - k_two_pi / k_tries;
  double high = best + k_two_pi / k_tries;
  for (int i = 0; i < k_thirds; ++i) {
    const double third = (high - low) / 3.0;
    if (depth_under(low + third) < depth_under(high - third))
      high -= third;
    else
      low += third;
  }
  return 0.5 * (low + high);
}

// Where a point lies on a square-to-round: on a part that has a ruling through it; in a mitre, where two
// parts' do, on the one that is nearer to the piece's own rulings.
RolledPiece::Spot spot_on_parts(const PartPlaces& parts, const Piece& piece, Vec3 local) {
  constexpr double k_on_ruling = 1e-6;  // mm
  const double middle = piece.seam + 0.5 * piece.span;
  const auto beyond = [&](const PartPlaces::Spot& spot) {
    return std::fabs(std::remainder(spot.place.theta - middle, k_two_pi)) - 0.5 * piece.span;
  };
  const std::vector<PartPlaces::Spot> all = parts.least_deep(local);
  const PartPlaces::Spot best =
      *std::min_element(all.begin(), all.end(), [&](const PartPlaces::Spot& a, const PartPlaces::Spot& b) {
        const bool a_on = a.miss < k_on_ruling;
        const bool b_on = b.miss < k_on_ruling;
        if (a_on != b_on) return a_on;
        return a_on ? beyond(a) < beyond(b) : a.miss < b.miss;
      });
  return {best.place, best.depth};
}

}  // namespace

RolledPiece::RolledPiece(const Fitting& fitting, const Pattern& pattern, std::size_t part)
    : index_(pattern.pieces.at(part)),
      piece_(fitting.piece(index_)),
      sheet_(fitting.wall_of(piece_).sheet),
      development_(development_of(fitting, piece_)),
      placement_(expected_placement(fitting, pattern)),
      lift_(pattern.lifts.empty() ? 0.0 : pattern.lifts.at(part)),
      reference_depth_(liner_of(fitting, piece_).reference_depth()) {
  if (sheet_.is_square_to_round()) parts_.emplace(sheet_);
  for (const NotchedBlank& blank : fitting.notched)
    if (blank.id == pattern.id) notched_.emplace(fitting, blank);
  const LinerSpec& liner = liner_of(fitting, piece_);
  for (int i = 0; i <= k_guides; ++i) {
    const double theta = piece_.seam + piece_.span * i / k_guides;
    // both faces': under a steep taper one ends far beyond the other
    const auto faces = [&](End end) {
      return std::minmax({liner_end(fitting, piece_.wall, end, theta, liner.outer_depth),
                          liner_end(fitting, piece_.wall, end, theta, liner.inner_depth())});
    };
    guides_.push_back({theta, development_.point(theta, faces(End::low).first),
                       development_.point(theta, faces(End::high).second)});
  }
}

Sheet::Place RolledPiece::place(Vec2 board) const {
  return places(board).front();
}

std::vector<Sheet::Place> RolledPiece::places(Vec2 board) const {
  if (notched_) throw std::invalid_argument("a notched blank is folded, not rolled");
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
  if (parts_) return places_on_board(development_, sheet_, flat, guess);
  return {development_.place(flat, guess)};
}

double RolledPiece::overrun(Sheet::Place place) const {
  const double beyond = std::max({0.0, piece_.seam - place.theta, place.theta - (piece_.seam + piece_.span)});
  // where rulings meet in a point, those beyond the seam go through it as well; a turn on they do not
  if (sheet_.is_square_to_round() && beyond > 0.0) {
    const double last = std::clamp(place.theta, piece_.seam, piece_.seam + piece_.span);
    const double lean = development_.lean(last);
    const Vec2 off = development_.point(place.theta, place.v) - development_.point(last, 0.0);
    return std::fabs(cross(off, {std::sin(lean), std::cos(lean)}));
  }
  return beyond * spread(place);
}

double RolledPiece::spread(Sheet::Place place) const {
  return development_.scale() * std::fabs(sheet_.spread(place.theta, place.v, reference_depth_));
}

Vec2 RolledPiece::board(Sheet::Place place) const {
  Vec2 flat =
      notched_ ? notched_->flat(index_, place.theta, place.v) : development_.point(place.theta, place.v);
  flat.y += lift_;
  return placement_.board(flat);
}

RolledPiece::Spot RolledPiece::spot(Vec3 point) const {
  const Vec3 local = sheet_.frame().local_point(point);
  Spot spot{{0.0, 0.0}, 0.0};
  if (parts_) spot = spot_on_parts(*parts_, piece_, local);
  double theta = sheet_.is_square_to_round() ? 0.0 : nearest_ruling(sheet_, local);
  for (int step = 0; step < (sheet_.is_square_to_round() ? 0 : 40); ++step) {
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
