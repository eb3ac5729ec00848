// At depth w a wall about a sphere of radius R is |x|^2 = (R - w)^2 + f(x)^2 with f(x) = (a.x - (R - w) sin
// p) / cos p, a its unit axis away from the centre, p its half angle: f is the way along the ruling from the
// circle in which it touches the sphere. So two walls cross where f_i = f_j (and where f_i = -f_j, inside).
// The f are linear: what a wall keeps, the part on which its f is the greatest, is convex, and every ruling
// has one beginning. At depth w all is as on the duct face, smaller by (R - w)/R about the centre.
#include "sphere.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_parallel = 1e-12;
constexpr double k_same = 1e-9;  // of the sphere's radius: corners nearer than this are one

double in_turn(double angle) {
  return angle - k_two_pi * std::floor(angle / k_two_pi);
}

// f on the duct face is slope . x - rise.
struct Linear {
  Vec3 slope;
  double rise;
  double at(Vec3 x) const { return dot(slope, x) - rise; }
};

Linear f_of(const SphereWall& wall, double radius) {
  return {(1.0 / std::cos(wall.half_angle)) * wall.axis, radius * std::tan(wall.half_angle)};
}

// On a ruling x = (R - w) n + v d of one wall, f of it is v and f of the other (R - w)(a.n - sin p)/cos p + v
// a.d/cos p: the two are the same at v = (R - w) over / under, and the one wall's is the greater beyond that
// where `under` is positive, before it where it is negative.
struct Crossing {
  double over, under;
};
Crossing crossing_of(const SphereWall& wall, const SphereWall& other, double theta) {
  const Vec3 n = wall.sheet.normal(theta);
  const Vec3 d = (wall.toward ? -1.0 : 1.0) * wall.sheet.direction(theta);
  return {dot(other.axis, n) - std::sin(other.half_angle), std::cos(other.half_angle) - dot(other.axis, d)};
}

// Points in which three walls meet, whether or not another one covers them.
std::vector<Vec3> meeting_points(const Linear& a, const Linear& b, const Linear& c, double radius) {
  const Vec3 first = a.slope - b.slope;
  const Vec3 second = a.slope - c.slope;
  const Vec3 along = cross(first, second);
  const double size = norm(along);
  if (!(size > k_parallel)) return {};
  const double one = a.rise - b.rise;
  const double two = a.rise - c.rise;
  const Vec3 foot = (1.0 / (size * size)) * (one * cross(second, along) + two * cross(along, first));
  const Vec3 way = (1.0 / size) * along;
  // |foot + s way|^2 = R^2 + f^2, the foot square to the way
  const double f = a.at(foot);
  const double grows = dot(a.slope, way);
  const double square = 1.0 - grows * grows;
  const double half = -f * grows;
  const double rest = dot(foot, foot) - radius * radius - f * f;
  const double inside = half * half - square * rest;
  if (!(inside >= 0.0) || !(std::fabs(square) > k_parallel)) return {};
  const double root = std::sqrt(inside);
  return {foot + ((-half - root) / square) * way, foot + ((-half + root) / square) * way};
}

}  // namespace

// The tangent circle lies R sin p along the axis and has the radius R cos p; from there the ruling runs
// sqrt(L^2 + r^2 - R^2) to the end. Seen from the centre the end's edge stands atan2(r, L) beside the axis,
// and a tangent from it touches the sphere at asin(R / sqrt(L^2 + r^2)) beside the way to the centre.
std::optional<double> half_angle_to(double radius, double end_radius, double length) {
  if (std::fabs(end_radius - radius) < 1e-7 * radius) return 0.0;
  const double away = std::hypot(length, end_radius);
  if (!(away > radius)) return std::nullopt;
  return std::asin(radius / away) - std::atan2(end_radius, length);
}

SphereWall sphere_wall(double radius, Vec3 axis, Vec3 zero, double half_angle, double length, bool toward) {
  const double s = std::sin(half_angle);
  const double c = std::cos(half_angle);
  const Frame frame = frame_along((radius * s) * axis, toward ? -axis : axis, zero);
  // a cone's second circle, at its end: its radius there is R/cos p - L tan p
  const double height = length - radius * s;
  Sheet sheet = half_angle == 0.0 ? Sheet::cylinder(frame, radius)
                                  : Sheet::cone(frame, radius * c, (radius - length * s) / c, height);
  return {axis, half_angle, length, sheet, toward};
}

Start start_of(const std::vector<SphereWall>& walls, int wall, double theta) {
  Start start{-std::numeric_limits<double>::infinity(), {}};
  for (int j = 0; j < static_cast<int>(walls.size()); ++j) {
    if (j == wall) continue;
    const Crossing at =
        crossing_of(walls[static_cast<std::size_t>(wall)], walls[static_cast<std::size_t>(j)], theta);
    if (at.under > k_parallel && at.over / at.under > start.v) start = {at.over / at.under, j};
  }
  return start;
}

double open_end(const SphereWall& wall, double radius, double w) {
  return (wall.length - (radius - w) * std::sin(wall.half_angle)) / std::cos(wall.half_angle);
}

double meets_again(const std::vector<SphereWall>& walls, int wall, double theta) {
  double nearest = std::numeric_limits<double>::infinity();
  for (int j = 0; j < static_cast<int>(walls.size()); ++j) {
    if (j == wall) continue;
    const Crossing at =
        crossing_of(walls[static_cast<std::size_t>(wall)], walls[static_cast<std::size_t>(j)], theta);
    if (at.under < -k_parallel) nearest = std::min(nearest, at.over / at.under);
  }
  return nearest;
}

std::vector<SphereCorner> corners_of(const std::vector<SphereWall>& walls, double radius) {
  std::vector<Linear> f;
  for (const SphereWall& wall : walls) f.push_back(f_of(wall, radius));
  const double same = k_same * radius;
  std::vector<SphereCorner> corners;
  const auto take = [&](Vec3 point, double height) {
    if (std::any_of(f.begin(), f.end(), [&](const Linear& other) { return other.at(point) > height + same; }))
      return;
    if (std::any_of(corners.begin(), corners.end(),
                    [&](const SphereCorner& corner) { return distance(corner.point, point) < same; }))
      return;
    SphereCorner corner{point, {}};
    for (std::size_t w = 0; w < f.size(); ++w)
      if (f[w].at(point) > height - same) corner.walls.push_back(static_cast<int>(w));
    corners.push_back(std::move(corner));
  };
  for (std::size_t i = 0; i < f.size(); ++i)
    for (std::size_t j = i + 1; j < f.size(); ++j)
      for (std::size_t k = j + 1; k < f.size(); ++k)
        for (const Vec3& point : meeting_points(f[i], f[j], f[k], radius)) take(point, f[i].at(point));
  return corners;
}

std::vector<SphereArc> arcs_on(const std::vector<SphereWall>& walls, const std::vector<SphereCorner>& corners,
                               int wall) {
  const Sheet& sheet = walls[static_cast<std::size_t>(wall)].sheet;
  struct At {
    double theta;
    int corner;
  };
  std::vector<At> places;
  for (std::size_t c = 0; c < corners.size(); ++c)
    if (const auto& all = corners[c].walls; std::find(all.begin(), all.end(), wall) != all.end())
      places.push_back({in_turn(sheet.locate(corners[c].point, 0.0).theta), static_cast<int>(c)});
  std::sort(places.begin(), places.end(), [](const At& a, const At& b) { return a.theta < b.theta; });
  std::vector<SphereArc> arcs;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const bool last = i + 1 == places.size();
    const At& next = last ? places.front() : places[i + 1];
    const double to = next.theta + (last ? k_two_pi : 0.0);
    const int neighbour = start_of(walls, wall, 0.5 * (places[i].theta + to)).neighbour.value();
    arcs.push_back({places[i].theta, to, places[i].corner, next.corner, neighbour});
  }
  return arcs;
}

namespace {

// The mitre of two walls: a plane at every depth, the same one where their half angles are alike.
Target mitre_of(const SphereWall& a, const SphereWall& b, double radius) {
  const Linear one = f_of(a, radius);
  const Linear other = f_of(b, radius);
  const Vec3 across = one.slope - other.slope;
  const double size = norm(across);
  const Vec3 normal = (1.0 / size) * across;
  if (a.half_angle == b.half_angle) return PlaneTarget{{}, normal};
  return SphereTarget{{}, radius, normal, (one.rise - other.rise) / size};
}

// The other wall's arc between the same two corners.
const SphereArc& twin_of(const std::vector<SphereArc>& arcs, const SphereArc& arc, int wall) {
  const auto is_twin = [&](const SphereArc& other) {
    const bool same = other.from_corner == arc.from_corner && other.to_corner == arc.to_corner;
    const bool turned = other.from_corner == arc.to_corner && other.to_corner == arc.from_corner;
    return other.neighbour == wall && (same || turned);
  };
  const auto found = std::find_if(arcs.begin(), arcs.end(), is_twin);
  if (found == arcs.end()) throw GeometryError("two walls do not meet between the same corners");
  return *found;
}

// A vertex where one of the two walls' faces begin, if that lies in the joint.
void add_split(Joint& joint, Side side, const SphereArc& arc) {
  constexpr double k_near = 1e-7;
  const double turn = k_two_pi * std::ceil((arc.from - k_near) / k_two_pi);  // the ruling 0 in the arc
  if (turn > arc.to - k_near || turn < arc.from + k_near) return;
  const double s = parameter_at(joint, side, turn, shell_depths(0.0));
  const double from = joint.splits.front();
  const double at = from + in_turn(s - from);
  for (const double split : joint.splits)
    if (std::fabs(split - at) < k_near) return;
  joint.splits.push_back(at);
  std::sort(joint.splits.begin(), joint.splits.end());
}

void add_use(Wall& wall, End end, JointUse use, bool first) {
  JointUse& one = wall.use(end);
  std::vector<JointUse>& rest = wall.rest(end);
  if (first)
    one = use;
  else
    rest.push_back(use);
}

}  // namespace

void join_walls(Fitting& fitting, const std::vector<SphereWall>& walls,
                const std::vector<SphereCorner>& corners, double radius) {
  std::vector<std::vector<SphereArc>> arcs;
  for (std::size_t w = 0; w < walls.size(); ++w) arcs.push_back(arcs_on(walls, corners, static_cast<int>(w)));
  struct Made {
    int lead, joint;
    const SphereArc* twin;
  };
  std::vector<Made> made;
  for (std::size_t w = 0; w < walls.size(); ++w)
    for (const SphereArc& arc : arcs[w]) {
      const int wall = static_cast<int>(w);
      JointUse use{0, Side::lead, arc.from, arc.to - arc.from};
      if (arc.neighbour > wall) {
        const auto other = static_cast<std::size_t>(arc.neighbour);
        const SphereArc& twin = twin_of(arcs[other], arc, wall);
        Joint joint{walls[w].sheet,
                    {walls[other].sheet},
                    mitre_of(walls[w], walls[other], radius),
                    JointStyle::mitre,
                    {arc.from, arc.to}};
        joint.stretch = {arc.from_corner, arc.to_corner};
        add_split(joint, Side::lead, arc);
        add_split(joint, Side::follow, twin);
        fitting.joints.push_back(std::move(joint));
        use.joint = static_cast<int>(fitting.joints.size()) - 1;
        made.push_back({wall, use.joint, &twin});
      } else {
        const auto found =
            std::find_if(made.begin(), made.end(), [&](const Made& one) { return one.twin == &arc; });
        if (found == made.end()) throw GeometryError("two walls do not meet between the same corners");
        use.joint = found->joint;
        use.side = Side::follow;
      }
      add_use(fitting.walls[w], walls[w].toward ? End::high : End::low, use, &arc == &arcs[w].front());
    }
}

}  // namespace linerwright
