#include <algorithm>
#include <stdexcept>

#include "linerwright/draw/polygon.hpp"

namespace linerwright {

namespace {

double turn_between(Vec2 from, Vec2 to) {
  return std::atan2(cross(from, to), dot(from, to));
}

// Directions around a first one that a chord may take.
struct Wedge {
  double low = -k_pi;
  double high = k_pi;
  bool holds(double angle) const { return low <= angle && angle <= high; }
  void narrow(double middle, double spread) {
    low = std::max(low, middle - spread);
    high = std::min(high, middle + spread);
  }
};

// The line as a run of points whose end may be its start again.
class Thinning {
 public:
  Thinning(const std::vector<Vec2>& points, bool closed, const ThinOptions& options)
      : points_(points),
        closed_(closed),
        last_(closed ? points.size() : points.size() - 1),
        options_(options) {}

  std::vector<Vec2> run() const {
    std::vector<Vec2> kept;
    std::size_t i = 0;
    while (i < last_) {
      kept.push_back(at(i));
      i = furthest(i);
    }
    if (!closed_) kept.push_back(points_.back());
    return kept;
  }

 private:
  Vec2 at(std::size_t i) const { return points_[i % points_.size()]; }
  Vec2 direction(std::size_t i) const { return at(i + 1) - at(i); }

  // The end of the longest chord from point i. A chord may differ from the pieces it replaces, and from the
  // piece after it, by half the allowed turn, so two chords that meet differ by no more than the whole. All
  // angles are measured from the first piece.
  std::size_t furthest(std::size_t i) const {
    const double half_turn = 0.5 * options_.max_turn;
    const Vec2 first = direction(i);
    Wedge near_points;      // directions that pass every skipped point closely enough
    Wedge near_directions;  // directions close enough to every piece replaced
    near_directions.narrow(0.0, half_turn);
    std::size_t best = i + 1;
    for (std::size_t k = i + 1; k < last_; ++k) {
      const double next_piece = turn_between(first, direction(k));
      if (std::abs(turn_between(direction(k - 1), direction(k))) > half_turn) break;  // a corner
      const double reach = distance(at(i), at(k));
      if (reach > options_.chord_error) {
        near_points.narrow(turn_between(first, at(k) - at(i)), std::asin(options_.chord_error / reach));
      }
      near_directions.narrow(next_piece, half_turn);
      if (near_points.low > near_points.high || near_directions.low > near_directions.high) break;
      const double chord = turn_between(first, at(k + 1) - at(i));
      if (!near_points.holds(chord) || !near_directions.holds(chord)) break;
      if (fits_next(k + 1, at(k + 1) - at(i))) best = k + 1;
    }
    return best;
  }

  // True when the chord that ends at point k leads smoothly into the piece after it, or ends at a corner.
  bool fits_next(std::size_t k, Vec2 chord) const {
    if (!closed_ && k >= last_) return true;
    const double half_turn = 0.5 * options_.max_turn;
    if (std::abs(turn_between(direction(k - 1), direction(k))) > half_turn) return true;
    return std::abs(turn_between(chord, direction(k))) <= half_turn;
  }

  const std::vector<Vec2>& points_;
  bool closed_;
  std::size_t last_;
  const ThinOptions& options_;
};

}  // namespace

std::vector<Vec2> thinned(const std::vector<Vec2>& points, bool closed, const ThinOptions& options) {
  if (!(options.chord_error > 0.0) || !(options.max_turn > 0.0)) {
    throw std::invalid_argument("thinning needs a chord error and a turn above zero");
  }
  std::vector<Vec2> distinct;
  for (const Vec2 p : points) {
    if (distinct.empty() || !(distinct.back() == p)) distinct.push_back(p);
  }
  while (closed && distinct.size() > 1 && distinct.front() == distinct.back()) distinct.pop_back();
  if (distinct.size() < 3) return distinct;
  return Thinning(distinct, closed, options).run();
}

}  // namespace linerwright
