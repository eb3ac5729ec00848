#include "separate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

// Guided local search over layouts with overlaps. Each overlapping item moves to the position of least
// weighted overlap that a sample of positions and a descent from the best of them find; the weights of pairs
// that stay overlapped grow, so that no minimum holds for ever. The scheme follows Egeblad, Nielsen and
// Odgaard, "Fast neighborhood search for two- and three-dimensional nesting problems" (2007), Umetani et al.,
// "Solving the irregular strip packing problem via guided local search for overlap minimization" (2009), and
// Gardeyn et al., arXiv 2509.13329; the measure of overlap, the penetration depth of the no-fit polygon, is
// the one of Imamichi, Yagiura and Nagamochi, "An iterated local search algorithm based on nonlinear
// programming for the irregular strip packing problem" (2009).

namespace linerwright::nesting {
namespace {

constexpr std::size_t k_anywhere = 40;  // positions tried over all sheets
constexpr std::size_t k_nearby = 24;    // and around the present one
constexpr std::size_t k_descents = 3;   // of the best of them
constexpr int k_pushes = 12;            // straight out of an overlap, in one descent
constexpr double k_nearby_reach = 0.6;  // half the size of the neighbourhood, in boxes of the item
constexpr float k_least_growth = 1.2F, k_most_growth = 2.0F, k_fading = 0.95F;
constexpr double k_worth_it = 0.98;  // less overlap than this share of the best is an improvement

struct Candidate {
  Pose pose;
  double cost = std::numeric_limits<double>::max();
};

// The few cheapest candidates, cheapest first.
class Shortlist {
 public:
  double limit() const { return best_.back().cost; }
  void offer(const Candidate& candidate) {
    if (candidate.cost >= limit()) return;
    std::size_t i = best_.size() - 1;
    for (; i > 0 && best_[i - 1].cost > candidate.cost; --i) best_[i] = best_[i - 1];
    best_[i] = candidate;
  }
  const std::array<Candidate, k_descents>& best() const { return best_; }

 private:
  std::array<Candidate, k_descents> best_;
};

class Separation {
 public:
  Separation(Layout& layout, Random& random)
      : layout_(layout), random_(random), weights_(layout.items().size()) {}

  bool run(const Patience& patience) {
    Poses best = layout_.poses();
    double least = total(layout_.overlaps());
    if (least == 0.0) return true;
    for (int vain = 0; vain < patience.returns;) {
      const double at_start = least;
      for (int quiet = 0; quiet < patience.quiet_sweeps; ++quiet) {
        sweep();
        const auto overlaps = layout_.overlaps();
        const double now = total(overlaps);
        if (now == 0.0) return true;
        if (now < least) {
          if (now < k_worth_it * least) quiet = 0;
          least = now;
          best = layout_.poses();
        }
        reweigh(overlaps);
        if (layout_.steps() >= patience.steps) {
          layout_.set_poses(best);
          return false;
        }
      }
      vain = least < k_worth_it * at_start ? 0 : vain + 1;
      layout_.set_poses(best);
    }
    return false;
  }

 private:
  Layout& layout_;
  Random& random_;
  Weights weights_;

  static double total(const std::vector<Layout::Overlap>& overlaps) {
    double sum = 0.0;
    for (const auto& overlap : overlaps) sum += overlap.depth;
    return sum;
  }

  void reweigh(const std::vector<Layout::Overlap>& overlaps) {
    double deepest = 0.0;
    for (const auto& overlap : overlaps) deepest = std::max(deepest, overlap.depth);
    weights_.fade(k_fading);
    for (const auto& overlap : overlaps) {
      const float share = static_cast<float>(overlap.depth / deepest);
      weights_.multiply(overlap.i, overlap.j,
                        (k_least_growth + (k_most_growth - k_least_growth) * share) / k_fading);
    }
  }

  void sweep() {
    std::vector<std::size_t> movable;
    for (const auto& overlap : layout_.overlaps()) {
      movable.push_back(overlap.i);
      movable.push_back(overlap.j);
    }
    std::sort(movable.begin(), movable.end());
    movable.erase(std::unique(movable.begin(), movable.end()), movable.end());
    random_.shuffle(movable);
    for (std::size_t item : movable) improve(item);
  }

  void improve(std::size_t item) {
    const Pose present = layout_.poses()[item];
    const double before = cost(item, present, std::numeric_limits<double>::max());
    if (before == 0.0) return;
    Shortlist list;
    list.offer({present, before});
    const std::size_t sheets = layout_.sheets().size();
    const std::size_t anywhere = k_anywhere * std::min<std::size_t>(sheets, 4);
    for (std::size_t i = 0; i < anywhere && list.best().front().cost > 0.0; ++i) {
      Pose pose;
      pose.sheet = sheets == 1 ? 0 : random_.below(sheets);
      const auto room = layout_.room(item, *pose.sheet);
      if (!room) continue;
      pose.at = {random_.between(room->low.x, room->high.x), random_.between(room->low.y, room->high.y)};
      pose.turned = layout_.items()[item].may_turn && random_.flip();
      list.offer({pose, cost(item, pose, list.limit())});
    }
    const auto home = layout_.room(item, *present.sheet);
    const Vec2 half = layout_.shape_of(item).half;
    for (std::size_t i = 0; home && i < k_nearby && list.best().front().cost > 0.0; ++i) {
      Pose pose = present;
      pose.at.x += random_.between(-1.0, 1.0) * k_nearby_reach * half.x;
      pose.at.y += random_.between(-1.0, 1.0) * k_nearby_reach * half.y;
      keep_inside(pose, *home);
      if (layout_.items()[item].may_turn && random_.below(4) == 0) pose.turned = !pose.turned;
      list.offer({pose, cost(item, pose, list.limit())});
    }
    Candidate best{present, before};
    for (const Candidate& start : list.best()) {
      if (!start.pose.sheet || best.cost == 0.0) continue;
      const Candidate end = descend(item, start);
      if (end.cost < best.cost) best = end;
    }
    if (best.cost < before) layout_.move(item, best.pose);
  }

  double cost(std::size_t item, const Pose& pose, double enough) {
    return layout_.cost(item, pose, &weights_, enough);
  }

  static void keep_inside(Pose& pose, const Box& room) {
    pose.at = {std::clamp(pose.at.x, room.low.x, room.high.x),
               std::clamp(pose.at.y, room.low.y, room.high.y)};
  }

  // Tries the shifted pose; true when it is better.
  bool try_shift(std::size_t item, Candidate& best, Vec2 shift, const Box& room) {
    Candidate next = best;
    next.pose.at = next.pose.at + shift;
    keep_inside(next.pose, room);
    if (next.pose.at == best.pose.at) return false;
    next.cost = cost(item, next.pose, best.cost);
    if (next.cost >= best.cost) return false;
    best = next;
    return true;
  }

  // A direction in the right half plane; the caller tries its opposite too. No library call that may round
  // differently.
  Vec2 direction() {
    const double t = random_.between(-1.0, 1.0);
    return (1.0 / (1.0 + t * t)) * Vec2{1.0 - t * t, 2.0 * t};
  }

  Candidate descend(std::size_t item, Candidate best) {
    const Box room = *layout_.room(item, *best.pose.sheet);
    const Vec2 half = layout_.shape_of(item).half;
    const double size = std::min(half.x, half.y);
    double step = 0.1 * size;
    const double finest = 0.002 * size;
    for (int pushes = 0; best.cost > 0.0;) {
      if (pushes < k_pushes) {
        const Layout::Push push = layout_.push(item, best.pose, weights_);
        ++pushes;
        if (try_shift(item, best, push.sum, room) || try_shift(item, best, push.worst, room)) continue;
      }
      if (step < finest) break;
      const Vec2 along = step * direction();
      if (try_shift(item, best, along, room) || try_shift(item, best, -1.0 * along, room)) {
        step *= 1.1;
      } else {
        step *= 0.6;
      }
    }
    return best;
  }
};

}  // namespace

bool separate(Layout& layout, Random& random, const Patience& patience) {
  return Separation(layout, random).run(patience);
}

}  // namespace linerwright::nesting
