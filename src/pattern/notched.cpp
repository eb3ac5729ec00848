// A taper from a rectangle, closed by V notches: the closed small end has the length of the collar it meets.
#include "notched.hpp"

#include <algorithm>
#include <cmath>

#include "blank.hpp"
#include "contours.hpp"
#include "marks.hpp"
#include "place.hpp"
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

void add_corner(std::vector<NotchPoint>& points, Vec2 at) {
  points.push_back({{at, at}, {at, at}, false});
}

std::vector<double> large_places(const NotchedPlan& plan, double from, double to) {
  if (plan.blank().collar || !plan.eccentric()) return {from, to};
  return spend_points([&](double x) { return plan.large_edge(x, 0.0); }, from, to, {});
}

// Counter-clockwise.
std::vector<NotchPoint> contour_of(const NotchedPlan& plan) {
  std::vector<NotchPoint> points;
  const double trim = plan.blank().trim;
  for (const double x : large_places(plan, 0.0, plan.width()))
    points.push_back({plan.large_edge(x, 0.0), plan.large_edge(x, trim), true});
  points.back().leans = false;
  if (plan.layout().last_shift != 0.0) add_corner(points, {plan.width(), 0.0});
  // back along the small end, tab by tab; a tab's corners meet their neighbours' once the notches close
  const std::vector<NotchedPlan::Tab> tabs = plan.tabs();
  for (std::size_t k = tabs.size(); k-- > 0;) {
    const NotchedPlan::Tab& tab = tabs[k];
    const auto edge = [&](double share) {
      return plan.small_edge(tab.foot_right + share * (tab.foot_left - tab.foot_right),
                             tab.top_right + share * (tab.top_left - tab.top_right));
    };
    const std::vector<double> shares =
        plan.eccentric() ? spend_points(edge, 0.0, 1.0, {}) : std::vector<double>{0.0, 1.0};
    for (const double share : shares) points.push_back({edge(share), edge(share), true});
    points.back().leans = false;
    if (k > 0) add_corner(points, {tab.foot_left, 0.0});
  }
  if (plan.layout().first_shift != 0.0) add_corner(points, {0.0, 0.0});
  if (plan.away() < 0.0) {
    std::reverse(points.begin(), points.end());
    // what leads to the next point now led here before
    for (std::size_t i = 0; i + 1 < points.size(); ++i) points[i].leans = points[i + 1].leans;
    points.back().leans = false;
  }
  return points;
}

void set_faces(Pattern& pattern, const NotchedPlan& plan, const std::vector<NotchPoint>& points) {
  if (plan.blank().collar) {
    for (const NotchPoint& p : points) {
      pattern.duct.outer.push_back(p.true_edge.duct);
      pattern.air.outer.push_back(p.true_edge.air);
    }
    return;
  }
  pattern.faces_paired = false;
  const auto set = [&](Region& face, std::vector<Ring>& rest, double w) {
    std::vector<Ring> outlines = tab_outlines(plan, w);
    face.outer = std::move(outlines.front());
    rest.assign(outlines.begin() + 1, outlines.end());
  };
  set(pattern.duct, pattern.duct_rest, 0.0);
  set(pattern.air, pattern.air_rest, plan.thickness());
}

}  // namespace

NotchedPlan::NotchedPlan(const Fitting& fitting, const NotchedBlank& blank)
    : fitting_(fitting),
      blank_(blank),
      taper_(fitting.piece(blank.taper)),
      eccentric_(fitting.wall_of(taper_).sheet.offset() != 0.0),
      places_(fitting, blank) {}

FacePair NotchedPlan::large_edge(double x, double trim) const {
  return {up(x, large_height(x, 0.0) - trim), up(x, large_height(x, thickness()) - trim)};
}

FacePair NotchedPlan::small_edge(double foot, double top) const {
  const double duct = small_height(theta_at(foot), 0.0);
  const double air = small_height(theta_at(foot), thickness());
  return {up(top, duct), up(foot + air / duct * (top - foot), air)};
}

Vec2 NotchedPlan::on_ruling(double x, double height) const {
  const Vec2 at = places_.on_ruling(x, height);
  return up(at.x, at.y);
}

std::vector<NotchedPlan::Tab> NotchedPlan::tabs() const {
  std::vector<Tab> tabs;
  double foot = 0.0;
  double top = layout().first_shift;
  for (const Notch& notch : layout().notches) {
    tabs.push_back({foot, notch.centre, top, notch.centre - 0.5 * notch.mouth});
    foot = notch.centre;
    top = notch.centre + 0.5 * notch.mouth;
  }
  tabs.push_back({foot, layout().width, top, layout().width + layout().last_shift});
  return tabs;
}

std::vector<Ring> tab_outlines(const NotchedPlan& plan, double w) {
  constexpr double k_neck = 1e-3;  // mm of board below a notch's point that join two tabs
  const std::vector<NotchedPlan::Tab> tabs = plan.tabs();
  // where the large edge meets a side that leans from its foot to its top
  const auto bottom = [&](double foot, double top) {
    double x = foot;
    for (int i = 0; i < 20; ++i) {
      const double height = std::max(0.0, plan.large_height(x, w));
      x = foot + (top - foot) * height / plan.small_height(plan.theta_at(foot), 0.0);
    }
    return x;
  };
  const auto neck = [&](double x) { return plan.large_height(x, w) < -k_neck; };
  std::vector<Ring> outlines;
  for (std::size_t first = 0; first < tabs.size();) {
    std::size_t last = first;
    while (last + 1 < tabs.size() && neck(tabs[last].foot_right)) ++last;
    Ring ring;
    const double left = bottom(tabs[first].foot_left, tabs[first].top_left);
    const double right = bottom(tabs[last].foot_right, tabs[last].top_right);
    for (const double x : large_places(plan, left, right)) {
      double height = plan.large_height(x, w);
      // a neck too thin to count ends in the notch's point
      const bool at_tip = (x == left && first > 0) || (x == right && last + 1 < tabs.size());
      if (at_tip) height = std::max(0.0, height);
      ring.push_back(plan.up(x, height));
    }
    if (neck(right) && plan.layout().last_shift != 0.0) ring.push_back(plan.up(plan.width(), 0.0));
    for (std::size_t k = last + 1; k-- > first;) {
      const NotchedPlan::Tab& tab = tabs[k];
      const auto at = [&](double share) {
        return plan.small_edge(tab.foot_right + share * (tab.foot_left - tab.foot_right),
                               tab.top_right + share * (tab.top_left - tab.top_right));
      };
      for (const double share :
           plan.eccentric() ? spend_points(at, 0.0, 1.0, {}) : std::vector<double>{0.0, 1.0})
        ring.push_back(w == 0.0 ? at(share).duct : at(share).air);
      if (k > first) ring.push_back(plan.up(tab.foot_left, 0.0));
    }
    if (neck(left) && plan.layout().first_shift != 0.0) ring.push_back(plan.up(0.0, 0.0));
    if (plan.away() < 0.0) std::reverse(ring.begin(), ring.end());
    outlines.push_back(std::move(ring));
    first = last + 1;
  }
  return outlines;
}

Pattern notched_pattern(const Fitting& fitting, const NotchedBlank& blank) {
  const NotchedPlan plan(fitting, blank);
  Pattern pattern;
  pattern.id = blank.id;
  pattern.is_blank = false;
  if (blank.collar) pattern.pieces.push_back(*blank.collar);
  pattern.pieces.push_back(blank.taper);
  pattern.stretch_out = plan.width();
  const std::vector<NotchPoint> points = contour_of(plan);
  std::vector<FacePair> pairs;
  std::vector<TiltPoint> square;
  for (const NotchPoint& p : points) {
    pairs.push_back(p.cut_edge);
    square.push_back({p.true_edge, p.leans});
  }
  set_faces(pattern, plan, points);
  add_square_cut(pattern, square, true, fitting.liner.cut, fitting.liner);
  add_tilts(pattern, 0, runs_of(points), fitting.liner);
  add_notched_ordinates(pattern, plan);
  std::vector<std::vector<FacePair>> contours{std::move(pairs)};
  std::vector<Outliner> outliners;
  for (const int piece : pattern.pieces) {
    outliners.emplace_back(fitting, fitting.piece(piece), [&plan, piece](double theta, double v) {
      return plan.places().flat(piece, theta, v);
    });
    add_hole_ordinates(pattern, fitting, outliners.back(), fitting.piece(piece), pattern.duct.holes.size());
    add_holes(pattern, fitting, fitting.piece(piece), outliners.back(), contours);
  }
  pattern.cut = cut_region(contours, fitting.liner);
  add_notched_marks(pattern, plan);
  std::size_t first = 0;
  for (std::size_t i = 0; i < outliners.size(); ++i) {
    const Piece& piece = fitting.piece(pattern.pieces[i]);
    add_hole_marks(pattern, fitting, outliners[i], piece, pattern.cut, first);
    first += holes_of(fitting, piece).size();
  }
  lay_down(pattern, fitting.liner.face_up, 0.0);
  add_labels(pattern, fitting, pattern.pieces, notched_parts(pattern, plan));
  return pattern;
}

}  // namespace linerwright
