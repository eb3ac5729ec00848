// Outlines for the tests of nesting.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>

#include "linerwright/nest/nest.hpp"
#include "random.hpp"
#include "support/cases.hpp"

namespace linerwright::test {

inline Ring rectangle(double width, double height, Vec2 low = {}) {
  return {low, low + Vec2{width, 0.0}, low + Vec2{width, height}, low + Vec2{0.0, height}};
}

inline NestPart part(const std::string& id, Ring outline, int count = 1) {
  NestPart result;
  result.id = id;
  result.outline = std::move(outline);
  result.count = count;
  return result;
}

inline NestBoard board(double length, double width, std::optional<int> quantity = std::nullopt) {
  NestBoard result;
  result.id = "board";
  result.length = length;
  result.width = width;
  result.quantity = quantity;
  return result;
}

inline NestBoard roll(double length, double width) {
  NestBoard result = board(length, width);
  result.id = "roll";
  result.roll = true;
  return result;
}

// A job to fill in, searched with the usual effort, or where LINERWRIGHT_CASES is under 1 with that share of
// it: what these tests ask for is found at once.
inline NestJob job_to_fill() {
  NestJob job;
  job.options.effort = std::min(1.0, support::share_of_cases()) * k_effort_quick;
  return job;
}

// A hollow star: corners at random distances between `inner` and `outer` around the origin, evenly spread.
// Never crosses itself.
inline Ring star(nesting::Random& random, std::size_t corners, double inner, double outer) {
  Ring ring;
  for (std::size_t i = 0; i < corners; ++i) {
    const double angle = k_two_pi * static_cast<double>(i) / static_cast<double>(corners);
    const double radius = random.between(inner, outer);
    ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return ring;
}

// A comb: a bar `teeth` pitches long with a tooth of half a pitch on each.
inline Ring comb(std::size_t teeth, double pitch, double bar, double tooth) {
  Ring ring{{0.0, 0.0}, {static_cast<double>(teeth) * pitch, 0.0}};
  for (std::size_t i = teeth; i-- > 0;) {
    const double x = static_cast<double>(i) * pitch;
    ring.push_back({x + pitch, bar});
    ring.push_back({x + 0.5 * pitch, bar});
    ring.push_back({x + 0.5 * pitch, bar + tooth});
    ring.push_back({x, bar + tooth});
  }
  return ring;
}

// A square spiral of one and a half turns, its channel as wide as its wall.
inline Ring spiral(double w) {
  return {{0, 0},         {7 * w, 0},     {7 * w, 7 * w}, {2 * w, 7 * w}, {2 * w, 3 * w},
          {4 * w, 3 * w}, {4 * w, 4 * w}, {3 * w, 4 * w}, {3 * w, 6 * w}, {6 * w, 6 * w},
          {6 * w, w},     {w, w},         {w, 7 * w},     {0, 7 * w}};
}

// Even-odd, straight from the corners; an oracle of its own.
inline bool covers(const Ring& ring, Vec2 p) {
  bool inside = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[(i + 1) % ring.size()];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) inside = !inside;
  }
  return inside;
}

}  // namespace linerwright::test
