// A taper from a rectangle: V notches from the small end down to the bend line at the large seam. The mouths
// add up to the difference of the two stretch-outs, so that the closed small end has the length of the collar
// it meets.
#include <algorithm>
#include <cmath>

#include "blank.hpp"
#include "linerwright/error.hpp"
#include "marks.hpp"
#include "outline.hpp"
#include "place.hpp"

namespace linerwright {

namespace {

class NotchedBlankMaker {
 public:
  NotchedBlankMaker(const Fitting& fitting, const NotchedBlank& blank)
      : fitting_(fitting),
        blank_(blank),
        taper_(fitting.pieces[static_cast<std::size_t>(blank.taper)]),
        sheet_(fitting.walls[static_cast<std::size_t>(taper_.wall)].sheet),
        large_is_high_(sheet_.r2() > sheet_.r1()),
        width_(k_two_pi * (std::max(sheet_.r1(), sheet_.r2()) - fitting.liner.reference_depth()) -
               fitting.liner.fit_allowance) {
    lay_out_notches();
  }

  Pattern make() {
    Pattern pattern;
    pattern.id = blank_.id;
    pattern.is_blank = false;
    if (blank_.collar >= 0) pattern.pieces.push_back(blank_.collar);
    pattern.pieces.push_back(blank_.taper);
    pattern.stretch_out = width_;
    pattern.duct.outer = contour(0.0, 0.0);
    pattern.air.outer = contour(fitting_.liner.thickness, 0.0);
    std::vector<FacePair> pairs;
    const Ring duct = contour(0.0, blank_.trim);
    const Ring air = contour(fitting_.liner.thickness, blank_.trim);
    for (std::size_t i = 0; i < duct.size(); ++i) pairs.push_back({duct[i], air[i]});
    pattern.cut = cut_region({pairs}, fitting_.liner);
    add_tilts(pattern, pairs);
    add_lines(pattern);
    lay_down(pattern, fitting_.liner.face_up, 0.0);
    add_labels(pattern, fitting_, {blank_.taper}, {pattern.cut});
    return pattern;
  }

 private:
  struct Notch {
    double centre;  // along the bend line
    double mouth;
  };

  // Distance from the bend line toward the small end of the taper's small edge at a ruling, at liner depth w.
  double reach(double theta, double w) const {
    const double v = end_height(fitting_, taper_.wall, !large_is_high_, theta, w);
    return large_is_high_ ? sheet_.ruling(theta).length - v : v;
  }
  // Distance from the bend line away from the taper of the large edge, before the trim.
  double large_edge(double theta, double w) const {
    if (blank_.collar < 0) {
      const double v = end_height(fitting_, taper_.wall, large_is_high_, theta, w);
      return large_is_high_ ? v - sheet_.ruling(theta).length : -v;
    }
    const Piece& collar = fitting_.pieces[static_cast<std::size_t>(blank_.collar)];
    const double v = end_height(fitting_, collar.wall, large_is_high_, theta, w);
    return std::fabs(v);
  }

  void lay_out_notches() {
    const int n = blank_.notches;
    const double pitch = width_ / n;
    const double depth = fitting_.liner.reference_depth();
    // Arcs of both circles over each pitch, by the same angle around: the mouth takes up their difference.
    // Both circles are divided evenly around the taper's own axis, the second about its moved centre.
    const double per_pitch = k_two_pi / n;
    const double large = std::max(sheet_.r1(), sheet_.r2()) - depth;
    const double small = std::min(sheet_.r1(), sheet_.r2()) - depth;
    for (int i = 0; i < n; ++i) {
      double centre = (i + 0.5) * pitch;
      if (blank_.kerf_pitch > 0.0) centre = blank_.kerf_pitch * std::round(centre / blank_.kerf_pitch);
      const double mouth = per_pitch * (large - small) * slope_share(i);
      notches_.push_back({centre, mouth});
    }
    for (int i = 0; i + 1 < n; ++i)
      if (notches_[static_cast<std::size_t>(i)].centre + 0.5 * notches_[static_cast<std::size_t>(i)].mouth >=
          notches_[static_cast<std::size_t>(i) + 1].centre -
              0.5 * notches_[static_cast<std::size_t>(i) + 1].mouth)
        throw GeometryError("the notches run into each other: the taper closes too far for this many");
  }

  // On an eccentric taper the developed rulings turn toward each other faster where the wall leans more: each
  // mouth gets its share of the whole closing by the turn of the development over its pitch.
  double slope_share(int i) const {
    if (sheet_.offset() == 0.0) return 1.0;
    const auto closing = [&](double from, double to) {
      return integrate(
          [&](double theta) {
            const Sheet::Ruling r = sheet_.ruling(theta);
            return std::fabs(dot(r.direction_slope, r.around)) * r.length;
          },
          from, to, 4);
    };
    const double per_pitch = k_two_pi / blank_.notches;
    return closing(taper_.seam + i * per_pitch, taper_.seam + (i + 1) * per_pitch) /
           (closing(taper_.seam, taper_.seam + k_two_pi) / blank_.notches);
  }

  double theta_at(double x) const { return taper_.seam + k_two_pi * x / width_; }

  // Counter-clockwise; `away` is +1 where the small end is up, -1 where it is down.
  Ring contour(double w, double trim) const {
    const double away = large_is_high_ ? -1.0 : 1.0;
    Ring ring;
    const auto large = [&](double x) { return Vec2{x, -away * (large_edge(theta_at(x), w) + trim)}; };
    constexpr int k_edge_steps = 48;
    const bool level = blank_.collar >= 0 || sheet_.offset() == 0.0;
    for (int i = 0; i <= k_edge_steps; ++i)
      if (!level || i == 0 || i == k_edge_steps) ring.push_back(large(width_ * i / k_edge_steps));
    // back along the small end, tab by tab
    const std::size_t n = notches_.size();
    for (std::size_t tab = n + 1; tab-- > 0;) {
      const double right = tab == n ? width_ : notches_[tab].centre - 0.5 * notches_[tab].mouth;
      const double left = tab == 0 ? 0.0 : notches_[tab - 1].centre + 0.5 * notches_[tab - 1].mouth;
      const double ruling_right = theta_at(tab == n ? width_ : notches_[tab].centre);
      const double ruling_left = theta_at(tab == 0 ? 0.0 : notches_[tab - 1].centre);
      const int steps = sheet_.offset() == 0.0 ? 1 : 6;
      for (int i = 0; i <= steps; ++i) {
        const double share = static_cast<double>(i) / steps;
        const double theta = ruling_right + share * (ruling_left - ruling_right);
        ring.push_back({right + share * (left - right), away * reach(theta, w)});
      }
      if (tab > 0) ring.push_back({notches_[tab - 1].centre, 0.0});
    }
    if (signed_area(ring) < 0.0) std::reverse(ring.begin(), ring.end());
    return ring;
  }

  void add_tilts(Pattern& pattern, const std::vector<FacePair>& pairs) {
    const LinerSpec& liner = fitting_.liner;
    const std::size_t n = pairs.size();
    for (std::size_t i = 0; i < n; ++i) {
      const FacePair& p = pairs[i];
      const double shift = p.air.y - p.duct.y;
      const double outward = (large_is_high_ ? -1.0 : 1.0) * shift;
      const SquareCut cut = square_cut(liner.cut, liner.face_up, outward);
      pattern.gap_square = std::max(pattern.gap_square, cut.gap);
      pattern.overlap_square = std::max(pattern.overlap_square, cut.overlap);
      const double tilt = std::atan2(outward, liner.thickness);
      pattern.max_tilt = std::max(pattern.max_tilt, std::fabs(tilt));
      pattern.tilts.push_back({0, liner.face_up == Face::air ? p.air : p.duct, 0.0, tilt});
    }
  }

  void add_lines(Pattern& pattern) {
    const auto add = [&](std::vector<Vec2> line, const std::string& name) {
      pattern.marks.push_back(std::move(line));
      pattern.mark_names.push_back(name);
    };
    // the bend line between the notches' points, and where the trim comes off
    double from = 0.0;
    for (const Notch& notch : notches_) {
      add({{from + 2.0, 0.0}, {notch.centre - 2.0, 0.0}}, from == 0.0 ? "bend line" : "");
      from = notch.centre;
    }
    add({{from + 2.0, 0.0}, {width_ - 2.0, 0.0}}, "");
    if (blank_.trim > 0.0) {
      const double away = large_is_high_ ? -1.0 : 1.0;
      add({{0.0, -away * large_edge(theta_at(0.0), 0.0)},
           {width_, -away * large_edge(theta_at(width_), 0.0)}},
          "trim to here");
    }
    for (const RulingMark& mark : taper_.marks) {
      double turn = std::fmod(mark.theta - taper_.seam, k_two_pi);
      if (turn < 0.0) turn += k_two_pi;
      const double x = width_ * turn / k_two_pi;
      if (x < 1.0 || x > width_ - 1.0) continue;
      const double away = large_is_high_ ? -1.0 : 1.0;
      add({{x, -away * 3.0}, {x, -away * std::max(3.0, large_edge(theta_at(x), 0.0) - 3.0)}}, mark.name);
    }
  }

  const Fitting& fitting_;
  const NotchedBlank& blank_;
  const Piece& taper_;
  const Sheet& sheet_;
  bool large_is_high_;
  double width_;
  std::vector<Notch> notches_;
};

}  // namespace

Pattern notched_pattern(const Fitting& fitting, const NotchedBlank& blank) {
  return NotchedBlankMaker(fitting, blank).make();
}

}  // namespace linerwright
