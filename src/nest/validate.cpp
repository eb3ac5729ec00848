#include "validate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "linerwright/units/error.hpp"
#include "linerwright/units/units.hpp"
#include "shape.hpp"

namespace linerwright::nesting {
namespace {

constexpr double k_smallest = 0.1;   // mm, the shorter side of a piece
constexpr double k_largest = 1.0e5;  // mm, any coordinate: far beyond any board and safe on the grid
constexpr int k_most_pieces = 5000;
constexpr double k_most_effort = 1000.0;

class Checker {
 public:
  explicit Checker(const NestJob& job) : job_(job) {}

  std::vector<Problem> run() {
    if (job_.parts.empty()) add("", "parts", "0", "at least one", "there is nothing to cut");
    if (job_.boards.empty()) add("", "boards", "0", "at least one", "there is no board to cut from");
    long long pieces = 0;
    for (const NestPart& part : job_.parts) {
      check_part(part);
      pieces += std::max(0, part.count);
    }
    if (pieces > k_most_pieces) {
      add("", "count", fmt::format("{}", pieces), fmt::format("up to {} in one job", k_most_pieces),
          "too many pieces");
    }
    for (const NestBoard& board : job_.boards) check_board(board);
    check_options();
    return std::move(problems_);
  }

 private:
  const NestJob& job_;
  std::vector<Problem> problems_;

  void add(const std::string& tag, const std::string& key, const std::string& value,
           const std::string& allowed, const std::string& reason) {
    problems_.push_back({"", 0, tag, key, value, allowed, reason});
  }
  static std::string mm(double value) {
    return std::isfinite(value) ? trimmed(value, 4) + " mm" : "not a number";
  }

  // False when the points cannot be measured at all.
  bool check_points(const std::string& tag, const char* key, const std::vector<Vec2>& points) {
    for (Vec2 p : points) {
      if (std::isfinite(p.x) && std::isfinite(p.y) && std::fabs(p.x) <= k_largest &&
          std::fabs(p.y) <= k_largest)
        continue;
      add(tag, key, fmt::format("({}, {})", mm(p.x), mm(p.y)), fmt::format("within {}", mm(k_largest)),
          "a point is not on any board");
      return false;
    }
    return true;
  }

  // False when the ring bounds no proper piece.
  bool check_ring(const std::string& tag, const char* key, const Ring& given) {
    if (!check_points(tag, key, given)) return false;
    const Ring ring = without_repeats(given);
    if (ring.size() < 3) {
      add(tag, key, fmt::format("{} different points", ring.size()), "3 or more",
          "the contour encloses nothing");
      return false;
    }
    const Box box = *bounding_box(ring);
    const Vec2 size = box.high - box.low;
    const double enclosed = std::fabs(signed_area(ring));
    if (std::min(size.x, size.y) < k_smallest || enclosed < k_smallest * std::max(size.x, size.y)) {
      add(tag, key, fmt::format("{} by {}", mm(size.x), mm(size.y)),
          fmt::format("over {} wide", mm(k_smallest)), "the contour encloses next to nothing");
      return false;
    }
    if (self_intersects(ring, true)) {
      add(tag, key, "", "a line that does not cross or touch itself", "the contour crosses itself");
      return false;
    }
    return true;
  }

  void check_part(const NestPart& part) {
    if (part.count < 1)
      add(part.id, "count", fmt::format("{}", part.count), "1 or more", "no piece is wanted");
    bool sound = check_ring(part.id, "outline", part.outline);
    for (const Ring& hole : part.holes) sound = check_ring(part.id, "hole", hole) && sound;
    for (const auto& mark : part.marks) check_points(part.id, "mark", mark);
    for (const auto& line : part.cuts) check_points(part.id, "cut", line);
    if (!sound || part.holes.empty()) return;
    // Holes inside the outline and apart: cutting them out takes away exactly the sum of their areas.
    double sum = 0.0;
    std::vector<Region> holes;
    for (const Ring& hole : part.holes) {
      sum += std::fabs(signed_area(hole));
      holes.push_back({hole, {}});
    }
    double left = 0.0;
    for (const Region& region : subtracted({{part.outline, {}}}, holes)) left += area(region);
    const double whole = std::fabs(signed_area(part.outline));
    if (std::fabs(whole - sum - left) > 1e-6 * whole) {
      add(part.id, "hole", "", "inside the outline and apart from other holes",
          "a hole leaves the piece or meets another");
    }
  }

  void check_board(const NestBoard& board) {
    const auto size = [&](const char* key, double value) {
      if (std::isfinite(value) && value > 0.0 && value <= k_largest) return;
      add(board.id, key, mm(value), fmt::format("over 0, up to {}", mm(k_largest)), "not a size of a board");
    };
    size("width", board.width);
    size("length", board.length);
    const EdgeTrim& trim = board.trim;
    const double least = std::min({trim.start, trim.end, trim.below, trim.above});
    if (!(least >= 0.0 && trim.along_length() < board.length && trim.along_width() < board.width)) {
      add(board.id, "trim", mm(std::max({trim.start, trim.end, trim.below, trim.above})),
          "0 or more, under half the board", "the trim leaves no board");
    }
    if (board.quantity && *board.quantity < 0) {
      add(board.id, "quantity", fmt::format("{}", *board.quantity), "0 or more", "not a number of boards");
    }
    if (board.cost && !(std::isfinite(*board.cost) && *board.cost >= 0.0)) {
      add(board.id, "cost", fmt::format("{}", *board.cost), "0 or more", "not a cost");
    }
  }

  void check_options() {
    const NestOptions& options = job_.options;
    if (!(options.gap >= 0.0 && options.gap <= 1000.0)) {
      add("", "gap", mm(options.gap), "0 to 1000 mm", "not a distance between pieces");
    }
    if (!(options.effort >= 0.0 && options.effort <= k_most_effort)) {
      add("", "effort", fmt::format("{}", options.effort), fmt::format("0 to {}", k_most_effort),
          "not an effort");
    }
    if (options.threads < 1 || options.threads > 2) {
      add("", "threads", fmt::format("{}", options.threads), "1 or 2", "the search has two lanes");
    }
    if (!(std::isfinite(options.min_offcut) && options.min_offcut > 0.0)) {
      add("", "min_offcut", mm(options.min_offcut), "over 0", "not a size of an offcut");
    }
  }
};

}  // namespace

void validate(const NestJob& job) {
  auto problems = Checker(job).run();
  if (!problems.empty()) throw InputError(std::move(problems));
}

}  // namespace linerwright::nesting
