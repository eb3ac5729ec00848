// A wall of straight rulings on a circle: b + v d - w n. With the second circle at height h, radius R2, its
// centre moved by e: d runs from circle to circle, n = (u, c) / sqrt(1 + c^2) with c = (R1 - R2 - e.u) / h,
// since n must be square to d and to the circle's tangent. (First principles; for e = 0 it is the right cone
// of the handbooks.)
#include "wall.hpp"

#include <algorithm>

#include "closed_curve.hpp"

namespace linerwright::asked {

namespace {

// An angle's cosine and sine, found once for all that asks for them.
struct Turned {
  explicit Turned(double theta) : c(std::cos(theta)), s(std::sin(theta)) {}
  double c, s;
};

double lean_of(const Wall& wall, const Turned& on) {
  return wall.taper <= 0.0
             ? 0.0
             : (wall.radius - wall.to_radius - wall.shift[0] * on.c - wall.shift[1] * on.s) / wall.taper;
}

// Of the ruling from circle to circle: along zero and along side.
Point way_of(const Wall& wall, const Turned& on) {
  const double grows = wall.to_radius - wall.radius;
  return {wall.shift[0] + grows * on.c, wall.shift[1] + grows * on.s};
}

double ruling_length(const Wall& wall, const Point& way) {
  return std::sqrt(way[0] * way[0] + way[1] * way[1] + wall.taper * wall.taper);
}

Place ruling_on(const Wall& wall, const Turned& on) {
  if (wall.taper <= 0.0) return wall.axis;
  const Point way = way_of(wall, on);
  return 1.0 / ruling_length(wall, way) *
         (way[0] * wall.zero + way[1] * wall.side() + wall.taper * wall.axis);
}

Place normal_on(const Wall& wall, const Turned& on) {
  const double lean = lean_of(wall, on);
  return 1.0 / std::sqrt(1.0 + lean * lean) * (on.c * wall.zero + on.s * wall.side() + lean * wall.axis);
}

}  // namespace

double Wall::lean(double theta) const {
  return lean_of(*this, Turned(theta));
}

double Wall::full_ruling(double theta) const {
  return ruling_length(*this, way_of(*this, Turned(theta)));
}

Place Wall::ruling(double theta) const {
  return ruling_on(*this, Turned(theta));
}

Place Wall::normal(double theta) const {
  return normal_on(*this, Turned(theta));
}

Place Wall::at(double theta, double v, double w) const {
  const Turned on(theta);
  const Place rim = origin + radius * (on.c * zero + on.s * side());
  return rim + v * ruling_on(*this, on) - w * normal_on(*this, on);
}

namespace {

// How deep a point (as x, y, z along zero, side and axis) lies under the plane that touches a taper there.
double under_plane(const Wall& wall, const Place& local, const Turned& on) {
  const double lean = lean_of(wall, on);
  return (wall.radius - local[0] * on.c - local[1] * on.s - lean * local[2]) / std::sqrt(1.0 + lean * lean);
}

// How fast that depth grows with the angle: (a / s)' = (a' s - a s') / s^2.
double growth(const Wall& wall, const Place& local, double theta) {
  const Turned on(theta);
  const double lean = lean_of(wall, on);
  const double turning = (wall.shift[0] * on.s - wall.shift[1] * on.c) / wall.taper;
  const double size = std::sqrt(1.0 + lean * lean);
  const double over = wall.radius - local[0] * on.c - local[1] * on.s - lean * local[2];
  const double grows = local[0] * on.s - local[1] * on.c - turning * local[2];
  return (grows * size - over * lean * turning / size) / (size * size);
}

Place local_of(const Wall& wall, const Place& point) {
  const Place from = point - wall.origin;
  return {along(from, wall.zero), along(from, wall.side()), along(from, wall.axis)};
}

}  // namespace

double Wall::ruling_over(const Place& point) const {
  const Place local = local_of(*this, point);
  if (taper <= 0.0 || is_disc()) return std::atan2(local[1], local[0]);
  // The depth is the least over all tangent planes, for the surface is convex: of a few planes the nearest,
  // from there by ever smaller steps, and at last by secants to where it neither grows nor falls.
  constexpr int k_planes = 32;
  const auto depth = [&](double theta) { return under_plane(*this, local, Turned(theta)); };
  double best = 0.0;
  double least = depth(best);
  const auto nearer = [&](double theta) {
    const double found = depth(theta);
    if (!(found < least)) return false;
    best = theta;
    least = found;
    return true;
  };
  for (int i = 1; i < k_planes; ++i) nearer(k_turn * i / k_planes);
  for (double step = 0.2; step > 1e-3; step *= 0.5) {
    while (nearer(best + step)) {
    }
    while (nearer(best - step)) {
    }
  }
  double before = best + 1e-3;
  double grew = growth(*this, local, before);
  for (int i = 0; i < 20; ++i) {
    const double grows = growth(*this, local, best);
    if (grows == grew) break;
    const double next = best - grows * (best - before) / (grows - grew);
    before = best;
    grew = grows;
    best = next;
    if (std::abs(best - before) < 1e-14) break;
  }
  return best;
}

double Wall::depth_of(const Place& point) const {
  const Place local = local_of(*this, point);
  if (taper <= 0.0) return radius - std::hypot(local[0], local[1]);
  return under_plane(*this, local, Turned(ruling_over(point)));
}

namespace {

// What a hole takes out of a cylinder's surface at depth w, developed: the integral of height over angle.
double hole_area_at(const Wall& wall, const Rim& rim, double w) {
  const double sum = around_curve([&](double psi) { return rim(psi, w); },
                                  [](const Point& before, const Point& now) {
                                    return 0.5 * (now[0] - before[0]) * (now[1] + before[1]);
                                  });
  return std::abs(sum) * (wall.radius - w);
}

// The integral of f over theta and v between low and high edge. What is integrated is linear in v on a
// ruling, for the normal stays and the way between two rulings grows evenly: its middle is exact.
template <class Function>
double over_wall(const Wall& wall, double w, const Function& f) {
  double sum = 0.0;
  for (int i = 0; i < wall.around; ++i) {
    const double theta = k_turn * (i + 0.5) / wall.around;
    const double low = wall.low(theta, w);
    const double reach = wall.high(theta, w) - low;
    const double h = 1e-5;
    const Place d = wall.ruling(theta);
    const Place turn = 0.5 / h * (wall.ruling(theta + h) - wall.ruling(theta - h));
    const Place start = 0.5 / h * (wall.at(theta + h, 0.0, w) - wall.at(theta - h, 0.0, w));
    const double v = low + 0.5 * reach;
    // the area that a step in theta and a step in v span, outward
    sum += reach * f(wall.at(theta, v, w), square_to(start + v * turn, d));
  }
  return sum * k_turn / wall.around;
}

}  // namespace

double area_at(const Wall& wall, double w) {
  double area = 0.0;
  if (wall.taper > 0.0) {
    area = over_wall(wall, w, [](const Place&, const Place& span) { return size(span); });
  } else {
    for (int i = 0; i < wall.around; ++i) {
      const double theta = k_turn * (i + 0.5) / wall.around;
      area += wall.high(theta, w) - wall.low(theta, w);
    }
    area *= (wall.radius - w) * k_turn / wall.around;
  }
  for (const Rim& rim : wall.holes) area -= hole_area_at(wall, rim, w);
  return area;
}

double layer_volume(const Wall& wall, double from, double to) {
  // Gauss's three points (the same table) beside five: where they agree, areas change smoothly with the
  // depth.
  constexpr double k_agree = 1e-9;
  const double aside = 0.5 * std::sqrt(0.6);
  const auto at = [&](double share) { return area_at(wall, from + (to - from) * share); };
  const double three = (5.0 * at(0.5 - aside) + 8.0 * at(0.5) + 5.0 * at(0.5 + aside)) / 18.0;
  double five = 0.0;
  for (int k = 0; k < 5; ++k) five += k_gauss_weight[k] * at(k_gauss_at[k]);
  if (std::abs(three - five) <= k_agree * std::abs(five)) return five * (to - from);
  // Else by u on [0, 1], the depth going as u u (3 - 2 u), so that points crowd toward both ends: where walls
  // touch, areas change there like a root of the depth.
  constexpr int k_panels = 4;
  double sum = 0.0;
  for (int panel = 0; panel < k_panels; ++panel)
    for (int k = 0; k < 5; ++k) {
      const double u = (panel + k_gauss_at[k]) / k_panels;
      sum += k_gauss_weight[k] / k_panels * 6.0 * u * (1.0 - u) * at(u * u * (3.0 - 2.0 * u));
    }
  return sum * (to - from);
}

double end_area(const Wanted& wanted, const OpenEnd& end, double w) {
  double area = 0.0;
  for (const Wall& wall : wanted.walls) {
    if (wall.id != end.wall) continue;
    const bool low = along(end.outward, wall.axis) < 0.0;
    area += around_curve(
        [&](double theta) {
          return wall.at(theta, low ? wall.low(theta, w) : wall.high(theta, w), w) - end.centre;
        },
        [&](const Place& before, const Place& now) {
          return 0.5 * along(square_to(before, now), wall.axis);
        });
  }
  return area;
}

namespace {

// Three times what a wall's surface at depth w adds to a volume: the integral of the place along the normal.
// A hole's share is right for walls whose axis runs through the origin; others have none.
double flux_of(const Wall& wall, double w) {
  if (wall.taper > 0.0)
    return over_wall(wall, w, [](const Place& at, const Place& span) { return along(at, span); });
  double sum = 0.0;
  for (int i = 0; i < wall.around; ++i) {
    const double theta = k_turn * (i + 0.5) / wall.around;
    const Place n = wall.normal(theta);
    sum += along(wall.at(theta, 0.0, w), n) * (wall.high(theta, w) - wall.low(theta, w));
  }
  sum *= (wall.radius - w) * k_turn / wall.around;
  for (const Rim& rim : wall.holes) sum -= (wall.radius - w) * hole_area_at(wall, rim, w);
  return sum;
}

}  // namespace

double piece_volume(const Wall& wall, double from, double to) {
  const auto low = [&](double s, double w) {
    return wall.low_rim ? wall.low_rim(s, w) : wall.at(s, wall.low(s, w), w);
  };
  const auto high = [&](double s, double w) {
    return wall.high_rim ? wall.high_rim(s, w) : wall.at(s, wall.high(s, w), w);
  };
  double sum =
      flux_of(wall, from) - flux_of(wall, to) + flux_between(high, from, to) - flux_between(low, from, to);
  for (const Rim& rim : wall.holes)
    sum += flux_between(
        [&](double psi, double w) {
          const Point at = rim(psi, w);
          return wall.at(at[0], at[1], w);
        },
        from, to);
  return sum / 3.0;
}

namespace {

// The integral of f over what an opening takes out of a taper at depth w, f one number on each ruling: a step
// around and a step up span what grows evenly along the ruling, so up to v they span (a + b v / 2) v.
template <class Function>
double over_opening(const Wall& wall, const Rim& rim, double w, const Function& f) {
  const auto upto = [&](const Point& at) {
    const double h = 1e-5;
    const Place d = wall.ruling(at[0]);
    const Place around = square_to(d, wall.normal(at[0]));
    const Place turn = 0.5 / h * (wall.ruling(at[0] + h) - wall.ruling(at[0] - h));
    const Place start = 0.5 / h * (wall.at(at[0] + h, 0.0, w) - wall.at(at[0] - h, 0.0, w));
    return f(at[0]) * (along(start, around) + 0.5 * at[1] * along(turn, around)) * at[1];
  };
  using Step = std::array<double, 2>;  // theta, and what lies under its place
  return -around_curve(
      [&](double psi) {
        const Point at = rim(psi, w);
        return Step{at[0], upto(at)};
      },
      [](const Step& before, const Step& now) { return 0.5 * (now[0] - before[0]) * (now[1] + before[1]); });
}

// Three times what an opening's patch at depth w adds to a volume, seen from the middle of the wall's first
// circle.
double opening_flux(const Wall& wall, const Rim& rim, double w) {
  const auto off = [&](double theta) {
    return along(wall.at(theta, 0.0, w) - wall.origin, wall.normal(theta));
  };
  // on a cylinder or a disc every normal stands equally far off
  if (wall.taper <= 0.0 || wall.is_disc()) return off(0.0) * opening_area(wall, rim, w);
  return over_opening(wall, rim, w, off);
}

}  // namespace

double opening_area(const Wall& wall, const Rim& rim, double w) {
  if (wall.taper <= 0.0) return hole_area_at(wall, rim, w);
  if (!wall.is_disc()) return over_opening(wall, rim, w, [](double) { return 1.0; });
  return std::abs(around_curve(  // flat as it is, about its middle or not
      [&](double psi) {
        const Point at = rim(psi, w);
        return wall.at(at[0], at[1], w) - wall.origin;
      },
      [&](const Place& before, const Place& now) { return 0.5 * along(square_to(before, now), wall.axis); }));
}

// Gauss's theorem.
double opening_volume(const Wall& wall, const Rim& rim, double from, double to) {
  const auto curve = [&](double psi, double w) {
    const Point at = rim(psi, w);
    return wall.at(at[0], at[1], w) - wall.origin;
  };
  return (opening_flux(wall, rim, from) - opening_flux(wall, rim, to) - flux_between(curve, from, to)) / 3.0;
}

std::vector<Rim> liner_rims(const Wall& wall) {
  std::vector<Rim> rims = wall.holes;
  rims.insert(rims.end(), wall.openings.begin(), wall.openings.end());
  return rims;
}

double inside_volume(const Wanted& wanted, double w) {
  if (wanted.inside) return wanted.inside(w);
  // Gauss's theorem: a third of the surface integral of the place along the outward normal. Cylinders see
  // their own axis as origin where it runs through all places' origin; holes lie on such ones alone.
  double sum = 0.0;
  for (const Wall& wall : wanted.walls) sum += flux_of(wall, w);
  for (const OpenEnd& end : wanted.ends) sum += along(end.centre, end.outward) * end_area(wanted, end, w);
  return sum / 3.0;
}

}  // namespace linerwright::asked
