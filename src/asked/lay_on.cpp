// A pattern laid on what was drawn, whichever way it was turned: by its four corners.
#include <algorithm>

#include "flat.hpp"

namespace linerwright::asked {

namespace {

// Vertices where the contour turns by more than 12 degrees: smooth runs turn by 5 a vertex, and a seam meets
// a steep saddle at less than 20.
std::vector<Point> sharp_corners(const std::vector<Point>& contour) {
  std::vector<Point> corners;
  const std::size_t n = contour.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Point& a = contour[(i + n - 1) % n];
    const Point& b = contour[i];
    const Point& c = contour[(i + 1) % n];
    const double cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
    const double dot = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
    if (std::abs(std::atan2(cross, dot)) > radians(12.0)) corners.push_back(b);
  }
  return corners;
}

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

}  // namespace

std::optional<double> lay_on(Flat& flat, const std::array<Point, 4>& corners,
                             const std::vector<Point>& contour) {
  const std::vector<Point> sharp = sharp_corners(contour);
  const std::size_t n = sharp.size();
  if (n < 4 || n > 24) return std::nullopt;
  std::vector<Move> moves;
  // any four corners in the contour's order, begun at any of them, either way round
  for (std::size_t a = 0; a < n; ++a)
    for (std::size_t b = a + 1; b < n; ++b)
      for (std::size_t c = b + 1; c < n; ++c)
        for (std::size_t d = c + 1; d < n; ++d)
          for (std::size_t begin = 0; begin < 8; ++begin) {
            const std::array<Point, 4> four{sharp[a], sharp[b], sharp[c], sharp[d]};
            std::array<Point, 4> to;
            for (std::size_t i = 0; i < 4; ++i) to[i] = four[(begin < 4 ? begin + i : begin + 8 - i) % 4];
            moves.push_back(best_move(corners, to));
          }
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
