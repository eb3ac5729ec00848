// Straight lengths, elbows and offsets. An elbow of n pieces (end pieces counted) bends by A over 2 (n - 1)
// half segments, each mitred by A / (2 (n - 1)) (E. M. Longfield, Sheet Metal Drafting, 1921, p. 52 and 59:
// "backset", 90/8 = 11 1/4 degrees for five pieces); on a half segment the mitre stands (R - r cos x)
// tan(mitre) above its middle line, R the centreline radius, r the pipe's, x from the throat.
#include <algorithm>

#include "held.hpp"
#include "kinds.hpp"
#include "openings.hpp"

namespace linerwright::asked {

double centreline_of(const Request& request) {
  return request.stated("centreline_radius") ? request.value("centreline_radius")
                                             : request.value("radius_ratio") * request.value("diameter");
}

namespace {

BoreAt place(const std::string& passage, const std::string& name, double bare, double lined) {
  return {passage, name, bare, lined};
}

// One gore of a bend: its axis turned so far from the z axis in the plane of the bends, its ruling 0 toward
// the throat of a first bend.
Wall gore(std::size_t number, double radius, double turned, const Place& origin, bool at_an_end) {
  Wall wall;
  wall.id = std::to_string(number);
  wall.role = at_an_end ? "end piece" : "middle piece";
  wall.radius = radius;
  wall.origin = origin;
  wall.axis = {std::sin(turned), 0.0, std::cos(turned)};
  wall.zero = {std::cos(turned), 0.0, -std::sin(turned)};
  return wall;
}

// The angle and the way between two equal bends of centreline radius R that carry a duct sideways by H: over
// a stated angle A the way is (H - 2 R (1 - cos A)) / sin A; over a stated length X it is the angle at which
// 2 R sin A + way cos A = X. That sum falls as A grows, until nothing is between the bends: halved until it
// is found.
struct Swing {
  double angle = 0.0;
  double between = 0.0;
};

Swing swing_of(const Request& request) {
  const double across = request.stated("rise") || request.stated("roll")
                            ? std::sqrt(std::pow(request.stated("rise") ? request.value("rise") : 0.0, 2) +
                                        std::pow(request.stated("roll") ? request.value("roll") : 0.0, 2))
                            : request.value("offset");
  const double centre = centreline_of(request);
  const auto between = [&](double angle) {
    return (across - 2.0 * centre * (1.0 - std::cos(angle))) / std::sin(angle);
  };
  if (request.stated("angle")) return {request.value("angle"), between(request.value("angle"))};
  const double over = request.value("length");
  double flat = 0.0;
  double steep = across >= 4.0 * centre ? k_pi : std::acos(1.0 - across / (2.0 * centre));
  for (int i = 0; i < 200; ++i) {
    const double angle = 0.5 * (flat + steep);
    const bool longer = 2.0 * centre * std::sin(angle) + between(angle) * std::cos(angle) > over;
    (longer ? flat : steep) = angle;
  }
  return {steep, between(steep)};
}

}  // namespace

Wanted wanted_straight(const Request& request) {
  const double diameter = request.value("diameter");
  const double lined = diameter - 2.0 * request.bore_depth();
  Wanted wanted;
  double length = 0.0;
  if (request.stated("duct_lengths")) {
    for (std::size_t i = 0; i < request.count("duct_lengths"); ++i)
      wanted.duct_joints.push_back(length += request.value("duct_lengths", i));
    wanted.duct_joints.pop_back();
  } else {
    length = request.value("length");
  }
  Wall wall;
  wall.id = "1";
  wall.role = "straight length";
  wall.radius = diameter / 2.0;
  wall.low = [](double, double) { return 0.0; };
  wall.high = [length](double, double) { return length; };
  if (request.value("seam_at") != 0.0) wall.seam = request.value("seam_at");
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
  const double metal_bend = centreline_of(request);
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
    Wall wall = gore(wanted.walls.size() + 1, radius, turned,
                     {metal_bend - centre * std::cos(turned), 0.0, centre * std::sin(turned)},
                     k == 0 || k == pieces - 1);
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
  const double lined = 2.0 * (radius - request.bore_depth());
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

// An offset (S-piece): a bend and, after a straight way, the same bend the other way. The last gore of the
// first bend, the straight way and the first gore of the second are one piece.
Wanted wanted_offset(const Request& request) {
  const double metal = request.value("diameter") / 2.0;
  const double centre = centreline_of(request);
  const double collar = request.value("collar");
  const int turns = static_cast<int>(request.value("pieces")) - 1;  // of either bend
  const Swing swing = swing_of(request);
  const double mitre = swing.angle / (2.0 * turns);
  const bool from_throat = request.word("seam") == "throat";
  // In a smooth one the piece between the bends lies about the metal's axis, and so do all: they touch the
  // heels on the mitre planes.
  const bool smooth = request.word("form") == "smooth";
  const double radius = smooth ? (centre + metal) * std::cos(mitre) - centre : metal;
  const auto to_throat = [](double turned) { return Place{std::cos(turned), 0.0, -std::sin(turned)}; };
  const Place way{std::sin(swing.angle), 0.0, std::cos(swing.angle)};
  const Place pivot{centre, 0.0, 0.0};
  const Place leaves = pivot - centre * to_throat(swing.angle);
  const Place opposite = leaves + swing.between * way - centre * to_throat(swing.angle);
  const auto toward_first = [=](double theta, double w) {
    return (centre - (radius - w) * std::cos(theta)) * std::tan(mitre);
  };
  const auto toward_second = [=](double theta, double w) {
    return (centre + (radius - w) * std::cos(theta)) * std::tan(mitre);
  };
  Wanted wanted;
  for (int k = 0; k <= 2 * turns; ++k) {
    const bool first = k < turns;
    const double turned = 2.0 * mitre * (first ? k : 2 * turns - k);
    const double half = k == turns ? 0.5 * swing.between : 0.0;
    const Place origin = k == turns ? leaves + half * way
                         : first    ? pivot - centre * to_throat(turned)
                                    : opposite + centre * to_throat(turned);
    Wall wall = gore(wanted.walls.size() + 1, radius, turned, origin, k == 0 || k == 2 * turns);
    if (k == turns) wall.role = "piece between the bends";
    wall.low_open = k == 0;
    wall.high_open = k == 2 * turns;
    wall.low = [=](double theta, double w) {
      return k == 0 ? -collar : -half - (k <= turns ? toward_first(theta, w) : toward_second(theta, w));
    };
    wall.high = [=](double theta, double w) {
      return k == 2 * turns ? collar : half + (k < turns ? toward_first(theta, w) : toward_second(theta, w));
    };
    wall.seam = (k % 2 == 0) == from_throat ? 0.0 : k_pi;
    wanted.walls.push_back(wall);
  }
  const Wall& low = wanted.walls.front();
  const Wall& high = wanted.walls.back();
  wanted.ends = {{low.id, low.origin - collar * low.axis, -1.0 * low.axis, radius, true},
                 {high.id, high.origin + collar * high.axis, high.axis, radius, true}};
  const double lined = 2.0 * (radius - request.bore_depth());
  wanted.bore = {place("through", "one end", 2.0 * metal, lined),
                 place("through", "other end", 2.0 * metal, lined)};
  if (smooth) {  // Pappus: area of the ring times the way of its centre
    const double outer = metal + request.value("gauge");
    wanted.metal_volume =
        k_pi * (outer * outer - metal * metal) * (2.0 * swing.angle * centre + swing.between + 2.0 * collar);
    wanted.metal_ends = wanted.ends;
    for (OpenEnd& each : wanted.metal_ends) each.radius = metal;
  }
  return wanted;
}

namespace {

// Lined up to all ends of its metal.
Wanted whole(const Request& request) {
  if (request.kind == "straight") return wanted_straight(request);
  if (request.kind == "elbow") return wanted_elbow(request);
  if (request.kind == "offset") return wanted_offset(request);
  if (request.kind == "reducer") return wanted_reducer(request);
  if (request.kind == "tee") return wanted_tee(request);
  if (request.kind == "tap") return wanted_tap(request);
  if (request.kind == "wye") return wanted_wye(request);
  if (request.kind == "path") return wanted_path(request);
  if (request.kind == "cap") return wanted_cap(request);
  if (request.kind == "square_to_round") return wanted_square_to_round(request);
  throw Unreadable("'" + request.kind + "' is no kind of fitting");
}

Wanted whole_shells(const Request& request) {
  if (request.kind == "tap") return tap_shells(request, whole(request));
  Request mitred = request;
  if (request.kind == "tee") mitred.written["joint"] = "mitre";
  if (request.kind == "cap") mitred.written["seat"] = "mitre";
  return whole(mitred);
}

}  // namespace

// Openings are measured from the metal's edge in all of them.
Wanted wanted(const Request& request) {
  return with_openings(request, whole_shells(request), with_held_lining(request, whole(request)));
}

Wanted covered_of(const Request& request) {
  const Wanted all = whole_shells(request);
  return with_openings(request, all, with_held_lining(request, all));
}

Wanted shells_of(const Request& request) {
  const Wanted all = whole_shells(request);
  Wanted shells = with_openings(request, all, with_bare_ends(request, all));
  if (all.ends.empty()) shells.inside = whole(request).inside;  // a disc alone is seated as it says
  return shells;
}

}  // namespace linerwright::asked
