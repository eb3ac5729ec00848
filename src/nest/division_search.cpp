#include "linerwright/nest/division_search.hpp"

#include <algorithm>
#include <cmath>

#include "random.hpp"
#include "ring_holes.hpp"

namespace linerwright {

namespace {

using nesting::Random;

constexpr std::size_t k_most_rings = 26;
constexpr int k_most_panels = 6;
constexpr double k_same = 1e-6;  // mm
constexpr int k_quick_tries = 3;

using Choices = std::vector<DivisionChoice>;

class Searcher {
 public:
  // `given`: just these boards are to hold everything, however many pieces that takes.
  explicit Searcher(const DivisionSearch& search, bool given = false)
      : search_(search), given_(given), random_(search.seed) {
    for (const RectangleStock& stock : search.stock) {
      highest_ = std::max(highest_, stock.room.y - search.gap);
      widest_ = std::max(widest_, stock.room.x - search.gap);
      board_cost_ = std::max(board_cost_, stock.roll ? 0.0 : stock.cost);
      rooms_.push_back(stock.room.y - search.gap);
    }
    if (board_cost_ == 0.0) board_cost_ = search.stock.empty() ? 1.0 : search.stock.front().cost;
    for (const DivisibleItem& item : search.items) today_.push_back(item.today);
    seams_today_ = seams_of(today_);
    for (const Vec2 size : rectangles(today_)) area_ += size.x * size.y;
  }

  DivisionFound run() {
    DivisionFound found;
    found.today = packed(today_, k_all_packings);
    best_ = {today_, found.today};
    for (const Choices& start : starts()) consider(start);
    if (search_.effort > 0.0) anneal();
    found.choices = best_.choices;
    for (std::size_t i = 0; i < found.choices.size(); ++i) sort_rings(search_.items[i], found.choices[i]);
    found.packing = packed(found.choices, k_all_packings);
    found.seams = seams_of(found.choices) - seams_today_;
    const double gained = total_of(found.today, today_) - total_of(found.packing, found.choices);
    if (found.packing.unplaced > found.today.unplaced ||
        (found.packing.unplaced == found.today.unplaced && gained <= 1e-9 * board_cost_)) {
      found.choices = today_;
      found.packing = found.today;
      found.seams = 0.0;
    }
    return found;
  }

 private:
  const DivisionSearch& search_;
  bool given_;
  Random random_;
  double highest_ = 0.0, widest_ = 0.0, board_cost_ = 0.0;
  std::vector<double> rooms_;  // heights of the stocks' rooms
  struct Solution {
    Choices choices;
    RectanglePacking packing;
  };
  Choices today_;
  Solution best_;
  double seams_today_ = 0.0;
  double area_ = 0.0;  // of all rectangles, divided as today

  // Height of a ring on the board less its height in the duct.
  double extra(const DivisibleItem& item, const DivisionChoice& rings, std::size_t ring) const {
    return (ring == 0 ? item.end_extra : item.butt_extra) +
           (ring + 1 == rings.size() ? item.end_extra : item.butt_extra);
  }

  std::vector<Vec2> rectangles(const Choices& choices) const {
    std::vector<Vec2> sizes;
    const Vec2 gap{search_.gap, search_.gap};
    for (const Vec2 size : search_.fixed) sizes.push_back(size + gap);
    for (std::size_t i = 0; i < choices.size(); ++i) {
      const DivisibleItem& item = search_.items[i];
      for (std::size_t r = 0; r < choices[i].size(); ++r) {
        const RingChoice& ring = choices[i][r];
        const Vec2 size{item.around / ring.panels, ring.height + extra(item, choices[i], r)};
        sizes.insert(sizes.end(), static_cast<std::size_t>(item.count * ring.panels), size + gap);
      }
    }
    return sizes;
  }

  // Metres of seam, of joints between rings and of panels.
  double seams_of(const Choices& choices) const {
    double metres = 0.0;
    for (std::size_t i = 0; i < choices.size(); ++i) {
      const DivisibleItem& item = search_.items[i];
      double each = item.around * (static_cast<double>(choices[i].size()) - 1.0);
      for (const RingChoice& ring : choices[i]) each += ring.height * ring.panels;
      metres += 1e-3 * each * static_cast<double>(item.count);
    }
    return metres;
  }

  RectanglePacking packed(const Choices& choices, int tries) const {
    return pack_rectangles(rectangles(choices), search_.stock, search_.begun, tries);
  }

  double total_of(const RectanglePacking& packing, const Choices& choices) const {
    return packing.cost + search_.seam_cost * std::max(0.0, seams_of(choices) - seams_today_);
  }

  // More placed, then boards and seams that cost less, then the larger offcut.
  bool is_better(const Solution& a, const Solution& b) const {
    if (a.packing.unplaced != b.packing.unplaced) return a.packing.unplaced < b.packing.unplaced;
    const double first = total_of(a.packing, a.choices);
    const double second = total_of(b.packing, b.choices);
    if (std::fabs(first - second) > 1e-9 * board_cost_) return first < second;
    return a.packing.spare > b.packing.spare + 1e-9 * board_cost_;
  }

  // What is to be as small as possible: boards and seams, and, to show the way, what is left in one piece.
  double value_of(const Solution& solution, double way) const {
    return total_of(solution.packing, solution.choices) +
           1e3 * board_cost_ * static_cast<double>(solution.packing.unplaced) - way * solution.packing.spare;
  }

  double consider(const Choices& choices, double way = 0.0) {
    Solution solution{choices, packed(choices, k_quick_tries)};
    const double value = value_of(solution, way);
    if (is_better(solution, best_)) best_ = std::move(solution);
    return value;
  }

  // The highest ring first, where it does not matter which of them lie at the ends.
  static void sort_rings(const DivisibleItem& item, DivisionChoice& rings) {
    if (item.end_extra != item.butt_extra || !item.held.empty()) return;
    std::stable_sort(rings.begin(), rings.end(),
                     [](const RingChoice& a, const RingChoice& b) { return a.height > b.height; });
  }

  // Rings of the full height of a room, and what is left.
  DivisionChoice in_full_rings(const DivisibleItem& item, double room, int panels) const {
    DivisionChoice rings;
    double left = item.length;
    const double full = room - 2.0 * std::max(item.end_extra, item.butt_extra);
    while (left > full + k_same && rings.size() < k_most_rings) {
      const double height = left - full < item.least ? left - item.least : full;
      rings.push_back({height, 1});
      left -= height;
    }
    rings.push_back({left, panels});
    return rings;
  }

  bool allowed(const DivisibleItem& item, const DivisionChoice& rings) const {
    if (rings.empty() || rings.size() > k_most_rings) return false;
    for (std::size_t r = 0; r < rings.size(); ++r) {
      const RingChoice& ring = rings[r];
      const double width = item.around / ring.panels;
      if ((rings.size() > 1 && ring.height < item.least - k_same) ||
          (ring.panels > 1 && width < item.least - k_same) || width > widest_ + k_same ||
          ring.height + extra(item, rings, r) > highest_ + k_same)
        return false;
    }
    return nesting::clears_holes(item, rings);
  }

  std::vector<Choices> starts() const {
    std::vector<Choices> all;
    for (const double room : rooms_)
      for (int panels = 1; panels <= 3; ++panels)
        for (const bool everywhere : {false, true}) {
          if (everywhere && panels == 1) continue;
          Choices choices = today_;
          for (std::size_t i = 0; i < choices.size(); ++i) {
            DivisionChoice rings = in_full_rings(search_.items[i], room, panels);
            if (everywhere)
              for (RingChoice& ring : rings) ring.panels = panels;
            if (allowed(search_.items[i], rings)) choices[i] = std::move(rings);
          }
          all.push_back(std::move(choices));
        }
    return all;
  }

  const DivisionChoice& any_of(const Choices& choices) { return choices[random_.below(choices.size())]; }

  // A height that may go well with others: a room, a share of it, what another ring leaves of it, or the same
  // as another ring.
  double likely_height(const Choices& choices, const DivisibleItem& item) {
    const double room = rooms_[random_.below(rooms_.size())] - item.end_extra - item.butt_extra;
    const DivisionChoice& others = any_of(choices);
    const double other = others[random_.below(others.size())].height;
    switch (random_.below(6)) {
      case 0:
        return room;
      case 1:
        return room / static_cast<double>(2 + random_.below(11));
      case 2:
        return room - other * static_cast<double>(1 + random_.below(3));
      case 3:
        return other;
      case 4:
        return item.least;
      default:
        return std::round(random_.between(item.least, room));
    }
  }

  // Another division of one item.
  DivisionChoice moved(const Choices& choices, std::size_t i) {
    const DivisibleItem& item = search_.items[i];
    DivisionChoice rings = choices[i];
    if (!item.held.empty() && random_.below(3) == 0)
      return nesting::moved_to_hole(item, std::move(rings), random_);
    const std::size_t ring = random_.below(rings.size());
    switch (random_.below(5)) {
      case 0:  // panels
        rings[ring].panels = 1 + static_cast<int>(random_.below(k_most_panels));
        break;
      case 1: {  // one ring as stated, the rest in full ones
        const double height = likely_height(choices, item);
        DivisibleItem rest = item;
        rest.length -= height;
        if (rest.length < item.least) break;
        rings = in_full_rings(rest, rooms_[random_.below(rooms_.size())], rings[ring].panels);
        rings.push_back({height, 1 + static_cast<int>(random_.below(3))});
        break;
      }
      case 2: {  // from one ring to another
        const std::size_t other = random_.below(rings.size());
        if (other == ring) break;
        const double height = likely_height(choices, item);
        rings[other].height += rings[ring].height - height;
        rings[ring].height = height;
        break;
      }
      case 3: {  // one more ring
        const double height = likely_height(choices, item);
        rings[ring].height -= height;
        rings.push_back({height, 1 + static_cast<int>(random_.below(3))});
        break;
      }
      default: {  // as a like item is divided, or two rings in one
        const std::size_t other = random_.below(choices.size());
        if (std::fabs(search_.items[other].length - item.length) < k_same && random_.flip())
          return choices[other];
        if (rings.size() < 2) break;
        rings[ring].height += rings[(ring + 1) % rings.size()].height;
        rings.erase(rings.begin() + static_cast<std::ptrdiff_t>((ring + 1) % rings.size()));
        break;
      }
    }
    return rings;
  }

  // Whether no packing of so much board takes fewer boards; unknown where there are several stocks or rolls.
  bool needs_no_more_boards() const {
    if (given_) return best_.packing.unplaced == 0;
    if (search_.stock.size() != 1 || search_.stock.front().roll || best_.packing.unplaced > 0) return false;
    const Vec2 room = search_.stock.front().room;
    const double begun = static_cast<double>(search_.begun.size());
    return static_cast<double>(best_.packing.stock.size()) <=
           std::max(begun, std::ceil(area_ / (room.x * room.y) - 1e-9));
  }

  void anneal() {
    const double rectangles_now = static_cast<double>(rectangles(best_.choices).size());
    // what is left in one piece shows the way at first, and counts little in the end
    constexpr double k_ways[] = {0.5, 0.5, 0.02};
    const int steps = static_cast<int>(search_.effort * std::clamp(4e5 / rectangles_now, 300.0, 12000.0));
    for (const double way : k_ways) {
      Choices now = best_.choices;
      double value = value_of(best_, way);
      for (int step = 0; step < steps; ++step) {
        if (way > k_ways[2] && needs_no_more_boards()) break;
        const std::size_t i = random_.below(now.size());
        DivisionChoice rings = moved(now, i);
        if (!allowed(search_.items[i], rings)) continue;
        std::swap(now[i], rings);
        const double next = consider(now, way);
        const double warmth = board_cost_ * 0.2 * std::pow(0.01, static_cast<double>(step) / steps);
        if (next <= value || random_.unit() < std::exp((value - next) / warmth)) {
          value = next;
        } else {
          std::swap(now[i], rings);
        }
      }
    }
  }
};

// A number of new boards of each stock, and what all of them cost.
struct BoardChoice {
  std::vector<int> boards;
  double cost = 0.0;
};

// Choices of new boards that have the room and cost less, the dearest first: these are most likely to do.
class CheaperChoices {
 public:
  CheaperChoices(const DivisionSearch& search, const DivisionFound& found) : search_(search) {
    const double gap = search.gap;
    for (const Vec2 size : search.fixed) area_ += (size.x + gap) * (size.y + gap);
    for (const DivisibleItem& item : search.items)
      area_ += item.around * item.length * static_cast<double>(item.count);
    for (const BegunBoard& begun : search.begun) {
      begun_cost_ += search.stock[begun.stock].cost;
      for (const Box& box : begun.free) area_ -= (box.high.x - box.low.x) * (box.high.y - box.low.y);
    }
    limit_ = found.packing.cost - begun_cost_;
    most_ = found.packing.stock.size() - search.begun.size() + 1;
    take({}, 0.0, 0.0, 0);
    std::stable_sort(all_.begin(), all_.end(),
                     [](const BoardChoice& a, const BoardChoice& b) { return a.cost > b.cost; });
  }
  const std::vector<BoardChoice>& all() const { return all_; }

 private:
  static constexpr std::size_t k_most = 20000;
  const DivisionSearch& search_;
  double area_ = 0.0, begun_cost_ = 0.0, limit_ = 0.0;
  std::size_t most_ = 0;  // boards
  std::vector<BoardChoice> all_;

  void take(const std::vector<int>& boards, double cost, double room, std::size_t count) {
    if (all_.size() >= k_most || cost > limit_ * (1.0 - 1e-9)) return;
    if (boards.size() == search_.stock.size()) {
      if (room >= area_) all_.push_back({boards, cost});
      return;
    }
    const RectangleStock& stock = search_.stock[boards.size()];
    const auto left = static_cast<std::size_t>(stock.quantity.value_or(1000000));
    std::vector<int> more = boards;
    more.push_back(0);
    for (std::size_t n = 0; n <= std::min(left, most_ - count); ++n, ++more.back())
      take(more, cost + static_cast<double>(n) * stock.cost,
           room + static_cast<double>(n) * stock.room.x * stock.room.y, count + n);
  }
};

// Tries to do with less board of several stocks: a few choices that cost less, one after the other.
void try_cheaper_boards(const DivisionSearch& search, DivisionFound& found) {
  constexpr int k_tried = 5;
  const CheaperChoices choices(search, found);
  int tried = 0;
  for (const BoardChoice& choice : choices.all()) {
    if (++tried > k_tried) return;
    DivisionSearch limited = search;
    for (std::size_t s = 0; s < limited.stock.size(); ++s) limited.stock[s].quantity = choice.boards[s];
    DivisionFound other = Searcher(limited, true).run();
    if (other.packing.unplaced > 0) continue;
    other.today = found.today;
    if (other.packing.cost + search.seam_cost * std::max(0.0, other.seams) <
        found.packing.cost + search.seam_cost * std::max(0.0, found.seams) - 1e-9)
      found = std::move(other);
  }
}

}  // namespace

DivisionFound search_division(const DivisionSearch& search) {
  DivisionFound found = Searcher(search).run();
  const bool rolls = std::any_of(search.stock.begin(), search.stock.end(),
                                 [](const RectangleStock& stock) { return stock.roll; });
  if (search.stock.size() > 1 && !rolls && search.effort > 0.0 && found.packing.unplaced == 0)
    try_cheaper_boards(search, found);
  return found;
}

}  // namespace linerwright
