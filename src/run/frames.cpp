#include <algorithm>
#include <array>

#include "linerwright/run/run.hpp"

namespace linerwright {

Frame composed(const Frame& outer, const Frame& inner) {
  return {outer.point(inner.origin), outer.direction(inner.x), outer.direction(inner.y),
          outer.direction(inner.z)};
}

Frame inverse(const Frame& frame) {
  const Vec3 origin = frame.local_direction(-frame.origin);
  return {origin,
          {frame.x.x, frame.y.x, frame.z.x},
          {frame.x.y, frame.y.y, frame.z.y},
          {frame.x.z, frame.y.z, frame.z.z}};
}

RunBox box_of(const LaidRun& run) {
  RunBox box{{1e300, 1e300, 1e300}, {-1e300, -1e300, -1e300}};
  const auto add = [&](Vec3 low, Vec3 high) {
    box.low = {std::min(box.low.x, low.x), std::min(box.low.y, low.y), std::min(box.low.z, low.z)};
    box.high = {std::max(box.high.x, high.x), std::max(box.high.y, high.y), std::max(box.high.z, high.z)};
  };
  for (const Placed& placed : run.fittings) {
    for (const WayPoint& point : placed.way) add(point.point, point.point);
    for (const Port& port : placed.ports) {
      // a circle's reach along an axis is its radius times the sine of the angle with it
      const double r = 0.5 * port.bare_diameter;
      const Vec3 z = port.frame.z;
      const auto reach = [&](double along) { return r * std::sqrt(std::max(0.0, 1.0 - along * along)); };
      const Vec3 half{reach(z.x), reach(z.y), reach(z.z)};
      add(port.frame.origin - half, port.frame.origin + half);
    }
  }
  return box;
}

}  // namespace linerwright
