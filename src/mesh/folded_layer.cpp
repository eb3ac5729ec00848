#include "linerwright/mesh/folded_layer.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linerwright {

namespace {

constexpr double k_quarter = 0.5 * k_pi;

// The mitre of two cones at a flat's tip: curves in the sense of the turn on the cone after the flat, with
// the turns on either cone, from the flat on, at which they are cut.
struct Tip {
  std::vector<double> after{}, before{};
  std::vector<int> points{}, curves{};
  bool mitred() const { return !curves.empty(); }
};

Vec3 low_place(const Sheet& sheet, double w, double theta) {
  return sheet.point(theta, low_end(sheet, theta, w).v, w);
}
Vec3 high_place(const Sheet& sheet, double w, RoundEnd round, double theta) {
  return sheet.point(theta, high_end(sheet, theta, w, round).v, w);
}

struct Bend {
  int low, high, line;
};

class Builder {
 public:
  Builder(const Sheet& sheet, double w, const FoldedRim& rim) : sheet_(sheet), w_(w), rim_(rim) {}

  FoldedLayer made() {
    for (int k = 0; k < 4; ++k) forks_[index(k)] = corner_turn(k, corner_fold(sheet_, k).fork_theta);
    for (int k = 0; k < 4; ++k) add_middle(k);
    for (int k = 0; k < 4; ++k) add_tip(k);
    for (int k = 0; k < 4; ++k) add_corner(k);
    for (int k = 0; k < 4; ++k) {
      add_base(k, true);
      add_cone(k);
      add_base(k, false);
      add_flats(k);
    }
    return std::move(layer_);
  }

 private:
  static std::size_t index(int quarter) { return static_cast<std::size_t>(((quarter % 4) + 4) % 4); }
  int new_point(Vec3 p) {
    layer_.points.push_back(p);
    return static_cast<int>(layer_.points.size()) - 1;
  }
  int new_curve(FoldedCurve curve) {
    layer_.curves.push_back(std::move(curve));
    return static_cast<int>(layer_.curves.size()) - 1;
  }
  Vec3 low_at(double theta) const { return low_place(sheet_, w_, theta); }
  Vec3 high_at(double theta) const { return high_place(sheet_, w_, rim_.round, theta); }
  bool folds() const { return w_ > 0.0; }
  double lean(int flat) const { return sheet_.ruling(k_quarter * flat).lean; }
  // Whether the flat's top is its tip alone.
  bool pointed(int flat) const { return w_ * lean(flat) >= 0.0; }

  void add_middle(int k) {
    FoldedSeam& seam = layer_.seams[index(k)];
    seam.low = new_point(low_at(k_quarter * k));
    seam.high = seam.top = new_point(high_at(k_quarter * k));
    seam.line = new_curve({seam.low, seam.high});
  }

  void add_tip(int k) {
    Tip& tip = tips_[index(k)];
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
    if (folds()) {
      std::vector<double> cuts;
      if (forks_[index(k)] < last) cuts.push_back(forks_[index(k)]);
      const double other = k_quarter - forks_[index(k + 3)];
      if (other < partner_at(last)) {
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
    }
    tip.after.push_back(last);
    FoldedSeam& seam = layer_.seams[index(k)];
    tip.points = {seam.high};
    for (std::size_t i = 0; i < tip.after.size(); ++i) {
      tip.before.push_back(i == 0 ? 0.0 : partner_at(tip.after[i]));
      if (folds() && std::fabs(tip.before[i] - (k_quarter - forks_[index(k + 3)])) < 1e-7)
        tip.before[i] = k_quarter - forks_[index(k + 3)];
      if (i == 0) continue;
      tip.points.push_back(new_point(high_at(corner_theta(k, tip.after[i]))));
      const auto at = [sheet = sheet_, w = w_, round = rim_.round, k](double turn) {
        return high_place(sheet, w, round, corner_theta(k, turn));
      };
      tip.curves.push_back(new_curve({tip.points[i - 1], tip.points[i], at, tip.after[i - 1], tip.after[i]}));
    }
    seam.tip_curves = tip.curves;
    seam.top = tip.points.back();
  }

  void add_corner(int q) {
    const CornerFold fold = corner_fold(sheet_, q);
    const Vec3 corner = sheet_.ruling(fold.fork_theta).base;
    Corner& made = corners_[index(q)];
    std::optional<int> apex;
    if (w_ == 0.0) apex = new_point(sheet_.frame().point(corner));
    for (const bool second : {false, true}) {
      const double theta = corner_theta(q, second ? k_quarter : 0.0);
      const int flat = second ? q + 1 : q;
      Bend& bend = second ? made.second : made.first;
      bend.low = apex ? *apex : new_point(low_at(theta));
      bend.high = pointed(flat) ? layer_.seams[index(flat)].high : new_point(high_at(theta));
      bend.line = new_curve({bend.low, bend.high});
    }
    if (!folds()) return;
    const double turn = forks_[index(q)];
    made.foot = new_point(sheet_.frame().point(corner + w_ * fold.foot));
    constexpr double k_on_bend = 1e-9;
    made.fork = turn < k_on_bend               ? made.first.low
                : turn > k_quarter - k_on_bend ? made.second.low
                                               : new_point(sheet_.frame().point(corner + w_ * fold.fork));
    made.stem = new_curve({made.foot, made.fork});
  }

  // Along the rectangle, from the middle line of the flat before a corner, or to that of the one after it.
  void add_base(int q, bool first) {
    const Corner& corner = corners_[index(q)];
    const Bend& bend = first ? corner.first : corner.second;
    const int base =
        new_curve({layer_.seams[index(first ? q : q + 1)].low, folds() ? corner.foot : bend.low});
    (first ? corners_[index(q)].base_first : corners_[index(q)].base_second) = base;
    layer_.low_rim[index(q)].push_back({base, first});
  }

  // The cone's low and high edges between the turns at which either has a corner.
  void add_cone(int q) {
    Corner& corner = corners_[index(q)];
    const Tip& before = tips_[index(q)];     // at the cone's first bend line, this cone after it
    const Tip& after = tips_[index(q + 1)];  // at its last, this cone before it
    struct Cut {
      double turn;
      int low, high;  // points
    };
    std::vector<double> turns{0.0, k_quarter};
    if (folds()) turns.push_back(forks_[index(q)]);
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
    std::sort(turns.begin(), turns.end());
    turns.erase(std::unique(turns.begin(), turns.end(), [](double a, double b) { return b - a < 1e-9; }),
                turns.end());
    const auto same = [](double a, double b) { return std::fabs(a - b) < 2e-9; };
    const auto cut_at = [&](double turn) {
      const double theta = corner_theta(q, turn);
      if (same(turn, 0.0)) return Cut{turn, corner.first.low, corner.first.high};
      if (same(turn, k_quarter)) return Cut{turn, corner.second.low, corner.second.high};
      const int low = w_ == 0.0                                 ? corner.first.low
                      : folds() && same(turn, forks_[index(q)]) ? corner.fork
                                                                : new_point(low_at(theta));
      std::optional<int> high;
      for (std::size_t i = 1; i < before.after.size(); ++i)
        if (same(turn, before.after[i])) high = before.points[i];
      for (std::size_t i = 1; i < after.before.size(); ++i)
        if (same(turn, k_quarter - after.before[i])) high = after.points[i];
      return Cut{turn, low, high ? *high : new_point(high_at(theta))};
    };
    std::vector<Cut> cuts;
    for (const double turn : turns) cuts.push_back(cut_at(turn));
    int side = corner.first.line;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
      const bool last = i + 2 == cuts.size();
      const int next = last ? corner.second.line : new_curve({cuts[i + 1].low, cuts[i + 1].high});
      add_patch(q, cuts[i].turn, cuts[i + 1].turn, {cuts[i].low, cuts[i + 1].low},
                {cuts[i].high, cuts[i + 1].high}, side, next);
      side = next;
    }
  }

  void add_patch(int q, double from, double to, std::array<int, 2> low, std::array<int, 2> high, int start,
                 int end) {
    const double middle = 0.5 * (from + to);
    const Tip& before = tips_[index(q)];
    const Tip& after = tips_[index(q + 1)];
    FoldedPatch patch{{}, 0, low[0], {start, true}, {end, true}, false, {}};
    std::optional<int> mitre;  // the curve of a tip's mitre that is the high side
    // the parameter is this cone's turn, but beside a tip's mitre on the last bend line that of the other
    // cone
    double first = from;
    double final = to;
    std::function<double(double)> turn_at = [](double s) { return s; };
    if (before.mitred() && middle < before.after.back()) {
      for (std::size_t i = 0; i < before.curves.size(); ++i)
        if (middle > before.after[i] && middle < before.after[i + 1]) mitre = before.curves[i];
    } else if (after.mitred() && k_quarter - middle < after.before.back()) {
      for (std::size_t i = 0; i < after.curves.size(); ++i)
        if (k_quarter - middle > after.before[i] && k_quarter - middle < after.before[i + 1]) {
          mitre = after.curves[i];
          first = after.after[i];
          final = after.after[i + 1];
          const double low_turn = k_quarter - after.before[i];
          const double high_turn = k_quarter - after.before[i + 1];
          const double a = first;
          const double b = final;
          turn_at = [sheet = sheet_, w = w_, q, a, b, low_turn, high_turn](double s) {
            if (s <= a) return low_turn;
            if (s >= b) return high_turn;
            return k_quarter - tip_partner(sheet, (q + 1) % 4, s, w);
          };
        }
      patch.reversed = true;
      std::swap(patch.start, patch.end);
      std::swap(low[0], low[1]);
      std::swap(high[0], high[1]);
    }
    double per_parameter = 1.0;
    if (!mitre) {
      if (rim_.round == RoundEnd::collar) {
        // by shares of the part, so that what lies over against each other at two depths runs in step
        turn_at = [from, to](double s) { return s <= 0.0 ? from : s >= 1.0 ? to : from + (to - from) * s; };
        first = 0.0;
        final = 1.0;
        per_parameter = to - from;
      }
      const auto at = [sheet = sheet_, w = w_, round = rim_.round, q, turn_at](double s) {
        return high_place(sheet, w, round, corner_theta(q, turn_at(s)));
      };
      const double begin = corner_theta(q, rim_.round == RoundEnd::collar ? from : 0.0);
      FoldedCurve edge{high[0], high[1], at, first, final};
      edge.theta = begin;
      edge.rate = (corner_theta(q, 1.0) - corner_theta(q, 0.0)) * per_parameter;
      edge.turn = per_parameter;
      patch.high = new_curve(std::move(edge));
      layer_.high_rim[index(q)].push_back({patch.high, true});
    } else {
      patch.high = *mitre;
    }
    if (low[0] != low[1]) {
      const auto at = [sheet = sheet_, w = w_, q, turn_at](double s) {
        return low_place(sheet, w, corner_theta(q, turn_at(s)));
      };
      FoldedCurve curve{low[0], low[1], at, first, final};
      curve.turn = per_parameter;
      patch.low = new_curve(std::move(curve));
      const FoldedSide edge{*patch.low, !patch.reversed};
      if (folds())
        (middle < forks_[index(q)] ? corners_[index(q)].beside_first : corners_[index(q)].beside_second)
            .push_back(edge);
      else
        layer_.low_rim[index(q)].push_back(edge);
    }
    patch.turn_at = std::move(turn_at);
    layer_.patches[index(q)].push_back(std::move(patch));
  }

  // A flat's end at the round end, of which one corner is on a bend line: straight, or on the collar.
  int new_top(int from, int to, double first, double last) {
    if (rim_.round == RoundEnd::open) return new_curve({from, to});
    const auto at = [sheet = sheet_, w = w_, round = rim_.round](double theta) {
      return high_place(sheet, w, round, theta);
    };
    return new_curve({from, to, at, first, last});
  }

  // Counter-clockwise from outside: along the rectangle, up the mitre and the bend line, down the middle
  // line.
  void add_flats(int q) {
    const Corner& corner = corners_[index(q)];
    const FoldedSeam& first = layer_.seams[index(q)];
    const FoldedSeam& second = layer_.seams[index(q + 1)];
    std::vector<FoldedSide> a{{corner.base_first, true}};
    if (folds()) {
      a.push_back({corner.stem, true});
      // from the fork back to the first bend line, against theta
      for (auto side = corner.beside_first.rbegin(); side != corner.beside_first.rend(); ++side)
        a.push_back({side->curve, !side->forward});
    }
    a.push_back({corner.first.line, true});
    if (corner.first.high != first.high) {
      const int top = new_top(first.high, corner.first.high, k_quarter * q, corner_theta(q, 0.0));
      a.push_back({top, false});
      layer_.high_rim[index(q)].insert(layer_.high_rim[index(q)].begin(), {top, true});
    }
    a.push_back({first.line, false});

    std::vector<FoldedSide> b{{second.line, true}};
    if (corner.second.high != second.high) {
      const int top =
          new_top(corner.second.high, second.high, corner_theta(q, k_quarter), k_quarter * (q + 1));
      b.push_back({top, false});
      layer_.high_rim[index(q)].push_back({top, true});
    }
    b.push_back({corner.second.line, false});
    if (folds()) {
      // down the second bend line, along the mitre to the fork, down the stem
      for (auto side = corner.beside_second.rbegin(); side != corner.beside_second.rend(); ++side)
        b.push_back({side->curve, !side->forward});
      b.push_back({corner.stem, false});
    }
    b.push_back({corner.base_second, false});
    layer_.flats[index(q)] = {std::move(a), std::move(b)};
  }

  struct Corner {
    Bend first{}, second{};
    int foot = 0, fork = 0, stem = 0;  // of a layer that folds
    int base_first = 0, base_second = 0;
    std::vector<FoldedSide> beside_first{}, beside_second{};  // low edges, in the sense of theta
  };
  Sheet sheet_;
  double w_;
  const FoldedRim& rim_;
  FoldedLayer layer_{};
  std::array<double, 4> forks_{};
  std::array<Tip, 4> tips_{};
  std::array<Corner, 4> corners_{};
};

}  // namespace

FoldedLayer folded_layer(const Sheet& sheet, double w, const FoldedRim& rim) {
  return Builder(sheet, w, rim).made();
}

}  // namespace linerwright
