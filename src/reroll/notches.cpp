// A notched blank is folded, not rolled: what can be proven is that it closes.
#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "linerwright/draw/polygon.hpp"
#include "linerwright/reroll/dxf_lines.hpp"
#include "linerwright/reroll/reroll.hpp"

namespace linerwright {

namespace {

// A side of a tab: where its line meets the bend line, and its corner at the small end.
struct TabSide {
  double foot;
  Vec2 corner;  // y counted from the bend line toward the small end
  double lean;  // how far the line runs aside, +x, up to the duct face's small end
};
struct TabSides {
  std::vector<TabSide> left, right;
};

// Tabs may be one outline with notches in it, or, where nothing is left below the notches' points, several. x
// on the board, whichever face is up.
class TabReader {
 public:
  // `depths` at which the lines lie: one face's, or both where they are the knife's, which leaves the trim
  // on.
  TabReader(const Fitting& fitting, const Pattern& pattern, const NotchedBlank& blank,
            const std::vector<double>& depths, double away)
      : fitting_(fitting), pattern_(pattern), blank_(blank), depths_(depths), away_(away) {
    bend_ = pattern.placement.board({0.0, 0.0}).y;
  }

  TabSides read(const BoardLines& lines) const {
    TabSides sides;
    for (const BoardLine& line : lines) {
      constexpr double k_straight = 1e-3;  // mm: a side may have a vertex more
      std::vector<Vec2> outline = line.points;
      // from a corner on: the first point stays
      const auto corner = std::min_element(outline.begin(), outline.end(), [](Vec2 a, Vec2 b) {
        return a.x < b.x || (a.x == b.x && a.y < b.y);
      });
      std::rotate(outline.begin(), corner, outline.end());
      outline = thinned(outline, true, {k_straight, 0.1});
      for (Vec2& p : outline) p.y = away_ * (p.y - bend_);
      if (signed_area(outline) < 0.0) std::reverse(outline.begin(), outline.end());
      for (std::size_t i = 0; i < outline.size(); ++i)
        take(outline[i], outline[(i + 1) % outline.size()], sides);
    }
    for (auto* each : {&sides.left, &sides.right})
      std::sort(each->begin(), each->end(),
                [](const TabSide& a, const TabSide& b) { return a.foot < b.foot; });
    return sides;
  }

 private:
  // Half the height of the tab there, and more, in one line: a side. Counter-clockwise, the right one goes
  // up.
  void take(Vec2 from, Vec2 to, TabSides& sides) const {
    const bool up = to.y > from.y;
    const Vec2 low = up ? from : to;
    const Vec2 high = up ? to : from;
    const Piece& taper = fitting_.piece(blank_.taper);
    const double theta = theta_at(high.x, taper);
    double bottom = 0.0;
    if (!blank_.collar && depths_.size() == 1)
      bottom = std::max(0.0, -blank_reach(fitting_, blank_, true, theta, depths_.front()));
    double tall = 1e300;
    for (const double w : depths_)
      tall = std::min(tall, blank_reach(fitting_, blank_, false, theta, w) - bottom);
    if (high.y - std::max(0.0, low.y) < 0.5 * tall || low.y > bottom + 0.4 * tall) return;
    const double foot =
        low.y <= 0.0 && low.x == high.x ? low.x : low.x - low.y * (high.x - low.x) / (high.y - low.y);
    const double duct = blank_reach(fitting_, blank_, false, theta_at(foot, taper), 0.0);
    (up ? sides.right : sides.left).push_back({foot, high, (high.x - foot) / high.y * duct});
  }

  double theta_at(double board_x, const Piece& taper) const {
    const double x = std::clamp(pattern_.placement.flat({board_x, 0.0}).x, 0.0, pattern_.stretch_out);
    return taper.seam + taper.span * x / pattern_.stretch_out;
  }

  const Fitting& fitting_;
  const Pattern& pattern_;
  const NotchedBlank& blank_;
  const std::vector<double>& depths_;
  double away_;
  double bend_;
};

// Least and most that the small end lies above the bend line at these depths.
std::pair<double, double> heights_of(const Fitting& fitting, const NotchedBlank& blank,
                                     const std::vector<double>& depths) {
  double least = 1e300;
  double most = 0.0;
  constexpr int k_steps = 360;
  for (const double w : depths)
    for (int i = 0; i < k_steps; ++i) {
      const double reach = blank_reach(fitting, blank, false, k_two_pi * i / k_steps, w);
      least = std::min(least, reach);
      most = std::max(most, reach);
    }
  return {least, most};
}

// What the mouths have to close: the small end is shorter than the bend line by this.
double closing_of(const Fitting& fitting, const NotchedBlank& blank) {
  const Piece& taper = fitting.piece(blank.taper);
  const Sheet& sheet = fitting.wall_of(taper).sheet;
  const double whole = k_two_pi * (bend_radius(fitting, blank) - small_radius(fitting, blank));
  if (taper.full_turn() || (sheet.offset() == 0.0 && blank.kerf_pitch <= 0.0))
    return whole * taper.span / k_two_pi;
  const NotchedLayout layout = layout_of(fitting, blank);
  double sum = layout.first_shift - layout.last_shift;
  for (const Notch& notch : layout.notches) sum += notch.mouth;
  return sum;
}

}  // namespace

CheckResult prove_notches(const Fitting& fitting, const Pattern& pattern, const NotchedBlank& blank,
                          const BoardLines& lines, const std::string& layer,
                          const std::vector<double>& depths) {
  const std::string name = "notches " + layer;
  if (lines.empty() || std::any_of(lines.begin(), lines.end(), [](const BoardLine& l) { return !l.closed; }))
    return undone(name, "no closed contour on " + layer);
  const Piece& taper = fitting.piece(blank.taper);
  const Sheet& sheet = fitting.wall_of(taper).sheet;
  const TabSides sides =
      TabReader(fitting, pattern, blank, depths, sheet.r2() > sheet.r1() ? -1.0 : 1.0).read(lines);
  const std::size_t expected = layout_of(fitting, blank).notches.size();
  if (sides.left.size() != expected + 1 || sides.right.size() != expected + 1)
    return undone(name, fmt::format("{} tabs begin and {} end on {}, not {}", sides.left.size(),
                                    sides.right.size(), layer, expected + 1));

  // the sides of a notch begin in one point, are equally long and as high as the taper's slant at these
  // depths (or between two of them); the mouths, with those halves that a panel ends in, take up what the
  // small end is shorter
  const auto [lowest, highest] = heights_of(fitting, blank, depths);
  double off = 0.0;
  double mouths = sides.left.front().lean - sides.right.back().lean;
  for (std::size_t k = 0; k < expected; ++k) {
    const TabSide& a = sides.right[k];
    const TabSide& b = sides.left[k + 1];
    mouths += b.lean - a.lean;
    off = std::max({off, std::fabs(a.foot - b.foot),
                    std::fabs(norm(a.corner - Vec2{a.foot, 0.0}) - norm(b.corner - Vec2{b.foot, 0.0}))});
  }
  for (const auto* each : {&sides.left, &sides.right})
    for (const TabSide& side : *each) off = std::max({off, lowest - side.corner.y, side.corner.y - highest});
  const double closing = closing_of(fitting, blank);
  off = std::max(off, std::fabs(mouths - closing));

  // the bend line is as long as the stretch-out there less the fit allowance
  const double girth = k_two_pi * (bend_radius(fitting, blank) - fitting.liner.reference_depth()) -
                       fitting.liner.fit_allowance;
  off = std::max(
      off, std::fabs(sides.right.back().foot - sides.left.front().foot - girth * taper.span / k_two_pi));
  return within(name, off, 0.05, "mm",
                fmt::format("{} {} close {} mm of {} mm", expected, expected == 1 ? "mouth" : "mouths",
                            trimmed(mouths, 3), trimmed(closing, 3)));
}

std::vector<CheckResult> prove_notched(const Fitting& fitting, const Pattern& pattern,
                                       const NotchedBlank& blank, const BoardLines& lines,
                                       const std::string& layer, const std::vector<double>& depths) {
  BoardLines outlines;
  BoardLines holes;
  for (const BoardLine& line : lines) {
    // tabs meet in the points of notches, so that one point would not tell
    const bool inside = std::any_of(lines.begin(), lines.end(), [&](const BoardLine& other) {
      return &other != &line && line.closed && other.closed && !line.points.empty() &&
             std::all_of(line.points.begin(), line.points.end(),
                         [&](Vec2 p) { return point_in_polygon(p, other.points); });
    });
    (inside ? holes : outlines).push_back(line);
  }
  std::vector<CheckResult> results{prove_notches(fitting, pattern, blank, outlines, layer, depths)};
  const bool expected = std::any_of(pattern.pieces.begin(), pattern.pieces.end(), [&](int piece) {
    return !holes_of(fitting, fitting.piece(piece)).empty();
  });
  if (expected || !holes.empty())
    results.push_back(prove_notched_holes(fitting, pattern, holes, layer, depths));
  return results;
}

}  // namespace linerwright
