// Pen and knife on the boards of one nest.
#include "cut_boards.hpp"

#include <algorithm>
#include <numeric>

#include "corners.hpp"
#include "frame.hpp"
#include "linerwright/units/parallel.hpp"
#include "lines.hpp"

namespace linerwright {

namespace {

class Cutting {
 public:
  Cutting(BoardPlan& plan, const Nested& nested, const Sequence& sequence, const BoardOptions& options)
      : plan_(plan),
        nested_(nested),
        sequence_(sequence),
        options_(options),
        first_(plan.boards.size()),
        pieces_(nested.result.placements.size()),
        free_(pieces_.size(), 0) {}

  void run() {
    const std::optional<double> code_pen =
        options_.codes ? std::optional<double>(options_.pen_width) : std::nullopt;
    // every copy has labels of its own: a part each, lying where it is cut
    in_parallel(pieces_.size(), options_.threads,
                [&](std::size_t i) { pieces_[i] = laid(part_of(i), place_of(i), code_pen); });
    const CutPlan order = ordered();
    for (const NestedBoard& nested : nested_.result.boards) plan_.boards.push_back(board_of(nested));
    for (const CutStep& step : order.steps) follow(step);
    find_rooms();
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
      come_free(i);  // what its neighbours cut free
      PlannedBoard& board = plan_.boards[first_ + place_of(i).board];
      const Pattern& pattern = pieces_[i].pattern;
      note_opened(board, pattern.cut);
      board.texts.insert(board.texts.end(), pattern.labels.begin(), pattern.labels.end());
      if (part_of(i).both_faces) add_faces(board, pattern);
    }
  }

 private:
  BoardPlan& plan_;
  const Nested& nested_;
  const Sequence& sequence_;
  const BoardOptions& options_;
  std::size_t first_;  // of its boards, in the plan
  std::vector<LaidPiece> pieces_;
  std::vector<std::vector<PenLine>> pens_;
  std::vector<char> free_;

  const NestedPiece& place_of(std::size_t i) const { return nested_.result.placements[i]; }
  std::size_t part_index(std::size_t i) const { return nested_.parts[place_of(i).part]; }
  const BoardPart& part_of(std::size_t i) const { return plan_.parts[part_index(i)]; }

  CutPlan ordered() {
    NestJob cutting = nested_.job;
    cutting.parts.clear();
    NestResult lying = nested_.result;
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
      const Pattern& pattern = pieces_[i].pattern;
      NestPart part{nested_.job.parts[place_of(i).part].id,
                    pattern.cut.outer,
                    pattern.cut.holes,
                    {},
                    1,
                    false,
                    pattern.open_cuts};
      if (!sequence_.ranks.empty())
        part.rank = sequence_.ranks[first_ + place_of(i).board].at(part_of(i).tag);
      pens_.push_back(pen_lines(pieces_[i]));
      for (const PenLine& line : pens_.back()) part.marks.push_back(line.line.points);
      cutting.parts.push_back(std::move(part));
      lying.placements[i] = {i, 0, place_of(i).board, 0.0, 0.0, false};
    }
    return cut_order(cutting, lying);
  }

  // Room for words in the largest pieces of each board.
  void find_rooms() {
    constexpr std::size_t k_looked_at = 3;
    std::vector<std::size_t> order(pieces_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return area(pieces_[a].pattern.cut) > area(pieces_[b].pattern.cut);
    });
    std::vector<std::size_t> looked_at(nested_.result.boards.size(), 0);
    for (const std::size_t i : order) {
      if (looked_at[place_of(i).board]++ >= k_looked_at) continue;
      std::vector<Box>& rooms = plan_.boards[first_ + place_of(i).board].rooms;
      for (const Box& room : rooms_in(pieces_[i])) rooms.push_back(room);
    }
  }

  void come_free(std::size_t i) {
    if (free_[i]) return;
    free_[i] = 1;
    PlannedBoard& board = plan_.boards[first_ + place_of(i).board];
    const int copy = place_of(i).copy + static_cast<int>(part_of(i).first_copy);
    board.pieces.push_back({part_index(i), copy, place_of(i).turned,
                            bounding_box(pieces_[i].pattern.cut.outer).value(), board.knife.size()});
  }

  void follow(const CutStep& step) {
    PlannedBoard& board = plan_.boards[first_ + step.board];
    if (step.kind == CutKind::mark) {
      PenLine line = pens_[step.placement][step.open_line.value()];
      line.line.points = step.points;
      board.pen.push_back(std::move(line));
      return;
    }
    std::vector<CutStretch> stretches;
    if (plan_.knife.corner != Corner::none)
      stretches = parted_at_corners(step.points, pieces_[step.placement].pattern.cut, plan_.knife,
                                    {{0.0, 0.0}, {board.length, plan_.stock[board.stock].width}});
    for (CutStretch& stretch : stretches) {
      board.past += stretch.past;
      board.knife.push_back(std::move(stretch.line));
    }
    if (stretches.empty()) board.knife.push_back(cut_line(step));
    if (step.kind == CutKind::outer) come_free(step.placement);
  }

  // Notes the contours that the knife does not follow all around.
  static void note_opened(PlannedBoard& board, const Region& region) {
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
    if (plan_.knife.overcut > 0.0) {
      cut.points = run_on(std::move(cut.points), plan_.knife.overcut);
      return cut;
    }
    cut.closed = true;
    cut.points.pop_back();
    return cut;
  }

  static void add_faces(PlannedBoard& board, const Pattern& pattern) {
    const auto add = [&](Layer layer, const Region& face, const std::vector<Ring>& rest,
                         const std::vector<std::vector<Vec2>>& lines) {
      board.faces.push_back({layer, true, face.outer});
      for (const Ring& ring : rest) board.faces.push_back({layer, true, ring});
      for (const Ring& hole : face.holes) board.faces.push_back({layer, true, hole});
      for (const auto& line : lines) board.faces.push_back({layer, false, line});
    };
    add(outer_face_layer(pattern.layer), pattern.duct, pattern.duct_rest, pattern.duct_lines);
    add(inner_face_layer(pattern.layer), pattern.air, pattern.air_rest, pattern.air_lines);
  }

  PlannedBoard board_of(const NestedBoard& nested) const {
    const std::size_t stock_index = nested_.stocks[nested.stock];
    const BoardStock& stock = plan_.stock[stock_index];
    const BoardPart& part = plan_.parts[nested_.parts.front()];
    PlannedBoard board;
    board.layer = part.layer;
    board.stock = stock_index;
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
};

// Pen and knife in the order in which the board's drawing has their lines.
std::vector<const Polyline*> in_order(const BoardPlan& plan, const PlannedBoard& board) {
  std::vector<const Polyline*> lines;
  for (const PenLine& line : board.pen) lines.push_back(&line.line);
  for (const Polyline& cut : board.knife) lines.push_back(&cut);
  std::stable_sort(lines.begin(), lines.end(), [&](const Polyline* a, const Polyline* b) {
    return plan.layers.rank(a->layer) < plan.layers.rank(b->layer);
  });
  return lines;
}

}  // namespace

void cut_boards(BoardPlan& plan, const Nested& nested, const Sequence& sequence,
                const BoardOptions& options) {
  Cutting(plan, nested, sequence, options).run();
}

void finish_board(const BoardPlan& plan, PlannedBoard& board) {
  Vec2 tool = plan.zero.on_board({0.0, 0.0}, board.length, plan.stock[board.stock].width);
  for (const Polyline* line : in_order(plan, board)) {
    board.travel_length += distance(tool, line->points.front());
    (line->layer == Layer::cut ? board.knife_length : board.pen_length) +=
        polyline_length(line->points, line->closed);
    tool = line->closed ? line->points.front() : line->points.back();
  }
  double contours = 0.0;
  for (const PlacedPiece& piece : board.pieces) {
    const Pattern& pattern = plan.parts[piece.part].pattern;
    contours += polyline_length(pattern.cut.outer, true);
    for (const Ring& hole : pattern.cut.holes) contours += polyline_length(hole, true);
    for (const auto& line : pattern.open_cuts) contours += polyline_length(line, false);
  }
  board.shared_length = std::max(0.0, contours - (board.knife_length - board.past));
  const auto takes = [](double way, double speed) { return way * 1e-3 / speed; };
  const Knife& knife = plan.knife;
  board.time = takes(board.knife_length, knife.cut_speed) + takes(board.pen_length, knife.mark_speed) +
               takes(board.travel_length, knife.travel_speed) +
               knife.entry_time * static_cast<double>(board.knife.size()) +
               knife.mark_time * static_cast<double>(board.pen.size()) + knife.board_time;
}

}  // namespace linerwright
