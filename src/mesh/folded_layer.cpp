#include "linerwright/mesh/folded_layer.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "folded_parts.hpp"
#include "linerwright/sheet/panels.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

constexpr double k_quarter = 0.5 * k_pi;

Vec3 place_at_low(const Sheet& sheet, double w, double theta) {
  return sheet.point(theta, low_end(sheet, theta, w).v, w);
}
Vec3 high_place(const Sheet& sheet, double w, RoundEnd round, double theta) {
  return sheet.point(theta, high_end(sheet, theta, w, round).v, w);
}

class Builder {
 public:
  Builder(const Sheet& sheet, double w, const FoldedRim& rim) : sheet_(sheet), w_(w), rim_(rim) {}

  FoldedLayer made() {
    for (int k = 0; k < 4 && w_ != 0.0; ++k) corners_[of_quarter(k)].low = corner_low(sheet_, k, w_);
    for (int k = 0; k < 4; ++k) add_middle(k);
    for (int k = 0; k < 4; ++k) add_tip(k);
    for (int k = 0; k < 4; ++k) add_corner(k);
    for (int k = 0; k < 4; ++k) {
      add_base(k, true);
      add_cone(k);
      add_base(k, false);
      add_flats(k);
    }
    if (sheet_.square_collar() > 0.0) add_square_collar(layer_, corners_, sheet_, w_);
    return std::move(layer_);
  }

 private:
  Vec3 low_at(double theta) const { return place_at_low(sheet_, w_, theta); }
  Vec3 high_at(double theta) const { return high_place(sheet_, w_, rim_.round, theta); }
  // Turns on a cone at which what its layer comes to at the lower end is another.
  std::vector<double> breaks(int quarter) const {
    std::vector<double> turns;
    for (const LowArc& arc : corners_[of_quarter(quarter)].low.arcs)
      if (arc.to < k_quarter) turns.push_back(arc.to);
    return turns;
  }
  double lean(int flat) const { return sheet_.ruling(k_quarter * flat).lean; }
  // Whether the flat's top is its tip alone.
  bool pointed(int flat) const { return w_ * lean(flat) >= 0.0; }

  void add_middle(int k) {
    FoldedSeam& seam = layer_.seams[of_quarter(k)];
    seam.low = add_point(layer_, low_at(k_quarter * k));
    seam.high = seam.top = add_point(layer_, high_at(k_quarter * k));
    seam.line = add_curve(layer_, {seam.low, seam.high});
  }

  void add_tip(int k) {
    FoldedTip& tip = tips_[of_quarter(k)];
    if (!(w_ * lean(k) > 0.0)) return;
    double last = 0.0;
    for (const double theta : high_corners(sheet_, w_, rim_.round)) {
      const double turn = corner_turn(k, theta);
      // the corner of this end nearest to the flat, beside the part's own first ruling
      if (part_at(theta).quarter == k && !part_at(theta).flat && turn > 1e-9 && turn < k_quarter - 1e-9 &&
          (last == 0.0 || turn < last))
        last = turn;
    }
    const auto partner_at = [&](double turn) { return tip_partner(sheet_, k, turn, w_); };
    tip.after = {0.0};
    std::vector<double> cuts;
    for (const double turn : breaks(k))
      if (turn < last) cuts.push_back(turn);
    std::vector<double> others;
    for (const double turn : breaks(k + 3)) others.push_back(k_quarter - turn);
    for (const double other : others) {
      if (!(other < partner_at(last))) continue;
      double low = 0.0;
      double high = last;
      for (int step = 0; step < 60; ++step) {
        const double middle = 0.5 * (low + high);
        (partner_at(middle) < other ? low : high) = middle;
      }
      cuts.push_back(high);
    }
    std::sort(cuts.begin(), cuts.end());
    for (const double cut : cuts)
      if (cut - tip.after.back() > 1e-9 && last - cut > 1e-9) tip.after.push_back(cut);
    tip.after.push_back(last);
    FoldedSeam& seam = layer_.seams[of_quarter(k)];
    tip.points = {seam.high};
    for (std::size_t i = 0; i < tip.after.size(); ++i) {
      tip.before.push_back(i == 0 ? 0.0 : partner_at(tip.after[i]));
      for (const double other : others)
        if (std::fabs(tip.before[i] - other) < 1e-7) tip.before[i] = other;
      if (i == 0) continue;
      tip.points.push_back(add_point(layer_, high_at(corner_theta(k, tip.after[i]))));
      const auto at = [sheet = sheet_, w = w_, round = rim_.round, k](double turn) {
        return high_place(sheet, w, round, corner_theta(k, turn));
      };
      tip.curves.push_back(
          add_curve(layer_, {tip.points[i - 1], tip.points[i], at, tip.after[i - 1], tip.after[i]}));
    }
    seam.tip_curves = tip.curves;
    seam.top = tip.points.back();
  }

  void add_corner(int q) {
    FoldedCorner& made = corners_[of_quarter(q)];
    if (w_ == 0.0)
      made.lows.push_back({0.0, add_point(layer_, sheet_.point(corner_theta(q, 0.0), 0.0, 0.0))});
    for (const bool second : {false, true}) {
      const double turn = second ? k_quarter : 0.0;
      const int flat = second ? q + 1 : q;
      FoldedBend& bend = second ? made.second : made.first;
      bend.low = low_point(q, turn);
      bend.high = pointed(flat) ? layer_.seams[of_quarter(flat)].high
                                : add_point(layer_, high_at(corner_theta(q, turn)));
      bend.line = add_curve(layer_, {bend.low, bend.high});
    }
    if (!made.low.stem) return;
    const Vec3 corner = sheet_.ruling(corner_theta(q, 0.0)).base;
    made.foot = add_point(layer_, sheet_.frame().point(corner + w_ * flats_foot(sheet_, q)));
    made.stem = add_curve(layer_, {made.foot, low_point(q, made.low.far_end(LowPart::second))});
    made.parting = made.foot;
    if (!(sheet_.square_collar() > 0.0 && w_ > 0.0)) return;
    const PanelCorner panels = panel_corner(sheet_, q);
    if (!panels.ear) return;
    made.parting = add_point(layer_, sheet_.frame().point(corner + w_ * panels.low));
    made.ear = add_curve(layer_, {made.parting, made.foot});
    made.ear_on_first = panels.ear == LowPart::first;
  }

  static bool same(double a, double b) { return std::fabs(a - b) < 2e-9; }

  // The end of the cone's ruling: one for both that meet there.
  int low_point(int q, double turn) {
    FoldedCorner& corner = corners_[of_quarter(q)];
    if (w_ == 0.0) return corner.lows.front().point;
    const double at = corner.low.faced_by_second(turn).value_or(turn);
    for (const FoldedLow& low : corner.lows)
      if (same(low.turn, at)) return low.point;
    corner.lows.push_back({at, add_point(layer_, low_at(corner_theta(q, at)))});
    return corner.lows.back().point;
  }

  // Along the rectangle, from the middle line of the flat before a corner, or to that of the one after it.
  void add_base(int q, bool first) {
    const FoldedCorner& corner = corners_[of_quarter(q)];
    const int end = corner.low.stem
                        ? corner.foot
                        : low_point(q, corner.low.far_end(first ? LowPart::first : LowPart::second));
    const bool eared = corner.ear && corner.ear_on_first == first;
    const int base =
        add_curve(layer_, {layer_.seams[of_quarter(first ? q : q + 1)].low, eared ? corner.parting : end});
    (first ? corners_[of_quarter(q)].base_first : corners_[of_quarter(q)].base_second) = base;
    layer_.low_rim[of_quarter(q)].push_back({base, first});
  }

  // The cone's low and high edges between the turns at which either has a corner.
  void add_cone(int q) {
    FoldedCorner& corner = corners_[of_quarter(q)];
    const FoldedTip& before = tips_[of_quarter(q)];     // at the cone's first bend line, this cone after it
    const FoldedTip& after = tips_[of_quarter(q + 1)];  // at its last, this cone before it
    struct Cut {
      double turn;
      int low, high;  // points
    };
    std::vector<double> turns{0.0, k_quarter};
    for (const double turn : breaks(q)) turns.push_back(turn);
    for (const double turn : before.after) turns.push_back(turn);
    for (const double turn : after.before) turns.push_back(k_quarter - turn);
    for (const Arc& arc : rim_.arcs)
      for (const double theta : {arc.from, arc.to})
        if (const WallPart part = part_at(theta); part.quarter == q && !part.flat) {
          // a mitre's own end is there already, as either cone tells it
          const double turn = corner_turn(q, theta);
          constexpr double k_of_mitre = 1e-6;
          const bool told =
              (before.mitred() && std::fabs(turn - before.after.back()) < k_of_mitre) ||
              (after.mitred() && std::fabs(k_quarter - turn - after.before.back()) < k_of_mitre);
          if (!told) turns.push_back(turn);
        }
    for (std::size_t i = turns.size(); i-- > 0;)  // rulings that meet are cut together
      for (const auto other : {corner.low.faced_by_first(turns[i]), corner.low.faced_by_second(turns[i])})
        if (other) turns.push_back(*other);
    std::sort(turns.begin(), turns.end());
    turns.erase(std::unique(turns.begin(), turns.end(), [](double a, double b) { return b - a < 1e-9; }),
                turns.end());
    const auto cut_at = [&](double turn) {
      if (same(turn, 0.0)) return Cut{turn, corner.first.low, corner.first.high};
      if (same(turn, k_quarter)) return Cut{turn, corner.second.low, corner.second.high};
      const int low = low_point(q, turn);
      std::optional<int> high;
      for (std::size_t i = 1; i < before.after.size(); ++i)
        if (same(turn, before.after[i])) high = before.points[i];
      for (std::size_t i = 1; i < after.before.size(); ++i)
        if (same(turn, k_quarter - after.before[i])) high = after.points[i];
      return Cut{turn, low, high ? *high : add_point(layer_, high_at(corner_theta(q, turn)))};
    };
    std::vector<Cut> cuts;
    for (const double turn : turns) cuts.push_back(cut_at(turn));
    int side = corner.first.line;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
      const bool last = i + 2 == cuts.size();
      const int next = last ? corner.second.line : add_curve(layer_, {cuts[i + 1].low, cuts[i + 1].high});
      add_patch(q, cuts[i].turn, cuts[i + 1].turn, {cuts[i].low, cuts[i + 1].low},
                {cuts[i].high, cuts[i + 1].high}, side, next);
      side = next;
    }
  }

  FoldedCourse course_of(int q, double from, double to) const {
    const bool shares = rim_.round == RoundEnd::collar;
    const double per_turn = corner_theta(q, 1.0) - corner_theta(q, 0.0);
    FoldedCourse course{from, to, [](double s) { return s; }, corner_theta(q, 0.0), per_turn};
    if (shares)
      course = {0.0, 1.0,
                [from, to](double s) { return s <= 0.0   ? from
                                              : s >= 1.0 ? to
                                                         : from + (to - from) * s; },
                corner_theta(q, from), per_turn * (to - from)};
    for (const FoldedOwn& own : corners_[of_quarter(q)].own) {
      const auto other = corners_[of_quarter(q)].low.faced_by_second(to);
      if (!other || !same(*other, own.from)) continue;
      // the part that it meets has the curve, which runs against this one's turn
      const double first = shares ? 0.0 : own.from;
      const double last = shares ? 1.0 : own.to;
      const double per_parameter = (to - from) / (last - first);
      course = {first,
                last,
                [=](double s) {
                  return s <= first ? to : s >= last ? from : to - per_parameter * (s - first);
                },
                corner_theta(q, to + per_parameter * first),
                -per_turn * per_parameter,
                true,
                {},
                own.curve};
    }
    return course;
  }

  // Beside the mitre at a flat's tip, that curve's own: the turn of the cone after the flat.
  std::optional<FoldedCourse> course_at_tip(int q, double from, double to) const {
    const double middle = 0.5 * (from + to);
    const FoldedTip& before = tips_[of_quarter(q)];
    const FoldedTip& after = tips_[of_quarter(q + 1)];
    const auto within = [](double at, double a, double b) { return at > a && at < b; };
    if (before.mitred() && middle < before.after.back()) {
      for (std::size_t i = 0; i < before.curves.size(); ++i)
        if (within(middle, before.after[i], before.after[i + 1]))
          return FoldedCourse{from, to, [](double s) { return s; }, 0.0, 1.0, false, before.curves[i]};
    } else if (after.mitred() && k_quarter - middle < after.before.back()) {
      for (std::size_t i = 0; i < after.curves.size(); ++i) {
        if (!within(k_quarter - middle, after.before[i], after.before[i + 1])) continue;
        const double a = after.after[i];
        const double b = after.after[i + 1];
        const double low_turn = k_quarter - after.before[i];
        const double high_turn = k_quarter - after.before[i + 1];
        const auto turn_at = [sheet = sheet_, w = w_, q, a, b, low_turn, high_turn](double s) {
          if (s <= a) return low_turn;
          if (s >= b) return high_turn;
          return k_quarter - tip_partner(sheet, (q + 1) % 4, s, w);
        };
        return FoldedCourse{a, b, turn_at, 0.0, 1.0, true, after.curves[i]};
      }
    }
    return std::nullopt;
  }

  void add_patch(int q, double from, double to, std::array<int, 2> low, std::array<int, 2> high, int start,
                 int end) {
    FoldedCourse course = course_of(q, from, to);
    if (std::optional<FoldedCourse> tip = course_at_tip(q, from, to)) {
      if (corners_[of_quarter(q)].low.faced_by_first(from) || course.low)
        throw GeometryError("a corner folds over itself beside the mitre at the tip of a flat");
      course = std::move(*tip);
    }
    FoldedPatch patch{{}, 0, low[0], {start, true}, {end, true}, course.reversed, {}};
    if (course.reversed) {
      std::swap(patch.start, patch.end);
      std::swap(low[0], low[1]);
      std::swap(high[0], high[1]);
    }
    const double turn = std::fabs(course.turn_at(course.last) - course.turn_at(course.first));
    const double per_parameter = rim_.round == RoundEnd::collar && !course.high ? turn : 1.0;
    if (course.high) {
      patch.high = *course.high;
    } else {
      const auto at = [sheet = sheet_, w = w_, round = rim_.round, q, turn_at = course.turn_at](double s) {
        return high_place(sheet, w, round, corner_theta(q, turn_at(s)));
      };
      patch.high = add_curve(layer_, {high[0], high[1], at, course.first, course.last, course.theta,
                                      course.rate, per_parameter});
      layer_.high_rim[of_quarter(q)].push_back({patch.high, !course.reversed});
    }
    if (course.low) {
      patch.low = *course.low;
    } else if (low[0] != low[1]) {
      const auto at = [sheet = sheet_, w = w_, q, turn_at = course.turn_at](double s) {
        return place_at_low(sheet, w, corner_theta(q, turn_at(s)));
      };
      FoldedCurve curve{low[0], low[1], at, course.first, course.last};
      curve.turn = per_parameter;
      patch.low = add_curve(layer_, std::move(curve));
      add_low(q, from, to, {*patch.low, !patch.reversed});
    }
    patch.turn_at = std::move(course.turn_at);
    layer_.patches[of_quarter(q)].push_back(std::move(patch));
  }

  // As a side of what the layer comes to there.
  void add_low(int q, double from, double to, FoldedSide edge) {
    FoldedCorner& corner = corners_[of_quarter(q)];
    LowPart on = LowPart::plane;
    for (const LowArc& arc : corner.low.arcs)
      if (0.5 * (from + to) > arc.from && 0.5 * (from + to) < arc.to) on = arc.on;
    if (on == LowPart::own)
      corner.own.push_back({from, to, edge.curve});
    else
      (on == LowPart::plane   ? layer_.low_rim[of_quarter(q)]
       : on == LowPart::first ? corner.beside_first
                              : corner.beside_second)
          .push_back(edge);
  }

  // A flat's end at the round end, of which one corner is on a bend line: straight, or on the collar.
  int new_top(int from, int to, double first, double last) {
    if (rim_.round == RoundEnd::open) return add_curve(layer_, {from, to});
    const auto at = [sheet = sheet_, w = w_, round = rim_.round](double theta) {
      return high_place(sheet, w, round, theta);
    };
    return add_curve(layer_, {from, to, at, first, last});
  }

  // Counter-clockwise from outside: along the rectangle, up the mitre and the bend line, down the middle
  // line.
  void add_flats(int q) {
    const FoldedCorner& corner = corners_[of_quarter(q)];
    const FoldedSeam& first = layer_.seams[of_quarter(q)];
    const FoldedSeam& second = layer_.seams[of_quarter(q + 1)];
    std::vector<FoldedSide> a{{corner.base_first, true}};
    if (corner.ear && corner.ear_on_first) a.push_back({*corner.ear, true});
    if (corner.low.stem) a.push_back({corner.stem, true});
    // from the mitre's far end back to the first bend line, against theta
    for (auto side = corner.beside_first.rbegin(); side != corner.beside_first.rend(); ++side)
      a.push_back({side->curve, !side->forward});
    a.push_back({corner.first.line, true});
    if (corner.first.high != first.high) {
      const int top = new_top(first.high, corner.first.high, k_quarter * q, corner_theta(q, 0.0));
      a.push_back({top, false});
      layer_.high_rim[of_quarter(q)].insert(layer_.high_rim[of_quarter(q)].begin(), {top, true});
    }
    a.push_back({first.line, false});

    std::vector<FoldedSide> b{{second.line, true}};
    if (corner.second.high != second.high) {
      const int top =
          new_top(corner.second.high, second.high, corner_theta(q, k_quarter), k_quarter * (q + 1));
      b.push_back({top, false});
      layer_.high_rim[of_quarter(q)].push_back({top, true});
    }
    b.push_back({corner.second.line, false});
    // down the second bend line, along the mitre to its far end, down the stem
    for (auto side = corner.beside_second.rbegin(); side != corner.beside_second.rend(); ++side)
      b.push_back({side->curve, !side->forward});
    if (corner.low.stem) b.push_back({corner.stem, false});
    if (corner.ear && !corner.ear_on_first) b.push_back({*corner.ear, false});
    b.push_back({corner.base_second, false});
    layer_.flats[of_quarter(q)] = {std::move(a), std::move(b)};
  }

  Sheet sheet_;
  double w_;
  const FoldedRim& rim_;
  FoldedLayer layer_{};
  std::array<FoldedTip, 4> tips_{};
  std::array<FoldedCorner, 4> corners_{};
};

}  // namespace

FoldedLayer folded_layer(const Sheet& sheet, double w, const FoldedRim& rim) {
  return Builder(sheet, w, rim).made();
}

}  // namespace linerwright
