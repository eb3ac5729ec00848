// A taper from a rectangle, closed by V notches: the closed small end has the length of the collar it meets.
#include <algorithm>
#include <cmath>

#include "blank.hpp"
#include "marks.hpp"
#include "outline.hpp"
#include "place.hpp"
#include "sampling.hpp"
#include "tilt.hpp"

namespace linerwright {

namespace {

struct NotchPoint {
  FacePair true_edge;
  FacePair cut_edge;  // with the trim added
  bool leans;         // the edge to the next point
};

// The edges that lean, and those that do not one by one; the contour begins with an edge of its own.
std::vector<TiltRun> runs_of(const std::vector<NotchPoint>& points) {
  std::vector<TiltRun> runs;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const NotchPoint& next = points[(i + 1) % points.size()];
    if (i == 0 || !points[i].leans || !points[i - 1].leans) {
      runs.emplace_back();
      runs.back().leans = points[i].leans;
      runs.back().points.push_back(points[i].cut_edge);
    }
    runs.back().points.push_back(next.cut_edge);
  }
  return runs;
}

class NotchedBlankMaker {
 public:
  NotchedBlankMaker(const Fitting& fitting, const NotchedBlank& blank)
      : fitting_(fitting),
        blank_(blank),
        taper_(fitting.pieces[static_cast<std::size_t>(blank.taper)]),
        eccentric_(sheet().offset() != 0.0),
        away_(sheet().r2() > sheet().r1() ? -1.0 : 1.0),
        width_(bend_line(fitting, blank)),
        notches_(notches_of(fitting, blank)) {}

  Pattern make() {
    Pattern pattern;
    pattern.id = blank_.id;
    pattern.is_blank = false;
    if (blank_.collar >= 0) pattern.pieces.push_back(blank_.collar);
    pattern.pieces.push_back(blank_.taper);
    pattern.stretch_out = width_;
    const std::vector<NotchPoint> points = contour();
    std::vector<FacePair> pairs;
    for (const NotchPoint& p : points) {
      pattern.duct.outer.push_back(p.true_edge.duct);
      pattern.air.outer.push_back(p.true_edge.air);
      pairs.push_back(p.cut_edge);
    }
    pattern.cut = cut_region({pairs}, fitting_.liner);
    std::vector<TiltPoint> square;
    for (const NotchPoint& p : points) square.push_back({p.true_edge, p.leans});
    add_square_cut(pattern, square, true, fitting_.liner.cut, fitting_.liner);
    add_tilts(pattern, 0, runs_of(points), fitting_.liner);
    add_lines(pattern);
    lay_down(pattern, fitting_.liner.face_up, 0.0);
    add_labels(pattern, fitting_, pattern.pieces, parts_of(pattern));
    return pattern;
  }

 private:
  const Sheet& sheet() const { return fitting_.walls[static_cast<std::size_t>(taper_.wall)].sheet; }
  double theta_at(double x) const { return taper_.seam + k_two_pi * x / width_; }

  // Places of both faces' edges, the bend line at y = 0. Toward the small end is up where away_ is 1.
  FacePair large_edge(double x, double trim) const {
    const auto at = [&](double w) {
      return Vec2{x, -away_ * (blank_reach(fitting_, blank_, true, theta_at(x), w) + trim)};
    };
    return {at(0.0), at(fitting_.liner.thickness)};
  }
  FacePair small_edge(double x, double theta) const {
    const auto at = [&](double w) { return Vec2{x, away_ * blank_reach(fitting_, blank_, false, theta, w)}; };
    return {at(0.0), at(fitting_.liner.thickness)};
  }

  // Counter-clockwise.
  std::vector<NotchPoint> contour() const {
    std::vector<NotchPoint> points;
    const bool level = blank_.collar >= 0 || !eccentric_;
    const std::vector<double> along =
        level ? std::vector<double>{0.0, width_}
              : spend_points([&](double x) { return large_edge(x, 0.0); }, 0.0, width_, {});
    for (const double x : along) points.push_back({large_edge(x, 0.0), large_edge(x, blank_.trim), true});
    points.back().leans = false;
    // back along the small end, tab by tab; a tab's corners meet their neighbours' once the notches close
    const std::size_t n = notches_.size();
    for (std::size_t tab = n + 1; tab-- > 0;) {
      const double right = tab == n ? width_ : notches_[tab].centre - 0.5 * notches_[tab].mouth;
      const double left = tab == 0 ? 0.0 : notches_[tab - 1].centre + 0.5 * notches_[tab - 1].mouth;
      const double from = theta_at(tab == n ? width_ : notches_[tab].centre);
      const double to = theta_at(tab == 0 ? 0.0 : notches_[tab - 1].centre);
      const auto edge = [&](double share) {
        return small_edge(right + share * (left - right), from + share * (to - from));
      };
      const std::vector<double> shares =
          eccentric_ ? spend_points(edge, 0.0, 1.0, {}) : std::vector<double>{0.0, 1.0};
      for (const double share : shares) points.push_back({edge(share), edge(share), true});
      points.back().leans = false;
      if (tab == 0) break;
      const Vec2 tip{notches_[tab - 1].centre, 0.0};
      points.push_back({{tip, tip}, {tip, tip}, false});
    }
    if (away_ < 0.0) {
      std::reverse(points.begin(), points.end());
      // what leads to the next point now led here before
      for (std::size_t i = 0; i + 1 < points.size(); ++i) points[i].leans = points[i + 1].leans;
      points.back().leans = false;
    }
    return points;
  }

  // What stays of the board once the trim is off, on either side of the bend line: the collar's part, if
  // there is one, and the taper's.
  std::vector<Region> parts_of(const Pattern& pattern) const {
    const std::vector<Region> stays = intersected(intersected({pattern.cut}, {pattern.duct}), {pattern.air});
    const double bend = pattern.placement.board({0.0, 0.0}).y;
    std::vector<Region> parts;
    for (const int piece : pattern.pieces) {
      const double reach = (piece == blank_.taper ? away_ : -away_) * (1.0 + pattern.board.y);
      const double low = std::min(bend, bend + reach);
      const double high = std::max(bend, bend + reach);
      const Ring side{{-1.0, low}, {1.0 + pattern.board.x, low}, {1.0 + pattern.board.x, high}, {-1.0, high}};
      std::vector<Region> found = intersected(stays, {{side, {}}});
      std::sort(found.begin(), found.end(),
                [](const Region& a, const Region& b) { return area(a) > area(b); });
      parts.push_back(found.empty() ? pattern.cut : std::move(found.front()));
    }
    return parts;
  }

  void add_line(Pattern& pattern, Vec2 from, Vec2 to, const std::string& name) const {
    constexpr double k_least = 1.0;  // mm: shorter lines are not worth a pen stroke
    if (distance(from, to) < k_least) return;
    pattern.marks.push_back({from, to});
    pattern.mark_names.push_back(name);
  }

  void add_lines(Pattern& pattern) const {
    constexpr double k_clear = 2.0;  // mm from a line's end to a cut
    // the bend line between the notches' points; without a collar the trim comes off there
    const bool collar = blank_.collar >= 0;
    double from = 0.0;
    for (std::size_t i = 0; i <= notches_.size(); ++i) {
      const double to = i < notches_.size() ? notches_[i].centre : width_;
      if (to - from > 2.0 * k_clear)
        add_line(pattern, {from + k_clear, 0.0}, {to - k_clear, 0.0},
                 i > 0    ? ""
                 : collar ? "bend line"
                          : "trim to here");
      from = to;
    }
    if (collar && blank_.trim > 0.0)
      add_line(pattern, large_edge(0.0, 0.0).duct, large_edge(width_, 0.0).duct, "trim to here");
    for (const RulingMark& mark : taper_.marks) {
      double turn = std::fmod(mark.theta - taper_.seam, k_two_pi);
      if (turn < 0.0) turn += k_two_pi;
      const double x = width_ * turn / k_two_pi;
      if (x < 1.0 || x > width_ - 1.0) continue;
      const Vec2 up{0.0, away_};
      const FacePair strip = large_edge(x, collar ? 0.0 : blank_.trim);
      const double below = std::min(-away_ * strip.duct.y, -away_ * strip.air.y) - k_clear;
      if (below > k_clear)
        add_line(pattern, Vec2{x, 0.0} - k_clear * up, Vec2{x, 0.0} - below * up, mark.name);
      // up to the small end, unless a notch is there
      const FacePair end = small_edge(x, theta_at(x));
      const double above = std::min(away_ * end.duct.y, away_ * end.air.y) - k_clear;
      if (above <= k_clear) continue;
      for (const std::vector<Vec2>& part :
           inside_parts(Vec2{x, 0.0} + k_clear * up, Vec2{x, 0.0} + above * up, pattern.cut))
        add_line(pattern, part.front(), part.back(), mark.name);
    }
  }

  const Fitting& fitting_;
  const NotchedBlank& blank_;
  const Piece& taper_;
  bool eccentric_;
  double away_;  // 1 where the small end is up, -1 where it is down
  double width_;
  std::vector<Notch> notches_;
};

}  // namespace

Pattern notched_pattern(const Fitting& fitting, const NotchedBlank& blank) {
  return NotchedBlankMaker(fitting, blank).make();
}

}  // namespace linerwright
