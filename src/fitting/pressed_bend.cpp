#include "linerwright/fitting/pressed_bend.hpp"

#include <cmath>

namespace linerwright {

Frame far_end(const PressedBend& bend) {
  const double c = std::cos(bend.angle);
  const double s = std::sin(bend.angle);
  const double rho = bend.centreline_radius;
  Frame end = bend.frame;
  end.x = bend.frame.direction({c, 0.0, -s});
  end.z = bend.frame.direction({s, 0.0, c});
  end.origin = bend.frame.point({rho * (1.0 - c), 0.0, rho * s}) + bend.high_collar * end.z;
  return end;
}

std::vector<PressedBend> bends_of(const PressedBend& pressed) {
  if (!pressed.between) return {pressed};
  PressedBend first = pressed;
  first.high_collar = *pressed.between;
  first.between.reset();
  PressedBend second = first;
  second.low_collar = 0.0;
  second.high_collar = pressed.high_collar;
  second.frame = far_end(first);
  second.frame.x = -second.frame.x;
  second.frame.y = -second.frame.y;
  return {first, second};
}

double centreline_of(const PressedBend& pressed) {
  double length = 0.0;
  for (const PressedBend& bend : bends_of(pressed))
    length += bend.centreline_radius * bend.angle + bend.low_collar + bend.high_collar;
  return length;
}

}  // namespace linerwright
