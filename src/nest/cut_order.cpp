#include <algorithm>
#include <cmath>
#include <limits>

#include "linerwright/nest/nest.hpp"
#include "shape.hpp"
#include "shared_edge.hpp"

namespace linerwright {
namespace {

using Line = std::vector<Vec2>;

// One closed contour as it lies on the board.
struct Contour {
  std::size_t placement = 0;
  int rank = 0;
  CutKind kind = CutKind::outer;
  Ring ring;
  Box box;
  double enclosed = 0.0;
  std::vector<Line> lines;              // still to be cut
  std::vector<std::size_t> around;      // contours that lie round this one
  std::vector<std::size_t> neighbours;  // contours whose box meets this one's
  int inside_left = 0;                  // contours inside that are not cut yet
  bool done = false;
};

bool boxes_meet(const Box& a, const Box& b) {
  return a.low.x <= b.high.x + k_nest_rounding && b.low.x <= a.high.x + k_nest_rounding &&
         a.low.y <= b.high.y + k_nest_rounding && b.low.y <= a.high.y + k_nest_rounding;
}

// A point just inside the contour, beside the middle of its longest edge.
Vec2 inner_point(const Ring& ring) {
  std::size_t longest = 0;
  const auto edge = [&](std::size_t i) { return ring[(i + 1) % ring.size()] - ring[i]; };
  for (std::size_t i = 1; i < ring.size(); ++i) {
    if (norm(edge(i)) > norm(edge(longest))) longest = i;
  }
  const Vec2 along = edge(longest);
  const double inward = (signed_area(ring) > 0.0 ? 5.0 : -5.0) * k_nest_rounding / norm(along);
  return ring[longest] + 0.5 * along + inward * Vec2{-along.y, along.x};
}

class BoardOrder {
 public:
  BoardOrder(const NestJob& job, const NestResult& result, std::size_t board, CutPlan& plan)
      : job_(job), result_(result), board_(board), plan_(plan) {}

  void run() {
    follow_all(CutKind::mark, &NestPart::marks);
    follow_all(CutKind::inner, &NestPart::cuts);
    collect();
    link();
    for (auto next = nearest(); next; next = nearest()) cut(*next);
  }

 private:
  const NestJob& job_;
  const NestResult& result_;
  std::size_t board_;
  CutPlan& plan_;
  Vec2 tool_{};
  std::vector<Contour> contours_;

  void follow(std::size_t placement, CutKind kind, Line line, std::optional<std::size_t> open_line = {}) {
    plan_.travel_length += distance(tool_, line.front());
    (kind == CutKind::mark ? plan_.mark_length : plan_.cut_length) += polyline_length(line, false);
    tool_ = line.back();
    plan_.steps.push_back({board_, placement, kind, std::move(line), open_line});
  }

  double reach(const Line& line) const {
    return std::min(distance(tool_, line.front()), distance(tool_, line.back()));
  }

  // Takes the line that starts or ends nearest out of the list and turns its nearer end to the front.
  Line take_nearest(std::vector<Line>& lines) const {
    const auto found = std::min_element(lines.begin(), lines.end(),
                                        [&](const Line& a, const Line& b) { return reach(a) < reach(b); });
    Line line = std::move(*found);
    lines.erase(found);
    if (distance(tool_, line.back()) < distance(tool_, line.front())) std::reverse(line.begin(), line.end());
    return line;
  }

  struct OpenLine {
    std::size_t placement = 0;
    std::size_t index = 0;
    Line line;
  };

  // The open lines of all pieces, the nearest next.
  void follow_all(CutKind kind, std::vector<Line> NestPart::*of_part) {
    std::vector<OpenLine> left;
    for (std::size_t p = 0; p < result_.placements.size(); ++p) {
      const NestedPiece& placement = result_.placements[p];
      if (placement.board != board_) continue;
      const std::vector<Line>& lines = job_.parts[placement.part].*of_part;
      for (std::size_t i = 0; i < lines.size(); ++i) {
        if (lines[i].size() >= 2) left.push_back({p, i, placed(lines[i], placement)});
      }
    }
    while (!left.empty()) {
      const auto next = std::min_element(left.begin(), left.end(), [&](const OpenLine& a, const OpenLine& b) {
        return reach(a.line) < reach(b.line);
      });
      OpenLine chosen = std::move(*next);
      *next = std::move(left.back());
      left.pop_back();
      if (distance(tool_, chosen.line.back()) < distance(tool_, chosen.line.front()))
        std::reverse(chosen.line.begin(), chosen.line.end());
      follow(chosen.placement, kind, std::move(chosen.line), chosen.index);
    }
  }

  void collect() {
    for (std::size_t p = 0; p < result_.placements.size(); ++p) {
      const NestedPiece& placement = result_.placements[p];
      if (placement.board != board_) continue;
      const NestPart& part = job_.parts[placement.part];
      for (const Ring& hole : part.holes) add(p, CutKind::inner, placed(hole, placement));
      add(p, CutKind::outer, placed(part.outline, placement));
    }
  }

  void add(std::size_t placement, CutKind kind, const Ring& given) {
    Contour contour;
    contour.placement = placement;
    contour.rank = job_.parts[result_.placements[placement].part].rank;
    contour.kind = kind;
    contour.ring = nesting::without_repeats(given);
    contour.box = *bounding_box(contour.ring);
    contour.enclosed = std::fabs(signed_area(contour.ring));
    contour.lines = {nesting::entered_on_the_straight(contour.ring)};
    contours_.push_back(std::move(contour));
  }

  void link() {
    for (std::size_t i = 0; i < contours_.size(); ++i) {
      const Vec2 p = inner_point(contours_[i].ring);
      for (std::size_t k = 0; k < contours_.size(); ++k) {
        if (k == i || !boxes_meet(contours_[i].box, contours_[k].box)) continue;
        contours_[i].neighbours.push_back(k);
        if (contours_[k].enclosed <= contours_[i].enclosed || !point_in_polygon(p, contours_[k].ring))
          continue;
        contours_[i].around.push_back(k);
        ++contours_[k].inside_left;
      }
    }
  }

  // The next contour with nothing left inside it.
  std::optional<std::size_t> nearest() const {
    std::optional<std::size_t> best;
    double least = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i < contours_.size(); ++i) {
      const Contour& contour = contours_[i];
      if (contour.done || contour.inside_left > 0) continue;
      double far = 0.0;  // a contour that its neighbours have cut already costs nothing
      if (!contour.lines.empty()) {
        far = std::numeric_limits<double>::max();
        for (const Line& line : contour.lines) far = std::min(far, reach(line));
      }
      if (best &&
          (contour.rank != contours_[*best].rank ? contour.rank > contours_[*best].rank : far >= least))
        continue;
      best = i;
      least = far;
    }
    return best;
  }

  void cut(std::size_t index) {
    Contour& contour = contours_[index];
    contour.done = true;
    double cut_here = 0.0;
    for (const Line& line : contour.lines) cut_here += polyline_length(line, false);
    plan_.shared_length += std::max(0.0, polyline_length(contour.ring, true) - cut_here);
    while (!contour.lines.empty()) follow(contour.placement, contour.kind, take_nearest(contour.lines));
    for (std::size_t k : contour.around) --contours_[k].inside_left;
    for (std::size_t k : contour.neighbours) {
      if (!contours_[k].done && !nesting::shared_runs(contours_[k].ring, contour.ring).empty())
        shorten(contours_[k]);
    }
  }

  // Leaves out what has been cut with the neighbours.
  void shorten(Contour& contour) const {
    std::vector<nesting::SharedRun> runs;
    for (std::size_t k : contour.neighbours) {
      if (!contours_[k].done) continue;
      for (const auto& run : nesting::shared_runs(contour.ring, contours_[k].ring)) runs.push_back(run);
    }
    contour.lines = nesting::without_runs(contour.ring, std::move(runs));
  }
};

}  // namespace

CutPlan cut_order(const NestJob& job, const NestResult& result) {
  CutPlan plan;
  for (std::size_t board = 0; board < result.boards.size(); ++board)
    BoardOrder(job, result, board, plan).run();
  return plan;
}

}  // namespace linerwright
