// Bodies with branches. A line along the branch at psi (0 on the side that faces the body's far end), r from
// its axis, leaves the body of radius R at s = (x + r cos psi cos b) / sin b from the axes' crossing, x =
// sqrt(R^2 - y^2), y = offset - r sin psi, and there stands z = s cos b + r cos psi sin b along the body
// (coping of two cylinders, in any book on pattern drafting; for b = 90 degrees z = r cos psi, s = sqrt(R^2 -
// r^2 sin^2 psi), as in New Metal Worker Pattern Book, problems 59 and 60). What lies at depth w of the
// branch meets depth w of the body; a branch laid over the body ends on its duct face and leaves a hole of
// its bore; one put through ends on the air face, and its hole is as wide as its duct face.
//
// A branch that turns goes on in gores, each mitred against the next by half the angle between them; on its
// lines a mitre stands r tan(mitre) cos x short of the axis' own corner in the throat (Longfield, Sheet Metal
// Drafting, 1921, p. 52 and 59).
#include <algorithm>

#include "branch.hpp"
#include "kinds.hpp"

namespace linerwright::asked {

double leaves_body(const Wall& branch, const Place& body_axis, double body, double psi, double w) {
  const Place start = branch.at(psi, 0.0, w);
  const Place way = branch.ruling(psi);
  const double a = way[0] * way[0] + way[1] * way[1];
  const double x = start[0] - body_axis[0];
  const double y = start[1] - body_axis[1];
  // y of the formula above; where branch and body touch, what is left between the two is rounding
  const double aside = std::abs(x * way[1] - y * way[0]) / std::sqrt(a);
  const double room = std::abs(body - aside) < 1e-14 * body ? 0.0 : std::max(0.0, body - aside);
  return (-(way[0] * x + way[1] * y) + std::sqrt(a * room * (body + aside))) / a;
}

Branch branch_of(const Request& request, std::size_t i, std::size_t count) {
  const double body = request.value("diameter") / 2.0;
  const double t = request.bore_depth();
  const std::string joint = request.word("joint");
  Branch branch;
  branch.angle = request.value("angle", i);
  if (request.kind != "tap") {  // whose duct is measured from where the axes cross
    branch.around = request.value("around", i);
    branch.position =
        request.stated("position", i) ? request.value("position", i) : request.value("length") / 2.0;
  }
  // sizes that differ by less than a ten-millionth of the body's radius are meant equal, or tangent
  const double same = 1e-7 * body;
  const auto meant = [&](double radius) { return std::abs(radius - body) < same ? body : radius; };
  const double end_radius = meant(request.value("branch_diameter", i) / 2.0);
  const bool conical = request.stated("branch_base", i);
  const double base = conical ? meant(request.value("branch_base", i) / 2.0) : end_radius;
  double offset = request.value("offset", i);
  if (std::abs(std::abs(offset) - (body - base)) < same) offset = std::copysign(body - base, offset);
  const double length = request.value("branch_length", i);
  const Place out{std::cos(branch.around), std::sin(branch.around), 0.0};
  const Place aside{-std::sin(branch.around), std::cos(branch.around), 0.0};
  Wall& wall = branch.wall;
  wall.id = count == 1 ? "branch" : "branch" + std::to_string(i + 1);
  wall.role = "branch";
  wall.around = 5760;
  wall.axis = std::cos(branch.angle) * Place{0, 0, 1} + std::sin(branch.angle) * out;
  wall.zero = std::sin(branch.angle) * Place{0, 0, 1} - std::cos(branch.angle) * out;
  wall.origin = Place{0, 0, branch.position} + offset * aside;
  wall.radius = end_radius;
  double reach = length;
  if (conical && std::abs(base - end_radius) > 1e-9) {
    const double enters = std::sqrt(body * body - offset * offset) / std::sin(branch.angle);
    wall.origin = wall.origin + enters * wall.axis;
    wall.to_radius = end_radius;
    wall.radius = base;
    wall.taper = reach = length - enters;
  }
  const Wall bare = wall;
  wall.low = [bare, body, t, joint](double psi, double w) {
    const double on = joint == "over" ? body : joint == "through" ? body - t : body - w;
    return leaves_body(bare, {}, on, psi, w);
  };
  wall.high = [bare, reach](double psi, double w) {
    const double c = bare.lean(psi);
    return (reach + w * c / std::sqrt(1.0 + c * c)) / along(bare.ruling(psi), bare.axis);
  };
  wall.low_open = false;
  wall.seam = request.stated("branch_seam", i)   ? request.value("branch_seam", i)
              : branch.angle > k_pi / 2.0 + 1e-9 ? k_pi
                                                 : 0.0;
  return branch;
}

namespace {

// The walls of a branch, of which the one on the body is given, and where the last one ends.
struct Turned {
  std::vector<Wall> walls;
  Place end{};

  void add(Wall wall, double radius) {
    wall.id = walls.front().id + "G" + std::to_string(walls.size());
    wall.role = "branch gore";
    wall.radius = radius;
    wall.taper = 0.0;
    wall.low_open = false;
    wall.around = 720;
    walls.back().high_open = false;
    walls.push_back(wall);
  }
};

// A bend of gores.
struct Gores {
  double radius;
  double half;     // angle of a mitre
  double backset;  // of the axis' corner
  double side;     // 1: the throat faces the far end
  double short_of(double theta, double w) const {
    return side * (radius - w) * std::tan(half) * std::cos(theta);
  }
};

// The first wall ends in a mitre; behind a cone's small end a gore that begins square does.
void begin_bend(Turned& turned, const Gores& gores, double reach) {
  const Wall first = turned.walls[0];
  if (first.taper <= 0.0) {
    turned.walls[0].high = [=](double theta, double w) {
      return reach + gores.backset - gores.short_of(theta, w);
    };
    return;
  }
  const double lean = std::atan2(first.radius - gores.radius, first.taper);
  const double slant = std::hypot(first.taper, first.radius - gores.radius);
  turned.walls[0].high = [=](double, double w) {
    return slant + w * (std::sin(lean) - std::tan(0.5 * lean)) / std::cos(lean);
  };
  Wall straight = first;
  straight.origin = turned.end;
  straight.low = [=](double, double w) { return -w * std::tan(0.5 * lean); };
  straight.high = [=](double theta, double w) { return gores.backset - gores.short_of(theta, w); };
  turned.add(straight, gores.radius);
}

// One behind the other, in the plane of the body's axis and the branch's, each turned toward the throat.
void add_gores(Turned& turned, const Gores& gores, int count, double collar) {
  const double backset = gores.backset;
  for (int k = 1; k <= count; ++k) {
    const Wall before = turned.walls.back();
    Wall wall = before;
    const double angle = 2.0 * gores.half * gores.side;
    wall.axis = std::cos(angle) * before.axis + std::sin(angle) * before.zero;
    wall.zero = std::cos(angle) * before.zero - std::sin(angle) * before.axis;
    wall.origin = turned.end + backset * before.axis;
    turned.end = wall.origin + backset * wall.axis;
    wall.low = [=](double theta, double w) { return gores.short_of(theta, w); };
    if (k == count)
      wall.high = [=](double, double) { return backset + collar; };
    else
      wall.high = [=](double theta, double w) { return 2.0 * backset - gores.short_of(theta, w); };
    turned.add(wall, gores.radius);
  }
  Wall& last = turned.walls.back();
  last.role = "branch end piece";
  last.high_open = true;
  turned.end = turned.end + collar * last.axis;
}

Turned turned_of(const Request& request, std::size_t i, const Branch& branch) {
  const Wall& first = branch.wall;
  const double reach = first.taper > 0.0 ? first.taper : first.high(0.0, 0.0);
  Turned turned{{first}, first.origin + reach * first.axis};
  const double turn = request.stated("turn_to") ? branch.angle - request.value("turn_to", i) : 0.0;
  if (std::abs(turn) < 1e-9) return turned;
  const double r = first.taper > 0.0 ? first.to_radius : first.radius;
  const double centre = request.stated("centreline_radius") ? request.value("centreline_radius")
                                                            : request.value("radius_ratio") * 2.0 * r;
  const int count = static_cast<int>(request.value("pieces")) - 1;
  const double half = std::abs(turn) / (2.0 * count);
  const Gores gores{r, half, centre * std::tan(half), turn > 0.0 ? 1.0 : -1.0};
  begin_bend(turned, gores, reach);
  add_gores(turned, gores, count, request.value("collar"));
  for (std::size_t k = 1; k < turned.walls.size(); ++k)
    if (first.seam) turned.walls[k].seam = *first.seam + (k % 2 == 0 ? 0.0 : k_pi);
  return turned;
}

Rim rim_of(const Branch& branch, double body, double t, const std::string& joint) {
  const Wall wall = branch.wall;
  const double around = branch.around;
  return [wall, around, body, t, joint](double psi, double w) {
    const double depth = joint == "over" ? t : joint == "through" ? 0.0 : w;
    const Place at = wall.at(psi, leaves_body(wall, {}, body - w, psi, depth), depth);
    const double out = at[0] * std::cos(around) + at[1] * std::sin(around);
    const double aside = at[1] * std::cos(around) - at[0] * std::sin(around);
    return Point{around + std::atan2(aside, out), at[2]};
  };
}

}  // namespace

Wanted wanted_tee(const Request& request) {
  const double length = request.value("length");
  const double t = request.bore_depth();
  const std::size_t count =
      std::max({request.count("branch_diameter"), request.count("branch_length"), request.count("angle"),
                request.count("around"), request.count("offset"),
                request.stated("position") ? request.count("position") : 1,
                request.stated("branch_base") ? request.count("branch_base") : 1});
  Wanted wanted;
  Wall body;
  body.id = "body";
  body.role = "body";
  body.radius = request.value("diameter") / 2.0;
  body.around = 720;
  body.low = [](double, double) { return 0.0; };
  body.high = [length](double, double) { return length; };
  std::vector<Branch> branches;
  for (std::size_t i = 0; i < count; ++i) branches.push_back(branch_of(request, i, count));
  for (const Branch& branch : branches)
    body.holes.push_back(rim_of(branch, body.radius, t, request.word("joint")));
  if (request.stated("body_seam"))
    body.seam = branches.front().around + request.value("body_seam");
  else if (count == 1)
    body.seam = branches.front().around + k_pi;
  wanted.ends = {{"body", {0, 0, 0}, {0, 0, -1}, body.radius, true},
                 {"body", {0, 0, length}, {0, 0, 1}, body.radius, true}};
  const double bare = 2.0 * body.radius;
  wanted.bore = {{"body", "first end", bare, bare - 2.0 * t}, {"body", "far end", bare, bare - 2.0 * t}};
  wanted.walls.push_back(body);
  for (std::size_t i = 0; i < branches.size(); ++i) {
    const Turned turned = turned_of(request, i, branches[i]);
    const Wall& last = turned.walls.back();
    const double end = last.taper > 0.0 ? last.to_radius : last.radius;
    for (const Wall& wall : turned.walls) wanted.walls.push_back(wall);
    wanted.ends.push_back({last.id, turned.end, last.axis, end, last.taper <= 0.0});
    wanted.bore.push_back({branches[i].wall.id, "branch end", 2.0 * end,
                           2.0 * std::sqrt(end_area(wanted, wanted.ends.back(), t) / k_pi)});
  }
  return wanted;
}

}  // namespace linerwright::asked
