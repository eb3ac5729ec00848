// An open end lies in a plane square to its wall's axis. Held back by h the lining ends in the plane h before
// it: on a line of the wall that begins at b and goes along d, at depth w, where (b + v d - w n - c) . a = 0,
// c the plane's centre and a the axis. Between the two planes the bore is the metal's own: of a cylinder a
// disc, of a taper a frustum.
#include "held.hpp"

#include <algorithm>
#include <vector>

namespace linerwright::asked {

namespace {

constexpr double k_none = 0.01;    // mm: less is none
constexpr double k_beside = 1e-3;  // mm: how far from the lining's end a taper's bore is stated

struct Held {
  std::size_t end;   // of the open ends
  std::size_t wall;  // whose it is
  bool high;
  double by;
};

// Open ends by the ports' names: two ends of a row, of a tee its body's and then its branches', of a tap its
// branch's, of a wye its inlet's and its legs'.
double asked_back(const Request& request, std::size_t end) {
  const bool tee = request.kind == "tee";
  const std::size_t first = request.kind == "wye" ? 1 : tee ? 2 : 99;
  const char* several = tee ? "hold_back_branch" : "hold_back_leg";
  const char* one = end == 0 && request.kind != "tap" ? "hold_back_start" : "hold_back_end";
  const std::string key = end >= first ? several : one;
  if (!request.stated(key)) return 0.0;
  const double by = end >= first ? request.value(key, end - first) : request.value(key);
  return by < k_none ? 0.0 : by;
}

std::vector<Held> held_of(const Request& request, const Wanted& whole) {
  std::vector<Held> all;
  for (std::size_t i = 0; i < whole.ends.size(); ++i) {
    const double by = asked_back(request, i);
    for (std::size_t k = 0; by > 0.0 && k < whole.walls.size(); ++k)
      if (whole.walls[k].id == whole.ends[i].wall)
        all.push_back({i, k, along(whole.ends[i].outward, whole.walls[k].axis) > 0.0, by});
  }
  return all;
}

// The centre of the metal's section in the plane of the axis' height z, and its radius.
OpenEnd section_at(const Wall& wall, const OpenEnd& metal, double inward) {
  OpenEnd end = metal;
  const double share = wall.taper > 0.0 ? inward / wall.taper : 0.0;
  const bool high = along(metal.outward, wall.axis) > 0.0;
  const Place aside = share * (wall.shift[0] * wall.zero + wall.shift[1] * wall.side());
  end.centre = metal.centre - inward * metal.outward + (high ? -1.0 : 1.0) * aside;
  end.radius += (high ? -1.0 : 1.0) * share * (wall.to_radius - wall.radius);
  return end;
}

Edge edge_in(const Wall& wall, const Place& centre) {
  return [wall, centre](double theta, double w) {
    return along(centre - wall.at(theta, 0.0, w), wall.axis) / along(wall.ruling(theta), wall.axis);
  };
}

// The wall of bare metal between the lining's end and the metal's.
Wanted bare_part(const Wanted& whole, const Held& held) {
  const OpenEnd& metal = whole.ends[held.end];
  Wanted bare;
  Wall wall = whole.walls[held.wall];
  OpenEnd lining = section_at(wall, metal, held.by);
  const Edge at_lining = edge_in(wall, lining.centre);
  const Edge at_metal = edge_in(wall, metal.centre);
  wall.low = held.high ? at_lining : at_metal;
  wall.high = held.high ? at_metal : at_lining;
  wall.holes.clear();
  wall.openings.clear();
  wall.metal_openings.clear();
  lining.outward = -1.0 * metal.outward;
  bare.walls = {wall};
  bare.ends = {metal, lining};
  return bare;
}

}  // namespace

Wanted with_held_lining(const Request& request, Wanted whole) {
  const std::vector<Held> all = held_of(request, whole);
  if (all.empty()) return whole;
  const double t = request.bore_depth();
  Wanted wanted = whole;
  wanted.metal_ends = whole.ends;
  for (const OpenEnd& end : whole.ends) {
    wanted.bore_ends.push_back(end);
    wanted.bore_ends.back().radius -= t;
  }
  for (const Held& held : all) {
    Wall& wall = wanted.walls[held.wall];
    const OpenEnd& metal = whole.ends[held.end];
    const OpenEnd lining = section_at(wall, metal, held.by);
    (held.high ? wall.high : wall.low) = edge_in(whole.walls[held.wall], lining.centre);
    wanted.ends[held.end] = lining;
    wanted.bore_ends[held.end].radius = metal.radius;
    wanted.bore_ends[held.end].square = true;
  }
  wanted.bore_ends.erase(std::remove_if(wanted.bore_ends.begin(), wanted.bore_ends.end(),
                                        [](const OpenEnd& end) { return !end.square; }),
                         wanted.bore_ends.end());
  for (const Held& held : all) {
    const Wall& wall = whole.walls[held.wall];
    const OpenEnd& metal = whole.ends[held.end];
    BoreAt& end = wanted.bore.at(held.end);  // named in the order of the ends
    end.lined = end.bare;
    const std::string passage = end.passage;
    // of a taper it is stated a little inside, where a plane cuts it
    const OpenEnd seen = section_at(wall, metal, held.by + (wall.taper > 0.0 ? k_beside : 0.0));
    Wanted cut = wanted;
    (held.high ? cut.walls[held.wall].high : cut.walls[held.wall].low) = edge_in(wall, seen.centre);
    const bool first = held.end == 0 && request.kind != "tap";
    wanted.bore.push_back({passage, first ? "lining begins" : "lining ends", 2.0 * seen.radius,
                           2.0 * std::sqrt(end_area(cut, seen, t) / k_pi)});
  }
  return wanted;
}

Wanted with_bare_ends(const Request& request, const Wanted& whole_shells) {
  const std::vector<Held> all = held_of(request, whole_shells);
  if (all.empty()) return whole_shells;
  const double t = request.bore_depth();
  Wanted lined = with_held_lining(request, whole_shells);
  Wanted shells = whole_shells;
  shells.bore_ends = lined.bore_ends;
  std::vector<Wanted> bare;
  for (const Held& held : all) {
    bare.push_back(bare_part(whole_shells, held));
    const auto edge_of = [&](Wanted& of) -> Edge& {
      Wall& wall = of.walls[held.wall];
      return held.high ? wall.high : wall.low;
    };
    edge_of(shells) = [to_metal = edge_of(shells), to_lining = edge_of(lined)](double theta, double w) {
      return w <= 0.0 ? to_metal(theta, w) : to_lining(theta, w);
    };
  }
  // the layer beyond the lining is no liner's
  shells.inside = [whole_shells, bare](double w) {
    double volume = inside_volume(whole_shells, w);
    for (const Wanted& part : bare)
      if (w > 0.0) volume += inside_volume(part, 0.0) - inside_volume(part, w);
    return volume;
  };
  const auto closes = whole_shells.off_closure;
  shells.off_closure = [bare, closes, t](const Place& place, bool metal) {
    double off = closes ? closes(place, metal) : 1e300;
    if (metal) return off;
    for (const Wanted& part : bare) {
      const Wall& wall = part.walls.front();
      const double depth = wall.depth_of(place);
      const double beyond_metal = along(place - part.ends[0].centre, part.ends[0].outward);
      const double beyond_lining = along(place - part.ends[1].centre, part.ends[1].outward);
      const double outside = std::max({0.0, beyond_metal, beyond_lining});
      off = std::min(off, std::max(std::abs(depth), outside));
      // the step: in the lining's plane, from the metal to the air face
      off = std::min(off, std::max({std::abs(beyond_lining), -depth, depth - t}));
      off = std::min(off, std::max(std::abs(beyond_metal), -depth));  // and the end
    }
    return off;
  };
  return shells;
}

}  // namespace linerwright::asked
