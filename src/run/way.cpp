// The line of centres of a fitting between two of its ports, and the bore along it.
#include <algorithm>
#include <cmath>

#include "linerwright/fitting/pressed_bend.hpp"
#include "linerwright/run/run.hpp"

namespace linerwright {

namespace {

constexpr double k_same = 1e-9;  // mm, and of directions

struct Line {
  Vec3 point;
  Vec3 along;  // unit
};

Line axis_of(const Port& port) {
  return {port.frame.origin, -port.frame.z};
}

Line line_of_centres(const Sheet& sheet) {
  const Frame& frame = sheet.frame();
  if (sheet.is_cylinder()) return {frame.origin, frame.z};
  if (sheet.is_square_to_round())
    return {frame.origin, normalised(frame.direction({sheet.centre().x, sheet.centre().y, sheet.height()}))};
  return {frame.origin, normalised(frame.direction({sheet.offset(), 0.0, sheet.height()}))};
}

// The points of two lines that are nearest to each other; nothing where the lines are parallel.
std::optional<std::pair<Vec3, Vec3>> nearest(const Line& a, const Line& b) {
  const double along = dot(a.along, b.along);
  const double square = 1.0 - along * along;  // of the sine between them
  if (norm(cross(a.along, b.along)) < k_same) return std::nullopt;
  const Vec3 between = b.point - a.point;
  const double s = (dot(between, a.along) - dot(between, b.along) * along) / square;
  const double u = (dot(between, a.along) * along - dot(between, b.along)) / square;
  return std::make_pair(a.point + s * a.along, b.point + u * b.along);
}

bool is_branch(const Port& port) {
  return port.name != "start" && port.name != "end";
}

void add(std::vector<Vec3>& points, Vec3 point) {
  if (points.empty() || distance(points.back(), point) > k_same) points.push_back(point);
}

// Where the line of centres leaves the low wall for the one that stands on it.
Vec3 centre_between(const Fitting& fitting, int low, int high) {
  const Sheet& sheet = fitting.wall(low).sheet;
  const auto meeting = nearest(line_of_centres(sheet), line_of_centres(fitting.wall(high).sheet));
  if (meeting) return 0.5 * (meeting->first + meeting->second);
  const auto end = [&](double theta) {
    return sheet.point(theta, liner_end(fitting, low, End::high, theta, 0.0), 0.0);
  };
  return 0.5 * (end(0.0) + end(k_pi));
}

// From the wall with the open low end to the one with the open high end; empty where they are not one row.
std::vector<int> row_of_walls(const Fitting& fitting, int first, int last) {
  std::vector<int> row{first};
  while (row.back() != last) {
    const int joint = fitting.wall(row.back()).high.joint;
    const auto next = std::find_if(fitting.walls.begin(), fitting.walls.end(), [&](const Wall& wall) {
      return wall.layer == 0 && wall.low.joint == joint;
    });
    if (next == fitting.walls.end() || row.size() > fitting.walls.size()) return {};
    row.push_back(static_cast<int>(next - fitting.walls.begin()));
  }
  return row;
}

std::vector<WayPoint> measured(const std::vector<Vec3>& points) {
  std::vector<WayPoint> way;
  double distance_so_far = 0.0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (i > 0) distance_so_far += distance(points[i - 1], points[i]);
    way.push_back({points[i], distance_so_far});
  }
  return way;
}

// Of a pressed bend, from its start on.
std::vector<WayPoint> way_of(const PressedBend& pressed) {
  constexpr double k_step = 5.0 / 180.0 * k_pi;
  std::vector<WayPoint> way{{pressed.frame.point({0.0, 0.0, -pressed.low_collar}), 0.0}};
  const auto go = [&](Vec3 point, double by) {
    if (by > 0.0) way.push_back({point, way.back().distance + by});
  };
  for (const PressedBend& bend : bends_of(pressed)) {
    const double rho = bend.centreline_radius;
    go(bend.frame.origin, bend.low_collar);
    const int steps = std::max(1, static_cast<int>(std::ceil(bend.angle / k_step - k_same)));
    for (int i = 1; i <= steps; ++i) {
      const double a = bend.angle * i / steps;
      go(bend.frame.point({rho * (1.0 - std::cos(a)), 0.0, rho * std::sin(a)}), rho * bend.angle / steps);
    }
    go(far_end(bend).origin, bend.high_collar);
  }
  return way;
}

std::vector<WayPoint> reversed(std::vector<WayPoint> way) {
  const double length = way.back().distance;
  std::reverse(way.begin(), way.end());
  for (WayPoint& point : way) point.distance = length - point.distance;
  return way;
}

// From start to end.
std::vector<WayPoint> way_through(const Fitting& fitting, const Port& start, const Port& end) {
  if (fitting.pressed) return way_of(*fitting.pressed);
  std::vector<Vec3> points{start.frame.origin};
  const std::vector<int> row = row_of_walls(fitting, start.wall, end.wall);
  // a rectangular collar is straight, whatever the transition above it is
  const Sheet& first = fitting.wall(start.wall).sheet;
  if (first.square_collar() > 0.0) add(points, first.frame().origin);
  for (std::size_t i = 1; i < row.size(); ++i) add(points, centre_between(fitting, row[i - 1], row[i]));
  add(points, end.frame.origin);
  return measured(points);
}

// The walls of a branch from the one on its body to the port's own.
std::vector<int> branch_row(const Fitting& fitting, const Port& branch) {
  std::vector<int> row{branch.wall};
  while (row.size() <= fitting.walls.size()) {
    const int joint = fitting.wall(row.front()).low.joint;
    const auto before = std::find_if(fitting.walls.begin(), fitting.walls.end(), [&](const Wall& wall) {
      return wall.layer == 0 && wall.high_rest.empty() && wall.high.joint == joint;
    });
    if (before == fitting.walls.end()) break;
    row.insert(row.begin(), static_cast<int>(before - fitting.walls.begin()));
  }
  return row;
}

// From where the branch's axis meets the body's, on the body's and on its own, to its end.
std::vector<Vec3> way_out(const Fitting& fitting, const Port& branch) {
  const std::vector<int> row = branch_row(fitting, branch);
  std::vector<Vec3> points;
  for (const Port& port : ports_of(fitting)) {
    if (is_branch(port)) continue;
    const auto meeting = nearest(axis_of(port), line_of_centres(fitting.wall(row.front()).sheet));
    if (!meeting) continue;
    points = {meeting->first, meeting->second};
    break;
  }
  if (points.empty()) points = {branch.frame.origin};
  for (std::size_t i = 1; i < row.size(); ++i) add(points, centre_between(fitting, row[i - 1], row[i]));
  add(points, branch.frame.origin);
  return points;
}

struct BranchWay {
  std::vector<WayPoint> points;
  double turn_in;  // distance where the section of the port that is left begins
};

BranchWay branch_way(const Fitting& fitting, const Port& in, const Port& out) {
  std::vector<Vec3> points{in.frame.origin};
  std::size_t turn = 1;
  if (is_branch(in)) {
    std::vector<Vec3> way = way_out(fitting, in);
    std::reverse(way.begin(), way.end());
    for (const Vec3 point : way) add(points, point);
    turn = points.size() - 1;
  }
  if (is_branch(out)) {
    const std::vector<Vec3> way = way_out(fitting, out);
    add(points, way.front());
    turn = points.size() - 1;
    for (const Vec3 point : way) add(points, point);
  }
  add(points, out.frame.origin);
  std::vector<WayPoint> way = measured(points);
  const double at = way[std::min(turn, way.size() - 1)].distance;
  return {std::move(way), at};
}

double circle(double diameter) {
  return 0.25 * k_pi * diameter * diameter;
}

BorePoint at_port(const Port& port, double distance) {
  return {distance, port.bare_diameter, port.lined_diameter, circle(port.lined_diameter), {}};
}

// The stations of the passage through a branch or a leg; passages of these come last, in the order of their
// ports.
const std::vector<Station>* stations_of(const Fitting& fitting, const Port& branch) {
  std::vector<std::string> names;
  for (const Port& port : ports_of(fitting))
    if (is_branch(port)) names.push_back(port.name);
  if (names.size() >= fitting.passages.size()) return nullptr;  // of a tap there is none beside its own
  const auto place = std::find(names.begin(), names.end(), branch.name) - names.begin();
  const std::size_t first = fitting.passages.size() - names.size();
  const std::vector<Station>& stations = fitting.passages[first + static_cast<std::size_t>(place)].stations;
  return stations.empty() || !(stations.back().distance > 0.0) ? nullptr : &stations;
}

// From where the ways meet, at 0, to the port, so far on. A branch that is a cone is not as wide all along.
std::vector<BorePoint> bore_out(const Fitting& fitting, const Port& port, double length) {
  const std::vector<Station>* stations = is_branch(port) ? stations_of(fitting, port) : nullptr;
  if (stations == nullptr) return {at_port(port, 0.0), at_port(port, length)};
  std::vector<BorePoint> bore;
  // distances of a gored branch go along its arcs, those of the run from centre to centre of its mitres
  const double scale = length / stations->back().distance;
  for (const Station& station : *stations)
    bore.push_back({scale * station.distance, station.bare_diameter, station.lined_diameter,
                    station.lined_area, station.place});
  BorePoint met = bore.front();
  met.distance = 0.0;
  met.place.clear();
  bore.insert(bore.begin(), met);
  return bore;
}

}  // namespace

std::vector<WayPoint> way_between(const Fitting& fitting, const Port& in, const Port& out) {
  if (is_branch(in) || is_branch(out)) return branch_way(fitting, in, out).points;
  return in.name == "start" ? way_through(fitting, in, out) : reversed(way_through(fitting, out, in));
}

std::vector<BorePoint> bore_between(const Fitting& fitting, const Port& in, const Port& out) {
  const std::vector<WayPoint> way = way_between(fitting, in, out);
  const double length = way.back().distance;
  if (is_branch(in) || is_branch(out) || fitting.passages.empty()) {
    const double turn = branch_way(fitting, in, out).turn_in;
    std::vector<BorePoint> bore = bore_out(fitting, in, turn);
    std::reverse(bore.begin(), bore.end());
    for (BorePoint& point : bore) point.distance = turn - point.distance;
    for (BorePoint point : bore_out(fitting, out, length - turn)) {
      point.distance += turn;
      bore.push_back(std::move(point));
    }
    return bore;
  }
  const std::vector<Station>& stations = fitting.passages.front().stations;
  const double whole = stations.back().distance - stations.front().distance;
  std::vector<BorePoint> bore;
  for (const Station& station : stations) {
    // the gores inside a pressed bend have a way of their own, a little shorter or longer
    const double share = (station.distance - stations.front().distance) / whole;
    bore.push_back(
        {length * share, station.bare_diameter, station.lined_diameter, station.lined_area, station.place});
  }
  if (in.name != "start") {
    std::reverse(bore.begin(), bore.end());
    for (BorePoint& point : bore) point.distance = length - point.distance;
  }
  return bore;
}

}  // namespace linerwright
