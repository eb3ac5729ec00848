// Tapers. A collar meets the taper at equal depth: the point of the taper's ruling at depth w that lies on
// the collar's cylinder of radius R - w. On a right cone of half angle p it has walked by w tan(p / 2) along
// the axis.
#include <algorithm>
#include <map>
#include <memory>
#include <vector>

#include "kinds.hpp"

namespace linerwright::asked {

namespace {

// How far along its ruling, from a circle of this radius on, the taper at depth w meets the cylinder on that
// circle. (q + v m)^2 = (R - w)^2 with q = (R - w cos p) u and m the ruling square to the axis; solved so
// that a ruling parallel to the axis (m = 0, a flat side) gives 0.
double meets_collar(const Wall& taper, double radius, double theta, double w) {
  const double c = taper.lean(theta);
  const double secant = std::sqrt(1.0 + c * c);
  const double spared = c * c / (secant * (1.0 + secant));  // 1 - cos p
  const double out = radius - w + w * spared;
  const double ruling = taper.full_ruling(theta);
  const double across[2] = {(taper.shift[0] + (taper.to_radius - taper.radius) * std::cos(theta)) / ruling,
                            (taper.shift[1] + (taper.to_radius - taper.radius) * std::sin(theta)) / ruling};
  const double square = across[0] * across[0] + across[1] * across[1];
  const double half = out * (across[0] * std::cos(theta) + across[1] * std::sin(theta));
  const double rest = w * spared * (2.0 * radius - 2.0 * w + w * spared);
  const double root = std::sqrt(std::max(0.0, half * half - square * rest));
  const double below = half + (half < 0.0 ? -root : root);
  return below == 0.0 ? 0.0 : -rest / below;
}

// The collar's edge at a taper at depth w: the same points, by even steps of the collar's own angle from the
// first on.
struct EdgeTable {
  double first = 0.0;
  std::vector<double> heights;
};

EdgeTable edge_table(const Wall& taper, const Wall& collar, bool at_low, double w) {
  constexpr std::size_t steps = 5760;
  std::vector<Point> points;
  for (std::size_t i = 0; i <= steps; ++i) {
    const double ruling = k_turn * static_cast<double>(i) / steps;
    const double v = at_low ? taper.low(ruling, w) : taper.high(ruling, w);
    const Place from = taper.at(ruling, v, w) - collar.origin;
    const double turned = std::atan2(along(from, collar.side()), along(from, collar.zero));
    points.push_back({turned + k_turn * std::round((ruling - turned) / k_turn), along(from, collar.axis)});
  }
  EdgeTable table{points.front()[0], {}};
  std::size_t next = 0;
  for (std::size_t i = 0; i <= steps; ++i) {
    const double want = table.first + k_turn * static_cast<double>(i) / steps;
    while (next + 2 < points.size() && points[next + 1][0] < want) ++next;
    const double share = (want - points[next][0]) / (points[next + 1][0] - points[next][0]);
    table.heights.push_back(points[next][1] + share * (points[next + 1][1] - points[next][1]));
  }
  return table;
}

// Read by straight lines between the table's points; a table is kept for each depth that was asked for.
Edge collar_edge(const Wall& taper, const Wall& collar, bool at_low) {
  const auto tables = std::make_shared<std::map<double, EdgeTable>>();
  return [taper, collar, at_low, tables](double theta, double w) {
    auto table = tables->find(w);
    if (table == tables->end()) table = tables->emplace(w, edge_table(taper, collar, at_low, w)).first;
    double turns = (theta - table->second.first) / k_turn;
    turns -= std::floor(turns);
    const std::vector<double>& heights = table->second.heights;
    const double at = turns * static_cast<double>(heights.size() - 1);
    const std::size_t i = std::min(static_cast<std::size_t>(at), heights.size() - 2);
    const double share = at - static_cast<double>(i);
    return (1.0 - share) * heights[i] + share * heights[i + 1];
  };
}

// The taper's edge on the plane of its first or second circle.
double meets_plane(const Wall& taper, bool second, double theta, double w) {
  const double c = taper.lean(theta);
  const double rise = w * c / std::sqrt(1.0 + c * c);
  return ((second ? taper.taper : 0.0) + rise) * taper.full_ruling(theta) / taper.taper;
}

}  // namespace

Wanted wanted_reducer(const Request& request) {
  const double collar = request.value("collar");
  const double to_collar = request.value("to_collar");
  const double t = request.bore_depth();
  const double toward = request.value("flat_at");
  Wall taper;
  taper.id = "taper";
  taper.role = "taper";
  taper.radius = request.value("diameter") / 2.0;
  taper.to_radius = request.value("to_diameter") / 2.0;
  taper.taper = request.value("length");
  const double moved = request.flag("flat") ? taper.radius - taper.to_radius : request.value("offset");
  // angles are counted from the side of the flat
  taper.zero = {std::cos(toward), std::sin(toward), 0.0};
  taper.shift = {moved, 0.0};
  taper.seam = request.value("seam_at");
  const Wall bare = taper;
  taper.low = [bare, collar](double theta, double w) {
    return collar > 0.0 ? meets_collar(bare, bare.radius, theta, w) : meets_plane(bare, false, theta, w);
  };
  taper.high = [bare, to_collar](double theta, double w) {
    return to_collar > 0.0 ? bare.full_ruling(theta) + meets_collar(bare, bare.to_radius, theta, w)
                           : meets_plane(bare, true, theta, w);
  };
  taper.low_open = collar <= 0.0;
  taper.high_open = to_collar <= 0.0;
  const Place far = moved * taper.zero + taper.taper * taper.axis;
  const bool even = taper.radius == taper.to_radius;
  const bool narrows = taper.radius > taper.to_radius;
  Wanted wanted;
  if (collar > 0.0) {
    Wall wall;
    wall.id = "collar";
    wall.role = even ? "first collar" : narrows ? "large collar" : "small collar";
    wall.radius = taper.radius;
    wall.zero = taper.zero;
    wall.low = [collar](double, double) { return -collar; };
    wall.high = collar_edge(taper, wall, true);
    wall.high_rim = [taper](double ruling, double w) { return taper.at(ruling, taper.low(ruling, w), w); };
    wall.high_open = false;
    wall.seam = taper.seam;
    wanted.walls.push_back(wall);
    wanted.ends.push_back({"collar", {0, 0, -collar}, {0, 0, -1}, taper.radius, true});
  } else {
    wanted.ends.push_back({"taper", {0, 0, 0}, {0, 0, -1}, taper.radius, false});
  }
  wanted.walls.push_back(taper);
  // panels, one alone too, begin where they are clear of openings
  if (request.stated("panels") && request.stated("openings")) wanted.walls.back().seam.reset();
  if (to_collar > 0.0) {
    Wall wall;
    wall.id = "tocollar";
    wall.role = even ? "second collar" : narrows ? "small collar" : "large collar";
    wall.radius = taper.to_radius;
    wall.zero = taper.zero;
    wall.origin = far;
    wall.high = [to_collar](double, double) { return to_collar; };
    wall.low = collar_edge(taper, wall, false);
    wall.low_rim = [taper](double ruling, double w) { return taper.at(ruling, taper.high(ruling, w), w); };
    wall.low_open = false;
    wall.seam = taper.seam;
    wanted.walls.push_back(wall);
    wanted.ends.push_back({"tocollar", far + Place{0, 0, to_collar}, {0, 0, 1}, taper.to_radius, true});
  } else {
    wanted.ends.push_back({"taper", far, {0, 0, 1}, taper.to_radius, false});
  }
  for (std::size_t i = 0; i < 2; ++i)
    wanted.bore.push_back({"through", i == 0 ? "first end" : "second end", 2.0 * wanted.ends[i].radius,
                           2.0 * std::sqrt(end_area(wanted, wanted.ends[i], t) / k_pi)});
  return wanted;
}

}  // namespace linerwright::asked
