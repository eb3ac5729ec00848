#include "sampling.hpp"

#include <algorithm>
#include <cmath>

#include "linerwright/draw/curve_places.hpp"
#include "linerwright/draw/polygon.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

namespace {

// A little under the stated limits, which the thinning of cut contours may use up.
constexpr double k_chord = 0.6 * k_chord_error;
constexpr double k_turn = 0.95 * k_turn_per_vertex;
constexpr double k_shortest = 0.55;
constexpr int k_table = 600;
constexpr double k_unseen = 0.2 * k_chord;  // how far a face may stray between entries of the table

double turn_between(Vec2 a, Vec2 b) {
  return std::fabs(std::atan2(cross(a, b), dot(a, b)));
}

class Run {
 public:
  Run(const std::function<FacePair(double)>& at, const std::function<FacePair(double)>& beside, double from,
      double to) {
    std::vector<double> parameters;
    // closer together toward both ends, where joints of nearly equal walls turn sharply
    for (int i = 0; i <= k_table; ++i)
      parameters.push_back(i == 0         ? from
                           : i == k_table ? to
                                          : from + 0.5 * (to - from) * (1.0 - std::cos(k_pi * i / k_table)));
    const auto faces = [&](double s) {
      const FacePair pair = at(s);
      return std::array<Vec2, 2>{pair.duct, pair.air};
    };
    for (const CurvePlace& place : curve_places(faces, parameters, k_unseen)) {
      parameter_.push_back(place.parameter);
      place_.push_back({place.at[0], place.at[1]});
      if (beside) beside_.push_back(beside(place.parameter));
    }
  }

  std::vector<double> spend() const {
    std::vector<std::size_t> picked{0};
    const std::size_t last = place_.size() - 1;
    while (picked.back() < last) picked.push_back(furthest(picked.back()));
    share_last_step(picked);
    std::vector<double> parameters;
    for (const std::size_t i : picked) parameters.push_back(parameter_[i]);
    return parameters;
  }

 private:
  double length(std::size_t i, std::size_t j) const {
    return std::min(distance(place_[i].duct, place_[j].duct), distance(place_[i].air, place_[j].air));
  }

  // A last step that came out too short is shared with the one before it, or with one more, where chords then
  // still follow the curve; else it stays.
  void share_last_step(std::vector<std::size_t>& picked) const {
    const std::size_t last = picked.back();
    if (picked.size() < 3 || length(picked[picked.size() - 2], last) >= k_shortest) return;
    const std::size_t before = picked[picked.size() - 3];
    double limit = k_chord;
    const auto share = [&](std::size_t from, std::size_t replaced) {
      const std::size_t middle = halfway(from, last);
      if (!near_chord(from, middle, limit) || !near_chord(middle, last, limit)) return false;
      picked.erase(picked.end() - 1 - static_cast<std::ptrdiff_t>(replaced), picked.end() - 1);
      picked.insert(picked.end() - 1, middle);
      return true;
    };
    // what is kept for the thinning may be spent on it, too
    for (const double allowed : {k_chord, 0.85 * k_chord_error}) {
      limit = allowed;
      if (near_chord(before, last, limit)) {
        if (length(before, last) < 2.0 * k_shortest || !share(before, 1)) picked.erase(picked.end() - 2);
        return;
      }
      if (length(before, last) >= 2.0 * k_shortest && share(before, 1)) return;
      // too tight for one segment and too short for two
      if (picked.size() >= 4 && share(picked[picked.size() - 4], 2)) return;
    }
  }

  bool near_chord(std::size_t i, std::size_t j, double limit = k_chord) const {
    for (const std::vector<FacePair>* places : {&place_, &beside_})
      for (std::size_t k = i + 1; k < j && !places->empty(); ++k) {
        const FacePair& from = (*places)[i];
        const FacePair& to = (*places)[j];
        if (distance_to_segment((*places)[k].duct, from.duct, to.duct) > limit ||
            distance_to_segment((*places)[k].air, from.air, to.air) > limit)
          return false;
      }
    return true;
  }

  // The turn at a vertex is no more than what the chords on either side make with the tangent there.
  bool gentle(std::size_t i, std::size_t j) const {
    for (const auto face : {&FacePair::duct, &FacePair::air}) {
      const Vec2 chord = place_[j].*face - place_[i].*face;
      if (turn_between(chord, tangent(i, face)) > 0.5 * k_turn ||
          turn_between(chord, tangent(j, face)) > 0.5 * k_turn)
        return false;
    }
    return true;
  }

  Vec2 tangent(std::size_t i, Vec2 FacePair::*face) const {
    const std::size_t before = i > 0 ? i - 1 : 0;
    const std::size_t after = std::min(i + 1, place_.size() - 1);
    return place_[after].*face - place_[before].*face;
  }

  bool fits(std::size_t i, std::size_t j) const {
    if (!near_chord(i, j)) return false;
    return gentle(i, j) || length(i, j) < k_shortest;
  }

  // The entry between two others that is nearest to the middle of the way.
  std::size_t halfway(std::size_t i, std::size_t j) const {
    std::size_t best = i + 1;
    for (std::size_t k = i + 1; k < j; ++k)
      if (std::fabs(length(i, k) - length(k, j)) < std::fabs(length(i, best) - length(best, j))) best = k;
    return best;
  }

  // The furthest entry that one chord from i may reach.
  std::size_t furthest(std::size_t i) const {
    const std::size_t last = place_.size() - 1;
    std::size_t good = i + 1;
    std::size_t step = 1;
    while (good + step <= last && fits(i, good + step)) {
      good += step;
      step *= 2;
    }
    for (; step > 0; step /= 2)
      if (good + step <= last && fits(i, good + step)) good += step;
    // where the contour turns sharply without a corner, a short segment is worse than a large turn
    while (good < last && length(i, good) < k_shortest && near_chord(i, good + 1)) ++good;
    return good;
  }

  std::vector<double> parameter_;
  std::vector<FacePair> place_;
  std::vector<FacePair> beside_;  // as many, or none
};

}  // namespace

std::vector<double> spend_points(const std::function<FacePair(double)>& at, double from, double to,
                                 std::vector<double> corners, const std::function<FacePair(double)>& beside) {
  const double low = std::min(from, to);
  const double high = std::max(from, to);
  corners.erase(std::remove_if(corners.begin(), corners.end(),
                               [&](double c) { return c <= low + 1e-9 || c >= high - 1e-9; }),
                corners.end());
  corners.push_back(from);
  corners.push_back(to);
  std::sort(corners.begin(), corners.end());
  if (from > to) std::reverse(corners.begin(), corners.end());
  std::vector<double> all{from};
  for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
    const std::vector<double> run = Run(at, beside, corners[i], corners[i + 1]).spend();
    all.insert(all.end(), run.begin() + 1, run.end());
  }
  return all;
}

}  // namespace linerwright
