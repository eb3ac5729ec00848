// Legs that part from one inlet. All walls touch one sphere about the point where the axes meet, as wide as
// the inlet: then they meet in plane curves (G. Monge; in books on pattern drafting, Y branches "about a
// common sphere", from memory). A leg's end of radius r at L has a wall that leans by p with R = r cos p + L
// sin p, of which tan(p/2) is a root: (R + r) x^2 - 2 L x + R - r = 0. On a line of one wall, which touches
// the sphere of radius R - w at (R - w) n and goes on along d, another wall (axis a, half angle q) is left
// behind at (R - w) (a.n - sin q) / (cos q - a.d); the line begins at the farthest of these.
#include <algorithm>

#include "kinds.hpp"

namespace linerwright::asked {

namespace {

struct Leg {
  Place axis{};
  double radius = 0.0, length = 0.0;
  double lean = 0.0;  // p
};

double around_of(const Request& request, std::size_t i) {
  if (request.stated("around", i)) return request.value("around", i);
  return k_turn * static_cast<double>(i) / request.value("legs");
}

Leg leg_of(const Request& request, std::size_t i) {
  const double sphere = request.value("diameter") / 2.0;
  const double angle = request.value("angle", i);
  const double around = around_of(request, i);
  Leg leg;
  leg.axis = {std::sin(angle) * std::cos(around), std::sin(angle) * std::sin(around), std::cos(angle)};
  leg.length = request.value("leg_length", i);
  leg.radius = request.stated("leg_diameter", i) ? request.value("leg_diameter", i) / 2.0 : sphere;
  // sizes that differ by less than a ten-millionth of the inlet's radius are meant equal
  if (std::abs(leg.radius - sphere) < 1e-7 * sphere) leg.radius = sphere;
  const double root = std::sqrt(leg.length * leg.length + leg.radius * leg.radius - sphere * sphere);
  if (leg.radius != sphere) leg.lean = 2.0 * std::atan((leg.length - root) / (sphere + leg.radius));
  return leg;
}

// The inlet as a leg that leads back.
Leg inlet_of(const Request& request) {
  return {{0.0, 0.0, -1.0}, request.value("diameter") / 2.0, request.value("inlet_length"), 0.0};
}

// Where the line of one wall that has this normal and goes this way leaves all others behind, for each
// millimetre of the sphere's radius.
double leaves_at(const std::vector<Leg>& legs, std::size_t own, const Place& normal, const Place& way) {
  double farthest = -1e300;
  for (std::size_t i = 0; i < legs.size(); ++i) {
    if (i == own) continue;
    const double opens = std::cos(legs[i].lean) - along(legs[i].axis, way);
    if (opens > 1e-12)
      farthest = std::max(farthest, (along(legs[i].axis, normal) - std::sin(legs[i].lean)) / opens);
  }
  return farthest;
}

// Away from the other legs; where these lie evenly about it, in its plane with the inlet.
Place heel_of(const Request& request, const std::vector<Leg>& legs, std::size_t own) {
  Place others{};
  for (std::size_t i = 1; i < legs.size(); ++i)
    if (i != own) others = others + legs[i].axis;
  const Place beside = others - along(others, legs[own].axis) * legs[own].axis;
  if (size(beside) > 1e-9) return -1.0 / size(beside) * beside;
  const double angle = request.value("angle", own - 1);
  const double around = around_of(request, own - 1);
  return {std::cos(angle) * std::cos(around), std::cos(angle) * std::sin(around), -std::sin(angle)};
}

}  // namespace

Wanted wanted_wye(const Request& request) {
  const double sphere = request.value("diameter") / 2.0;
  const double t = request.bore_depth();
  const auto count = static_cast<std::size_t>(request.value("legs"));
  std::vector<Leg> legs{inlet_of(request)};
  for (std::size_t i = 0; i < count; ++i) legs.push_back(leg_of(request, i));
  Wanted wanted;
  for (std::size_t k = 0; k < legs.size(); ++k) {
    const Leg& leg = legs[k];
    const bool inlet = k == 0;
    Wall wall;
    wall.id = inlet ? "main" : "leg" + std::to_string(k);
    wall.role = inlet ? "inlet" : "leg";
    wall.around = 5760;
    // an inlet's heights go with the air, a leg's from where it touches the sphere
    wall.axis = inlet ? Place{0.0, 0.0, 1.0} : leg.axis;
    wall.zero = inlet ? Place{1.0, 0.0, 0.0} : heel_of(request, legs, k);
    wall.origin = sphere * std::sin(leg.lean) * leg.axis;
    wall.radius = sphere * std::cos(leg.lean);
    if (leg.radius != sphere) {
      wall.taper = leg.length - sphere * std::sin(leg.lean);
      wall.to_radius = leg.radius;
    }
    const Wall bare = wall;
    const auto begins = [legs, k, bare, sphere, inlet](double theta, double w) {
      const Place way = inlet ? Place{0.0, 0.0, -1.0} : bare.ruling(theta);
      return (sphere - w) * leaves_at(legs, k, bare.normal(theta), way);
    };
    const double tilt = leg.lean;
    const double far = leg.length;
    const auto ends = [sphere, tilt, far](double, double w) {
      return (far - (sphere - w) * std::sin(tilt)) / std::cos(tilt);
    };
    wall.low = inlet ? Edge([ends](double theta, double w) { return -ends(theta, w); }) : Edge(begins);
    wall.high = inlet ? Edge([begins](double theta, double w) { return -begins(theta, w); }) : Edge(ends);
    wall.low_open = inlet;
    wall.high_open = !inlet;
    wall.seam = request.value(inlet ? "inlet_seam" : "leg_seam");
    wanted.walls.push_back(wall);
    wanted.ends.push_back({wall.id, leg.length * leg.axis, leg.axis, leg.radius, wall.taper <= 0.0});
    const double lined = 2.0 * std::sqrt(end_area(wanted, wanted.ends.back(), t) / k_pi);
    wanted.bore.push_back({inlet ? "inlet" : wall.id, inlet ? "open end" : "leg end", 2.0 * leg.radius,
                           inlet ? 2.0 * (sphere - t) : lined});
  }
  return wanted;
}

}  // namespace linerwright::asked
