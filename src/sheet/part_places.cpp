// Points on a wall that is partly flat. How deep a point lies under the planes that touch a cone may fall and
// rise more than once from ruling to ruling: in a mitre it is as deep under the flat's as under one within.
// So some planes of each cone are tried, and the least lie between one where it falls and the next where it
// rises.
#include "linerwright/sheet/part_places.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "board_ways.hpp"
#include "linerwright/sheet/folds.hpp"
#include "linerwright/sheet/panels.hpp"
#include "search.hpp"

namespace linerwright {

namespace {

// Shares of a cone's turn: even ones, and closer and closer ones toward both ends, where mitres die out.
std::vector<double> shares_of_cone() {
  constexpr int k_even = 24;
  constexpr int k_closer = 14;
  std::vector<double> shares;
  for (int i = 0; i <= k_even; ++i) shares.push_back(static_cast<double>(i) / k_even);
  double near = 1.0 / k_even;
  for (int i = 0; i < k_closer; ++i) {
    near *= 0.5;
    shares.push_back(near);
    shares.push_back(1.0 - near);
  }
  std::sort(shares.begin(), shares.end());
  return shares;
}

}  // namespace

PartPlaces::PartPlaces(const Sheet& sheet) : sheet_(sheet), cones_{} {
  const std::vector<double> shares = shares_of_cone();
  for (int corner = 0; corner < 4; ++corner) {
    Cone& cone = cones_[static_cast<std::size_t>(corner)];
    const double from = (2 * corner + 0.5) * k_part_span;
    cone.corner = sheet.ruling(from + 0.5 * k_part_span).base;
    cone.step = 0.0;
    for (const double share : shares) {
      const double theta = share == 1.0 ? from + k_part_span : from + k_part_span * share;
      // the first and last ruling are shared with flats, whose normals do not turn
      constexpr double k_inside = 1e-12;
      const double inside = std::clamp(theta, from + k_inside, from + k_part_span - k_inside);
      const Sheet::Ruling ruling = sheet.ruling(inside);
      cone.planes.push_back({theta, inside, ruling.normal, ruling.normal_slope});
      if (cone.planes.size() > 1)
        cone.step =
            std::max(cone.step, norm(cone.planes.back().normal - cone.planes[cone.planes.size() - 2].normal));
    }
  }
}

PartPlaces::Spot PartPlaces::spot(double theta, Vec3 local) const {
  const Sheet::Ruling ruling = sheet_.ruling(theta);
  const Vec3 off = local - ruling.base;
  return {{theta, dot(off, ruling.direction)}, -dot(off, ruling.normal), std::fabs(dot(off, ruling.around))};
}

// Where its depth neither falls nor rises from ruling to ruling, between one where it falls and one where it
// rises; rounding may have turned either about.
PartPlaces::Spot PartPlaces::between(double low, double high, Vec3 local) const {
  const auto rise = [&](double theta) {
    const Sheet::Ruling ruling = sheet_.ruling(theta);
    return -dot(ruling.normal_slope, local - ruling.base);
  };
  if (rise(low) >= 0.0) return spot(low, local);
  if (rise(high) <= 0.0) return spot(high, local);
  return spot(root(rise, low, high), local);
}

std::vector<PartPlaces::Spot> PartPlaces::least_deep(Vec3 local) const {
  constexpr double k_quarter = 0.5 * k_pi;
  constexpr double k_same = 1e-6;  // mm
  std::array<std::vector<double>, 4> under;
  std::array<double, 4> under_flat{};
  double least = 1e300;
  for (std::size_t q = 0; q < 4; ++q) {
    const Vec3 off = local - cones_[q].corner;
    // over a rectangular collar's panels no layer goes on below their tops
    const auto there = [&](double depth, double top) {
      return depth <= 0.0 || !(sheet_.square_collar() > 0.0) || local.z >= depth * top - k_same ? depth
                                                                                                : 1e300;
    };
    const int k = static_cast<int>(q);
    const double top = sheet_.square_collar() > 0.0 ? panel_top(sheet_, k) : 0.0;
    const double high = sheet_.square_collar() > 0.0 ? panel_corner(sheet_, k).high.z : 0.0;
    for (const Plane& plane : cones_[q].planes) under[q].push_back(there(-dot(off, plane.normal), high));
    under_flat[q] = there(-dot(off, cones_[q].planes.front().normal), top);
    least = std::min({least, under_flat[q], *std::min_element(under[q].begin(), under[q].end())});
  }
  std::vector<Spot> all;
  for (std::size_t q = 0; q < 4; ++q) {
    // the flat before the corner has the cone's first plane
    if (under_flat[q] < least + k_same) {
      const int flat = static_cast<int>(q);
      const double theta = theta_on_flat(sheet_, flat, local, under_flat[q]);
      all.push_back(spot(k_quarter * flat + std::clamp(std::remainder(theta - k_quarter * flat, k_two_pi),
                                                       -0.5 * k_part_span, 0.5 * k_part_span),
                         local));
    }
    const double spare = norm(local - cones_[q].corner) * cones_[q].step + k_same;
    const std::vector<Plane>& planes = cones_[q].planes;
    const Vec3 off = local - cones_[q].corner;
    double before = 1.0;  // how it rises there
    for (std::size_t i = 0; i < planes.size(); ++i) {
      const double here = -dot(off, planes[i].slope);
      const bool near = under[q][i] - spare <= least;
      if (near && i == 0 && here >= 0.0) all.push_back(spot(planes[i].theta, local));
      if (near && i > 0 && before < 0.0 && here >= 0.0)
        all.push_back(between(planes[i - 1].inside, planes[i].inside, local));
      if (near && i + 1 == planes.size() && here < 0.0) all.push_back(spot(planes[i].theta, local));
      before = here;
    }
  }
  for (const Spot& each : all) least = std::min(least, each.depth);
  all.erase(
      std::remove_if(all.begin(), all.end(), [&](const Spot& each) { return each.depth >= least + k_same; }),
      all.end());
  return all;
}

namespace {

// A flat of a square-to-round on the board: its rulings run together in its tip. A line through tip and point
// shows the ruling at the flat's foot.
double ruling_on_flat(const Development& board, const Sheet& sheet, double from, Vec2 flat, double guess) {
  const Vec2 first = board.point(from, 0.0);
  const Vec2 along = board.point(from + k_part_span, 0.0) - first;
  const double middle = from + 0.5 * k_part_span;
  const Vec2 tip = board.point(middle, sheet.ruling(middle).length);
  const double height = cross(along, tip - first);
  const double left = height - cross(along, flat - first);  // to the tip
  constexpr double k_at_tip = 1e-9;                         // of the flat's height: all rulings meet there
  if (left < k_at_tip * height) return guess;
  const Vec2 foot = tip + (height / left) * (flat - tip);
  return from + k_part_span * dot(foot - first, along) / dot(along, along);
}

// A part of a cone: all its rulings begin in one point of the board, and lean ever further.
double ruling_on_cone(const Development& board, double from, Vec2 flat, double guess) {
  const Vec2 off = flat - board.point(from, 0.0);
  constexpr double k_at_corner = 1e-9;  // mm
  if (norm(off) < k_at_corner) return guess;
  const double first = board.lean(from);
  const double whole = board.lean(from + k_part_span) - first;
  const double way = std::atan2(off.x, off.y);
  const double past = std::remainder(way - first, k_two_pi) / whole;
  if (past < 0.0 || past > 1.0) return from + k_part_span * past;
  double low = from;
  double high = from + k_part_span;
  for (int step = 0; step < 60; ++step) {
    const double middle = 0.5 * (low + high);
    (std::remainder(way - board.lean(middle), k_two_pi) * whole > 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// How far a point lies past the middle line of one of the flats beside a cone: that far it is most likely the
// other cone's there, whose rulings cross this one's past the flat's tip.
double past_middle_lines(const Development& board, double from, Vec2 flat) {
  double most = 0.0;
  for (const bool after : {false, true}) {
    const double middle = from + (after ? 1.5 : -0.5) * k_part_span;
    const double past = cross(along_board(board.lean(middle)), flat - board.point(middle, 0.0));
    most = std::max(most, after ? -past : past);
  }
  return most;
}

}  // namespace

std::optional<Sheet::Place> place_on_part(const Development& board, const Sheet& sheet, Vec2 flat,
                                          double theta_guess) {
  const WallPart part = part_at(theta_guess);
  const double theta = part.flat ? ruling_on_flat(board, sheet, part.from, flat, theta_guess)
                                 : ruling_on_cone(board, part.from, flat, theta_guess);
  if (!(theta > part.from && theta < part.from + k_part_span)) return std::nullopt;
  const double v = dot(flat - board.point(theta, 0.0), along_board(board.lean(theta)));
  if (!(v > 0.0)) return std::nullopt;
  return Sheet::Place{theta, v};
}

std::vector<Sheet::Place> places_on_board(const Development& board, const Sheet& sheet, Vec2 flat,
                                          double theta_guess) {
  constexpr double k_on_ruling = 1e-3;  // mm: files are rounded
  const WallPart guessed = part_at(theta_guess);
  const double turns = k_two_pi * std::round((theta_guess - guessed.from - 0.5 * k_part_span) / k_two_pi);
  double nearest = k_on_ruling;
  std::vector<Sheet::Place> all;
  for (const int aside : {0, 1, -1, 2, -2}) {
    const double from = guessed.from + turns + aside * k_part_span;
    const double inside = std::clamp(theta_guess, from, from + k_part_span);
    const bool is_flat = guessed.flat == (aside % 2 == 0);
    const double found = is_flat ? ruling_on_flat(board, sheet, from, flat, inside)
                                 : ruling_on_cone(board, from, flat, inside);
    const double theta = std::clamp(found, from, from + k_part_span);
    const Vec2 off = flat - board.point(theta, 0.0);
    const double v = dot(off, along_board(board.lean(theta)));
    // a ruling of a cone begins in its corner
    double miss = std::fabs(dot(off, around_board(board.lean(theta))));
    if (!is_flat && v < 0.0) miss = norm(off);
    if (!(miss <= k_on_ruling)) continue;
    // where the cones lean unlike, their mitre at the tip runs to one side of the middle line
    if (!is_flat && past_middle_lines(board, from, flat) > k_on_ruling) {
      all.push_back({theta, v});
      continue;
    }
    all.insert(miss < nearest ? all.begin() : all.end(), {theta, v});
    nearest = std::min(nearest, miss);
  }
  if (all.empty()) throw std::invalid_argument("the flat point lies on no ruling of the sheet");
  return all;
}

}  // namespace linerwright
