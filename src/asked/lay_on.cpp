// A pattern laid on what was drawn, whichever way it was turned: by its four corners.
#include <algorithm>

#include "flat.hpp"

namespace linerwright::asked {

namespace {

// The turn and move that bring `from` onto `to` in the sense of least squares, and the largest distance left.
struct Move {
  double turn = 0.0;
  Point from{}, to{};
  double left = 1e300;
};

Point moved(const Move& move, const Point& p) {
  const double x = p[0] - move.from[0];
  const double y = p[1] - move.from[1];
  return {move.to[0] + x * std::cos(move.turn) - y * std::sin(move.turn),
          move.to[1] + x * std::sin(move.turn) + y * std::cos(move.turn)};
}

Move best_move(const std::array<Point, 4>& from, const std::array<Point, 4>& to) {
  Move move;
  for (std::size_t i = 0; i < 4; ++i)
    for (std::size_t k = 0; k < 2; ++k) {
      move.from[k] += from[i][k] / 4.0;
      move.to[k] += to[i][k] / 4.0;
    }
  double sine = 0.0;
  double cosine = 0.0;
  for (std::size_t i = 0; i < 4; ++i) {
    const double ax = from[i][0] - move.from[0], ay = from[i][1] - move.from[1];
    const double bx = to[i][0] - move.to[0], by = to[i][1] - move.to[1];
    cosine += ax * bx + ay * by;
    sine += ax * by - ay * bx;
  }
  move.turn = std::atan2(sine, cosine);
  move.left = 0.0;
  for (std::size_t i = 0; i < 4; ++i) {
    const Point at = moved(move, from[i]);
    move.left = std::max(move.left, std::hypot(at[0] - to[i][0], at[1] - to[i][1]));
  }
  return move;
}

double distance(const Point& a, const Point& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1]);
}

const Point& nearest_to(const Point& to, const std::vector<Point>& points) {
  return *std::min_element(points.begin(), points.end(), [&](const Point& one, const Point& other) {
    return distance(one, to) < distance(other, to);
  });
}

// All ways to bring the four corners within `tolerance` of vertices of a contour: the two that are farthest
// apart onto any two, and the others onto what is nearest then. Angles would not tell a corner: a seam can
// meet a steep saddle at nearly none.
std::vector<Move> moves_onto(const std::array<Point, 4>& corners, const std::vector<Point>& contour,
                             double tolerance) {
  std::size_t a = 0;
  std::size_t b = 1;
  for (std::size_t i = 0; i < 4; ++i)
    for (std::size_t k = i + 1; k < 4; ++k)
      if (distance(corners[i], corners[k]) > distance(corners[a], corners[b])) {
        a = i;
        b = k;
      }
  const double apart = distance(corners[a], corners[b]);
  const double way = std::atan2(corners[b][1] - corners[a][1], corners[b][0] - corners[a][0]);
  std::vector<Move> moves;
  for (const Point& onto_a : contour)
    for (const Point& onto_b : contour) {
      if (std::abs(distance(onto_a, onto_b) - apart) > tolerance) continue;
      Move move;
      move.turn = std::atan2(onto_b[1] - onto_a[1], onto_b[0] - onto_a[0]) - way;
      move.from = corners[a];
      move.to = onto_a;
      std::array<Point, 4> to;
      for (std::size_t i = 0; i < 4; ++i)
        to[i] = i == a ? onto_a : i == b ? onto_b : nearest_to(moved(move, corners[i]), contour);
      move = best_move(corners, to);
      if (move.left <= tolerance) moves.push_back(move);
    }
  return moves;
}

}  // namespace

std::optional<double> lay_on(Flat& flat, const std::array<Point, 4>& corners,
                             const std::vector<Point>& contour) {
  std::vector<Move> moves;
  // a wrong pattern is laid on as well as it goes, so that its fault is told in mm
  for (const double tolerance : {0.05, 0.5, 5.0, 50.0}) {
    moves = moves_onto(corners, contour, tolerance);
    if (!moves.empty()) break;
  }
  if (moves.empty()) return std::nullopt;
  std::sort(moves.begin(), moves.end(),
            [](const Move& one, const Move& other) { return one.left < other.left; });
  // corners alone do not tell a piece from itself turned end for end: its whole outline does, by more than
  // chords leave of it
  constexpr double k_alike = 0.02;   // mm
  constexpr double k_better = 0.05;  // mm
  const Move* best = nullptr;
  double nearest = 1e300;
  for (const Move& move : moves) {
    if (move.left > moves.front().left + k_alike) break;
    std::vector<Point> some;
    for (std::size_t i = 0; i < flat.cut.size(); i += 24) some.push_back(moved(move, flat.cut[i]));
    const double off = stray(some, contour);
    if (off >= nearest - k_better) continue;
    nearest = off;
    best = &move;
  }
  const Move chosen = *best;
  each_point(flat, [&](Point& point) { point = moved(chosen, point); });
  return chosen.left;
}

}  // namespace linerwright::asked
