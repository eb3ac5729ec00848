#include "linerwright/draw/curve_places.hpp"

#include <algorithm>

namespace linerwright {

namespace {

// The arc of a chord that turns by some angle from its neighbour strays from it by an eighth of its length
// times this angle (its sine will do). Toward a corner, chords end as short as that asks for.
bool strays(Vec2 chord, Vec2 neighbour, double most) {
  const double aside = cross(chord, neighbour);
  const double square = dot(neighbour, neighbour);
  return aside * aside > 64.0 * most * most * square ||
         (dot(chord, neighbour) < 0.0 && dot(chord, chord) > 64.0 * most * most);
}

// Which chords need a place half way.
std::vector<bool> bent(const std::vector<CurvePlace>& places, double most) {
  std::vector<bool> found(places.size(), false);
  for (std::size_t i = 1; i + 1 < places.size(); ++i)
    for (std::size_t curve = 0; curve < 2; ++curve) {
      const Vec2 in = places[i].at[curve] - places[i - 1].at[curve];
      const Vec2 out = places[i + 1].at[curve] - places[i].at[curve];
      if (strays(in, out, most)) found[i - 1] = true;
      if (strays(out, in, most)) found[i] = true;
    }
  return found;
}

}  // namespace

std::vector<CurvePlace> curve_places(const CurvePair& curves, const std::vector<double>& parameters,
                                     double most) {
  constexpr int k_rounds = 24;  // of halving: a curve that jumps ends there
  std::vector<CurvePlace> places;
  for (const double s : parameters) places.push_back({s, curves(s)});
  for (int round = 0; round < k_rounds; ++round) {
    const std::vector<bool> halve = bent(places, most);
    if (std::find(halve.begin(), halve.end(), true) == halve.end()) break;
    std::vector<CurvePlace> finer;
    for (std::size_t i = 0; i < places.size(); ++i) {
      finer.push_back(places[i]);
      if (!halve[i]) continue;
      const double s = 0.5 * (places[i].parameter + places[i + 1].parameter);
      finer.push_back({s, curves(s)});
    }
    places = std::move(finer);
  }
  return places;
}

}  // namespace linerwright
