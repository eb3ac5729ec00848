// Straight lengths and elbows. An elbow of n pieces (end pieces counted) bends by A over 2 (n - 1) half
// segments, each mitred by A / (2 (n - 1)) (E. M. Longfield, Sheet Metal Drafting, 1921, p. 52 and 59:
// "backset", 90/8 = 11 1/4 degrees for five pieces); on a half segment the mitre stands (R - r cos x)
// tan(mitre) above its middle line, R the centreline radius, r the pipe's, x from the throat.
#include "kinds.hpp"

namespace linerwright::asked {

namespace {

BoreAt place(const std::string& passage, const std::string& name, double bare, double lined) {
  return {passage, name, bare, lined};
}

}  // namespace

Wanted wanted_straight(const Request& request) {
  const double length = request.value("length");
  const double diameter = request.value("diameter");
  const double lined = diameter - 2.0 * request.value("thickness");
  Wanted wanted;
  Wall wall;
  wall.id = "1";
  wall.role = "straight length";
  wall.radius = diameter / 2.0;
  wall.low = [](double, double) { return 0.0; };
  wall.high = [length](double, double) { return length; };
  wanted.walls.push_back(wall);
  wanted.ends = {{"1", {0, 0, 0}, {0, 0, -1}, wall.radius, true},
                 {"1", {0, 0, length}, {0, 0, 1}, wall.radius, true}};
  wanted.bore = {place("through", "one end", diameter, lined),
                 place("through", "other end", diameter, lined)};
  return wanted;
}

Wanted wanted_elbow(const Request& request) {
  const double diameter = request.value("diameter");
  const double bend = request.value("angle");
  const int pieces = static_cast<int>(request.value("pieces"));
  const double mitre = bend / (2.0 * (pieces - 1));
  const double metal_bend = request.stated("centreline_radius") ? request.value("centreline_radius")
                                                                : request.value("radius_ratio") * diameter;
  const double collar = request.value("collar");
  const bool smooth = request.word("form") == "smooth";
  const bool from_throat = request.word("seam") == "throat";
  // In a smooth bend the gores touch the heel at their mitres and the throat at their middles.
  double radius = diameter / 2.0;
  double centre = metal_bend;
  if (smooth) {
    const double heel = (metal_bend + diameter / 2.0) * std::cos(mitre);
    const double throat = metal_bend - diameter / 2.0;
    radius = (heel - throat) / 2.0;
    centre = (heel + throat) / 2.0;
  }
  Wanted wanted;
  for (int k = 0; k < pieces; ++k) {
    const double turned = 2.0 * mitre * k;
    Wall wall;
    wall.id = std::to_string(k + 1);
    wall.role = k == 0 || k == pieces - 1 ? "end piece" : "middle piece";
    wall.radius = radius;
    wall.axis = {std::sin(turned), 0.0, std::cos(turned)};
    wall.zero = {std::cos(turned), 0.0, -std::sin(turned)};  // to the throat
    wall.origin = {metal_bend - centre * std::cos(turned), 0.0, centre * std::sin(turned)};
    const auto cut = [radius, centre, mitre](double theta, double w) {
      return (centre - (radius - w) * std::cos(theta)) * std::tan(mitre);
    };
    wall.low = [=](double theta, double w) { return k == 0 ? -collar : -cut(theta, w); };
    wall.high = [=](double theta, double w) { return k == pieces - 1 ? collar : cut(theta, w); };
    wall.low_open = k == 0;
    wall.high_open = k == pieces - 1;
    wall.seam = (k % 2 == 0) == from_throat ? 0.0 : k_pi;
    if (k == 0)
      wanted.ends.push_back({wall.id, wall.origin - collar * wall.axis, -1.0 * wall.axis, radius, true});
    if (k == pieces - 1)
      wanted.ends.push_back({wall.id, wall.origin + collar * wall.axis, wall.axis, radius, true});
    wanted.walls.push_back(wall);
  }
  const double lined = 2.0 * (radius - request.value("thickness"));
  wanted.bore = {place("through", "one end", diameter, lined),
                 place("through", "other end", diameter, lined)};
  if (smooth) {  // Pappus: area of the ring times the way of its centre
    const double outer = diameter / 2.0 + request.value("gauge");
    wanted.metal_volume =
        k_pi * (outer * outer - diameter * diameter / 4.0) * (bend * metal_bend + 2.0 * collar);
    wanted.metal_ends = {{"", {0, 0, -collar}, {0, 0, -1}, diameter / 2.0, true}};
    const Place way{std::sin(bend), 0.0, std::cos(bend)};
    const Place tip{metal_bend - metal_bend * std::cos(bend), 0.0, metal_bend * std::sin(bend)};
    wanted.metal_ends.push_back({"", tip + collar * way, way, diameter / 2.0, true});
  }
  return wanted;
}

}  // namespace linerwright::asked
