#include "branch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "around.hpp"
#include "clearance.hpp"

namespace linerwright {

double Branch::enters(double body_radius) const {
  return std::sqrt(std::max(0.0, body_radius * body_radius - offset * offset)) / std::sin(angle);
}

std::vector<Branch> read_branches(const FittingRequest& request, double radius, double length,
                                  Reasons& reasons) {
  const Values& values = request.values;
  const std::size_t count = values.list("branch_diameter").size();
  std::vector<Branch> branches;
  // One value serves all branches; otherwise there is one for each.
  const auto value_of = [&](const std::string& key, std::size_t i, double otherwise) {
    if (!values.has(key)) return otherwise;
    const std::vector<double> all = values.list(key);
    if (all.size() == 1) return all[0];
    if (all.size() != count) {
      if (i == 0)
        reasons.add(
            key, fmt::format("one value, or {}", count),
            fmt::format("{} values for {} branches (branch_diameter gives their number)", all.size(), count));
      return otherwise;
    }
    return all[i];
  };
  for (std::size_t i = 0; i < count; ++i) {
    Branch b{};
    b.name = count == 1 ? "branch" : fmt::format("branch{}", i + 1);
    if (count > 1) b.called = fmt::format("branch {}: ", i + 1);
    b.radius = 0.5 * value_of("branch_diameter", i, 0.0);
    b.base = 0.5 * value_of("branch_base", i, 2.0 * b.radius);
    b.length = value_of("branch_length", i, 0.0);
    b.position = value_of("position", i, 0.5 * length);
    b.angle = value_of("angle", i, 0.5 * k_pi);
    b.around = value_of("around", i, 0.0);
    b.offset = value_of("offset", i, 0.0);
    make_equal(b, radius);
    branches.push_back(b);
  }
  return branches;
}

void make_equal(Branch& b, double radius) {
  const double snap = 1e-7 * radius;
  for (double* size : {&b.radius, &b.base})
    if (std::fabs(*size - radius) < snap) *size = radius;
  const double room = radius - b.base;
  if (std::fabs(std::fabs(b.offset) - room) < snap) b.offset = std::copysign(room, b.offset);
}

bool check_branch(const Branch& b, double radius, double thickness, JointStyle style, Reasons& reasons) {
  bool good = true;
  const auto no = [&](const std::string& key, const std::string& allowed, const std::string& why) {
    reasons.add(key, allowed, b.called + why);
    good = false;
  };
  if (b.radius > radius) {
    no("branch_diameter", "at most " + reasons.length(2.0 * radius), "the branch is larger than the body");
  } else if (b.base < b.radius) {
    no("branch_base", "at least " + reasons.length(2.0 * b.radius),
       "a conical branch is larger at the body than at its end");
  } else if (b.base > radius) {
    no("branch_base", "at most " + reasons.length(2.0 * radius), "the branch is larger than the body");
  } else if (std::fabs(b.offset) > radius - b.base) {
    no("offset", "from -" + reasons.length(radius - b.base) + " to " + reasons.length(radius - b.base),
       "the branch reaches past the side of the body");
  } else if (style == JointStyle::through &&
             b.base + std::fabs(b.offset) > radius - thickness - k_smallest_bore) {
    no("joint", "mitre or over",
       fmt::format("a branch of {} cannot pass through to the air face of a body lined down to {}",
                   reasons.length(2.0 * b.base), reasons.length(2.0 * (radius - thickness))));
  }
  return good;
}

Sheet branch_sheet(const Branch& b, double radius) {
  const Vec3 out{std::cos(b.around), std::sin(b.around), 0.0};
  const Vec3 side{-std::sin(b.around), std::cos(b.around), 0.0};
  const Vec3 along = std::sin(b.angle) * out + std::cos(b.angle) * Vec3{0, 0, 1};
  // theta = 0 faces the body's far end
  const Vec3 toward_far = std::sin(b.angle) * Vec3{0, 0, 1} - std::cos(b.angle) * out;
  Frame frame = frame_along(Vec3{0, 0, b.position} + b.offset * side, along, toward_far);
  if (b.base == b.radius) return Sheet::cylinder(frame, b.radius);
  // The base diameter holds in the plane square to the branch's axis where that axis enters the body.
  const double enters = b.enters(radius);
  frame.origin = frame.point({0, 0, enters});
  return Sheet::cone(frame, b.base, b.radius, std::max(b.length - enters, 1.0));
}

double end_of(const Branch& b, const Sheet& sheet) {
  return b.length - dot(sheet.frame().origin - Vec3{0, 0, b.position}, sheet.frame().z);
}

void take_in(HoleBox& box, const Joint& joint, DepthPair depths, double around) {
  const auto along = [&](double s) { return place_on(joint, Side::follow, s, depths).v; };
  const auto turn = [&](double s) {
    return around + std::remainder(place_on(joint, Side::follow, s, depths).theta - around, k_two_pi);
  };
  constexpr int k_points = 90;
  box.z_low = std::min(box.z_low, -greatest_around([&](double s) { return -along(s); }, k_points));
  box.z_high = std::max(box.z_high, greatest_around(along, k_points));
  box.theta_low = std::min(box.theta_low, -greatest_around([&](double s) { return -turn(s); }, k_points));
  box.theta_high = std::max(box.theta_high, greatest_around(turn, k_points));
}

HoleBox box_of(const Joint& joint, const LinerSpec& liner, double around) {
  HoleBox box;
  box.theta_low = box.theta_high = around;
  for (const DepthPair& depths : hole_depths(liner)) take_in(box, joint, depths, around);
  return box;
}

// The middle of the widest stretch around the body that no hole touches; the way is empty if there is none.
double free_ruling(const std::vector<HoleBox>& boxes, double preferred, double margin_angle, double* width) {
  const auto clearance = [&](double theta) {
    double least = k_pi;
    for (const HoleBox& box : boxes) {
      const double middle = 0.5 * (box.theta_low + box.theta_high);
      const double half = 0.5 * (box.theta_high - box.theta_low);
      least = std::min(least, std::fabs(std::remainder(theta - middle, k_two_pi)) - half);
    }
    return least;
  };
  double best = preferred;
  double best_clearance = clearance(preferred);
  if (best_clearance < margin_angle)
    for (int i = 0; i < 720; ++i) {
      const double theta = preferred + k_two_pi * i / 720;
      if (clearance(theta) > best_clearance + 1e-12) {
        best_clearance = clearance(theta);
        best = theta;
      }
    }
  *width = best_clearance;
  return best;
}

namespace {

// Whether the body lies between a point in a cone, drawn on below where it stands, and the cone's end: a wide
// cone's rulings leave the body again beside it. Local to the cone, towards its tip.
bool behind_body(const BranchMetal& branch, Vec3 local, double radius, double slope) {
  const Sheet& body = branch.joint.follow.front();
  const Frame& frame = branch.sheet.frame();
  const Vec3 up = frame.direction({local.x * slope / radius, local.y * slope / radius, 1.0});
  const Vec3 from = body.frame().local_point(frame.point(local));
  const Vec3 way = body.frame().local_direction(up);
  const double square = way.x * way.x + way.y * way.y;
  if (!(square > 0.0)) return false;
  const double nearest = -(from.x * way.x + from.y * way.y) / square;
  const double along = std::clamp(nearest, 0.0, std::max(0.0, branch.sheet.height() - local.z));
  return std::hypot(from.x + along * way.x, from.y + along * way.y) < body.r1();
}

// How far a point outside the body lies from a branch's metal, square to its axis or beyond its end; negative
// inside. What lies on the other side of the body is not near.
double outside_of(const BranchMetal& branch, double gauge, Vec3 point) {
  const Vec3 local = branch.sheet.frame().local_point(point);
  if (local.z < branch.from) return std::numeric_limits<double>::infinity();
  const Sheet& sheet = branch.sheet;
  const double slope = sheet.is_cylinder() ? 0.0 : (sheet.r2() - sheet.r1()) / sheet.height();
  const double radius = sheet.r1() + slope * local.z + gauge * std::sqrt(1.0 + slope * slope);
  if (slope != 0.0 && radius > 0.0 && behind_body(branch, local, radius, slope))
    return std::numeric_limits<double>::infinity();
  return std::max(std::hypot(local.x, local.y) - radius, dot(point - branch.end.point, branch.end.normal));
}

// The least of `outside_of(b)` over the outside of a's metal: the best of a grid, then closer and closer
// around it.
double least_outside(const BranchMetal& a, const BranchMetal& b, double gauge) {
  const auto at = [&](double theta, double share) {
    const double low = height_on_lead(a.joint, theta, shell_depths(-gauge));
    const double high = height_on_plane(a.sheet, theta, -gauge, a.end);
    return outside_of(b, gauge,
                      a.sheet.point(theta, low + std::clamp(share, 0.0, 1.0) * (high - low), -gauge));
  };
  constexpr int k_around = 90;
  // four steps along for each radius of the branch that may be met
  const double length = a.sheet.frame().local_point(a.end.point).z - a.from;
  const int steps = static_cast<int>(std::clamp(4.0 * length / b.sheet.r1(), 30.0, 2000.0));
  double best = std::numeric_limits<double>::infinity();
  std::array<double, 2> place{0.0, 0.0};
  const auto try_at = [&](double theta, double share) {
    const double value = at(theta, share);
    if (!(value < best)) return;
    best = value;
    place = {theta, share};
  };
  for (int i = 0; i < k_around; ++i)
    for (int k = 0; k <= steps; ++k) try_at(k_two_pi * i / k_around, static_cast<double>(k) / steps);
  double around = k_two_pi / k_around;
  double along = 1.0 / steps;
  for (int step = 0; step < 24; ++step, around *= 0.6, along *= 0.6) {
    const auto [theta, share] = place;
    for (const double i : {-1.0, 0.0, 1.0})
      for (const double k : {-1.0, 0.0, 1.0}) try_at(theta + around * i, share + along * k);
  }
  return best;
}

}  // namespace

double metals_apart(const BranchMetal& a, const BranchMetal& b, double gauge) {
  return std::min(least_outside(a, b, gauge), least_outside(b, a, gauge));
}

}  // namespace linerwright
