#include "offcut.hpp"

#include <algorithm>
#include <optional>

namespace linerwright::nesting {
namespace {

double area_of(const Box& box) {
  return (box.high.x - box.low.x) * (box.high.y - box.low.y);
}

std::vector<double> sorted_unique(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
  return values;
}

// The largest rectangle clear of all boxes. Its sides lie on sides of the boxes or of the board: for every
// pair of such x, the free runs between the boxes that meet that span are measured.
std::optional<Box> largest_free(const Box& board, const std::vector<Box>& taken, double least) {
  std::vector<double> lows{board.low.x}, highs{board.high.x};
  for (const Box& box : taken) {
    lows.push_back(std::max(box.high.x, board.low.x));
    highs.push_back(std::min(box.low.x, board.high.x));
  }
  lows = sorted_unique(lows);
  highs = sorted_unique(highs);
  std::vector<Box> upwards = taken;
  std::sort(upwards.begin(), upwards.end(), [](const Box& a, const Box& b) { return a.low.y < b.low.y; });
  std::optional<Box> best;
  const auto offer = [&](double x0, double x1, double y0, double y1) {
    const Box box{{x0, y0}, {x1, y1}};
    if (y1 - y0 >= least && (!best || area_of(box) > area_of(*best))) best = box;
  };
  for (double x0 : lows) {
    for (double x1 : highs) {
      if (x1 - x0 < least || (best && (x1 - x0) * (board.high.y - board.low.y) <= area_of(*best))) continue;
      double free_from = board.low.y;
      for (const Box& box : upwards) {
        if (box.high.x <= x0 || box.low.x >= x1) continue;
        offer(x0, x1, free_from, std::min(box.low.y, board.high.y));
        free_from = std::max(free_from, box.high.y);
      }
      offer(x0, x1, free_from, board.high.y);
    }
  }
  return best;
}

}  // namespace

std::vector<Box> offcuts(const Box& board, std::vector<Box> taken, double least) {
  std::vector<Box> result;
  while (const auto box = largest_free(board, taken, least)) {
    result.push_back(*box);
    taken.push_back(*box);
  }
  return result;
}

}  // namespace linerwright::nesting
