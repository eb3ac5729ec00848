// Taps: a branch alone, with its saddle, on a duct that is already lined. The duct is no part of the fitting;
// its hole is cut on site by templates. The joint is a tee's (branch.cpp), the liner of the branch ends where
// a tee's would; its metal stands on the outside of the duct's, the hole in which is as wide as the branch.
#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "branch.hpp"
#include "clearance.hpp"
#include "hold_back.hpp"

namespace linerwright {

namespace {

Branch read_branch(const FittingRequest& request, double radius) {
  const Values& values = request.values;
  Branch b{};
  b.name = "branch";
  b.radius = 0.5 * values.quantity("branch_diameter");
  b.base = 0.5 * values.maybe("branch_base").value_or(2.0 * b.radius);
  b.length = values.quantity("branch_length");
  b.angle = values.quantity("angle");
  b.offset = values.quantity("offset");
  make_equal(b, radius);
  return b;
}

void require_branch(const Fitting& fitting, const Branch& b, double radius, Reasons& reasons) {
  const LinerSpec& liner = fitting.liner;
  require_bore(reasons, fitting, 2.0 * radius, "diameter");
  if (check_branch(b, radius, liner.bore_depth(), liner.joint, reasons))
    require_bore(reasons, fitting, 2.0 * b.radius, "branch_diameter");
  const double needed = b.enters(radius) + 10.0;
  if (b.is_conical() && b.length < needed)
    reasons.add("branch_length", "at least " + reasons.length(needed),
                "a conical branch needs a length outside the duct");
}

// The wall of the branch on the duct, which is no wall of the fitting.
void add_branch(Fitting& fitting, Branch& b, double radius) {
  const Sheet duct = Sheet::cylinder(Frame{}, radius);
  const Sheet sheet = branch_sheet(b, radius);
  b.wall = add_wall(fitting, sheet, 0.5 * k_pi);
  fitting.joints.push_back({sheet, {duct}, BodyTarget{duct}, fitting.liner.joint, {0.5 * k_pi, 1.5 * k_pi}});
  b.joint = static_cast<int>(fitting.joints.size()) - 1;
  fitting.joints.back().on_duct = true;
  fitting.walls.back().low = {*b.joint, Side::lead};
  add_open_end(fitting, *b.wall, End::high, end_of(b, sheet));
}

// The hole's sizes are those of its edge on the outside of the duct's metal, from where it is cut.
void add_facts(Fitting& fitting, const Branch& b, double radius) {
  const Joint& joint = fitting.joint(b.joint.value());
  const LinerSpec& liner = fitting.liner;
  const double t = liner.bore_depth();
  const auto add = [&](const char* key, const char* label, Quantity quantity, double value) {
    fitting.facts.push_back({key, label, quantity, value});
  };
  add("saddle_depth", "depth of the saddle", Quantity::length, saddle_depth(joint));
  add("hole_area", "area of the hole in the duct's metal, developed", Quantity::area,
      opening_area(joint, shell_depths(0.0)));
  add("opening_area", "opening of the branch's bore into the duct's, developed", Quantity::area,
      opening_area(joint, shell_depths(t)));
  constexpr double k_none = std::numeric_limits<double>::infinity();
  HoleBox box;
  box.theta_low = k_none;
  box.theta_high = -k_none;
  take_in(box, joint, depths_of_metal(fitting, joint, 0.0), 0.0);
  add("hole_along", "hole in the metal, along the duct", Quantity::length, box.z_high - box.z_low);
  add("hole_around", "hole in the metal, around the duct's outside", Quantity::length,
      (radius + liner.gauge) * (box.theta_high - box.theta_low));
  add("sealant_length", "sealant along the joint", Quantity::length,
      joint_length(joint, liner_depths(joint.style, Side::lead, t, t)));
}

}  // namespace

KindSchema tap_schema() {
  KindSchema schema;
  schema.kind = "tap";
  schema.summary = "a branch alone, with templates of its hole, on a duct that is already lined";
  schema.keys = {
      length_key("diameter", "inside diameter of the duct it stands on, lined as thick as the branch", "24in",
                 25.0, 5000.0),
      branch_key("branch_diameter"),
      branch_key("branch_length"),
      branch_key("angle"),
      branch_key("offset"),
      branch_key("branch_base"),
      branch_key("branch_seam"),
  };
  for (KeySpec& key : hold_back_keys({"end"})) schema.keys.push_back(std::move(key));
  return schema;
}

Fitting make_tap(const FittingRequest& request) {
  Fitting fitting = begin_fitting(request);
  Reasons reasons(request);
  const double radius = 0.5 * request.values.quantity("diameter");
  Branch b = read_branch(request, radius);
  require_branch(fitting, b, radius, reasons);
  reasons.throw_if_any();

  add_branch(fitting, b, radius);
  hole_of(b, fitting.joint(b.joint.value()), fitting.liner, reasons);
  fitting.pieces = {branch_piece(b, request.values, {})};
  fitting.insertion = {0};
  require_lengths(reasons, fitting, "branch_length");
  reasons.throw_if_any();
  require_allowances(reasons, fitting);
  hold_back(fitting, reasons);
  reasons.throw_if_any();

  add_branch_bore(fitting, b, fitting.joint(b.joint.value()));
  add_facts(fitting, b, radius);
  note_fasteners(fitting, 2.0 * b.base);
  return fitting;
}

}  // namespace linerwright
