#include "shorten.hpp"

#include <algorithm>
#include <array>
#include <limits>

#include "lanes.hpp"
#include "separate.hpp"

namespace linerwright::nesting {
namespace {

constexpr int k_rounds = 8;              // after each, both lanes go on from the better result
constexpr double k_exploring = 0.75;     // share of the steps spent looking for new arrangements
constexpr double k_first_shrink = 0.01;  // of the used length; halved on failure down to the least
constexpr double k_least_shrink = 0.001;
constexpr double k_squeeze_from = 5e-4, k_squeeze_to = 2e-5;  // shrinking in the last part
constexpr std::size_t k_memory = 20;                          // failed layouts kept as new starting points
constexpr Patience k_explore{50, 3, 0};
constexpr Patience k_squeeze{60, 2, 0};

struct Failed {
  Poses poses;
  double overlap = 0.0;
};

class Lane {
 public:
  Lane(const Layout& layout, std::size_t sheet, std::uint64_t seed)
      : layout_(layout), random_(seed), sheet_(sheet), best_(layout.poses()), used_(layout.used_to(sheet)) {
    start_ = layout_.steps();
  }

  double used() const { return used_; }
  const Poses& best() const { return best_; }
  std::uint64_t spent() const { return layout_.steps() - start_; }

  void adopt(const Lane& other) {
    if (other.used_ >= used_) return;
    best_ = other.best_;
    used_ = other.used_;
    shrink_ = other.shrink_;
    failed_.clear();
  }

  void explore(std::uint64_t steps) {
    const std::uint64_t end = start_ + steps;
    while (layout_.steps() < end && !stuck()) {
      const bool fresh = failed_.empty();
      const double target = shorter(shrink_);
      if (fresh) {
        if (!narrow(target, best_)) return;
      } else {
        // the least overlapping ones more often
        const double u = random_.unit();
        const Poses again =
            failed_[static_cast<std::size_t>(u * u * static_cast<double>(failed_.size()))].poses;
        if (!narrow(target, again)) return;
        swap_two();
      }
      if (separated(k_explore, end)) {
        failed_.clear();
        shrink_ = std::max(shrink_, k_least_shrink);
      } else if (fresh && shrink_ > k_least_shrink) {
        shrink_ = std::max(k_least_shrink, 0.5 * shrink_);
      } else {
        remember();
      }
    }
  }

  // `from` and `to`: how much of the last part of the search lies behind and will at the end of this call, 0
  // to 1.
  void squeeze(std::uint64_t steps, double from, double to) {
    const std::uint64_t begin = layout_.steps();
    const std::uint64_t end = start_ + steps;
    while (layout_.steps() < end && !stuck()) {
      const double share = static_cast<double>(layout_.steps() - begin) / static_cast<double>(end - begin);
      const double progress = from + (to - from) * share;
      if (!narrow(shorter(k_squeeze_from + (k_squeeze_to - k_squeeze_from) * progress), best_)) return;
      separated(k_squeeze, end);
    }
  }

 private:
  Layout layout_;
  Random random_;
  std::size_t sheet_;
  Poses best_;
  double used_;
  std::uint64_t start_ = 0;
  double shrink_ = k_first_shrink;
  std::vector<Failed> failed_;
  bool stuck_ = false;  // some item fits nowhere any more

  bool stuck() const { return stuck_ || used_ <= layout_.sheets()[sheet_].usable.low.x; }

  double shorter(double share) const {
    const double low = layout_.sheets()[sheet_].usable.low.x;
    return low + (used_ - low) * (1.0 - share);
  }

  // Ends the sheet at x = target; items beyond a random cut move left with the end.
  bool narrow(double target, Poses poses) {
    auto sheets = layout_.sheets();
    Box& usable = sheets[sheet_].usable;
    const double cut = random_.between(usable.low.x, target);
    const double shift = std::max(0.0, used_ - target);
    usable.high.x = target;
    layout_.set_sheets(std::move(sheets), poses);
    for (std::size_t i = 0; i < poses.size(); ++i) {
      Pose& pose = poses[i];
      if (!pose.sheet || *pose.sheet != sheet_) continue;
      const auto room = layout_.room(i, sheet_);
      if (room) {
        if (pose.at.x > cut) pose.at.x -= shift;
        pose.at = {std::clamp(pose.at.x, room->low.x, room->high.x),
                   std::clamp(pose.at.y, room->low.y, room->high.y)};
        continue;
      }
      if (!move_elsewhere(i, pose)) {
        stuck_ = true;
        return false;
      }
    }
    layout_.set_poses(poses);
    return true;
  }

  bool move_elsewhere(std::size_t item, Pose& pose) {
    std::vector<std::size_t> fitting;
    for (std::size_t s = 0; s < layout_.sheets().size(); ++s) {
      if (layout_.room(item, s)) fitting.push_back(s);
    }
    if (fitting.empty()) return false;
    pose.sheet = fitting[random_.below(fitting.size())];
    const Box room = *layout_.room(item, *pose.sheet);
    pose.at = {random_.between(room.low.x, room.high.x), random_.between(room.low.y, room.high.y)};
    return true;
  }

  bool separated(Patience patience, std::uint64_t end) {
    patience.steps = end;
    if (!separate(layout_, random_, patience)) return false;
    best_ = layout_.poses();
    used_ = layout_.used_to(sheet_);
    return true;
  }

  void remember() {
    double overlap = 0.0;
    for (const auto& pair : layout_.overlaps()) overlap += pair.depth;
    const auto place =
        std::find_if(failed_.begin(), failed_.end(), [&](const Failed& f) { return f.overlap > overlap; });
    failed_.insert(place, {layout_.poses(), overlap});
    if (failed_.size() > k_memory) failed_.pop_back();
  }

  // Two large items of different shape change places: a new arrangement near a good one.
  void swap_two() {
    std::vector<std::size_t> large;
    double widest = 0.0;
    for (std::size_t i = 0; i < layout_.items().size(); ++i) {
      if (layout_.poses()[i].sheet) widest = std::max(widest, layout_.shape_of(i).area);
    }
    for (std::size_t i = 0; i < layout_.items().size(); ++i) {
      if (layout_.poses()[i].sheet && layout_.shape_of(i).area >= 0.25 * widest) large.push_back(i);
    }
    const std::size_t i = large[random_.below(large.size())];
    for (int tries = 0; tries < 20; ++tries) {
      const std::size_t j = large[random_.below(large.size())];
      if (layout_.items()[i].shape == layout_.items()[j].shape) continue;
      Pose a = layout_.poses()[i];
      Pose b = layout_.poses()[j];
      std::swap(a.at, b.at);
      std::swap(a.sheet, b.sheet);
      if (put(i, a) && put(j, b)) return;
    }
  }

  bool put(std::size_t item, Pose pose) {
    const auto room = layout_.room(item, *pose.sheet);
    if (!room) return false;
    pose.at = {std::clamp(pose.at.x, room->low.x, room->high.x),
               std::clamp(pose.at.y, room->low.y, room->high.y)};
    layout_.move(item, pose);
    return true;
  }
};

}  // namespace

std::uint64_t shorten(Layout& layout, std::size_t sheet, const Search& search) {
  if (search.steps == 0 || layout.on_sheet(sheet).empty()) return 0;
  std::vector<Lane> lanes;
  for (std::size_t k = 0; k < k_lanes; ++k) lanes.emplace_back(layout, sheet, search.seed * k_lanes + k);
  const double exploring = k_exploring * static_cast<double>(search.steps);
  const double squeezing = static_cast<double>(search.steps) - exploring;
  for (int round = 0; round < 2 * k_rounds; ++round) {
    const double begin = static_cast<double>(round % k_rounds) / k_rounds;
    const double end = static_cast<double>(round % k_rounds + 1) / k_rounds;
    in_lanes(search.threads, [&](std::size_t k) {
      if (round < k_rounds) {
        lanes[k].explore(static_cast<std::uint64_t>(exploring * end));
      } else {
        lanes[k].squeeze(static_cast<std::uint64_t>(exploring + squeezing * end), begin, end);
      }
    });
    lanes[0].adopt(lanes[1]);
    lanes[1].adopt(lanes[0]);
    if (search.told) {
      Layout now = layout;
      now.set_poses(lanes[0].best());
      search.told(now, (round + 1.0) / (2.0 * k_rounds));
    }
  }
  std::uint64_t spent = 0;
  for (const Lane& lane : lanes) spent += lane.spent();
  layout.set_poses(lanes[0].best());
  return spent;
}

}  // namespace linerwright::nesting
