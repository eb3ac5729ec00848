#include "fill.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "nofit.hpp"

namespace linerwright::nesting {
namespace {

using ClipperLib::cInt;
using ClipperLib::IntPoint;
using ClipperLib::Path;
using ClipperLib::Paths;

// The free region is opened by this many grid units at the board's edge, so that exact fits do not vanish.
constexpr cInt k_opening = 10;

IntPoint grid(Vec2 p) {
  return {std::llround(p.x * k_units_per_mm), std::llround(p.y * k_units_per_mm)};
}

// The free positions of one shape, one way round, on one sheet; kept up to date piece by piece.
struct Free {
  Paths region;
  std::size_t seen = 0;  // of the pieces placed
};

class Filler {
 public:
  Filler(Layout& layout, std::size_t sheet) : layout_(layout), sheet_(sheet) {
    placed_ = layout.on_sheet(sheet);
  }

  void place(std::size_t item) {
    const auto room = layout_.room(item, sheet_);
    if (!room) return;
    std::optional<Pose> best;
    double best_right = std::numeric_limits<double>::max();
    for (const bool turned_over : {false, true}) {
      if (turned_over && !layout_.items()[item].may_turn) continue;
      const auto pose = lowest_left(item, turned_over, *room);
      if (pose && pose->at.x < best_right) {
        best = pose;
        best_right = pose->at.x;
      }
    }
    if (!best) return;
    layout_.move(item, *best);
    placed_.push_back(item);
  }

 private:
  Layout& layout_;
  std::size_t sheet_;
  std::vector<std::size_t> placed_;
  std::map<std::pair<std::size_t, bool>, Free> free_;

  const Paths& free_region(std::size_t item, bool turned_over, const Box& room) {
    const std::size_t shape = layout_.items()[item].shape;
    const auto [found, fresh] = free_.try_emplace({shape, turned_over});
    Free& free = found->second;
    if (fresh) {
      const IntPoint low = grid(room.low);
      const IntPoint high = grid(room.high);
      const cInt x0 = low.X - k_opening, y0 = low.Y - k_opening, x1 = high.X + k_opening,
                 y1 = high.Y + k_opening;
      free.region = {{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}};
    }
    if (free.seen == placed_.size()) return free.region;
    ClipperLib::Clipper clipper;
    clipper.AddPaths(free.region, ClipperLib::ptSubject, true);
    for (; free.seen < placed_.size(); ++free.seen) {
      const Pose& pose = layout_.poses()[placed_[free.seen]];
      const Item& other = layout_.items()[placed_[free.seen]];
      const PairField pair = layout_.table().get(shape, turned_over, other.shape, pose.turned);
      Paths taken = pair.sign < 0.0 ? turned(pair.field->region()) : pair.field->region();
      const IntPoint shift = grid(pose.at);
      for (Path& path : taken) {
        for (IntPoint& p : path) p = IntPoint(p.X + shift.X, p.Y + shift.Y);
      }
      clipper.AddPaths(taken, ClipperLib::ptClip, true);
    }
    Paths rest;
    clipper.Execute(ClipperLib::ctDifference, rest, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    free.region = std::move(rest);
    return free.region;
  }

  // The leftmost, then lowest, free corner that the depth fields agree is free.
  std::optional<Pose> lowest_left(std::size_t item, bool turned_over, const Box& room) {
    std::vector<Vec2> corners;
    for (const Path& path : free_region(item, turned_over, room)) {
      for (const IntPoint& p : path) {
        const Vec2 at{static_cast<double>(p.X) / k_units_per_mm, static_cast<double>(p.Y) / k_units_per_mm};
        corners.push_back(
            {std::clamp(at.x, room.low.x, room.high.x), std::clamp(at.y, room.low.y, room.high.y)});
      }
    }
    std::sort(corners.begin(), corners.end(),
              [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
    for (Vec2 at : corners) {
      const Pose pose{sheet_, at, turned_over};
      if (layout_.cost(item, pose, nullptr, std::numeric_limits<double>::min()) == 0.0) return pose;
    }
    return std::nullopt;
  }
};

}  // namespace

void fill_sheet(Layout& layout, std::size_t sheet, const std::vector<std::size_t>& order) {
  Filler filler(layout, sheet);
  for (std::size_t item : order) {
    if (!layout.poses()[item].sheet) filler.place(item);
  }
}

std::vector<std::size_t> largest_first(const Layout& layout) {
  std::vector<std::size_t> order(layout.items().size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
    const Vec2 a = layout.shape_of(i).half;
    const Vec2 b = layout.shape_of(j).half;
    return a.x * a.y > b.x * b.y;
  });
  return order;
}

}  // namespace linerwright::nesting
