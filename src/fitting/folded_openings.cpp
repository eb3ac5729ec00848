#include "folded_openings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "linerwright/sheet/folds.hpp"
#include "square_to_round.hpp"

namespace linerwright {

namespace {

constexpr int k_around = 360;  // places of an edge that are looked at
constexpr double k_none = std::numeric_limits<double>::infinity();

struct Place {
  Sheet::Place on;
  Vec2 board;
};

const OpeningTarget& opening_of(const Joint& edge) {
  return std::get<OpeningTarget>(edge.target);
}

// theta counted on from the opening's middle.
std::vector<Place> edge_at(const Joint& edge, double w) {
  const OpeningTarget& opening = opening_of(edge);
  std::vector<Place> places;
  for (int i = 0; i < k_around; ++i) {
    Sheet::Place on = place_on(edge, Side::follow, k_two_pi * i / k_around, shell_depths(w));
    on.theta = opening.theta + std::remainder(on.theta - opening.theta, k_two_pi);
    places.push_back({on, opening.flat->point(on.theta, on.v)});
  }
  return places;
}

// How far the places lie from a ruling, on the side of the opening's middle; of one in the middle, on either.
double clear_of_ruling(const Joint& edge, const std::vector<Place>& places, double theta) {
  const OpeningTarget& opening = opening_of(edge);
  const Vec2 from = opening.flat->point(theta, 0.0);
  const double lean = opening.flat->lean(theta);
  const auto off = [&](Vec2 p) { return cross(Vec2{std::sin(lean), std::cos(lean)}, p - from); };
  const double side = off(opening.flat->point(opening.theta, opening.v)) < 0.0 ? -1.0 : 1.0;
  double clear = k_none;
  for (const Place& place : places) clear = std::min(clear, side * off(place.board));
  return clear;
}

// An end of the wall at one depth, from the part's first ruling to its last, on the board.
std::vector<Vec2> end_line(const Fitting& fitting, int wall, const Joint& edge, End end, double w) {
  const OpeningTarget& opening = opening_of(edge);
  const double from = part_at(opening.theta).from;
  std::vector<double> rulings;
  constexpr int k_steps = 128;
  for (int i = 0; i <= k_steps; ++i) rulings.push_back(from + k_part_span * i / k_steps);
  for (const double corner : corners_at(fitting, wall, end, w)) {
    const double theta = opening.theta + std::remainder(corner - opening.theta, k_two_pi);
    if (theta > from && theta < from + k_part_span) rulings.push_back(theta);
  }
  std::sort(rulings.begin(), rulings.end());
  std::vector<Vec2> line;
  for (const double theta : rulings)
    line.push_back(opening.flat->point(theta, liner_end(fitting, wall, end, theta, w)));
  return line;
}

// Beyond an end by the way along the ruling, within it by the shortest way.
double clear_of_end(const Fitting& fitting, int wall, const Joint& edge, End end, double w) {
  const std::vector<Place> places = edge_at(edge, w);
  double along = k_none;
  for (const Place& place : places)
    along = std::min(along, outward(end) * (liner_end(fitting, wall, end, place.on.theta, w) - place.on.v));
  if (along <= 0.0) return along;
  const std::vector<Vec2> line = end_line(fitting, wall, edge, end, w);
  double clear = along;
  for (const Place& place : places)
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      clear = std::min(clear, distance_to_segment(place.board, line[i], line[i + 1]));
  return clear;
}

std::string words_of_end(const Fitting& fitting, int wall, const Joint& edge, End end, double w) {
  if (end == End::high)
    return fitting.joint(fitting.wall(wall).high.joint).open() ? "the lining's edge at the round end"
                                                               : "the joint with the collar";
  const Sheet& sheet = fitting.wall(wall).sheet;
  const char* edge_of_flat = sheet.square_collar() > 0.0 ? "the joint with the rectangular collar"
                                                         : "the lining's edge at the rectangular end";
  if (w == 0.0) return part_at(opening_of(edge).theta).flat ? edge_of_flat : "the rectangle's corner";
  for (const Place& place : edge_at(edge, w))
    if (low_end(sheet, place.on.theta, w).meets) return "the mitre at the rectangle's corner";
  return edge_of_flat;
}

std::string words_of_bend(const WallPart& part, bool last) {
  // a flat has the same name on both its bend lines, and tells them by the side that lies beyond
  const int beyond = part.flat ? part.quarter + (last ? 1 : 3) : part.quarter + (last ? 1 : 0);
  return fmt::format("the bend line toward the {} side, where the board goes over from flat to round",
                     k_square_sides[beyond % 4]);
}

}  // namespace

std::vector<BesideOpening> beside_opening(const Fitting& fitting, int wall, const Joint& edge) {
  const LinerSpec& liner = liner_of(fitting, wall);
  const WallPart part = part_at(opening_of(edge).theta);
  std::vector<BesideOpening> all;
  for (const double w : {0.0, liner.outer_depth, liner.inner_depth()}) {
    const std::vector<Place> places = edge_at(edge, w);
    for (const bool last : {false, true})
      all.push_back(
          {clear_of_ruling(edge, places, part.from + (last ? k_part_span : 0.0)), words_of_bend(part, last)});
    for (const End end : k_both_ends)
      all.push_back({clear_of_end(fitting, wall, edge, end, w), words_of_end(fitting, wall, edge, end, w)});
  }
  return all;
}

bool metal_folds_at(const Fitting& fitting, int wall, const Joint& edge) {
  const WallPart part = part_at(opening_of(edge).theta);
  return !part.flat &&
         corner_low(fitting.wall(wall).sheet, part.quarter, -fitting.liner.gauge).comes_to(LowPart::own);
}

double clear_of_seam(const Joint& edge, const LinerSpec& liner, double seam) {
  const OpeningTarget& opening = opening_of(edge);
  const double theta = opening.theta + std::remainder(seam - opening.theta, k_two_pi);
  const WallPart part = part_at(opening.theta);
  if (!part.flat || theta < part.from || theta > part.from + k_part_span) return k_none;
  double clear = k_none;
  for (const double w : liner.faces())
    clear = std::min(clear, clear_of_ruling(edge, edge_at(edge, w), theta));
  return clear;
}

}  // namespace linerwright
