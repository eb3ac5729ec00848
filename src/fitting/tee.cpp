// Tees and laterals: branches on a body, joined where layers of equal depth meet.
#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <utility>

#include "apart.hpp"
#include "common.hpp"
#include "linerwright/error.hpp"

namespace linerwright {

namespace {

// Holes keep this distance from the body's ends and from each other, millimetres.
constexpr double k_margin = 5.0;
constexpr int k_samples = 180;

struct Branch {
  double radius;    // at its square end
  double base;      // radius where it stands on the body; equal to `radius` for a straight branch
  double length;    // from the body's axis along the branch's axis
  double position;  // of the axes' crossing, from the body's first end
  double angle;     // between the branch's axis and the body's
  double around;    // direction of the branch around the body
  double offset;    // of the branch's axis from the body's
  int wall = -1;
  int joint = -1;
};

std::string name_of(std::size_t index, std::size_t count) {
  return count == 1 ? "branch" : fmt::format("branch{}", index + 1);
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
    b.radius = 0.5 * value_of("branch_diameter", i, 0.0);
    b.base = 0.5 * value_of("branch_base", i, 2.0 * b.radius);
    b.length = value_of("branch_length", i, 0.0);
    b.position = value_of("position", i, 0.5 * length);
    b.angle = value_of("angle", i, 0.5 * k_pi);
    b.around = value_of("around", i, 0.0);
    b.offset = value_of("offset", i, 0.0);
    // Equal and tangent sizes that differ by rounding are meant equal and tangent.
    const double snap = 1e-7 * radius;
    for (double* size : {&b.radius, &b.base})
      if (std::fabs(*size - radius) < snap) *size = radius;
    const double room = radius - b.base;
    if (std::fabs(std::fabs(b.offset) - room) < snap) b.offset = std::copysign(room, b.offset);
    branches.push_back(b);
  }
  return branches;
}

bool check_branch(const Branch& b, double radius, double thickness, JointStyle style, Reasons& reasons) {
  bool good = true;
  const auto no = [&](const std::string& key, const std::string& allowed, const std::string& why) {
    reasons.add(key, allowed, why);
    good = false;
  };
  if (b.radius > radius) {
    no("branch_diameter", "at most " + reasons.length(2.0 * radius), "the branch is larger than the body");
  } else if (b.base < b.radius) {
    no("branch_base", "at least " + reasons.length(2.0 * b.radius),
       "a conical branch is larger at the body than at its end");
  } else if (b.base > radius) {
    no("branch_base", "at most " + reasons.length(2.0 * radius), "the branch is larger than the body");
  } else if (b.base + std::fabs(b.offset) > radius) {
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
  const double enters = std::sqrt(radius * radius - b.offset * b.offset) / std::sin(b.angle);
  frame.origin = frame.point({0, 0, enters});
  return Sheet::cone(frame, b.base, b.radius, std::max(b.length - enters, 1.0));
}

struct HoleBox {
  double z_low = std::numeric_limits<double>::infinity();
  double z_high = -std::numeric_limits<double>::infinity();
  double theta_low = 0.0, theta_high = 0.0;  // continued around the branch's direction
};

HoleBox box_of(const Joint& joint, const LinerSpec& liner, double around) {
  HoleBox box;
  box.theta_low = box.theta_high = around;
  for (const DepthPair& depths : hole_depths(liner))
    for (int i = 0; i < k_samples; ++i) {
      const Sheet::Place place = place_on(joint, Side::follow, k_two_pi * i / k_samples, depths);
      const double theta = around + std::remainder(place.theta - around, k_two_pi);
      box.z_low = std::min(box.z_low, place.v);
      box.z_high = std::max(box.z_high, place.v);
      box.theta_low = std::min(box.theta_low, theta);
      box.theta_high = std::max(box.theta_high, theta);
    }
  return box;
}

// Shortest distance between two branches' axes outside the body.
double axes_apart(const Branch& a, const Branch& b, double radius) {
  const auto outside = [&](const Branch& branch) {
    const double enters =
        std::sqrt(std::max(0.0, radius * radius - branch.offset * branch.offset)) / std::sin(branch.angle);
    Branch straight = branch;
    straight.base = straight.radius;
    const Frame frame = branch_sheet(straight, radius).frame();
    return std::pair{frame.point({0, 0, enters}), frame.point({0, 0, std::max(enters, branch.length)})};
  };
  const auto [a0, a1] = outside(a);
  const auto [b0, b1] = outside(b);
  return lines_apart(a0, a1, b0, b1);
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

}  // namespace

KindSchema tee_schema() {
  KindSchema schema;
  schema.kind = "tee";
  schema.summary = "a body with one or more branches: tees, laterals, crosses";
  const auto per_branch = [](KeySpec key) {
    key.many = true;
    return key;
  };
  KeySpec angle = with_default(length_key("angle", "angle between the branch and the body's far end", "90",
                                          15.0 / 180.0 * k_pi, 165.0 / 180.0 * k_pi),
                               "90");
  angle.quantity = Quantity::angle;
  KeySpec around = with_default(
      length_key("around", "direction of the branch around the body", {}, -k_two_pi, k_two_pi), "0");
  around.quantity = Quantity::angle;
  KeySpec body_seam = with_default(
      length_key("body_seam", "where the body's seam lies, counted from the first branch's direction", {},
                 -k_two_pi, k_two_pi),
      "180");
  body_seam.quantity = Quantity::angle;
  KeySpec branch_seam = optional_key(length_key(
      "branch_seam",
      "where the branch's seam lies, counted from the side that faces the far end (default: its short side)",
      {}, -k_two_pi, k_two_pi));
  branch_seam.quantity = Quantity::angle;
  schema.keys = {
      length_key("diameter", "inside diameter of the body", "24in", 25.0, 5000.0),
      length_key("length", "length of the body", "48in", 20.0, 30000.0),
      per_branch(length_key("branch_diameter", "inside diameter of the branch at its square end", "12in",
                            25.0, 5000.0)),
      per_branch(length_key("branch_length", "from the body's axis along the branch's axis to its square end",
                            "30in", 20.0, 30000.0)),
      per_branch(angle),
      per_branch(optional_key(
          length_key("position", "where the axes cross, from the body's first end (default: the middle)", {},
                     0.0, 30000.0))),
      per_branch(around),
      per_branch(with_default(
          length_key("offset", "of the branch's axis from the body's, sideways", {}, -2500.0, 2500.0),
          "0mm")),
      per_branch(optional_key(length_key(
          "branch_base", "conical branch: its diameter where its axis enters the body", {}, 25.0, 5000.0))),
      body_seam,
      branch_seam,
  };
  return schema;
}

Fitting make_tee(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const double radius = 0.5 * request.values.quantity("diameter");
  const double length = request.values.quantity("length");
  const LinerSpec& liner = fitting.liner;
  require_bore(reasons, fitting, 2.0 * radius, "diameter");
  std::vector<Branch> branches = read_branches(request, radius, length, reasons);
  reasons.throw_if_any();
  for (const Branch& b : branches) {
    if (check_branch(b, radius, liner.thickness, liner.joint, reasons))
      require_bore(reasons, fitting, 2.0 * b.radius, "branch_diameter");
    if (b.position <= 0.0 || b.position >= length)
      reasons.add("position", "inside the body's " + reasons.length(length),
                  "the branch does not stand on the body");
    const double enters = std::sqrt(std::max(0.0, radius * radius - b.offset * b.offset)) / std::sin(b.angle);
    if (b.base > b.radius && b.length < enters + 10.0)
      reasons.add("branch_length", "at least " + reasons.length(enters + 10.0),
                  "a conical branch needs a length outside the body");
  }
  reasons.throw_if_any();

  const Sheet body_sheet = Sheet::cylinder(Frame{}, radius);
  const int body = add_wall(fitting, body_sheet);
  std::vector<HoleBox> boxes;
  for (std::size_t i = 0; i < branches.size(); ++i) {
    Branch& b = branches[i];
    const Sheet sheet = branch_sheet(b, radius);
    b.wall = add_wall(fitting, sheet, 0.5 * k_pi);
    fitting.joints.push_back(
        {sheet, {body_sheet}, BodyTarget{body_sheet}, liner.joint, {0.5 * k_pi, 1.5 * k_pi}});
    b.joint = static_cast<int>(fitting.joints.size()) - 1;
    fitting.walls[static_cast<std::size_t>(b.wall)].low = {b.joint, Side::lead};
    fitting.walls[static_cast<std::size_t>(body)].holes.push_back({b.joint, Side::follow});
    const double end = b.length - dot(sheet.frame().origin - Vec3{0, 0, b.position}, sheet.frame().z);
    add_open_end(fitting, b.wall, true, end);
    try {
      boxes.push_back(box_of(fitting.joints[static_cast<std::size_t>(b.joint)], liner, b.around));
    } catch (const GeometryError& error) {
      reasons.add(b.base > b.radius ? "branch_base" : "offset", "a smaller one", error.what());
      reasons.throw_if_any();
    }
    const double room = std::min(boxes[i].z_low, length - boxes[i].z_high);
    if (room < k_margin)
      reasons.add(
          "length", fmt::format("{} between hole and ends", reasons.length(k_margin)),
          fmt::format("the hole reaches from {} to {} of the body's {}", reasons.length(boxes[i].z_low),
                      reasons.length(boxes[i].z_high), reasons.length(length)));
  }
  reasons.throw_if_any();
  for (std::size_t i = 0; i < branches.size(); ++i)
    for (std::size_t k = i + 1; k < branches.size(); ++k) {
      const auto hole = [&](const Branch& branch) {
        return HoleOf{fitting.joints[static_cast<std::size_t>(branch.joint)], branch.around};
      };
      const double apart = holes_apart(hole(branches[i]), hole(branches[k]), liner);
      if (apart < k_margin)
        reasons.add("position", "holes at least " + reasons.length(k_margin) + " apart",
                    apart > 0.0 ? fmt::format("the holes of branches {} and {} are {} apart", i + 1, k + 1,
                                              reasons.length(apart))
                                : fmt::format("the holes of branches {} and {} overlap", i + 1, k + 1));
      const double axes = axes_apart(branches[i], branches[k], radius);
      const double needed = branches[i].base + branches[k].base + 2.0 * liner.gauge;
      if (axes < needed)
        reasons.add("around", "axes at least " + reasons.length(needed) + " apart outside the body",
                    fmt::format("branches {} and {} run into each other: their axes come within {}", i + 1,
                                k + 1, reasons.length(axes)));
    }
  reasons.throw_if_any();

  double clearance = 0.0;
  const double margin_angle = k_margin / radius;
  const double wanted = branches.front().around + request.values.quantity("body_seam");
  const double seam = free_ruling(boxes, wanted, margin_angle, &clearance);
  if (clearance < margin_angle || (request.values.given("body_seam") && seam != wanted))
    reasons.add("body_seam", "a ruling at least " + reasons.length(k_margin) + " from every hole",
                clearance < margin_angle ? "no straight seam passes between the holes"
                                         : "the body's seam would run through a hole");
  reasons.throw_if_any();
  Wall& body_wall = fitting.walls[static_cast<std::size_t>(body)];
  body_wall.face_start = std::remainder(seam, k_two_pi);
  add_open_end(fitting, body, false, 0.0);
  add_open_end(fitting, body, true, length);
  // the ends' circles have their vertex where the body's faces begin
  Piece body_piece{"body", "body", body, body_wall.face_start, k_two_pi, "clear of the branches", {}, {}};
  for (std::size_t i = 0; i < branches.size(); ++i) {
    const Branch& b = branches[i];
    const std::string name = name_of(i, branches.size());
    body_piece.marks.push_back({b.around, name + " centre line"});
    body_piece.next.push_back(name);
    const bool short_at_far = b.angle <= 0.5 * k_pi + 1e-12;
    const double branch_seam = request.values.has("branch_seam") ? request.values.quantity("branch_seam")
                                                                 : (short_at_far ? 0.0 : k_pi);
    Piece piece{name,
                "branch",
                b.wall,
                branch_seam,
                k_two_pi,
                request.values.has("branch_seam") ? "as asked" : "short side",
                {{0.0, short_at_far && b.angle < 0.5 * k_pi - 1e-12 ? "A crotch" : "A far side"},
                 {0.5 * k_pi, "B side"},
                 {k_pi, b.angle > 0.5 * k_pi + 1e-12 ? "C crotch" : "C near side"},
                 {1.5 * k_pi, "D side"}},
                {"body"}};
    for (const RulingMark& mark : piece.marks) body_piece.hole_marks.push_back({i, mark.theta, mark.name});
    fitting.pieces.push_back(std::move(piece));
  }
  if (branches.size() == 1 && !request.values.given("body_seam"))
    body_piece.seam_place = "opposite the branch";
  fitting.pieces.insert(fitting.pieces.begin(), body_piece);
  require_lengths(reasons, fitting, "branch_length");
  reasons.throw_if_any();
  for (std::size_t i = 0; i < branches.size(); ++i)
    require_common_opening(reasons,
                           {fitting.joints[static_cast<std::size_t>(branches[i].joint)], branches[i].around},
                           liner, branches.size() == 1 ? "the branch" : name_of(i, branches.size()));
  reasons.throw_if_any();
  require_allowances(reasons, fitting);
  reasons.throw_if_any();
  for (int i = 0; i < static_cast<int>(fitting.pieces.size()); ++i) fitting.insertion.push_back(i);

  const double t = liner.thickness;
  const double bore = 2.0 * (radius - t);
  fitting.passages.push_back(
      {"body",
       {round_station(0.0, 2.0 * radius, bore, {}, {0, 0, 1}, "first end"),
        round_station(length, 2.0 * radius, bore, {0, 0, length}, {0, 0, 1}, "far end")}});
  for (std::size_t i = 0; i < branches.size(); ++i) {
    const Branch& b = branches[i];
    const std::string name = name_of(i, branches.size());
    const Joint& joint = fitting.joints[static_cast<std::size_t>(b.joint)];
    const Sheet& sheet = joint.lead;
    const double shift = dot(sheet.frame().origin - Vec3{0, 0, b.position}, sheet.frame().z);
    double highest = -1e9;
    double lowest = 1e9;
    double top = -1e9;
    for (int s = 0; s < 4 * k_samples; ++s) {
      const double theta = k_two_pi * s / (4 * k_samples);
      const double v = height_on_lead(joint, theta, shell_depths(0.0));
      highest = std::max(highest, v);
      lowest = std::min(lowest, v);
      top = std::max(
          top,
          sheet.frame().local_point(sheet.point(theta, height_on_lead(joint, theta, shell_depths(t)), t)).z);
    }
    const double end = b.length - shift;
    const double half_angle_cos = sheet.ruling(0.0).direction.z;
    const auto radius_at = [&](double z) {
      return sheet.is_cylinder() ? b.radius : sheet.r1() + (sheet.r2() - sheet.r1()) * z / sheet.height();
    };
    Passage passage{name, {}};
    for (const auto& [z, place] :
         {std::pair<double, const char*>{top, "above the crotch"}, {end, "branch end"}})
      passage.stations.push_back(round_station(z + shift, 2.0 * radius_at(z),
                                               2.0 * (radius_at(z) - t / half_angle_cos),
                                               sheet.frame().point({0, 0, z}), sheet.frame().z, place));
    fitting.passages.push_back(std::move(passage));
    const std::string prefix = branches.size() == 1 ? "" : name + "_";
    const std::string of = branches.size() == 1 ? "" : " of " + name;
    const std::size_t hole = i;
    fitting.facts.push_back(
        {prefix + "saddle_depth", "depth of the saddle" + of, Quantity::length, highest - lowest});
    fitting.facts.push_back({prefix + "hole_area", "area of the hole in the body's duct face, developed" + of,
                             Quantity::area, hole_area(fitting, body, hole, 0.0)});
    fitting.facts.push_back({prefix + "opening_area",
                             "opening of the branch's bore into the body's, developed" + of, Quantity::area,
                             hole_area(fitting, body, hole, t)});
    fitting.facts.push_back({prefix + "hole_to_end",
                             "narrowest distance from the hole to an end of the body" + of, Quantity::length,
                             std::min(boxes[i].z_low, length - boxes[i].z_high)});
    fitting.facts.push_back({prefix + "sealant_length", "sealant along the joint" + of, Quantity::length,
                             joint_length(joint, liner_depths(joint.style, Side::lead, t, t))});
  }
  note_fasteners(fitting, 2.0 * radius);
  fitting.steps = {
      "Roll the body with the duct face out, tape its seam on the air face and slide it in first, hole to "
      "the branch.",
      "Roll the branch, tape its seam, and slide it in until its saddle sits in the hole all the way around; "
      "letters on branch and body meet.",
      "Seal the joint between body and branch on the air side."};
  return fitting;
}

}  // namespace linerwright
