#include "hold_back.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "branch.hpp"
#include "divider.hpp"
#include "linerwright/fitting/port.hpp"

namespace linerwright {

namespace {

constexpr int k_rulings = 144;  // at which walls are measured
// How far before and behind the lining's end the bore is looked at, mm: in its own plane it is two.
constexpr double k_beside = 1e-3;

// An end of the metal that the lining does not reach.
struct HeldEnd {
  Port port;
  std::string key;
  double held;  // along the wall's axis
};

// "branch2" is held back by a value of hold_back_branch.
std::string key_of(const std::string& port) {
  const std::size_t letters = port.find_first_of("0123456789");
  return "hold_back_" + port.substr(0, letters);
}

// What the request says of a port, the i-th of those that share its key; less than a hundredth of a
// millimetre is none.
double asked_of(const Values& values, const std::string& key, std::size_t i) {
  if (!values.has(key)) return 0.0;
  const std::vector<double> all = values.list(key);
  const double held = all.size() == 1 ? all.front() : i < all.size() ? all[i] : 0.0;
  return held < k_same_length ? 0.0 : held;
}

std::vector<HeldEnd> held_ends(const Fitting& fitting) {
  std::vector<HeldEnd> ends;
  std::string before;
  std::size_t among = 0;
  for (const Port& port : ports_of(fitting)) {
    const std::string key = key_of(port.name);
    among = key == before ? among + 1 : 0;
    before = key;
    if (const double held = asked_of(fitting.request.values, key, among); held > 0.0)
      ends.push_back({port, key, held});
  }
  return ends;
}

// One value serves all ports of a key; otherwise there is one for each.
void require_counts(const Fitting& fitting, Reasons& reasons) {
  const std::vector<Port> ports = ports_of(fitting);
  for (const char* key : {"hold_back_branch", "hold_back_leg"}) {
    if (!fitting.request.values.has(key)) continue;
    const auto count =
        std::count_if(ports.begin(), ports.end(), [&](const Port& port) { return key_of(port.name) == key; });
    const auto given = static_cast<std::ptrdiff_t>(fitting.request.values.list(key).size());
    if (given != 1 && given != count)
      reasons.add(key, fmt::format("one value, or {}", count),
                  fmt::format("{} values for {} ends", given, count));
  }
}

// Local height of the metal's end on its wall.
double metal_height(const Fitting& fitting, const HeldEnd& end) {
  return fitting.wall(end.port.wall).sheet.frame().local_point(end.port.frame.origin).z;
}

double lining_height(const Fitting& fitting, const HeldEnd& end) {
  return metal_height(fitting, end) - outward(end.port.end) * end.held;
}

// The most that a wall's ends may be held back together, along its axis.
double room_of(const Fitting& fitting, int wall) {
  const Sheet& sheet = fitting.wall(wall).sheet;
  double room = 1e300;
  for (int i = 0; i < k_rulings; ++i) {
    const double theta = k_two_pi * i / k_rulings;
    double low = -1e300;
    double high = 1e300;
    for (const double w : liner_of(fitting, wall).faces()) {
      low = std::max(low, liner_end(fitting, wall, End::low, theta, w));
      high = std::min(high, liner_end(fitting, wall, End::high, theta, w));
    }
    room = std::min(room, (high - low - k_shortest_piece) * sheet.ruling(theta).direction.z);
  }
  return room;
}

std::string role_of(const Fitting& fitting, int wall) {
  for (const Piece& piece : fitting.pieces)
    if (piece.wall == wall) return piece.role;
  return "piece";
}

void require_room(const Fitting& fitting, const std::vector<HeldEnd>& ends, Reasons& reasons) {
  for (const HeldEnd& end : ends) {
    double together = 0.0;
    int count = 0;
    bool greatest = true;
    for (const HeldEnd& other : ends) {
      if (other.port.wall != end.port.wall) continue;
      together += other.held;
      ++count;
      greatest = greatest && (other.held < end.held || (other.held == end.held && &other >= &end));
    }
    const double room = room_of(fitting, end.port.wall);
    if (!greatest || together <= room) continue;
    reasons.add(end.key,
                fmt::format("{}at most {}", count > 1 ? "both ends together " : "",
                            reasons.length(std::max(0.0, room))),
                fmt::format("held back by {} no lining is left of the {} on its shortest side",
                            reasons.length(together), role_of(fitting, end.port.wall)));
  }
}

// A hole keeps the same distance from the lining's end as from the metal's.
void require_clear_of_holes(const Fitting& fitting, const std::vector<HeldEnd>& ends, Reasons& reasons) {
  for (const HeldEnd& end : ends)
    for (const JointUse& hole : fitting.wall(end.port.wall).holes) {
      const Joint& joint = fitting.joint(hole.joint);
      const double around = place_on(joint, hole.side, 0.0, shell_depths(0.0)).theta;
      const HoleBox box = box_of(joint, fitting.liner, around);
      const double metal = metal_height(fitting, end);
      const double most = (end.port.end == End::high ? metal - box.z_high : box.z_low - metal) - k_margin;
      if (end.held > most)
        reasons.add(end.key, "at most " + reasons.length(std::max(0.0, most)),
                    fmt::format("the lining would end {} from a branch's hole, which needs {} of it",
                                reasons.length(most + k_margin - end.held), reasons.length(k_margin)));
    }
}

void move_end(Fitting& fitting, const HeldEnd& end) {
  const Wall& wall = fitting.wall(end.port.wall);
  const Frame& axes = wall.sheet.frame();
  const int lining = wall.use(end.port.end).joint;
  Joint metal = fitting.joint(lining);
  fitting.joint(lining).target = PlaneTarget{axes.point({0.0, 0.0, lining_height(fitting, end)}), axes.z};
  fitting.joint(lining).metal_end = static_cast<int>(fitting.joints.size());
  fitting.joints.push_back(std::move(metal));
}

// Area that the wall at depth w encloses in the plane at local height z. Its tangent plane at theta shows
// there as the line cos x + sin y = h, h = r1 - c z - w sqrt(1 + c^2), c the lean; a convex curve encloses
// 1/2 the integral of h^2 - h'^2.
double area_within(const Sheet& sheet, double z, double w) {
  const double height = sheet.is_cylinder() ? 1.0 : sheet.height();
  return 0.5 * integrate(
                   [&](double theta) {
                     const double c = (sheet.r1() - sheet.r2() - sheet.offset() * std::cos(theta)) / height;
                     const double c1 = sheet.offset() * std::sin(theta) / height;
                     const double s = std::sqrt(1.0 + c * c);
                     const double h = sheet.r1() - c * z - w * s;
                     const double h1 = -c1 * z - w * c * c1 / s;
                     return h * h - h1 * h1;
                   },
                   0.0, k_two_pi, 24);
}

// The centre of the metal's section at local height z.
Vec3 centre_at(const Sheet& sheet, double z) {
  const double share = sheet.is_cylinder() ? 0.0 : z / sheet.height();
  return sheet.frame().point({share * sheet.offset(), 0.0, z});
}

Station station_at(const Sheet& sheet, double z, double distance, double depth, std::string place) {
  const double lined = area_within(sheet, z, depth);
  const auto circle = [&](double w, double area) {
    return sheet.is_cylinder() ? 2.0 * (sheet.r1() - w) : std::sqrt(4.0 * area / k_pi);
  };
  return {distance, circle(0.0, area_within(sheet, z, 0.0)), circle(depth, lined),
          lined,    {centre_at(sheet, z), sheet.frame().z},  std::move(place)};
}

// At its end a passage has the metal's section, up to the lining's end that of bare metal, and from there on
// the bore. A passage that begins with the lining itself is lengthened to the metal's end.
void add_bare_end(const Fitting& fitting, Passage& passage, const HeldEnd& end, bool last) {
  const Sheet& sheet = fitting.wall(end.port.wall).sheet;
  const double at_metal = metal_height(fitting, end);
  const double at_lining = lining_height(fitting, end);
  const double way = distance(centre_at(sheet, at_metal), centre_at(sheet, at_lining));
  std::vector<Station>& stations = passage.stations;
  const Station outermost = last ? stations.back() : stations.front();
  stations.erase(last ? stations.end() - 1 : stations.begin());
  const Vec3 off = outermost.plane.point - end.port.frame.origin;
  const bool from_metal = std::fabs(dot(off, end.port.frame.z)) < 0.5 * k_same_length;
  const double sign = last ? -1.0 : 1.0;  // inward along the passage
  const double metal_along = outermost.distance - (from_metal ? 0.0 : sign * way);
  const double inward = -outward(end.port.end) * k_beside;  // along the wall
  const double beside = sheet.is_cylinder() ? 0.0 : k_beside;
  const double lining_along = metal_along + sign * way;
  const double depth = fitting.liner.bore_depth();
  std::vector<Station> added{station_at(sheet, at_metal, metal_along, 0.0, outermost.place),
                             station_at(sheet, at_lining - inward, lining_along - sign * beside, 0.0, ""),
                             station_at(sheet, at_lining + inward, lining_along + sign * beside, depth,
                                        last ? "lining ends" : "lining begins")};
  if (last)
    stations.insert(stations.end(), added.rbegin(), added.rend());
  else
    stations.insert(stations.begin(), added.begin(), added.end());
}

// The passage that a port is an end of: the body's or the inlet's, or that of the branch or leg.
std::size_t passage_of(const Fitting& fitting, const std::string& port) {
  const std::size_t digits = port.find_first_of("0123456789");
  if (digits == std::string::npos) return 0;
  return std::min(std::stoul(port.substr(digits)), fitting.passages.size() - 1);
}

}  // namespace

std::vector<KeySpec> hold_back_keys(const std::vector<std::string>& ports) {
  std::vector<KeySpec> keys;
  for (const std::string& port : ports) {
    const bool several = port == "branch" || port == "leg";
    const std::string end = several ? "end of a " + port : port;
    KeySpec key = with_default(length_key("hold_back_" + port,
                                          "how far the lining stops short of the metal's " + end +
                                              ", for a flange or a joint that slips on",
                                          {}, 0.0, 3000.0),
                               "0mm");
    key.many = several;
    keys.push_back(std::move(key));
  }
  return keys;
}

void hold_back(Fitting& fitting, Reasons& reasons) {
  require_counts(fitting, reasons);
  const std::vector<HeldEnd> ends = held_ends(fitting);
  require_room(fitting, ends, reasons);
  require_clear_of_holes(fitting, ends, reasons);
  if (!reasons.none()) return;
  for (const HeldEnd& end : ends) move_end(fitting, end);
}

void add_bare_ends(Fitting& fitting) {
  const std::vector<HeldEnd> ends = held_ends(fitting);
  if (ends.empty()) return;
  fitting.straight_run = false;
  const Reasons words(fitting.request);
  std::string step;
  for (const HeldEnd& end : ends) {
    Passage& passage = fitting.passages.at(passage_of(fitting, end.port.name));
    add_bare_end(fitting, passage, end, end.port.name != "start");
    step += fmt::format("{}{} at {}", step.empty() ? "" : ", ", words.length(end.held), end.port.name);
  }
  fitting.steps.push_back(fmt::format(
      "The lining stops short of the metal's ends: {}. Mark it on the metal before the pieces go in.", step));
}

void split_bare_ends(Fitting& fitting) {
  for (std::size_t i = 0; i < fitting.joints.size(); ++i) {
    const Joint& lining = fitting.joints[i];
    if (!lining.metal_end || lining.lead.is_cylinder() || lining.lead.is_right_cone()) continue;
    Joint& metal = fitting.joint(*lining.metal_end);
    metal.splits = lining.splits;
    metal.collar_seams = lining.collar_seams;
  }
}

}  // namespace linerwright
