// Pieces on stock: which board each piece is cut from, where it lies, whether it is turned end for end,
// and in which order the knife takes them. Lengths are millimetres. A board's length runs along x from 0
// and its width along y from 0.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/draw/polygon.hpp"
#include "linerwright/units/vector.hpp"

namespace linerwright {

// Pieces may intrude on each other, on their gap or on a board's edge by rounding up to this, and no further.
constexpr double k_nest_rounding = 1e-3;

// One pattern and how many pieces of it are wanted. It is never mirrored.
struct NestPart {
  std::string id;
  Ring outline;                          // closed, counter-clockwise, not crossing itself
  std::vector<Ring> holes;               // inside the outline, apart from each other
  std::vector<std::vector<Vec2>> marks;  // open lines for the pen, carried along
  int count = 1;
  bool may_turn = true;                   // by 180 degrees; no other angle is ever used
  std::vector<std::vector<Vec2>> cuts{};  // open lines for the knife inside the outline, cut before it
  int rank = 0;                           // cut_order() takes lower ranks first
};

// What is kept free along a board's edges, mm: at its beginning (x = 0) and end, below (y = 0) and above.
struct EdgeTrim {
  double start = 0.0, end = 0.0, below = 0.0, above = 0.0;
  EdgeTrim() = default;
  EdgeTrim(double all) : EdgeTrim(all, all, all, all) {}
  EdgeTrim(double at_start, double at_end, double at_foot, double at_head)
      : start(at_start), end(at_end), below(at_foot), above(at_head) {}
  double along_length() const { return start + end; }
  double along_width() const { return below + above; }
  Vec2 low() const { return {start, below}; }
};

// One kind of stock.
struct NestBoard {
  std::string id;
  double width = 0.0;
  double length = 0.0;          // of a roll: all there is on it
  std::optional<int> quantity;  // unlimited when not given
  EdgeTrim trim;                // kept free along the edges
  std::optional<double> cost;   // of the whole board or roll; its area in m2 when not given
  bool roll = false;            // cut off at the used length, which is then what it costs
  bool first = false;           // a remnant: taken before other stock, the smallest first
  Vec2 room() const { return {length - trim.along_length(), width - trim.along_width()}; }
};

// Effort is counted in steps of the search, never in seconds, so the same job gives the same boards on any
// machine.
constexpr double k_effort_fill = 0.0;       // first fill only
constexpr double k_effort_quick = 1.0;      // about 1 s on two free cores
constexpr double k_effort_thorough = 18.0;  // 10 to 17 s on two free cores
// "fill", "quick" or "thorough"; any other word: none.
std::optional<double> effort_named(std::string_view word);

struct NestResult;
// Hears how much of the search is done, 0 to 1, and what it would keep if it ended now; by the caller's own
// thread, some twenty times.
using NestWatch = std::function<void(double done, const NestResult& so_far)>;

struct NestOptions {
  double gap = 0.0;  // least distance between pieces, not to the board's edge
  double effort = k_effort_quick;
  std::uint64_t seed = 1;
  bool use_holes = false;     // put small pieces into the holes of large ones
  int threads = 2;            // 1 or 2; the result is the same
  double min_offcut = 150.0;  // shorter side of the smallest rectangle worth keeping
  NestWatch watch{};          // none: nobody is told
};

struct NestJob {
  std::vector<NestPart> parts;
  std::vector<NestBoard> boards;
  NestOptions options;
};

// A piece on a board: the pattern's point p lies at (x, y) + p, or at (x, y) - p when turned.
struct NestedPiece {
  std::size_t part = 0;   // index in NestJob::parts
  int copy = 0;           // 0 .. count - 1
  std::size_t board = 0;  // index in NestResult::boards
  double x = 0.0;
  double y = 0.0;
  bool turned = false;
};

enum class Unplaced { too_large, stock_used_up };  // for every board; all boards are full

struct UnplacedPart {
  std::size_t part = 0;
  int copies = 0;
  Unplaced reason = Unplaced::too_large;
};

// One board taken from stock.
struct NestedBoard {
  std::size_t stock = 0;     // index in NestJob::boards
  double length = 0.0;       // of the board; of a roll the used length and the trim at its end
  double used_length = 0.0;  // from x = 0 to the last piece
  double part_area = 0.0;    // outlines less holes, mm2
  double yield = 0.0;        // part_area / (width x length)
  std::vector<Box> offcuts;  // rectangles worth keeping, largest first, not overlapping
};

struct NestResult {
  std::vector<NestedPiece> placements;  // ordered by part, then copy
  std::vector<UnplacedPart> unplaced;
  std::vector<NestedBoard> boards;
  double yield = 0.0;  // of all boards together
  double bound = 0.0;  // the yield on the least stock that could hold these pieces: no nest betters it
  std::size_t least_boards = 0;  // no nest takes fewer; 0 where a roll may carry everything
  double cost = 0.0;
  std::uint64_t steps = 0;  // of the search
};

// The pattern's points as they lie on the board.
std::vector<Vec2> placed(const std::vector<Vec2>& points, const NestedPiece& placement);

// Places all pieces on the cheapest boards found, then shortens the use of the last board (or the roll).
// Throws InputError for parts, boards or options that make no sense, GeometryError if nest_faults() finds
// anything.
NestResult nest(const NestJob& job);

// Everything wrong with a nest, one line each, worked out from the original outlines and not from what the
// search believes: pieces that overlap or come closer than the gap, leave their board, are lost, doubled, or
// on no board.
std::vector<std::string> nest_faults(const NestJob& job, const NestResult& result);

enum class CutKind { mark, inner, outer };

// One line without lifting the tool: from the first point to the last, which is the first again for a whole
// contour.
struct CutStep {
  std::size_t board = 0;      // index in NestResult::boards
  std::size_t placement = 0;  // index in NestResult::placements
  CutKind kind = CutKind::outer;
  std::vector<Vec2> points;
  std::optional<std::size_t> open_line{};  // index among its part's marks or open cuts; none: of a contour
};

struct CutPlan {
  std::vector<CutStep> steps;  // board by board
  double cut_length = 0.0;     // mm with the knife down
  double mark_length = 0.0;    // mm with the pen down
  double travel_length = 0.0;  // mm in the air, from the corner (0, 0) of each board
  double shared_length = 0.0;  // mm of edges that two pieces share and that are cut once
};

// The order of work on each board: marks first, then open cuts, contours inside others before those around
// them, the nearest next. The knife enters in the middle of the longest straight run.
CutPlan cut_order(const NestJob& job, const NestResult& result);

}  // namespace linerwright
