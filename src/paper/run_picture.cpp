// A run of duct at a glance: what an eye sees of its metal from above, as of a fitting.
#include <algorithm>
#include <cmath>

#include "chains.hpp"

namespace linerwright {

Picture run_picture(const std::vector<Solid>& metals, double deflection) {
  constexpr Vec2 k_page{240.0, 160.0};  // mm, the largest picture
  // rad between neighbouring facets; more where many fittings share the picture
  const double turn = 0.15 * std::clamp(std::sqrt(static_cast<double>(metals.size()) / 25.0), 1.0, 3.0);
  Eye eye{normalised({1.0, -1.0, 1.0}), {}};
  eye.right = normalised(cross(Vec3{0.0, 0.0, 1.0}, eye.toward));
  std::vector<PlacedSolid> placed;
  for (const Solid& metal : metals) placed.push_back({metal});
  std::vector<Vec2> points;
  const std::vector<SeenLines> seen = seen_lines(placed, eye, {deflection, turn});
  for (const SeenLines& each : seen)
    for (const auto& line : each) points.insert(points.end(), line.begin(), line.end());
  const Box box = bounding_box(points).value_or(Box{});
  const Vec2 size = box.high - box.low;
  const double scale = std::min(k_page.x / std::max(size.x, 1.0), k_page.y / std::max(size.y, 1.0));
  InkedGroup group{{"duct", "#5b6b7a", "#9fb0c0", 0.3, {}}, {}, {}};
  for (SeenLines lines : seen) {
    for (auto& line : lines)
      for (Vec2& p : line) p = scale * (p - box.low);
    for (InkedLine& line : joined_lines(lines)) group.lines.push_back(std::move(line));
  }
  group.lines = without_twins(std::move(group.lines));
  return {group};
}

}  // namespace linerwright
