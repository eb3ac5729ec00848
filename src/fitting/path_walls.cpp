#include "path_walls.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linerwright {

namespace {

Vec3 rotated(Vec3 v, Vec3 axis, double angle) {
  return std::cos(angle) * v + std::sin(angle) * cross(axis, v) +
         ((1.0 - std::cos(angle)) * dot(axis, v)) * axis;
}

// Lays walls one behind the other. The one that is being laid is a cylinder from `low_` to where the way
// stands.
class Layer {
 public:
  Layer(double radius, const Frame& frame) : frame_(frame), radius_(radius) {}

  void straight(double length) { at_ += length; }

  // Each gore's throat lies on the same ruling as that of the one before it, mitre by mitre.
  void bend(const PathPart& part) {
    turn_ += part.turn;
    ++path_.bends;
    path_.turns.push_back({part.angle, part.centreline, part.pieces - 1, part.pieces - 1});
    const double a = part.mitre();
    const double reach = part.centreline * std::tan(a);
    for (int k = 1; k < part.pieces; ++k) {
      const Vec3 toward = frame_.direction({std::cos(turn_), std::sin(turn_), 0.0});
      const Vec3 about = cross(frame_.z, toward);
      at_ += reach;
      marks_.push_back({path_.bends, turn_});
      const Vec3 corner = frame_.point({0.0, 0.0, at_});
      end_cylinder(true, {corner, rotated(frame_.z, about, a)});
      Frame next = frame_;
      next.origin = corner;
      for (Vec3* way : {&next.x, &next.y, &next.z}) *way = rotated(*way, about, 2.0 * a);
      frame_ = next;
      at_ = reach;
      marks_ = {{path_.bends, turn_}};
    }
  }

  void taper(const PathPart& part) {
    if (at_ > 0.0 || mitred_before()) end_cylinder(false, {});
    Frame frame = frame_;
    frame.origin = frame_.point({0.0, 0.0, at_});
    path_.walls.push_back({frame, radius_, 0.5 * part.to_diameter, 0.0, part.length, true});
    path_.centreline += part.length;
    frame_ = frame;
    frame_.origin = frame.point({0.0, 0.0, part.length});
    radius_ = 0.5 * part.to_diameter;
    at_ = 0.0;
    marks_.clear();
  }

  Path finish() {
    if (at_ > 0.0 || mitred_before()) end_cylinder(false, {});
    path_.end = frame_;
    path_.end.origin = frame_.point({0.0, 0.0, at_});
    return std::move(path_);
  }

 private:
  bool mitred_before() const { return !path_.walls.empty() && path_.walls.back().mitred; }

  void end_cylinder(bool mitred, const PlaneTarget& mitre) {
    path_.walls.push_back({frame_, radius_, radius_, 0.0, at_, false, mitre, mitred, marks_});
    path_.centreline += at_;
    marks_.clear();
  }

  Path path_;
  Frame frame_;
  double radius_;
  double at_ = 0.0;    // of the wall's axis from its frame's origin
  double turn_ = 0.0;  // ruling of the last throat
  std::vector<BendMark> marks_;
};

double half_angle(const PathWall& wall) {
  return std::atan2(wall.radius - wall.to_radius, wall.high);
}

// Two tapers on one circle: at depth w their corner lies on the line half way between the two normals,
// w (sin p + sin q) / (1 + cos(p - q)) before the seam.
Target corner_of(const PathWall& before, const PathWall& after) {
  const double p = half_angle(before);
  const double q = half_angle(after);
  const double walk = (std::sin(p) + std::sin(q)) / (1.0 + std::cos(p - q));
  const Vec3 along = after.frame.z;
  return SphereTarget{after.frame.origin - (walk * after.radius) * along, after.radius, along,
                      walk * after.radius};
}

// The largest value around, which has one peak within the steps that are looked at first.
template <class Height>
double furthest(const Height& height) {
  constexpr int k_steps = 72;
  constexpr int k_halvings = 60;
  int best = 0;
  for (int k = 1; k < k_steps; ++k)
    if (height(k_two_pi * k / k_steps) > height(k_two_pi * best / k_steps)) best = k;
  double from = k_two_pi * (best - 1) / k_steps;
  double to = k_two_pi * (best + 1) / k_steps;
  for (int i = 0; i < k_halvings; ++i) {
    const double third = (to - from) / 3.0;
    if (height(from + third) < height(to - third))
      from += third;
    else
      to -= third;
  }
  return height(0.5 * (from + to));
}

}  // namespace

Path laid(const std::vector<PathPart>& parts, double diameter, const Frame& frame) {
  Layer layer(0.5 * diameter, frame);
  for (const PathPart& part : parts) {
    if (part.form == PathPart::Form::straight) layer.straight(part.length);
    if (part.form == PathPart::Form::bend) layer.bend(part);
    if (part.form == PathPart::Form::taper) layer.taper(part);
  }
  return layer.finish();
}

Sheet sheet_of(const PathWall& wall) {
  return wall.taper ? Sheet::cone(wall.frame, wall.radius, wall.to_radius, wall.high)
                    : Sheet::cylinder(wall.frame, wall.radius);
}

void go_on(Fitting& fitting, const Path& path, int wall, double face_start) {
  const std::vector<double> halves{std::fmod(face_start, k_pi), std::fmod(face_start, k_pi) + k_pi};
  for (std::size_t i = 1; i < path.walls.size(); ++i) {
    const PathWall& before = path.walls[i - 1];
    const PathWall& now = path.walls[i];
    const int index = add_wall(fitting, sheet_of(now), face_start);
    const auto join = [&](Side lower_is, const Target& target, std::vector<double> splits) {
      add_joint(fitting, index - 1, index, lower_is, target, std::move(splits));
    };
    if (before.mitred)
      join(Side::lead, before.mitre, {face_start});
    else if (now.taper && before.taper)
      join(Side::lead, corner_of(before, now), halves);
    else if (now.taper)
      join(Side::follow, CollarTarget{End::low}, halves);
    else
      join(Side::lead, CollarTarget{End::high}, halves);
  }
  add_open_end(fitting, wall + static_cast<int>(path.walls.size()) - 1, End::high, path.walls.back().high);
}

namespace {

// The station of a wall's section at height v of its axis, the air face's corners a little beside the
// metal's.
Station section_of(const PathWall& wall, double v, double t, double distance, const char* place) {
  const double grows = wall.taper ? (wall.to_radius - wall.radius) / wall.high : 0.0;
  const double bare = wall.radius + grows * std::clamp(v, 0.0, wall.high);
  const double lined = wall.radius + grows * v - t * std::hypot(1.0, grows);
  return round_station(distance, 2.0 * bare, 2.0 * lined, wall.frame.point({0.0, 0.0, v}), wall.frame.z,
                       place);
}

// Between which heights of its axis a wall's air face is whole all around.
std::pair<double, double> whole_part(const Fitting& fitting, const PathWall& wall, int index) {
  const double t = fitting.liner.bore_depth();
  // along the axis, where a taper's own rulings are longer
  const auto reach = [&](End end, double theta) {
    const double v = shell_end(fitting, index, end, theta, t);
    const Sheet& sheet = fitting.wall(index).sheet;
    return wall.taper ? wall.frame.local_point(sheet.point(theta, v, t)).z : v;
  };
  return {furthest([&](double theta) { return reach(End::low, theta); }),
          -furthest([&](double theta) { return -reach(End::high, theta); })};
}

}  // namespace

Passage way_along(const Fitting& fitting, const Path& path, const PathWay& way) {
  constexpr double k_whole = 1.0;  // mm that a whole section is at least long
  const double t = fitting.liner.bore_depth();
  Passage passage{way.passage, {}};
  double distance = way.from;
  for (std::size_t i = 0; i < path.walls.size(); ++i) {
    const PathWall& wall = path.walls[i];
    const auto place = [&](double v, const char* name) {
      if (!passage.stations.empty() && distance + v - passage.stations.back().distance < 1e-6) return;
      passage.stations.push_back(section_of(wall, v, t, distance + v, name));
    };
    const auto [low, high] = whole_part(fitting, wall, way.wall + static_cast<int>(i));
    const bool last = i + 1 == path.walls.size();
    const bool whole = high - low > k_whole;
    if (i == 0 && !way.on_body) place(0.0, way.one_end);
    if (i == 0 && way.on_body && whole) place(low, way.one_end);
    const bool beside_taper =
        wall.taper || (i > 0 && path.walls[i - 1].taper) || (!last && path.walls[i + 1].taper);
    if (beside_taper && whole) {
      if (i > 0) place(low, wall.taper ? "taper" : "");
      if (!last) place(high, wall.taper ? "taper" : "");
    } else if (i > 0 && !last && whole) {
      place(0.5 * (low + high), "");
    }
    if (last) place(wall.high, way.other_end);
    passage.metal.push_back({distance, 2.0 * wall.radius});
    distance += wall.high;
    if (last) passage.metal.push_back({distance, 2.0 * (wall.taper ? wall.to_radius : wall.radius)});
  }
  if (way.on_body && !passage.stations.empty()) {  // the metal begins where its first station lies
    const Station& first = passage.stations.front();
    while (passage.metal.size() > 1 && passage.metal[1].distance <= first.distance)
      passage.metal.erase(passage.metal.begin());
    passage.metal.front() = {first.distance, first.bare_diameter};
  }
  passage.turns = path.turns;
  return passage;
}

}  // namespace linerwright
