#include "blade.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "blade_curves.hpp"
#include "blade_way.hpp"

namespace linerwright {

namespace {

class Rows {
 public:
  Rows(const BladeEdge& edge, double thickness)
      : curves_(edge), thickness_(thickness), places_(curves_.places()) {}

  std::vector<BladeRow> rows() {
    for (BladePlace& place : places_) curves_.find_foot(place);
    meet_at_corners();
    leave_far_sides();
    hold_back();
    lean_between();
    if (curves_.exact()) refine();
    const std::vector<double> left = BladeWay(curves_, places_, thickness_).left();
    std::vector<BladeRow> rows;
    for (std::size_t i = 0; i < places_.size(); ++i) {
      rows.push_back(places_[i].row);
      rows.back().left = left[i];
    }
    return rows;
  }

 private:
  double way(std::size_t from, std::size_t to) const {
    double length = 0.0;
    for (std::size_t i = from; i != to; i = (i + 1) % places_.size())
      length += distance(places_[i].row.at, places_[(i + 1) % places_.size()].row.at);
    return length;
  }

  // Where the blade turns on the spot at a corner, one line may pass the lower contour's corner and meet its
  // next side far off, and the other line the side before: both lean to the corner instead.
  void meet_at_corners() {
    const double n = static_cast<double>(curves_.points());
    for (std::size_t i = 0; i < places_.size(); ++i) {
      if (i + 1 == places_.size() && !curves_.closed()) break;
      BladePlace& arrives = places_[i];
      BladePlace& leaves = places_[(i + 1) % places_.size()];
      if (!arrives.meets || !leaves.meets || distance(arrives.row.at, leaves.row.at) > 0.0) continue;
      const double round = i + 1 == places_.size() ? n : 0.0;
      const std::optional<double> corner = curves_.lower_corner_between(leaves.foot + round, arrives.foot);
      if (!corner) continue;
      curves_.lean_to(arrives, *corner);
      curves_.lean_to(leaves, *corner - round);
    }
  }

  // The next row whose line meets the lower contour, from one on, forward or back; nothing past an open
  // edge's ends.
  std::optional<std::size_t> next_met(std::size_t from, bool forward) const {
    const std::size_t count = places_.size();
    std::size_t i = from;
    for (std::size_t step = 1; step < count; ++step) {
      if (!curves_.closed() && (forward ? i + 1 == count : i == 0)) return std::nullopt;
      i = forward ? (i + 1) % count : (i + count - 1) % count;
      if (places_[i].meets) return i;
    }
    return std::nullopt;
  }

  // The most rows, in their order, whose feet go forward, too: on an open edge from its first row on, on a
  // closed one around from the row that leans least.
  std::vector<std::size_t> in_step() const {
    const std::size_t count = places_.size();
    const auto leans = [&](std::size_t i) {
      return places_[i].meets ? std::fabs(places_[i].row.shift) : std::numeric_limits<double>::infinity();
    };
    std::size_t first = 0;
    for (std::size_t i = 1; curves_.closed() && i < count; ++i)
      if (leans(i) < leans(first)) first = i;
    const double n = static_cast<double>(curves_.points());
    const auto foot = [&](std::size_t i) { return places_[i].foot + (i < first ? n : 0.0); };
    // for every length the row with the least foot that a sequence of this length ends with
    std::vector<std::size_t> ends;
    std::vector<std::size_t> before(count, count);
    for (std::size_t step = 0; step < count; ++step) {
      const std::size_t i = (first + step) % count;
      if (!places_[i].meets) continue;
      if (curves_.closed() && !(foot(i) >= foot(first) && foot(i) <= foot(first) + n)) continue;
      const auto at = std::upper_bound(ends.begin(), ends.end(), foot(i),
                                       [&](double value, std::size_t end) { return value < foot(end); });
      if (at != ends.begin()) before[i] = *(at - 1);
      if (at == ends.end())
        ends.push_back(i);
      else
        *at = i;
    }
    std::vector<std::size_t> found;
    for (std::size_t i = ends.empty() ? count : ends.back(); i < count; i = before[i]) found.push_back(i);
    return found;
  }

  // Where the lower contour has ended, lines square to the path may still meet its far side. A row out of
  // step with the others that leans much further than those in step before and after it has no foot.
  void leave_far_sides() {
    constexpr double k_much = 1.5;
    const std::size_t count = places_.size();
    std::vector<bool> steady(count, false);
    for (const std::size_t i : in_step()) steady[i] = true;
    const auto beside = [&](std::size_t i, bool forward) {
      for (std::size_t step = 1; step < count; ++step) {
        if (!curves_.closed() && (forward ? i + 1 == count : i == 0)) break;
        i = forward ? (i + 1) % count : (i + count - 1) % count;
        if (steady[i]) return std::fabs(places_[i].row.shift);
      }
      return 0.0;
    };
    for (std::size_t i = 0; i < count; ++i) {
      BladePlace& place = places_[i];
      if (!place.meets || steady[i]) continue;
      const double most = k_much * std::max(beside(i, false), beside(i, true)) + k_reached;
      if (std::fabs(place.row.shift) > most) place.meets = place.row.cuts = false;
    }
  }

  // The largest shift toward this side with which the lower end still goes forward: the radius of the path
  // there.
  double most_shift(std::size_t i, bool to_right) const {
    constexpr double k_far = std::numeric_limits<double>::infinity();
    const std::size_t count = places_.size();
    if (!curves_.closed() && (i == 0 || i + 1 == count)) return k_far;
    const BladeRow& before = places_[(i + count - 1) % count].row;
    const BladeRow& after = places_[(i + 1) % count].row;
    const double in = distance(before.at, places_[i].row.at);
    const double out = distance(places_[i].row.at, after.at);
    if (!(in > 0.0 && out > 0.0)) return k_far;  // at a corner the blade turns on the spot
    const double turn = turn_between(before.along, after.along) * (to_right ? -1.0 : 1.0);
    return turn > 1e-9 ? (in + out) / turn : k_far;
  }

  void hold_back() {
    for (std::size_t i = 0; i < places_.size(); ++i) {
      BladeRow& row = places_[i].row;
      const double most = most_shift(i, row.shift > 0.0);
      if (std::fabs(row.shift) <= most) continue;
      row.shift = std::copysign(most, row.shift);
      row.cuts = false;
    }
  }

  // Where the line misses: evenly from the last lean to the next.
  void lean_between() {
    for (std::size_t i = 0; i < places_.size(); ++i) {
      if (places_[i].meets) continue;
      const std::optional<std::size_t> before = next_met(i, false);
      const std::optional<std::size_t> after = next_met(i, true);
      double lean = 0.0;
      const auto lean_of = [&](std::size_t k) { return std::atan2(places_[k].row.shift, thickness_); };
      if (before && after) {
        const double from = way(*before, i);
        const double to = way(i, *after);
        const double share = from + to > 0.0 ? from / (from + to) : 0.5;
        lean = (1.0 - share) * lean_of(*before) + share * lean_of(*after);
      } else if (before || after) {
        lean = lean_of(before ? *before : *after);
      }
      places_[i].row.shift = thickness_ * std::tan(lean);
    }
    hold_back();
  }

  // Rows between those from one of which the lower end would leave its contour on the way to the next.
  void refine() {
    constexpr int k_rounds = 8;
    for (int round = 0; round < k_rounds; ++round) {
      const BladeWay between(curves_, places_, thickness_);
      std::vector<BladePlace> finer;
      for (std::size_t i = 0; i < places_.size(); ++i) {
        finer.push_back(places_[i]);
        if (i == between.stretches()) break;
        if (places_[i].stays) continue;
        const BladeWay::Look look = between.look(i);
        if (look.wanted)
          finer.push_back(*look.wanted);
        else
          finer.back().stays = look.stays;
      }
      const bool done = finer.size() == places_.size();
      places_ = std::move(finer);
      if (done) return;
    }
  }

  BladeCurves curves_;
  double thickness_;
  std::vector<BladePlace> places_;
};

}  // namespace

std::vector<BladeRow> blade_rows(const BladeEdge& edge, double thickness) {
  return Rows(edge, thickness).rows();
}

}  // namespace linerwright
