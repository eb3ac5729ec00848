// What a branch is made of and carries, whether its body is part of the fitting or not.
#include <algorithm>
#include <stdexcept>
#include <utility>

#include "around.hpp"
#include "branch.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr int k_samples = 720;  // around a joint, for figures

}  // namespace

KeySpec branch_key(const std::string& name) {
  const auto angle = [](KeySpec key) {
    key.quantity = Quantity::angle;
    return key;
  };
  if (name == "branch_diameter")
    return length_key("branch_diameter", "inside diameter of the branch at its square end", "12in", 25.0,
                      5000.0);
  if (name == "branch_length")
    return length_key("branch_length", "from the body's axis along the branch's axis to its square end",
                      "30in", 20.0, 30000.0);
  if (name == "angle")
    return angle(with_default(length_key("angle", "angle between the branch and the body's far end", "90",
                                         15.0 / 180.0 * k_pi, 165.0 / 180.0 * k_pi),
                              "90"));
  if (name == "offset")
    return with_default(
        length_key("offset", "of the branch's axis from the body's, sideways", {}, -2500.0, 2500.0), "0mm");
  if (name == "branch_base")
    return optional_key(length_key(
        "branch_base", "conical branch: its diameter where its axis enters the body", {}, 25.0, 5000.0));
  if (name == "branch_seam")
    return angle(optional_key(length_key("branch_seam",
                                         "where the branch's seam lies, counted from the side that faces the "
                                         "far end (default: its short side)",
                                         {}, -k_two_pi, k_two_pi)));
  throw std::invalid_argument("no key of a branch: " + name);
}

Piece branch_piece(const Branch& b, const Values& values, std::vector<std::string> next) {
  const bool short_at_far = b.angle <= 0.5 * k_pi + 1e-12;
  const bool asked = values.has("branch_seam");
  return {b.name,
          "branch",
          b.wall.value(),
          asked ? values.quantity("branch_seam") : (short_at_far ? 0.0 : k_pi),
          k_two_pi,
          asked ? "as asked" : "short side",
          {{0.0, short_at_far && b.angle < 0.5 * k_pi - 1e-12 ? "A crotch" : "A far side"},
           {0.5 * k_pi, "B side"},
           {k_pi, b.angle > 0.5 * k_pi + 1e-12 ? "C crotch" : "C near side"},
           {1.5 * k_pi, "D side"}},
          std::move(next)};
}

void add_branch_bore(Fitting& fitting, const Branch& b, const Joint& joint) {
  const Sheet& sheet = joint.lead;
  const double t = fitting.liner.bore_depth();
  const auto height = [&](double theta) {
    return sheet.frame()
        .local_point(sheet.point(theta, height_on_lead(joint, theta, depths_of_shell(fitting, joint, t)), t))
        .z;
  };
  const double top = greatest_around(height, k_samples);
  const double end = end_of(b, sheet);
  const double shift = b.length - end;
  const double half_angle_cos = sheet.ruling(0.0).direction.z;
  const auto radius_at = [&](double z) {
    return sheet.is_cylinder() ? b.radius : sheet.r1() + (sheet.r2() - sheet.r1()) * z / sheet.height();
  };
  Passage passage{b.name, {}};
  for (const auto& [z, place] :
       {std::pair<double, const char*>{top, "above the crotch"}, {end, "branch end"}})
    passage.stations.push_back(round_station(z + shift, 2.0 * radius_at(z),
                                             2.0 * (radius_at(z) - t / half_angle_cos),
                                             sheet.frame().point({0, 0, z}), sheet.frame().z, place));
  fitting.passages.push_back(std::move(passage));
}

HoleBox hole_of(const Branch& b, const Joint& joint, const LinerSpec& liner, Reasons& reasons) {
  try {
    return box_of(joint, liner, b.around);
  } catch (const GeometryError& error) {
    reasons.add(b.is_conical() ? "branch_base" : "offset", "a smaller one", b.called + error.what());
    reasons.throw_if_any();
    throw;
  }
}

double saddle_depth(const Joint& joint) {
  const auto height = [&](double s) { return height_on_lead(joint, s, shell_depths(0.0)); };
  return greatest_around(height, k_samples) +
         greatest_around([&](double s) { return -height(s); }, k_samples);
}

}  // namespace linerwright
