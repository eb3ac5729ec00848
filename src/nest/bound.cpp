#include "bound.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace linerwright::nesting {

namespace {

constexpr double k_least_rectangle = 1.0 - 1e-9;  // share of its box
constexpr double k_rounding = 1e-9;               // relative
constexpr long k_most_tried = 200000;

std::size_t whole(double boards) {
  return static_cast<std::size_t>(std::max(0.0, std::ceil(boards * (1.0 - k_rounding) - k_rounding)));
}

// Boards for lengths that share nothing but one edge, of which each is at most `room`: Martello and Toth's
// bound L2 ("Lower bounds and reduction procedures for the bin packing problem", 1990; from memory). For each
// limit, what is longer than room - limit stands alone, and what is at least the limit long fills the rest.
std::size_t in_a_row(std::vector<double> lengths, double room) {
  std::sort(lengths.begin(), lengths.end());
  std::vector<double> limits{0.0};
  for (const double length : lengths)
    if (2.0 * length <= room) limits.push_back(length);
  std::size_t most = 0;
  for (const double limit : limits) {
    std::size_t alone = 0;
    std::size_t large = 0;
    double large_sum = 0.0;
    double small_sum = 0.0;
    for (const double length : lengths) {
      if (length > room - limit + k_rounding * room) {
        ++alone;
      } else if (2.0 * length > room * (1.0 + k_rounding)) {
        ++large;
        large_sum += length;
      } else if (length >= limit) {
        small_sum += length;
      }
    }
    const double rest = small_sum - (static_cast<double>(large) * room - large_sum);
    most = std::max(most, alone + large + whole(rest / room));
  }
  // of those longer than an n-th of the room a board takes n - 1 at most
  constexpr std::size_t k_most_beside = 8;
  for (std::size_t n = 3; n <= k_most_beside; ++n) {
    const double share = room / static_cast<double>(n) * (1.0 + k_rounding);
    const auto longer =
        static_cast<double>(lengths.end() - std::upper_bound(lengths.begin(), lengths.end(), share));
    most = std::max(most, whole(longer / static_cast<double>(n - 1)));
  }
  return most;
}

// The least stock area of whole boards whose rooms hold `area` and that are at least `count`.
class LeastStock {
 public:
  LeastStock(const std::vector<NestBoard>& boards, double area, std::size_t count) : boards_(boards) {
    order_.resize(boards.size());
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    std::sort(order_.begin(), order_.end(),
              [&](std::size_t a, std::size_t b) { return price(a) < price(b); });
    best_ = std::numeric_limits<double>::infinity();
    take(0, area, static_cast<double>(count), 0.0);
  }
  // Not whole boards where there are too many ways to try.
  double area() const { return tried_ > k_most_tried ? 0.0 : best_; }

 private:
  const std::vector<NestBoard>& boards_;
  std::vector<std::size_t> order_;
  double best_;
  long tried_ = 0;

  double size(std::size_t i) const { return boards_[i].width * boards_[i].length; }
  double room(std::size_t i) const {
    const Vec2 room = boards_[i].room();
    return room.x * room.y;
  }
  double price(std::size_t i) const { return size(i) / room(i); }

  void take(std::size_t k, double left, double count, double stock) {
    if (++tried_ > k_most_tried) return;
    if (left <= 0.0 && count <= 0.0) {
      best_ = std::min(best_, stock);
      return;
    }
    if (k == order_.size()) return;
    const std::size_t i = order_[k];
    if (stock + std::max(0.0, left) * price(i) * (1.0 - k_rounding) >= best_) return;
    const double wanted = std::max(std::ceil(left / room(i) * (1.0 - k_rounding)), count);
    const double most = std::min(wanted, static_cast<double>(boards_[i].quantity.value_or(1000000)));
    for (double n = most; n >= 0.0; n -= 1.0) take(k + 1, left - n * room(i), count - n, stock + n * size(i));
  }
};

}  // namespace

Bound bound_of(const NestJob& job, const Shapes& shapes, const std::vector<int>& counts) {
  Bound bound;
  double area = 0.0;
  Vec2 largest{};
  double largest_room = 0.0;
  for (const NestBoard& board : job.boards) {
    const Vec2 room = board.room();
    largest = {std::max(largest.x, room.x), std::max(largest.y, room.y)};
    largest_room = std::max(largest_room, room.x * room.y);
  }
  std::vector<double> high, wide;  // widths of pieces too high to lie above each other, and the other way
  for (std::size_t part = 0; part < counts.size(); ++part) {
    if (counts[part] == 0) continue;
    area += counts[part] * shapes.taken_of_part[part];
    const Vec2 size = 2.0 * shapes.shapes[shapes.of_part[part]].half;
    if (shapes.taken_of_part[part] < k_least_rectangle * size.x * size.y) continue;
    const double apart = job.options.gap;
    const auto copies = static_cast<std::size_t>(counts[part]);
    if (2.0 * size.y + apart > largest.y + k_nest_rounding) high.insert(high.end(), copies, size.x + apart);
    if (2.0 * size.x + apart > largest.x + k_nest_rounding) wide.insert(wide.end(), copies, size.y + apart);
  }
  if (area == 0.0) return bound;
  double least = std::numeric_limits<double>::infinity();  // of fractions of boards
  bool rolls = false;
  for (const NestBoard& board : job.boards) {
    const Vec2 room = board.room();
    rolls = rolls || board.roll;
    least = std::min(least, board.roll ? (area / room.y + board.trim.along_length()) * board.width
                                       : area / (room.x * room.y) * board.width * board.length);
  }
  bound.stock_area = least;
  if (rolls) return bound;
  const double gap = job.options.gap + 2.0 * k_nest_rounding;
  bound.boards = std::max({whole(area / largest_room), in_a_row(std::move(high), largest.x + gap),
                           in_a_row(std::move(wide), largest.y + gap)});
  const double of_whole = LeastStock(job.boards, area, bound.boards).area();
  if (std::isfinite(of_whole)) bound.stock_area = std::max(least, of_whole);
  return bound;
}

}  // namespace linerwright::nesting
