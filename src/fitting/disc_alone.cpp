#include "disc_alone.hpp"

#include <algorithm>

#include "linerwright/fitting/port.hpp"

namespace linerwright {

bool is_disc_alone(const Fitting& fitting) {
  return !fitting.walls.empty() && fitting.walls.front().sheet.is_flat();
}

// Each layer is a frustum between the circles in which its faces end.
double disc_volume(const Fitting& fitting, double w) {
  double volume = 0.0;
  for (const Wall& wall : fitting.walls) {
    const auto [outer, inner] = layer_of(fitting, wall.layer).faces();
    const double from = std::max(w, outer);
    if (from >= inner) continue;
    const Joint& rim = fitting.joint(wall.low.joint);
    const auto radius = [&](double depth) {
      return rim.lead.r1() - depths_of_shell(fitting, rim, depth).lead;
    };
    const double a = radius(from);
    const double b = radius(inner);
    volume += k_pi * (inner - from) * (a * a + a * b + b * b) / 3.0;
  }
  return volume;
}

double disc_area(const Fitting& fitting) {
  const double radius = fitting.walls.front().sheet.r1();
  return k_pi * radius * radius;
}

}  // namespace linerwright
