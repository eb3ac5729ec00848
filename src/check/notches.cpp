// A notched blank is folded, not rolled: what can be proven is that it closes.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "dxf_lines.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

// A V: its point lies on the bend line; its sides run to the small end.
struct Vee {
  Vec2 left, right;  // from the point
};

std::vector<Vee> notches_of(std::vector<Vec2> outline, double bend) {
  if (signed_area(outline) < 0.0) std::reverse(outline.begin(), outline.end());
  constexpr double k_on_line = 1e-3;
  std::vector<Vee> notches;
  const std::size_t n = outline.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 before = outline[(i + n - 1) % n] - outline[i];
    const Vec2 after = outline[(i + 1) % n] - outline[i];
    // counter-clockwise, it turns right only at the points of the notches
    if (std::fabs(outline[i].y - bend) > k_on_line || !(cross(before, after) > 0.0)) continue;
    notches.push_back(before.x < after.x ? Vee{before, after} : Vee{after, before});
  }
  return notches;
}

}  // namespace

CheckResult prove_notches(const Fitting& fitting, const Pattern& pattern, const NotchedBlank& blank,
                          const BoardLines& lines, const std::string& layer,
                          const std::vector<double>& depths) {
  const std::string name = "notches " + layer;
  if (lines.size() != 1 || !lines.front().closed) return undone(name, "no single contour on " + layer);
  const std::vector<Vec2>& outline = lines.front().points;
  const Piece& taper = fitting.pieces[static_cast<std::size_t>(blank.taper)];
  const Sheet& sheet = fitting.walls[static_cast<std::size_t>(taper.wall)].sheet;
  const std::vector<Vee> notches = notches_of(outline, pattern.placement.board({0.0, 0.0}).y);
  if (static_cast<int>(notches.size()) != blank.notches)
    return undone(name, fmt::format("{} notches instead of {}", notches.size(), blank.notches));

  // the mouths take up what the small end is shorter
  double mouths = 0.0;
  for (const Vee& notch : notches) mouths += notch.right.x - notch.left.x;
  const double closing = k_two_pi * std::fabs(sheet.r1() - sheet.r2());
  double off = std::fabs(mouths - closing);

  // the blank is as long as the large end's stretch-out less the fit allowance
  const Box box = bounding_box(outline).value();
  const double large = std::max(sheet.r1(), sheet.r2()) - liner_of(fitting, taper).reference_depth();
  off = std::max(
      off, std::fabs(box.high.x - box.low.x - (k_two_pi * large - liner_of(fitting, taper).fit_allowance)));

  // sides that meet are equal, and as high as the taper's slant at one of these depths (between two of them)
  std::vector<double> heights;
  for (const double w : depths) {
    double least = 1e300;
    double most = 0.0;
    constexpr int k_steps = 360;
    for (int i = 0; i < k_steps; ++i) {
      const double reach = blank_reach(fitting, blank, false, taper.seam + k_two_pi * i / k_steps, w);
      least = std::min(least, reach);
      most = std::max(most, reach);
    }
    heights.push_back(least);
    heights.push_back(most);
  }
  const auto [lowest, highest] = std::minmax_element(heights.begin(), heights.end());
  for (const Vee& notch : notches) {
    off = std::max(off, std::fabs(norm(notch.left) - norm(notch.right)));
    for (const Vec2 side : {notch.left, notch.right})
      off = std::max({off, *lowest - std::fabs(side.y), std::fabs(side.y) - *highest});
  }
  return within(
      name, off, 0.05, "mm",
      fmt::format("{} mouths close {} mm of {} mm", notches.size(), trimmed(mouths, 3), trimmed(closing, 3)));
}

}  // namespace linerwright
