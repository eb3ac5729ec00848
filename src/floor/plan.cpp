// From parts to boards: groups that may share a board, a nest for each, and the way of pen and knife.
#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

#include <fmt/format.h>

#include "groups.hpp"
#include "linerwright/error.hpp"
#include "linerwright/floor.hpp"
#include "linerwright/parallel.hpp"
#include "linerwright/stock.hpp"
#include "lines.hpp"

namespace linerwright {

namespace {

class Planner {
 public:
  Planner(FloorPlan& plan, const Knife& knife, const FloorOptions& options)
      : plan_(plan), knife_(knife), options_(options) {
    for (const FloorStock& stock : plan.stock) left_.push_back(stock.quantity);
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
    for (const auto& [group, parts] : groups) {
      const std::size_t before = plan_.boards.size();
      const NestResult nested = nest_group(std::get<0>(group), parts);
      double area = 0.0;
      for (std::size_t b = before; b < plan_.boards.size(); ++b) area += plan_.boards[b].piece_area;
      if (nested.bound > 0.0) least_stock += area / nested.bound;
      if (nested.least_boards == 0 && !nested.boards.empty()) rolls = true;
      plan_.least_boards += nested.least_boards;
    }
    if (rolls) plan_.least_boards = 0;
    for (const FloorBoard& board : plan_.boards) {
      plan_.piece_area += board.piece_area;
      plan_.stock_area += board.length * plan_.stock[board.stock].width;
    }
    if (least_stock > 0.0) plan_.bound = plan_.piece_area / least_stock;
  }

 private:
  FloorPlan& plan_;
  const Knife& knife_;
  const FloorOptions& options_;
  std::vector<std::optional<int>> left_;
  double gap_ = 0.0;

  std::string length(double value) const { return format_quantity(Quantity::length, value, plan_.units, 2); }

  void complain(const FloorPart& part, std::string value, std::string allowed, std::string reason) {
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
      const FloorStock& stock = plan_.stock[s];
      text += fmt::format("{}{} around by {} along on stock {}", text.empty() ? "at most " : ", ",
                          length(stock.length - 2.0 * stock.trim), length(stock.width - 2.0 * stock.trim),
                          stock.name);
    }
    return text;
  }

  bool fits(const FloorPart& part) const {
    const Vec2 size = size_of(part);
    return std::any_of(plan_.stock.begin(), plan_.stock.end(), [&](const FloorStock& stock) {
      return stock_fits(stock.thickness, part.thickness) &&
             size.x <= stock.length - 2.0 * stock.trim + 0.5 * k_nest_rounding &&
             size.y <= stock.width - 2.0 * stock.trim + 0.5 * k_nest_rounding;
    });
  }

  // A blank that fits no stock gives way to its pieces.
  void take_apart() {
    std::vector<FloorPart> parts;
    for (FloorPart& part : plan_.parts) {
      std::vector<FloorPart> apart = std::move(part.apart);
      part.apart.clear();
      if (apart.empty() || fits(part)) {
        parts.push_back(std::move(part));
      } else {
        std::move(apart.begin(), apart.end(), std::back_inserter(parts));
      }
    }
    plan_.parts = std::move(parts);
  }

  NestResult nest_group(double thickness, const std::vector<std::size_t>& parts) {
    NestJob job;
    std::vector<std::size_t> stocks;
    job.boards = boards_for(plan_.stock, thickness, left_, stocks);
    if (stocks.empty()) {
      std::string known;
      for (const FloorStock& stock : plan_.stock)
        known += (known.empty() ? "" : ", ") + length(stock.thickness.value_or(0.0));
      for (const std::size_t i : parts)
        complain(plan_.parts[i], "liner " + length(thickness), known, "no stock is of this thickness");
      return {};
    }
    for (const std::size_t i : parts) job.parts.push_back(nest_part(plan_.parts[i]));
    job.options.gap = gap_;
    job.options.effort = options_.effort;
    job.options.seed = options_.seed;
    job.options.use_holes = options_.use_holes;
    job.options.min_offcut = options_.min_offcut;
    const NestResult result = nest(job);
    report_unplaced(result, parts, stocks);
    draw(job, result, parts, stocks);
    for (const NestedBoard& board : result.boards)
      if (auto& left = left_[stocks[board.stock]]) --*left;
    return result;
  }

  void report_unplaced(const NestResult& result, const std::vector<std::size_t>& parts,
                       const std::vector<std::size_t>& stocks) {
    for (const UnplacedPart& unplaced : result.unplaced) {
      const FloorPart& part = plan_.parts[parts[unplaced.part]];
      const Vec2 size = size_of(part);
      const std::string words = fmt::format("{} around by {} along", length(size.x), length(size.y));
      if (unplaced.reason == Unplaced::too_large) {
        complain(part, words, room_on(stocks),
                 "fits no stock: the board bends only around the duct, so it cannot be turned");
      } else {
        complain(part, words, {},
                 fmt::format("the stock is used up: {} of {} left over", unplaced.copies, part.count));
      }
    }
  }

  void draw(const NestJob& job, const NestResult& result, const std::vector<std::size_t>& parts,
            const std::vector<std::size_t>& stocks) {
    // every copy has labels of its own: a part each, lying where it is cut
    std::vector<LaidPiece> pieces(result.placements.size());
    in_parallel(pieces.size(), options_.threads, [&](std::size_t i) {
      const NestedPiece& place = result.placements[i];
      pieces[i] = laid(plan_.parts[parts[place.part]], place, options_.codes);
    });
    NestJob cutting = job;
    cutting.parts.clear();
    NestResult lying = result;
    std::vector<std::vector<PenLine>> pens(pieces.size());
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const Pattern& pattern = pieces[i].pattern;
      pens[i] = pen_lines(pieces[i]);
      NestPart part{job.parts[result.placements[i].part].id,
                    pattern.cut.outer,
                    pattern.cut.holes,
                    {},
                    1,
                    false,
                    pattern.open_cuts};
      for (const PenLine& line : pens[i]) part.marks.push_back(line.line.points);
      cutting.parts.push_back(std::move(part));
      lying.placements[i] = {i, 0, result.placements[i].board, 0.0, 0.0, false};
    }
    const CutPlan order = cut_order(cutting, lying);

    const std::size_t first = plan_.boards.size();
    for (const NestedBoard& nested : result.boards) plan_.boards.push_back(board_of(nested, parts, stocks));
    std::vector<Vec2> tool(result.boards.size());
    std::vector<char> free(pieces.size(), 0);
    const auto come_free = [&](std::size_t i) {
      if (free[i]) return;
      free[i] = 1;
      const NestedPiece& place = result.placements[i];
      plan_.boards[first + place.board].pieces.push_back(
          {parts[place.part], place.copy, place.turned, bounding_box(pieces[i].pattern.cut.outer).value()});
    };
    for (const CutStep& step : order.steps) {
      FloorBoard& board = plan_.boards[first + step.board];
      board.travel_length += distance(tool[step.board], step.points.front());
      if (step.kind == CutKind::mark) {
        PenLine line = pens[step.placement][step.open_line.value()];
        line.line.points = step.points;
        board.pen_length += polyline_length(step.points, false);
        tool[step.board] = step.points.back();
        board.pen.push_back(std::move(line));
        continue;
      }
      Polyline cut = cut_line(step);
      board.knife_length += polyline_length(cut.points, cut.closed);
      tool[step.board] = cut.closed ? cut.points.front() : cut.points.back();
      board.knife.push_back(std::move(cut));
      if (step.kind == CutKind::outer) come_free(step.placement);
    }
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      come_free(i);  // what its neighbours cut free
      FloorBoard& board = plan_.boards[first + result.placements[i].board];
      note_opened(board, pieces[i].pattern.cut);
      board.texts.insert(board.texts.end(), pieces[i].pattern.labels.begin(), pieces[i].pattern.labels.end());
      if (plan_.parts[parts[result.placements[i].part]].both_faces) add_faces(board, pieces[i].pattern);
    }
    for (std::size_t b = 0; b < result.boards.size(); ++b) finish(plan_.boards[first + b]);
  }

  // Notes the contours that the knife does not follow all around.
  static void note_opened(FloorBoard& board, const Region& region) {
    const auto is_whole = [&](const Ring& ring) {
      const Box box = bounding_box(ring).value();
      return std::any_of(board.knife.begin(), board.knife.end(), [&](const Polyline& cut) {
        const bool whole = polyline_length(cut.points, cut.closed) > polyline_length(ring, true) - 1e-3;
        const Box other = bounding_box(cut.points).value();
        return whole && distance(box.low, other.low) < k_nest_rounding &&
               distance(box.high, other.high) < k_nest_rounding;
      });
    };
    if (!is_whole(region.outer)) board.opened.push_back(region.outer);
    for (const Ring& hole : region.holes)
      if (!is_whole(hole)) board.opened.push_back(hole);
  }

  // A contour's way ends where it starts: then it is a closed line, unless it is to run on.
  Polyline cut_line(const CutStep& step) const {
    Polyline cut{Layer::cut, false, step.points};
    if (cut.points.size() < 4 || !(cut.points.front() == cut.points.back())) return cut;
    if (knife_.overcut > 0.0) {
      cut.points = run_on(std::move(cut.points), knife_.overcut);
      return cut;
    }
    cut.closed = true;
    cut.points.pop_back();
    return cut;
  }

  static void add_faces(FloorBoard& board, const Pattern& pattern) {
    const auto add = [&](Layer layer, const Region& face, const std::vector<Ring>& rest,
                         const std::vector<std::vector<Vec2>>& lines) {
      board.faces.push_back({layer, true, face.outer});
      for (const Ring& ring : rest) board.faces.push_back({layer, true, ring});
      for (const Ring& hole : face.holes) board.faces.push_back({layer, true, hole});
      for (const auto& line : lines) board.faces.push_back({layer, false, line});
    };
    add(face_layer(pattern.layer, false), pattern.duct, pattern.duct_rest, pattern.duct_lines);
    add(face_layer(pattern.layer, true), pattern.air, pattern.air_rest, pattern.air_lines);
  }

  FloorBoard board_of(const NestedBoard& nested, const std::vector<std::size_t>& parts,
                      const std::vector<std::size_t>& stocks) const {
    const FloorStock& stock = plan_.stock[stocks[nested.stock]];
    const FloorPart& part = plan_.parts[parts.front()];
    FloorBoard board;
    board.layer = part.layer;
    board.stock = stocks[nested.stock];
    board.thickness = part.thickness;
    board.density = part.density;
    board.face_up = part.face_up;
    board.length = nested.length;
    board.used_length = nested.used_length;
    board.piece_area = nested.part_area;
    board.yield = nested.yield;
    board.offcuts = nested.offcuts;
    const double per_area = stock.mass.value_or(part.thickness * 1e-3 * part.density);
    board.mass = per_area * nested.length * stock.width * 1e-6;
    if (stock.cost) board.cost = *stock.cost * nested.length / stock.length;
    return board;
  }

  void finish(FloorBoard& board) const {
    double contours = 0.0;
    for (const FloorPiece& piece : board.pieces) {
      const Pattern& pattern = plan_.parts[piece.part].pattern;
      contours += polyline_length(pattern.cut.outer, true);
      for (const Ring& hole : pattern.cut.holes) contours += polyline_length(hole, true);
      for (const auto& line : pattern.open_cuts) contours += polyline_length(line, false);
    }
    board.shared_length = std::max(0.0, contours - board.knife_length);
    const auto takes = [](double way, double speed) { return way * 1e-3 / speed; };
    board.time = takes(board.knife_length, knife_.cut_speed) + takes(board.pen_length, knife_.mark_speed) +
                 takes(board.travel_length, knife_.travel_speed) +
                 knife_.entry_time * static_cast<double>(board.knife.size()) +
                 knife_.mark_time * static_cast<double>(board.pen.size()) + knife_.board_time;
  }
};

}  // namespace

FloorPlan plan_floor(std::vector<FloorPart> parts, const std::vector<FloorStock>& stock, const Knife& knife,
                     const FloorOptions& options, Units units) {
  FloorPlan plan;
  plan.units = units;
  plan.knife = knife;
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
  Planner(plan, knife, options).run();
  return plan;
}

}  // namespace linerwright
