#include "boards.hpp"

#include <algorithm>
#include <limits>

#include "fill.hpp"
#include "lanes.hpp"
#include "separate.hpp"

namespace linerwright::nesting {
namespace {

// Pieces cannot cover more than the boards; rectangles may cover all of them.
constexpr double k_densest = 1.0 + 1e-9;
constexpr Patience k_patience{100, 4, 0};

double full_cost(const NestBoard& board) {
  return board.cost.value_or(board.width * board.length * 1e-6);
}

double usable_area(const Sheet& sheet) {
  const Vec2 size = sheet.usable.high - sheet.usable.low;
  return size.x * size.y;
}

double carried_area(const Layout& layout, std::size_t sheet) {
  double sum = 0.0;
  for (std::size_t item : layout.on_sheet(sheet)) sum += layout.shape_of(item).area;
  return sum;
}

// Stock of which a board is left, given the sheets in use.
std::vector<std::size_t> stock_left(const NestJob& job, const std::vector<Sheet>& sheets) {
  std::vector<std::size_t> result;
  for (std::size_t k = 0; k < job.boards.size(); ++k) {
    const auto used =
        std::count_if(sheets.begin(), sheets.end(), [&](const Sheet& s) { return s.stock == k; });
    if (!job.boards[k].quantity || used < *job.boards[k].quantity) result.push_back(k);
  }
  return result;
}

class Improver {
 public:
  Improver(const NestJob& job, Layout& layout, const Search& search)
      : job_(job), layout_(layout), search_(search), random_(search.seed), left_(search.steps) {}

  void run() {
    insert_left_over();
    drop_boards();
    change_boards();
  }
  std::uint64_t spent() const { return spent_; }
  std::uint64_t left() const { return left_; }

 private:
  const NestJob& job_;
  Layout& layout_;
  const Search& search_;
  Random random_;
  std::uint64_t left_;  // steps for each lane
  std::uint64_t spent_ = 0;

  // A random place for the item on some sheet that is long and wide enough; false when there is none.
  bool throw_in(std::size_t item, const Layout& onto, Pose& pose) {
    std::vector<std::size_t> fitting;
    for (std::size_t s = 0; s < onto.sheets().size(); ++s) {
      if (onto.room(item, s)) fitting.push_back(s);
    }
    if (fitting.empty()) return false;
    pose.sheet = fitting[random_.below(fitting.size())];
    const Box room = *onto.room(item, *pose.sheet);
    pose.at = {random_.between(room.low.x, room.high.x), random_.between(room.low.y, room.high.y)};
    return true;
  }

  // Takes the given sheets and poses (overlaps allowed) if the overlaps can be removed within `share` of the
  // steps left.
  bool rearranged(const std::vector<Sheet>& sheets, const Poses& poses, double share) {
    double items = 0.0, boards = 0.0;
    for (std::size_t i = 0; i < poses.size(); ++i) items += poses[i].sheet ? layout_.shape_of(i).area : 0.0;
    for (const Sheet& sheet : sheets) boards += usable_area(sheet);
    if (items > k_densest * boards) return false;
    const auto allowance = static_cast<std::uint64_t>(share * static_cast<double>(left_));
    std::vector<Layout> trials(k_lanes, layout_);
    std::vector<char> done(k_lanes, 0);
    const std::uint64_t seed = random_.next();
    in_lanes(search_.threads, [&](std::size_t k) {
      trials[k].set_sheets(sheets, poses);
      Random random(seed + k);
      Patience patience = k_patience;
      patience.steps = trials[k].steps() + allowance;
      done[k] = separate(trials[k], random, patience) ? 1 : 0;
    });
    std::uint64_t most = 0;
    for (const Layout& trial : trials) {
      spent_ += trial.steps() - layout_.steps();
      most = std::max(most, trial.steps() - layout_.steps());
    }
    left_ -= std::min(left_, most);
    const auto good = std::find(done.begin(), done.end(), 1);
    const bool found = good != done.end();
    if (found) layout_.set_sheets(sheets, trials[static_cast<std::size_t>(good - done.begin())].poses());
    if (search_.told)
      search_.told(layout_, 1.0 - static_cast<double>(left_) / static_cast<double>(search_.steps));
    return found;
  }

  void insert_left_over() {
    std::vector<std::size_t> waiting;
    for (std::size_t item : largest_first(layout_)) {
      if (!layout_.poses()[item].sheet) waiting.push_back(item);
    }
    std::reverse(waiting.begin(), waiting.end());  // small ones have the best chance
    for (std::size_t item : waiting) {
      Poses poses = layout_.poses();
      if (!throw_in(item, layout_, poses[item])) continue;
      if (!rearranged(layout_.sheets(), poses, 0.2)) return;
    }
  }

  // Without the sheet: its items thrown onto the others.
  bool dropped(std::size_t sheet, double share) {
    auto sheets = layout_.sheets();
    sheets.erase(sheets.begin() + static_cast<std::ptrdiff_t>(sheet));
    Layout onto = layout_;
    Poses poses = layout_.poses();
    for (Pose& pose : poses) {
      if (pose.sheet && *pose.sheet > sheet) --*pose.sheet;
    }
    const auto homeless = layout_.on_sheet(sheet);
    for (std::size_t item : homeless) poses[item].sheet.reset();
    onto.set_sheets(sheets, poses);
    for (std::size_t item : homeless) {
      if (!throw_in(item, onto, poses[item])) return false;
    }
    return rearranged(sheets, poses, share);
  }

  std::vector<std::size_t> emptiest_first() const {
    std::vector<std::size_t> order;
    std::vector<double> carried;
    for (std::size_t s = 0; s < layout_.sheets().size(); ++s) {
      order.push_back(s);
      carried.push_back(carried_area(layout_, s));
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return carried[a] < carried[b]; });
    return order;
  }

  void drop_boards() {
    for (bool fewer = true; fewer && layout_.sheets().size() > 1;) {
      fewer = false;
      for (std::size_t sheet : emptiest_first()) {
        const NestBoard& board = job_.boards[layout_.sheets()[sheet].stock];
        if (board.roll || board.first) continue;  // a roll is shortened later, a remnant costs nothing
        fewer = dropped(sheet, 0.3);
        break;
      }
    }
  }

  void change_boards() {
    for (std::size_t sheet : emptiest_first()) {
      const double now = sheet_cost(job_, layout_, sheet);
      auto stocks = stock_left(job_, layout_.sheets());
      std::stable_sort(stocks.begin(), stocks.end(), [&](std::size_t a, std::size_t b) {
        return full_cost(job_.boards[a]) < full_cost(job_.boards[b]);
      });
      for (std::size_t stock : stocks) {
        if (full_cost(job_.boards[stock]) >= now || job_.boards[stock].roll) continue;
        if (exchanged(sheet, stock, 0.2)) break;
      }
    }
  }

  bool exchanged(std::size_t sheet, std::size_t stock, double share) {
    auto sheets = layout_.sheets();
    sheets[sheet] = fresh_sheet(job_, stock);
    Layout onto = layout_;
    onto.set_sheets(sheets, layout_.poses());
    Poses poses = layout_.poses();
    for (std::size_t item : layout_.on_sheet(sheet)) {
      const auto room = onto.room(item, sheet);
      Vec2& at = poses[item].at;
      if (room) {
        at = {std::clamp(at.x, room->low.x, room->high.x), std::clamp(at.y, room->low.y, room->high.y)};
      } else if (!throw_in(item, onto, poses[item])) {
        return false;
      }
    }
    return rearranged(sheets, poses, share);
  }
};

}  // namespace

Sheet fresh_sheet(const NestJob& job, std::size_t stock) {
  const NestBoard& board = job.boards[stock];
  return {stock, {board.trim.low(), {board.length - board.trim.end, board.width - board.trim.above}}};
}

double sheet_cost(const NestJob& job, const Layout& layout, std::size_t sheet) {
  const NestBoard& board = job.boards[layout.sheets()[sheet].stock];
  if (!board.roll) return full_cost(board);
  return full_cost(board) * (layout.used_to(sheet) + board.trim.end) / board.length;
}

std::size_t last_sheet(const NestJob& job, const Layout& layout) {
  std::size_t best = 0;
  for (std::size_t s = 1; s < layout.sheets().size(); ++s) {
    const bool roll = job.boards[layout.sheets()[s].stock].roll;
    const bool best_roll = job.boards[layout.sheets()[best].stock].roll;
    if (roll != best_roll ? roll : layout.used_to(s) < layout.used_to(best)) best = s;
  }
  return best;
}

namespace {

bool is_complete(const Layout& layout) {
  return std::all_of(layout.poses().begin(), layout.poses().end(),
                     [](const Pose& pose) { return pose.sheet.has_value(); });
}

// Remnants, the smallest first, each that carries anything.
void open_remnants(const NestJob& job, Layout& layout, const std::vector<std::size_t>& order) {
  std::vector<std::size_t> remnants;
  for (std::size_t stock = 0; stock < job.boards.size(); ++stock)
    if (job.boards[stock].first) remnants.push_back(stock);
  const auto size = [&](std::size_t stock) { return job.boards[stock].width * job.boards[stock].length; };
  std::stable_sort(remnants.begin(), remnants.end(),
                   [&](std::size_t a, std::size_t b) { return size(a) < size(b); });
  for (const std::size_t stock : remnants) {
    for (int taken = 0; taken < job.boards[stock].quantity.value_or(1) && !is_complete(layout); ++taken) {
      auto sheets = layout.sheets();
      sheets.push_back(fresh_sheet(job, stock));
      Layout trial = layout;
      trial.set_sheets(sheets, layout.poses());
      fill_sheet(trial, sheets.size() - 1, order);
      if (carried_area(trial, sheets.size() - 1) == 0.0) break;
      layout.set_sheets(trial.sheets(), trial.poses());
    }
  }
}

}  // namespace

void open_boards(const NestJob& job, Layout& layout, const Told& told) {
  const auto order = largest_first(layout);
  open_remnants(job, layout, order);
  if (is_complete(layout)) return;
  for (;;) {
    std::optional<Layout> best;
    bool best_complete = false;
    double best_score = 0.0;
    for (std::size_t stock : stock_left(job, layout.sheets())) {
      if (job.boards[stock].first) continue;  // was tried
      auto sheets = layout.sheets();
      sheets.push_back(fresh_sheet(job, stock));
      Layout trial = layout;
      trial.set_sheets(sheets, layout.poses());
      fill_sheet(trial, sheets.size() - 1, order);
      const double carried = carried_area(trial, sheets.size() - 1);
      if (carried == 0.0) continue;
      const double cost = std::max(1e-9, sheet_cost(job, trial, sheets.size() - 1));
      const bool complete = is_complete(trial);
      const double score = complete ? 1.0 / cost : carried / cost;
      if (best && (complete != best_complete ? best_complete : score <= best_score)) continue;
      best.emplace(std::move(trial));
      best_complete = complete;
      best_score = score;
    }
    if (!best) return;
    layout.set_sheets(best->sheets(), best->poses());
    if (told) told(layout, 0.0);
    if (best_complete) return;
  }
}

std::uint64_t improve_boards(const NestJob& job, Layout& layout, const Search& search, std::uint64_t& left) {
  Improver improver(job, layout, search);
  improver.run();
  left = improver.left();
  return improver.spent();
}

}  // namespace linerwright::nesting
