// Several lengths of duct inside one lining: each length is a body of its own, no joint of the lining comes
// nearer to the metal's than the smallest panel, and every pattern shows where the metal is joined.
#include <algorithm>

#include "proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_volume = 1e-6;  // share of a length's volume
constexpr double k_end = 1e-4;     // mm
constexpr double k_line = 0.01;    // mm, of a pen line across a pattern

// Of all the metal, which a lining that is held back does not reach to the end.
double length_of(const Case& asked) {
  const std::vector<OpenEnd>& ends = asked.wanted.metal_ends;
  return ends.empty() ? asked.wanted.walls.front().high(0.0, 0.0) : ends.back().centre[2];
}

// The bodies in their order, each a ring between two heights: pi ((R + g)^2 - R^2) times its length.
void prove_lengths(const Case& asked, const std::vector<Body>& bodies) {
  Worst volumes("duct lengths", k_volume, "", "pi ((R + g)^2 - R^2) L of each length of duct");
  Worst places("duct joints", k_end, "mm", "sums of the lengths asked for");
  const Wall& wall = asked.wanted.walls.front();
  const double gauge = asked.made.request.value("gauge");
  std::vector<double> heights = asked.wanted.duct_joints;
  heights.insert(heights.begin(), 0.0);
  heights.push_back(length_of(asked));
  std::size_t i = 0;
  for (const Body& body : bodies) {
    if (body.name.compare(0, 5, "metal") != 0 || i + 1 >= heights.size()) continue;
    double wanted = k_pi * gauge * (2.0 * wall.radius + gauge) * (heights[i + 1] - heights[i]);
    for (const Rim& rim : wall.metal_openings)
      if (const double v = rim(0.0, 0.0)[1]; v > heights[i] && v < heights[i + 1])
        wanted -= opening_volume(wall, rim, -gauge, 0.0);
    volumes.off((body.volume - wanted) / wanted, body.name);
    for (const double height : {heights[i], heights[i + 1]}) {
      double near = 1e300;
      for (const RoundEnd& end : body.ends) near = std::min(near, std::abs(end.centre[2] - height));
      places.off(near, body.name);
    }
    ++i;
  }
  volumes.into(asked.findings, true);
  places.into(asked.findings, true);
}

bool has_line_across(const Drawn& drawn, double y, double width) {
  return std::any_of(drawn.entities.begin(), drawn.entities.end(), [&](const Entity& entity) {
    if (entity.layer != "MARK" || entity.closed || entity.points.size() != 2) return false;
    const auto& [a, b] = std::minmax(entity.points[0][0], entity.points[1][0]);
    return std::abs(a) <= k_line && std::abs(b - width) <= k_line &&
           std::abs(entity.points[0][1] - y) <= k_line && std::abs(entity.points[1][1] - y) <= k_line;
  });
}

}  // namespace

void prove_duct_joints(Case& asked, const std::vector<Body>& bodies) {
  const std::vector<double>& joints = asked.wanted.duct_joints;
  if (joints.empty()) return;
  const Request& request = asked.made.request;
  const bool on_metal = request.outer_face() == 0.0;
  if (on_metal && !bodies.empty()) prove_lengths(asked, bodies);
  const double first = asked.wanted.walls.front().low(0.0, 0.0);
  const double last = asked.wanted.walls.front().high(0.0, 0.0);
  const double least = request.value("min_panel");
  Worst apart("liner joints off duct joints", 0.0, "", "at least min_panel from every joint of the duct");
  Worst lines("lines at duct joints", 0.0, "", "a pen line from seam to seam at every joint of the duct");
  for (const Cut& cut : asked.cuts) {
    if (cut.made->ordinates.empty()) continue;
    const double low = cut.made->ordinates.front().duct_low;
    const double high = cut.made->ordinates.front().duct_high;
    for (const double end : {low, high})
      for (const double joint : joints)
        if (end > first + 1e-6 && end < last - 1e-6)
          apart.expect(std::abs(end - joint) >= least - 1e-6,
                       cut.made->id + " ends " + std::to_string(std::abs(end - joint)) +
                           " mm from the duct's joint at " + std::to_string(joint));
    if (!on_metal || asked.made.bare_drawings) continue;
    const std::string file = name_ending(asked.files, "-" + cut.made->id + ".dxf");
    if (file.empty()) continue;
    const Drawn drawn = read_drawn(asked.files.at(file), file, asked.made.inch_drawings ? 25.4 : 1.0);
    for (const double joint : joints)
      if (joint > low && joint < high)
        lines.expect(has_line_across(drawn, joint + cut.lift, cut.made->stretch_out),
                     file + " has none at " + std::to_string(joint) + " mm");
  }
  apart.into(asked.findings);
  lines.into(asked.findings);
}

}  // namespace linerwright::asked
