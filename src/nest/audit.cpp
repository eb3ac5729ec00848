// The check of a finished nest, from the original outlines only: nothing of the search is used here.
#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>

#include "linerwright/nest/nest.hpp"

namespace linerwright {
namespace {

struct Piece {
  const NestedPiece* placement;
  Region region;  // as it lies on the board
  Region core;    // less half the rounding all round
  Box box;
};

Region placed_region(const NestPart& part, const NestedPiece& placement) {
  Region region{placed(part.outline, placement), {}};
  for (const Ring& hole : part.holes) region.holes.push_back(placed(hole, placement));
  return region;
}

double closest(const Ring& a, const Ring& b, double far_enough) {
  double least = far_enough;
  const auto from_corners = [&](const Ring& corners, const Ring& edges) {
    for (std::size_t i = 0; i < edges.size(); ++i) {
      const Vec2 p = edges[i];
      const Vec2 q = edges[(i + 1) % edges.size()];
      const Vec2 low{std::min(p.x, q.x) - least, std::min(p.y, q.y) - least};
      const Vec2 high{std::max(p.x, q.x) + least, std::max(p.y, q.y) + least};
      for (Vec2 c : corners) {
        if (c.x < low.x || c.x > high.x || c.y < low.y || c.y > high.y) continue;
        least = std::min(least, distance_to_segment(c, p, q));
      }
    }
  };
  from_corners(a, b);
  from_corners(b, a);
  return least;
}

// The least distance between the edges, or `far_enough` if it is more. The edges must not cross.
double closest(const Region& a, const Region& b, double far_enough) {
  double least = closest(a.outer, b.outer, far_enough);
  for (const Ring& hole : a.holes) least = closest(hole, b.outer, least);
  for (const Ring& hole : b.holes) least = closest(a.outer, hole, least);
  return least;
}

class Audit {
 public:
  Audit(const NestJob& job, const NestResult& result) : job_(job), result_(result) {}

  std::vector<std::string> run() {
    if (!check_indices()) return std::move(faults_);
    check_counts();
    std::vector<std::vector<Piece>> boards(result_.boards.size());
    for (const NestedPiece& placement : result_.placements) {
      Piece piece{&placement, placed_region(job_.parts[placement.part], placement), {}, {}};
      piece.box = *bounding_box(piece.region.outer);
      const auto cores = offset({piece.region}, -0.5 * k_nest_rounding, OffsetCorners::mitre);
      piece.core = cores.size() == 1 ? cores.front() : piece.region;
      check_inside(piece);
      boards[placement.board].push_back(std::move(piece));
    }
    for (const auto& pieces : boards) {
      for (std::size_t i = 0; i < pieces.size(); ++i) {
        for (std::size_t j = i + 1; j < pieces.size(); ++j) check_pair(pieces[i], pieces[j]);
      }
    }
    return std::move(faults_);
  }

 private:
  const NestJob& job_;
  const NestResult& result_;
  std::vector<std::string> faults_;

  std::string name(const NestedPiece& placement) const {
    return fmt::format("{} piece {}", job_.parts[placement.part].id, placement.copy + 1);
  }

  bool check_indices() {
    for (const NestedPiece& p : result_.placements) {
      if (p.part >= job_.parts.size() || p.board >= result_.boards.size()) {
        faults_.push_back(
            fmt::format("a placement names part {} and board {}, which do not exist", p.part, p.board));
      }
    }
    std::map<std::size_t, int> taken;
    for (const NestedBoard& board : result_.boards) {
      if (board.stock >= job_.boards.size()) {
        faults_.push_back(fmt::format("a board names stock {}, which does not exist", board.stock));
      } else {
        ++taken[board.stock];
      }
    }
    for (const auto& [stock, count] : taken) {
      const NestBoard& board = job_.boards[stock];
      if (board.quantity && count > *board.quantity) {
        faults_.push_back(
            fmt::format("{} boards {} are used, {} are there", count, board.id, *board.quantity));
      }
    }
    return faults_.empty();
  }

  void check_counts() {
    for (std::size_t i = 0; i < job_.parts.size(); ++i) {
      const NestPart& part = job_.parts[i];
      std::vector<int> seen(static_cast<std::size_t>(part.count), 0);
      int left_over = 0;
      int found = 0;
      for (const UnplacedPart& unplaced : result_.unplaced)
        left_over += unplaced.part == i ? unplaced.copies : 0;
      for (const NestedPiece& p : result_.placements) {
        if (p.part != i) continue;
        ++found;
        if (p.copy < 0 || p.copy >= part.count || ++seen[static_cast<std::size_t>(p.copy)] > 1) {
          faults_.push_back(fmt::format("{} is there twice or was not asked for", name(p)));
        }
        if (p.turned && !part.may_turn)
          faults_.push_back(fmt::format("{} is turned but may not be", name(p)));
      }
      if (found + left_over != part.count) {
        faults_.push_back(
            fmt::format("{}: {} placed and {} left over of {}", part.id, found, left_over, part.count));
      }
    }
  }

  void check_inside(const Piece& piece) {
    const NestedBoard& used = result_.boards[piece.placement->board];
    const NestBoard& board = job_.boards[used.stock];
    const EdgeTrim& trim = board.trim;
    const double length = std::min(board.length, used.length);
    if (piece.box.low.x >= trim.start - k_nest_rounding && piece.box.low.y >= trim.below - k_nest_rounding &&
        piece.box.high.x <= length - trim.end + k_nest_rounding &&
        piece.box.high.y <= board.width - trim.above + k_nest_rounding) {
      return;
    }
    faults_.push_back(fmt::format("{} leaves board {}", name(*piece.placement), piece.placement->board + 1));
  }

  void check_pair(const Piece& a, const Piece& b) {
    const double gap = job_.options.gap;
    if (a.box.low.x > b.box.high.x + gap || b.box.low.x > a.box.high.x + gap ||
        a.box.low.y > b.box.high.y + gap || b.box.low.y > a.box.high.y + gap) {
      return;
    }
    double overlap = 0.0;
    for (const Region& common : intersected({a.core}, {b.core})) overlap += area(common);
    if (overlap > 0.0) {
      faults_.push_back(fmt::format("{} and {} overlap by {:.4f} mm2 on board {}", name(*a.placement),
                                    name(*b.placement), overlap, a.placement->board + 1));
      return;
    }
    if (gap <= k_nest_rounding) return;
    const double least = closest(a.region, b.region, gap);
    if (least < gap - k_nest_rounding) {
      faults_.push_back(fmt::format("{} and {} are {:.4f} mm apart on board {}, not {:.4f}",
                                    name(*a.placement), name(*b.placement), least, a.placement->board + 1,
                                    gap));
    }
  }
};

}  // namespace

std::vector<std::string> nest_faults(const NestJob& job, const NestResult& result) {
  return Audit(job, result).run();
}

}  // namespace linerwright
