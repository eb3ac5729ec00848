#include "linerwright/nest/rectangles.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace linerwright {

namespace {

constexpr double k_slack = 1e-6;  // mm: sums of sizes that fill a board to the last figure

enum class Order { height, width, area };
enum class Rule { shorter_side, column, corner };
enum class Take { cheap_area, cheap, large };

struct Way {
  Order order;
  Rule rule;
  Take take;
};

Way way_of(int index) {
  return {static_cast<Order>(index % 3), static_cast<Rule>(index / 3 % 3), static_cast<Take>(index / 9 % 3)};
}

double area_of(Vec2 size) {
  return size.x * size.y;
}

bool holds(const Box& outer, const Box& inner) {
  return inner.low.x >= outer.low.x && inner.low.y >= outer.low.y && inner.high.x <= outer.high.x &&
         inner.high.y <= outer.high.y;
}

// One board and its free rectangles, as large as they can be, overlapping each other.
struct Board {
  std::size_t stock = 0;
  bool fresh = true;
  std::vector<Box> free;
  Vec2 reach{};  // of the rectangles on it
  double used = 0.0;

  void put(const Box& box) {
    std::vector<Box> left;
    for (const Box& room : free) {
      if (box.low.x >= room.high.x || box.high.x <= room.low.x || box.low.y >= room.high.y ||
          box.high.y <= room.low.y) {
        left.push_back(room);
        continue;
      }
      const auto keep = [&](Vec2 low, Vec2 high) {
        if (high.x - low.x > k_slack && high.y - low.y > k_slack) left.push_back({low, high});
      };
      keep(room.low, {box.low.x, room.high.y});
      keep({box.high.x, room.low.y}, room.high);
      keep(room.low, {room.high.x, box.low.y});
      keep({room.low.x, box.high.y}, room.high);
    }
    free.clear();
    for (std::size_t i = 0; i < left.size(); ++i) {
      bool inside = false;
      for (std::size_t j = 0; j < left.size() && !inside; ++j)
        inside = j != i && holds(left[j], left[i]) && (j < i || !holds(left[i], left[j]));
      if (!inside) free.push_back(left[i]);
    }
    reach = {std::max(reach.x, box.high.x), std::max(reach.y, box.high.y)};
    used += area_of(box.high - box.low);
  }
};

class Packer {
 public:
  Packer(const std::vector<Vec2>& sizes, const std::vector<RectangleStock>& stock,
         const std::vector<BegunBoard>& begun, Way way)
      : sizes_(sizes), stock_(stock), way_(way), left_(stock.size()) {
    for (std::size_t s = 0; s < stock.size(); ++s)
      left_[s] = stock[s].quantity.value_or(std::numeric_limits<int>::max());
    for (const BegunBoard& board : begun) {
      boards_.push_back({board.stock, false, board.free, {}, 0.0});
      --left_[board.stock];
    }
  }

  RectanglePacking run() {
    RectanglePacking packing;
    packing.places.resize(sizes_.size());
    for (const std::size_t i : in_order()) {
      std::optional<RectanglePacking::Place> place = best_place(sizes_[i]);
      if (!place && open_board(sizes_[i]))
        place = RectanglePacking::Place{boards_.size() - 1, boards_.back().free.front().low};
      if (!place) {
        ++packing.unplaced;
        continue;
      }
      boards_[place->board].put({place->low, place->low + sizes_[i]});
      packing.places[i] = place;
    }
    take_cheaper_boards();
    for (const Board& board : boards_) {
      packing.stock.push_back(board.stock);
      const double cost = cost_of(board);
      packing.cost += cost;
      if (stock_[board.stock].roll) continue;
      for (const Box& room : board.free)
        packing.spare =
            std::max(packing.spare, cost * area_of(room.high - room.low) / area_of(stock_[board.stock].room));
    }
    return packing;
  }

 private:
  const std::vector<Vec2>& sizes_;
  const std::vector<RectangleStock>& stock_;
  Way way_;
  std::vector<int> left_;
  std::vector<Board> boards_;

  double cost_of(const Board& board) const {
    const RectangleStock& stock = stock_[board.stock];
    return stock.roll ? stock.cost * board.reach.x / stock.room.x : stock.cost;
  }

  std::vector<std::size_t> in_order() const {
    std::vector<std::size_t> order(sizes_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto key = [&](std::size_t i) {
      switch (way_.order) {
        case Order::height:
          return Vec2{sizes_[i].y, sizes_[i].x};
        case Order::width:
          return sizes_[i];
        case Order::area:
          break;
      }
      return Vec2{area_of(sizes_[i]), sizes_[i].x};
    };
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      const Vec2 first = key(a);
      const Vec2 second = key(b);
      return first.x != second.x ? first.x > second.x : first.y > second.y;
    });
    return order;
  }

  // How badly a rectangle lies in this room: smaller is better, first figure first.
  Vec2 misfit(const Box& room, Vec2 size, std::size_t board) const {
    const Vec2 rest = room.high - room.low - size;
    switch (way_.rule) {
      case Rule::shorter_side:
        return {std::min(rest.x, rest.y), std::max(rest.x, rest.y)};
      case Rule::column:
        return {rest.x, rest.y};
      case Rule::corner:
        break;
    }
    return {static_cast<double>(board) * 1e9 + room.low.x, room.low.y};
  }

  std::optional<RectanglePacking::Place> best_place(Vec2 size) const {
    std::optional<RectanglePacking::Place> best;
    Vec2 least{};
    for (std::size_t b = 0; b < boards_.size(); ++b)
      for (const Box& room : boards_[b].free) {
        const Vec2 extent = room.high - room.low;
        if (size.x > extent.x + k_slack || size.y > extent.y + k_slack) continue;
        const Vec2 worse = misfit(room, size, b);
        if (best && (worse.x != least.x ? worse.x > least.x : worse.y >= least.y)) continue;
        best = RectanglePacking::Place{b, room.low};
        least = worse;
      }
    return best;
  }

  bool fits(std::size_t stock, Vec2 size) const {
    const Vec2 room = stock_[stock].room;
    return left_[stock] > 0 && size.x <= room.x + k_slack && size.y <= room.y + k_slack;
  }

  bool open_board(Vec2 size) {
    std::optional<std::size_t> best;
    double least = 0.0;
    for (std::size_t s = 0; s < stock_.size(); ++s) {
      if (!fits(s, size)) continue;
      const double area = area_of(stock_[s].room);
      const double value = way_.take == Take::cheap_area ? stock_[s].cost / area
                           : way_.take == Take::cheap    ? stock_[s].cost
                                                         : -area;
      if (best && value >= least) continue;
      best = s;
      least = value;
    }
    if (!best) return false;
    --left_[*best];
    boards_.push_back({*best, true, {{{0.0, 0.0}, stock_[*best].room}}, {}, 0.0});
    return true;
  }

  // What lies on a new board may fit a cheaper one.
  void take_cheaper_boards() {
    for (Board& board : boards_) {
      if (!board.fresh) continue;
      for (std::size_t s = 0; s < stock_.size(); ++s) {
        if (stock_[s].roll || stock_[s].cost >= cost_of(board) || !fits(s, board.reach)) continue;
        ++left_[board.stock];
        --left_[s];
        for (Box& room : board.free)
          room.high = {std::min(room.high.x, stock_[s].room.x), std::min(room.high.y, stock_[s].room.y)};
        board.free.erase(std::remove_if(board.free.begin(), board.free.end(),
                                        [](const Box& room) {
                                          return room.high.x <= room.low.x || room.high.y <= room.low.y;
                                        }),
                         board.free.end());
        board.stock = s;
      }
    }
  }
};

}  // namespace

bool better(const RectanglePacking& a, const RectanglePacking& b) {
  if (a.unplaced != b.unplaced) return a.unplaced < b.unplaced;
  if (a.cost != b.cost) return a.cost < b.cost;
  return a.spare > b.spare;
}

RectanglePacking pack_rectangles(const std::vector<Vec2>& sizes, const std::vector<RectangleStock>& stock,
                                 const std::vector<BegunBoard>& begun, int tries) {
  RectanglePacking best;
  const int ways = std::min(tries, stock.size() > 1 ? k_all_packings : 9);
  for (int i = 0; i < std::max(1, ways); ++i) {
    RectanglePacking packing = Packer(sizes, stock, begun, way_of(i)).run();
    if (i == 0 || better(packing, best)) best = std::move(packing);
  }
  return best;
}

}  // namespace linerwright
