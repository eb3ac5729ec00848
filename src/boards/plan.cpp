// From parts to boards: groups that may share a board, a nest for each, and the way of pen and knife.
#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

#include <fmt/format.h>

#include "cut_boards.hpp"
#include "groups.hpp"
#include "linerwright/boards/boards.hpp"
#include "linerwright/fitting/stock_fits.hpp"
#include "linerwright/units/error.hpp"
#include "remnants.hpp"
#include "sequence.hpp"

namespace linerwright {

namespace {

class Planner {
 public:
  Planner(BoardPlan& plan, const BoardOptions& options) : plan_(plan), options_(options) {
    for (const BoardStock& stock : plan.stock) left_.push_back(stock.quantity);
    gap_ = gap_of(plan.stock, options);
    plan.gap = gap_;
  }

  void run() {
    take_apart();
    std::map<Group, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < plan_.parts.size(); ++i) {
      groups[group_of(plan_.parts[i])].push_back(i);
    }
    double least_stock = 0.0;  // that could hold the placed pieces
    bool rolls = false;
    std::vector<Nested> nests;
    for (const auto& [group, parts] : groups) {
      nests.push_back(nest_group(group, parts, nests.size(), groups.size()));
      const NestResult& result = nests.back().result;
      double area = 0.0;
      for (const NestedBoard& board : result.boards) area += board.part_area;
      if (result.bound > 0.0) least_stock += area / result.bound;
      if (result.least_boards == 0 && !result.boards.empty()) rolls = true;
      plan_.least_boards += result.least_boards;
    }
    draw_all(nests);
    if (rolls) plan_.least_boards = 0;
    for (const PlannedBoard& board : plan_.boards) {
      plan_.piece_area += board.piece_area;
      plan_.stock_area += board.length * plan_.stock[board.stock].width;
    }
    if (least_stock > 0.0) plan_.bound = plan_.piece_area / least_stock;
  }

 private:
  BoardPlan& plan_;
  const BoardOptions& options_;
  std::vector<std::optional<int>> left_;
  double gap_ = 0.0;

  std::string length(double value) const { return format_quantity(Quantity::length, value, plan_.units, 2); }

  void complain(const BoardPart& part, std::string value, std::string allowed, std::string reason) {
    plan_.problems.push_back({{},
                              0,
                              part.tag + "/" + part.piece,
                              "piece",
                              std::move(value),
                              std::move(allowed),
                              std::move(reason)});
  }

  // "at most 118 in around by 46 in along (stock 48 x 120)".
  std::string room_on(const std::vector<std::size_t>& stocks) const {
    std::string text;
    for (const std::size_t s : stocks) {
      const BoardStock& stock = plan_.stock[s];
      text += fmt::format("{}{} around by {} along on stock {}", text.empty() ? "at most " : ", ",
                          length(stock.room().x), length(stock.room().y), stock.name);
    }
    return text;
  }

  bool fits(const BoardPart& part) const {
    const Vec2 size = size_of(part);
    return std::any_of(plan_.stock.begin(), plan_.stock.end(), [&](const BoardStock& stock) {
      return is_for(stock, part.thickness, part.density) &&
             size.x <= stock.room().x + 0.5 * k_nest_rounding &&
             size.y <= stock.room().y + 0.5 * k_nest_rounding;
    });
  }

  // A blank that fits no stock gives way to its pieces.
  void take_apart() {
    std::vector<BoardPart> parts;
    for (BoardPart& part : plan_.parts) {
      std::vector<BoardPart> apart = std::move(part.apart);
      part.apart.clear();
      if (apart.empty() || fits(part)) {
        parts.push_back(std::move(part));
      } else {
        std::move(apart.begin(), apart.end(), std::back_inserter(parts));
      }
    }
    plan_.parts = std::move(parts);
  }

  Nested nest_group(const Group& group, const std::vector<std::size_t>& parts, std::size_t number,
                    std::size_t groups) {
    const double thickness = std::get<0>(group);
    Nested nested{{}, {}, parts, {}};
    NestJob& job = nested.job;
    std::vector<std::size_t>& stocks = nested.stocks;
    std::vector<NestBoard> boards = boards_for(plan_.stock, group, left_, stocks);
    if (stocks.empty()) {
      std::string known;
      for (const BoardStock& stock : plan_.stock)
        known += (known.empty() ? "" : ", ") + length(stock.thickness.value_or(0.0));
      for (const std::size_t i : parts)
        complain(plan_.parts[i], "liner " + length(thickness), known, "no stock is of this thickness");
      return {};
    }
    std::vector<const BoardPart*> wanted;
    for (const std::size_t i : parts) wanted.push_back(&plan_.parts[i]);
    job = nest_job(wanted, std::move(boards), gap_, options_);
    if (options_.watch)
      job.options.watch = [&](double done, const NestResult& now) {
        options_.watch(so_far(job, now, {number, groups, done, {}}));
      };
    nested.result = nest(job);
    job.options.watch = {};
    report_unplaced(nested.result, parts, stocks);
    for (const NestedBoard& board : nested.result.boards)
      if (auto& left = left_[stocks[board.stock]]) --*left;
    return nested;
  }

  static BoardsSoFar so_far(const NestJob& job, const NestResult& now, BoardsSoFar told) {
    for (const NestedBoard& board : now.boards)
      told.boards.push_back({{board.length, job.boards[board.stock].width}, {}});
    for (const NestedPiece& piece : now.placements)
      told.boards[piece.board].pieces.push_back(placed(job.parts[piece.part].outline, piece));
    return told;
  }

  void draw_all(const std::vector<Nested>& nests) {
    Sequence sequence;
    if (options_.by_fitting) sequence = sequence_by_fitting(plan_.parts, nests);
    for (const Nested& nested : nests) cut_boards(plan_, nested, sequence, options_);
    label_remnants(plan_, options_.job);
    std::vector<PlannedBoard> boards;
    for (const std::size_t b : sequence.boards) boards.push_back(std::move(plan_.boards[b]));
    if (options_.by_fitting) plan_.boards = std::move(boards);
    plan_.by_fitting = options_.by_fitting;
    for (PlannedBoard& board : plan_.boards) finish_board(plan_, board);
  }

  void report_unplaced(const NestResult& result, const std::vector<std::size_t>& parts,
                       const std::vector<std::size_t>& stocks) {
    for (const UnplacedPart& unplaced : result.unplaced) {
      const BoardPart& part = plan_.parts[parts[unplaced.part]];
      const Vec2 size = size_of(part);
      const std::string words = fmt::format("{} around by {} along", length(size.x), length(size.y));
      if (unplaced.reason == Unplaced::too_large) {
        complain(part, words, room_on(stocks),
                 "fits no stock: the board bends only around the duct, so it cannot be turned");
      } else {
        complain(part, words, {},
                 fmt::format("the stock is used up: {} of {} left over", unplaced.copies, part.copies()));
      }
    }
  }
};

}  // namespace

BoardPlan board_plan(std::vector<BoardPart> parts, const std::vector<BoardStock>& stock, const Knife& knife,
                     const BoardOptions& options, Units units) {
  BoardPlan plan;
  plan.units = units;
  plan.knife = knife;
  plan.zero = options.zero;
  plan.layers = options.layers;
  plan.words = options.words;
  plan.stock = stock;
  plan.parts = std::move(parts);
  if (plan.parts.empty()) return plan;
  if (stock.empty())
    throw InputError({Problem{{},
                              0,
                              {},
                              "stock",
                              {},
                              "a [[stock]] table with width and length, or --stock-width and --stock-length",
                              "there is no board to cut from"}});
  Planner(plan, options).run();
  return plan;
}

}  // namespace linerwright
