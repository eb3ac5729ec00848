// Paths: cylinders and right cones one behind the other between two openings, mitred or on one axis.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "shapes.hpp"

namespace linerwright {

namespace {

constexpr double k_meet = 0.05;        // mm
constexpr double k_square = 1e-4;      // radians
constexpr double k_same_angle = 1e-6;  // radians, of drawings that are exact
constexpr double k_shortest_straight = 1.0;
constexpr double k_smallest_bend = 12.0;
constexpr std::size_t k_most_mitres = 11;

// One wall along its axis, and what stands at its end.
struct Leg {
  double length = 0.0;  // of its axis
  double radius = 0.0;  // at its end
  bool taper = false;
  double angle = 0.0;     // of the mitre at its end; 0: the next stands on the same axis, or it is the last
  double turn = 0.0;      // of the mitre's plane about the axis, carried on from wall to wall
  double straight = 0.0;  // of a cylinder: what bends leave of it
  double reach = 0.0;     // of the mitre: radius times the tangent of half its angle
  std::size_t bend = 0;   // mitres of one bend have the same number
};

struct Way {
  std::vector<Leg> legs;
  Frame start;
  double radius = 0.0;  // at the first opening
  std::string fault;
};

// Less than nothing before a cone's apex, from which its axis points into it.
double radius_at(const FittedSurface& fit, Vec3 centre) {
  return fit.sort == SurfaceSort::cylinder ? fit.radius
                                           : std::tan(fit.angle) * dot(centre - fit.origin, fit.axis);
}

bool on_axis(const FittedSurface& fit, Vec3 point, Vec3 along) {
  return norm(cross(along, fit.axis)) < k_square && norm(cross(point - fit.origin, fit.axis)) < k_meet;
}

bool touch(const Inside& inside, const InsideSurface* a, const InsideSurface* b) {
  const auto first = static_cast<std::size_t>(a - inside.surfaces.data());
  const auto second = static_cast<std::size_t>(b - inside.surfaces.data());
  return std::any_of(inside.joints.begin(), inside.joints.end(), [&](const InsideJoint& joint) {
    return std::minmax(joint.a, joint.b) == std::minmax(first, second);
  });
}

Vec3 turned(Vec3 v, Vec3 axis, double angle) {
  return std::cos(angle) * v + std::sin(angle) * cross(axis, v) +
         ((1.0 - std::cos(angle)) * dot(axis, v)) * axis;
}

// Where along the axis two walls on it have one radius: both grow evenly with the way along it.
double same_radius(const FittedSurface& a, const FittedSurface& b, Vec3 at, Vec3 along) {
  const double a0 = radius_at(a, at), b0 = radius_at(b, at);
  const auto grows = [&](const FittedSurface& fit) {
    if (fit.sort == SurfaceSort::cylinder) return 0.0;
    return (dot(fit.axis, along) > 0.0 ? 1.0 : -1.0) * std::tan(fit.angle);
  };
  const double apart = grows(a) - grows(b);
  return apart == 0.0 ? -1.0 : (b0 - a0) / apart;
}

// Where two axes come nearest, along the first; nothing where they are parallel or miss.
bool crossing(Vec3 p, Vec3 d, const FittedSurface& next, double& along) {
  const double c = dot(d, next.axis);
  const double square = 1.0 - c * c;
  if (square < 1e-10) return false;
  const Vec3 r = next.origin - p;
  along = (dot(r, d) - c * dot(r, next.axis)) / square;
  const double other = (c * dot(r, d) - dot(r, next.axis)) / square;
  return distance(p + along * d, next.origin + other * next.axis) < k_meet;
}

class Walker {
 public:
  Walker(const Inside& inside, const DrawnEnd& from, const DrawnEnd& to) : inside_(inside), to_(to) {
    for (const InsideSurface& surface : inside.surfaces)
      if (!is_small(surface, inside)) left_.push_back(&surface);
    way_.start.origin = at_ = from.circle.centre;
    way_.start.z = -from.circle.normal;
    now_ = wall_of(from);
  }

  Way walk() {
    if (now_ == nullptr) return faulty("an opening ends no cylinder or cone about its own axis");
    for (const InsideSurface* surface : left_)
      if (surface->fit.sort != SurfaceSort::cylinder && surface->fit.sort != SurfaceSort::cone)
        return faulty(fmt::format("face {} is neither a cylinder nor a right cone", surface->faces.front()));
    way_.radius = radius_at(now_->fit, at_);
    frame_.z = way_.start.z;
    while (true) {
      left_.erase(std::find(left_.begin(), left_.end(), now_));
      if (left_.empty()) break;
      if (!step()) return faulty(fmt::format("no other wall goes on behind face {}", now_->faces.front()));
    }
    if (!on_axis(now_->fit, to_.circle.centre, to_.circle.normal) || dot(frame_.z, to_.circle.normal) < 0.0)
      return faulty("the walls between its openings do not lead from one to the other");
    add(to_.circle.centre);
    return std::move(way_);
  }

 private:
  Way faulty(const std::string& why) {
    way_.fault = why;
    return std::move(way_);
  }

  // The wall that ends in the opening: of those about its axis the one whose points come nearest.
  const InsideSurface* wall_of(const DrawnEnd& opening) const {
    const InsideSurface* found = nullptr;
    double least = 1e300;
    for (const InsideSurface* surface : left_) {
      if (!on_axis(surface->fit, opening.circle.centre, opening.circle.normal)) continue;
      for (const DrawnPoint& p : surface->points)
        if (const double away = distance(p.at, opening.circle.centre); away < least) {
          least = away;
          found = surface;
        }
    }
    return found;
  }

  void add(Vec3 end) {
    Leg leg;
    leg.length = dot(end - at_, frame_.z);
    leg.taper = now_->fit.sort == SurfaceSort::cone;
    leg.radius = radius_at(now_->fit, end);
    way_.legs.push_back(leg);
    at_ = end;
  }

  bool step() {
    const bool neighbours =
        std::any_of(left_.begin(), left_.end(), [&](const auto* next) { return touch(inside_, now_, next); });
    const InsideSurface* best = nullptr;
    double least = 1e300;
    for (const InsideSurface* next : left_) {
      if (neighbours && !touch(inside_, now_, next)) continue;
      double along = 0.0;
      if (on_axis(next->fit, at_, frame_.z))
        along = same_radius(now_->fit, next->fit, at_, frame_.z);
      else if (!crossing(at_, frame_.z, next->fit, along))
        continue;
      if (along < -k_meet || along >= least) continue;
      least = along;
      best = next;
    }
    if (best == nullptr) return false;
    const Vec3 corner = at_ + least * frame_.z;
    const bool straight_on = on_axis(best->fit, at_, frame_.z);
    add(corner);
    if (!straight_on) mitre(*best, corner);
    now_ = best;
    return true;
  }

  void mitre(const InsideSurface& next, Vec3 corner) {
    Vec3 mean{};
    for (const DrawnPoint& p : next.points)
      mean = mean + (1.0 / static_cast<double>(next.points.size())) * p.at;
    const Vec3 along = dot(mean - corner, next.fit.axis) > 0.0 ? next.fit.axis : -next.fit.axis;
    const Vec3 about = normalised(cross(frame_.z, along));
    const Vec3 toward = cross(about, frame_.z);
    // the first mitre's plane, or the drawing's own x, is where turns count from
    if (std::none_of(way_.legs.begin(), way_.legs.end(), [](const Leg& leg) { return leg.angle > 0.0; })) {
      way_.start.x = frame_.x = reference(frame_.z, toward);
      frame_.y = cross(frame_.z, frame_.x);
    }
    Leg& leg = way_.legs.back();
    leg.angle = std::atan2(norm(cross(frame_.z, along)), dot(frame_.z, along));
    leg.turn = std::atan2(dot(toward, frame_.y), dot(toward, frame_.x));
    frame_.x = turned(frame_.x, about, leg.angle);
    frame_.z = along;
    frame_.y = cross(frame_.z, frame_.x);
  }

  const Inside& inside_;
  const DrawnEnd& to_;
  std::vector<const InsideSurface*> left_;
  const InsideSurface* now_ = nullptr;
  Vec3 at_{};
  Frame frame_;
  Way way_;
};

bool one_bend(const Leg& a, const Leg& b, double alike) {
  const double angle = std::max(k_same_angle, 0.01 * alike);
  return std::fabs(a.angle - b.angle) < angle && std::fabs(std::remainder(a.turn - b.turn, k_two_pi)) < angle;
}

// Numbers the mitres of one bend alike: equal, in one plane, with gores of one length between them and room
// for its end pieces. The reach of such a bend is half a gore.
void group(std::vector<Leg>& legs, double alike) {
  std::size_t bends = 0;
  double before = 0.0;  // of the bend before, into the wall that is looked at
  for (std::size_t i = 0; i < legs.size(); ++i) {
    if (legs[i].angle == 0.0) {
      before = 0.0;
      continue;
    }
    std::size_t last = i;
    if (i + 1 < legs.size() && legs[i + 1].angle > 0.0) {
      const double gore = legs[i + 1].length;
      while (last + 1 < legs.size() && last - i + 1 < k_most_mitres &&
             one_bend(legs[i], legs[last + 1], alike) && std::fabs(legs[last + 1].length - gore) < alike)
        ++last;
      if (legs[i].length - before < 0.5 * gore - alike || legs[last + 1].length < 0.5 * gore - alike)
        last = i;
    }
    ++bends;
    for (std::size_t k = i; k <= last; ++k) {
      legs[k].bend = bends;
      legs[k].reach = last > i ? 0.5 * legs[i + 1].length : 0.0;
    }
    before = legs[last].reach;
    i = last;
  }
}

// The reach of a mitre by itself is free: that of the usual radius where there is room for it, and none that
// would leave a straight too short to be said. Then what is left of the walls between bends.
void lay_out(std::vector<Leg>& legs, double first_radius, double alike, std::vector<std::string>& notes) {
  constexpr double k_usual = 1.5;
  const auto room = [alike](double left, double reach) {
    if (left - reach > alike && left - reach < k_shortest_straight)
      return left > k_shortest_straight + reach ? reach : std::max(0.5 * reach, left - k_shortest_straight);
    return reach;
  };
  bool alone = false;
  double radius = first_radius;
  for (std::size_t i = 0; i < legs.size(); ++i) {
    Leg& leg = legs[i];
    const double before = i > 0 && legs[i - 1].angle > 0.0 ? legs[i - 1].reach : 0.0;
    if (leg.angle > 0.0 && leg.reach == 0.0) {
      alone = true;
      const Leg& next = legs[i + 1];
      const bool next_free = next.angle > 0.0 && next.reach == 0.0;
      const double behind = next_free ? 0.5 * next.length : next.length - next.reach;
      leg.reach = std::min({k_usual * 2.0 * radius * std::tan(0.5 * leg.angle), leg.length - before, behind});
      leg.reach = std::min(room(leg.length - before, leg.reach), room(behind, leg.reach));
    }
    const bool within = i > 0 && leg.bend > 0 && legs[i - 1].bend == leg.bend;
    leg.straight = within || leg.taper ? 0.0 : leg.length - before - (leg.angle > 0.0 ? leg.reach : 0.0);
    radius = leg.radius;
  }
  if (alone)
    notes.emplace_back(
        "a single mitre does not tell the radius from the straights beside it: the radius is the usual one, "
        "or what "
        "fits");
}

// An angle between minus and plus half a turn, the latter where it is either.
double half_turn(double angle) {
  const double rest = std::remainder(angle, k_two_pi);
  return rest < -k_pi + k_same_angle ? rest + k_two_pi : rest;
}

std::string parts_text(const std::vector<Leg>& legs, double alike) {
  std::string out;
  double turn = 0.0;
  const auto part = [&](const std::string& text) { out += (out.empty() ? "" : ", ") + text; };
  for (std::size_t i = 0; i < legs.size(); ++i) {
    const Leg& leg = legs[i];
    if (leg.taper)
      part(fmt::format("taper to {} over {}", length_value(2.0 * leg.radius), length_value(leg.length)));
    else if (leg.straight > alike)
      part("straight " + length_value(leg.straight));
    if (leg.angle == 0.0 || (i > 0 && legs[i - 1].angle > 0.0 && legs[i - 1].bend == leg.bend)) continue;
    const auto mitres = static_cast<std::size_t>(
        std::count_if(legs.begin(), legs.end(), [&](const Leg& one) { return one.bend == leg.bend; }));
    const double radius = leg.reach / std::tan(0.5 * leg.angle);
    part(fmt::format("bend {} turn {} pieces {} radius {}",
                     angle_value(leg.angle * static_cast<double>(mitres)),
                     angle_value(half_turn(leg.turn - turn)), mitres + 1, length_value(radius)));
    turn = leg.turn;
  }
  return out;
}

}  // namespace

ReadShape path_of(const Inside& inside) {
  ReadShape shape;
  const bool turned_round = first_opening(inside) != 0;
  const DrawnEnd& from = inside.openings[turned_round ? 1 : 0];
  const DrawnEnd& to = inside.openings[turned_round ? 0 : 1];
  Way way = Walker(inside, from, to).walk();
  shape.fault = way.fault;
  if (!shape.fault.empty()) return shape;
  shape.kind = "path";
  shape.start = way.start;
  if (norm(shape.start.x) < 0.5 || std::fabs(dot(shape.start.x, shape.start.z)) > k_square)
    shape.start.x =
        reference(shape.start.z, std::fabs(shape.start.z.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0});
  const double alike = std::max(1e-6, length_slack(inside));
  group(way.legs, alike);
  lay_out(way.legs, way.radius, alike, shape.notes);
  for (const Leg& leg : way.legs)
    if (leg.angle > 0.0 && leg.reach < k_smallest_bend * std::tan(0.5 * leg.angle))
      shape.fault =
          fmt::format("a mitre of {} degrees has no room for a bend beside it", angle_value(leg.angle));
  shape.keys = {{"diameter", length_value(2.0 * way.radius)}, {"parts", parts_text(way.legs, alike)}};
  return shape;
}

}  // namespace linerwright
