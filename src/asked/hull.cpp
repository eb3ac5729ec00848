// A plane touches the rectangle in its corner on the side phi, the circle in the point on that side: n.C = A
// and n.(e + r n) = A - k H give its slope k = (A - r - e.n) / H (transition pieces by triangulation: W.
// Neubecker, Sheet Metal Work, 1918; its flats and cones are where the corner stays and where it does not).
// What lies w deep keeps that distance from every such plane.
#include <algorithm>

#include "hull_least.hpp"

namespace linerwright::asked {

namespace {

// Exact at whole quarters, where flats lie.
Point way_of(double phi) {
  const double quarters = phi / k_quarter;
  if (quarters == std::floor(quarters)) {
    const int q = ((static_cast<int>(quarters) % 4) + 4) % 4;
    return {q == 0 ? 1.0 : q == 2 ? -1.0 : 0.0, q == 1 ? 1.0 : q == 3 ? -1.0 : 0.0};
  }
  return {std::cos(phi), std::sin(phi)};
}

struct Line {
  Point way;
  double off;
};

Point crossing(const Line& a, const Line& b) {
  const double d = a.way[0] * b.way[1] - a.way[1] * b.way[0];
  return {(a.off * b.way[1] - b.off * a.way[1]) / d, (a.way[0] * b.off - b.way[0] * a.off) / d};
}

// Lines that run through one corner of the rectangle are not beyond it for a last bit.
bool beyond(const Line& line, const Point& p) {
  constexpr double k_same = 1e-9;  // mm
  return line.way[0] * p[0] + line.way[1] * p[1] > line.off + k_same;
}

// What all half planes have in common, their ways in turning order.
std::vector<Point> common(const std::vector<Line>& lines) {
  std::vector<Line> kept;
  std::size_t first = 0;
  for (const Line& line : lines) {
    while (kept.size() >= first + 2 && beyond(line, crossing(kept[kept.size() - 2], kept.back())))
      kept.pop_back();
    while (kept.size() >= first + 2 && beyond(line, crossing(kept[first], kept[first + 1]))) ++first;
    kept.push_back(line);
  }
  while (kept.size() > first + 2 && beyond(kept[first], crossing(kept[kept.size() - 2], kept.back())))
    kept.pop_back();
  std::vector<Point> corners;
  for (std::size_t i = first; i < kept.size(); ++i)
    corners.push_back(crossing(kept[i], i + 1 < kept.size() ? kept[i + 1] : kept[first]));
  return corners;
}

// The plane touches the rectangle at a corner and the circle.
HullLine plane_across(const Hull& hull, double phi) {
  const Point n = way_of(phi);
  const double reach = hull.half_width * std::abs(n[0]) + hull.half_height * std::abs(n[1]);
  const double slope = (reach - hull.radius - hull.moved[0] * n[0] - hull.moved[1] * n[1]) / hull.length;
  return {n, reach, slope, std::sqrt(1.0 + slope * slope)};
}

}  // namespace

double Hull::reach(double phi) const {
  return plane_across(*this, phi).reach;
}

double Hull::slope(double phi) const {
  return plane_across(*this, phi).slope;
}

double Hull::size_of(double phi) const {
  return plane_across(*this, phi).size;
}

Place Hull::normal(double phi) const {
  return plane(phi).u;
}

Place Hull::corner(int q) const {
  const int at = ((q % 4) + 4) % 4;
  return {at == 0 || at == 3 ? half_width : -half_width, at < 2 ? half_height : -half_height, 0.0};
}

Place Hull::on_circle(double phi) const {
  const Point n = way_of(phi);
  return {moved[0] + radius * n[0], moved[1] + radius * n[1], length};
}

double Hull::half_side(int side) const {
  return side % 2 == 0 ? half_height : half_width;
}

HullPlane Hull::plane(double phi) const {
  const HullLine across = plane_across(*this, phi);
  const double shorter = 1.0 / across.size;
  return {phi, shorter * Place{across.way[0], across.way[1], across.slope}, shorter * across.reach};
}

double Hull::under(const Place& place, double phi) const {
  const HullPlane on = plane(phi);
  return on.off - along(on.u, place);
}

namespace {

// Under planes that touch along no flat alone.
double deep_in_cones(const Hull& hull, const Place& place) {
  return least_of(hull, [&](const HullPlane& on) {
    const double quarters = on.phi / k_quarter;
    if (quarters == std::round(quarters)) return 1e300;
    // no cone comes down to where either panel stands
    const int q = static_cast<int>(quarters);
    const double deep = on.off - along(on.u, place);
    return place[2] < std::max(hull.square_top(q, deep), hull.square_top((q + 1) % 4, deep)) ? 1e300 : deep;
  });
}

}  // namespace

double Hull::depth_of(const Place& place) const {
  if (collar > 0.0 && place[2] > 0.5 * length) {
    const double x = place[0] - moved[0];
    const double y = place[1] - moved[1];
    const double deep = radius - std::hypot(x, y);
    if (place[2] > joint_height(std::atan2(y, x), deep)) return deep;
  }
  const bool in_square = square > 0.0 && place[2] < 0.0;
  const bool beside = std::abs(place[0]) > half_width || std::abs(place[1]) > half_height;
  if (in_square && !beside) return under_sides(place);
  // outside, its metal stands upright
  const Place at = in_square ? Place{place[0], place[1], 0.0} : place;
  const double deep = least_of(*this, [&](const HullPlane& on) { return on.off - along(on.u, at); });
  return square > 0.0 && deep > 0.0 ? std::min(deep_in_cones(*this, place), under_sides(place)) : deep;
}

namespace {

constexpr int k_fine = 800;  // planes of a quarter

}  // namespace

std::vector<Point> Hull::section(double z, double w, int every) const {
  std::vector<Line> lines;
  lines.reserve(fine.size() / static_cast<std::size_t>(every));
  if (square > 0.0 && w < 0.0) z = std::max(z, 0.0);  // outside, its metal stands upright
  for (std::size_t i = 0; i < fine.size(); i += static_cast<std::size_t>(every)) {
    const bool side = i % k_fine == 0;
    if (square > 0.0 && w >= 0.0 && side)
      lines.push_back({fine[i].way, side_off(static_cast<int>(i / k_fine), z, w)});
    else if (!(square > 0.0 && w >= 0.0) ||
             z >= std::max({0.0, square_top(static_cast<int>(i / k_fine), w),
                            square_top(static_cast<int>(i / k_fine + 1) % 4, w)}))
      lines.push_back({fine[i].way, fine[i].reach - fine[i].slope * z - w * fine[i].size});
  }
  return common(lines);
}

double Hull::section_area(double z, double w) const {
  const auto area = [&](int every) {
    const std::vector<Point> outline = section(z, w, every);
    double twice = 0.0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const Point& p = outline[i];
      const Point& next = outline[(i + 1) % outline.size()];
      twice += p[0] * next[1] - p[1] * next[0];
    }
    return 0.5 * twice;
  };
  // a polygon about a curve is too large by the square of its sides (L. F. Richardson, 1911)
  return (4.0 * area(1) - area(2)) / 3.0;
}

// Of a cone: half a ruling's length times the circle's step square to it.
double Hull::face_area() const {
  double twice = 0.0;
  constexpr int k_steps = 400;
  for (int q = 0; q < 4; ++q) {
    twice += 2.0 * half_side(q) * length * size_of(q * k_quarter);
    const auto rate = [&](double phi) {
      const HullRuling on = ruling(q, phi);
      return on.length * linerwright::asked::size(
                             square_to(on.way, {-radius * std::sin(phi), radius * std::cos(phi), 0.0}));
    };
    const double step = k_quarter / k_steps;
    for (int i = 0; i < k_steps; ++i) {  // Simpson's rule
      const double phi = q * k_quarter + i * step;
      twice += step / 6.0 * (rate(phi) + 4.0 * rate(phi + 0.5 * step) + rate(phi + step));
    }
  }
  return 0.5 * twice + k_turn * radius * collar + 4.0 * (half_width + half_height) * square;
}

namespace {

HullRuling between(const Place& from, const Place& to, const Place& normal, double phi) {
  const Place way = to - from;
  const double length = size(way);
  return {from, 1.0 / length * way, normal, length, phi};
}

}  // namespace

HullRuling Hull::ruling(int q, double phi) const {
  return between(corner(q), on_circle(phi), normal(phi), phi);
}

HullRuling Hull::flat_ruling(int side, double share) const {
  const double phi = side * k_quarter;
  const Place base = 0.5 * ((1.0 - share) * corner(side - 1) + (1.0 + share) * corner(side));
  return between(base, on_circle(phi), normal(phi), phi);
}

// What planes beside the ruling's own leave of the line. With m = (cos, sin, slope), not a unit, of the
// planes through the corner C on that side, what lies w deep has (C - p).m >= w |m|; at the ruling's own
// plane both sides are equal. On a flat, beside the other end of its side, the first derivative by phi
// decides: the line may go as far as the circle, (C - base).m' = length way.m'. Beside its own corner that is
// nothing on both sides, and the second decides, where way.m'' = -r / length.
Stretch Hull::beside(const HullRuling& on, double w) const {
  Stretch found{-1e300, 1e300, false};
  for (const double side : {-1.0, 1.0}) {
    constexpr double k_aside = 1e-9;
    const Place from = corner(static_cast<int>(std::floor((on.phi + side * k_aside) / k_quarter)));
    if (linerwright::asked::size(from - on.base) > 1e-9) {
      found.high = on.length;
      continue;
    }
    const Point n = way_of(on.phi);
    const double turned = ((from[1] - moved[1]) * n[0] - (from[0] - moved[0]) * n[1]) / length;
    const double size = size_of(on.phi);
    const double grown = slope(on.phi) * turned / size;
    found.low =
        std::max(found.low, w * (1.0 + turned * turned - grown * grown) * on.length / (size * radius));
  }
  return found;
}

namespace {

// Along a ruling w deep to the collar's cylinder, the crossing nearer to the circle: |h + s d| = r - w about
// the circle's axis, h and d level. From the circle on, where |h| is the greater by its own lean alone, by
// the smaller root of d.d u u + 2 (h.d) u + (h.h - (r - w)^2) = 0.
double to_collar(const Hull& hull, const HullRuling& on, double w) {
  const Place at = on.base + on.length * on.way - w * on.normal;
  const double x = at[0] - hull.moved[0];
  const double y = at[1] - hull.moved[1];
  const double a = on.way[0] * on.way[0] + on.way[1] * on.way[1];
  const double b = x * on.way[0] + y * on.way[1];
  // h.h - (r - w)^2, with |h| = r - w cos p: what is spared is w (1 - cos p)
  const double tangent = hull.slope(on.phi);
  constexpr double k_upright = 1e-9;  // goes on as the collar; what is left of the quadratic is rounding
  if (std::abs(tangent) < k_upright) return on.length;
  const double secant = hull.size_of(on.phi);
  const double spared = w * tangent * tangent / (secant * (1.0 + secant));
  const double c = spared * (2.0 * (hull.radius - w) + spared);
  const double root = b * b - a * c;
  if (root < 0.0) return 1e300;
  const double below = b + (b < 0.0 ? -std::sqrt(root) : std::sqrt(root));
  return on.length + (below == 0.0 ? 0.0 : -c / below);
}

}  // namespace

namespace {

constexpr int k_four[] = {0, 1, 2, 3};

}  // namespace

Stretch Hull::stretch(const HullRuling& on, double w) const {
  if (w == 0.0) return {0.0, on.length, false};
  const Place start = on.base - w * on.normal;
  const bool of_flat = std::none_of(std::begin(k_four), std::end(k_four), [&](int q) {
    return linerwright::asked::size(corner(q) - on.base) < 1e-9;
  });
  const bool on_panels = square > 0.0 && w > 0.0 && of_flat;
  Stretch found{on_panels ? above_panels(on, w) : -start[2] / on.way[2], (length - start[2]) / on.way[2],
                false};
  if (collar > 0.0) found.high = to_collar(*this, on, w);
  const double circle = found.high;
  // every other plane leaves the part of the line that lies deeper than w under it
  constexpr double k_near = 1e-3;  // radians: of those about the same corner both differ by its square
  // of those about the next corner, which a cone's ruling beside a flat comes very near to, by the angle
  // itself
  const bool of_corner =
      linerwright::asked::size(corner(static_cast<int>(on.phi / k_quarter)) - on.base) < 1e-9 ||
      linerwright::asked::size(corner(static_cast<int>(on.phi / k_quarter) - 1) - on.base) < 1e-9;
  const double k_next = of_corner ? 1e-6 : 1e-4;
  constexpr double k_along = 1e-11;  // a plane along the line
  const auto bound = [&](const HullPlane& other, bool upper) {
    const double apart = std::abs(other.phi - on.phi);
    if (std::min(apart, std::abs(apart - k_turn)) <= (upper ? k_next : k_near)) return 1e300;
    const double rate = -along(other.u, on.way);
    if (upper ? rate > -k_along : rate < k_along) return 1e300;
    const double limit = (w - other.off + along(other.u, start)) / rate;
    // beside the collar's panels the other sides are theirs, and no cone comes so low
    if (on_panels && !upper) {
      const int q = static_cast<int>(other.phi / k_quarter);
      const double z = start[2] + limit * on.way[2];
      if (other.phi == q * k_quarter || z < std::max({0.0, square_top(q, w), square_top((q + 1) % 4, w)}))
        return 1e300;
    }
    return upper ? limit : -limit;
  };
  const double low = least_of(*this, [&](const HullPlane& other) { return bound(other, false); });
  const double high = least_of(*this, [&](const HullPlane& other) { return bound(other, true); });
  const Stretch near = beside(on, w);
  found.low = std::max({found.low, near.low, -low});
  found.high = std::min({found.high, near.high, high});
  found.short_of_circle = found.high < circle;
  return found;
}

Hull hull_of(const Request& request) {
  Hull hull;
  hull.half_width = 0.5 * request.value("width");
  hull.half_height = 0.5 * request.value("height");
  hull.radius = 0.5 * request.value("diameter");
  hull.length = request.value("length");
  hull.moved = {request.value("shift_right"), request.value("shift_up")};
  hull.collar = request.value("round_collar");
  if (request.stated("square_collar")) hull.square = request.value("square_collar");
  // a side that leans less than a micrometre out of upright stands upright
  constexpr double k_upright = 1e-3;  // mm
  for (const auto& [half, moved] :
       {std::make_pair(&hull.half_width, hull.moved[0]), {&hull.half_height, hull.moved[1]}})
    if (std::fabs(*half - hull.radius - std::fabs(moved)) < k_upright) *half = hull.radius + std::fabs(moved);
  for (int q = 0; q < 4; ++q)
    for (int i = 0; i < k_fine; ++i) {
      const double phi = (q + static_cast<double>(i) / k_fine) * k_quarter;
      hull.fine.push_back(plane_across(hull, phi));
    }
  for (int q = 0; q < 4; ++q)
    for (int i = 0; i <= k_samples; ++i)
      hull.planes.push_back(hull.plane(
          i == k_samples ? (q + 1) * k_quarter : (q + static_cast<double>(i) / k_samples) * k_quarter));
  return hull;
}

}  // namespace linerwright::asked
