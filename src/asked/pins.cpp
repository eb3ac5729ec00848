#include "pins.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

namespace linerwright::asked {

namespace {

constexpr double k_arm = 5.0;    // mm from the middle of a cross
constexpr double k_same = 0.01;  // mm

// Middles of two lines of one length, level and upright, that cross in their middles; by how far along they
// lie.
std::map<double, std::vector<double>> columns_in(const Drawn& drawn) {
  std::vector<Point> level;
  std::vector<Point> upright;
  for (const Entity& entity : drawn.entities) {
    if (entity.layer != "MARK" || entity.closed || entity.points.size() != 2) continue;
    const Point& a = entity.points[0];
    const Point& b = entity.points[1];
    const Point middle{(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0};
    if (std::abs(std::abs(a[0] - b[0]) - 2.0 * k_arm) < k_same && std::abs(a[1] - b[1]) < k_same)
      level.push_back(middle);
    if (std::abs(std::abs(a[1] - b[1]) - 2.0 * k_arm) < k_same && std::abs(a[0] - b[0]) < k_same)
      upright.push_back(middle);
  }
  std::map<double, std::vector<double>> columns;
  for (const Point& cross : level) {
    if (std::none_of(upright.begin(), upright.end(), [&](const Point& other) {
          return std::hypot(cross[0] - other[0], cross[1] - other[1]) < k_same;
        }))
      continue;
    const auto near = columns.lower_bound(cross[0] - k_same);
    const bool there = near != columns.end() && near->first < cross[0] + k_same;
    columns[there ? near->first : cross[0]].push_back(cross[1]);
  }
  for (auto& [x, heights] : columns) std::sort(heights.begin(), heights.end());
  return columns;
}

// What both faces have between their ends at a place on the board.
struct Stretch {
  double low, high;
};

class Board {
 public:
  Board(const Part& part, const Request& request, const Flat& flat, double lift)
      : part_(part), request_(request), flat_(flat), lift_(lift) {}

  Stretch at(double x) const {
    const double share = request_.word("face_up") == "air" ? 1.0 - x / flat_.width : x / flat_.width;
    const double theta = part_.start + part_.span * share;
    Stretch stretch{-1e300, 1e300};
    for (const double w : {request_.outer_face(), request_.inner_face()}) {
      stretch.low = std::max(stretch.low, part_.low ? *part_.low : part_.wall->low(theta, w));
      stretch.high = std::min(stretch.high, part_.high ? *part_.high : part_.wall->high(theta, w));
    }
    return {stretch.low + lift_, stretch.high + lift_};
  }

  // Whether the board is too short for pins somewhere between two places.
  bool is_short_between(double from, double to) const {
    constexpr int k_steps = 200;
    for (int i = 0; i <= k_steps; ++i) {
      const Stretch stretch = at(from + (to - from) * i / k_steps);
      if (stretch.high - stretch.low < 2.0 * request_.value("pin_edge")) return true;
    }
    return false;
  }

  bool has_hole(double x) const {
    return std::any_of(flat_.holes.begin(), flat_.holes.end(), [&](const Flat::Hole& hole) {
      bool before = false;
      bool behind = false;
      for (const Point& point : hole.duct) (point[0] < x ? before : behind) = true;
      return before && behind;
    });
  }

 private:
  const Part& part_;
  const Request& request_;
  const Flat& flat_;
  double lift_;
};

}  // namespace

void prove_pins(const Drawn& drawn, const Part& part, const Request& request, const Flat& flat, double lift,
                const std::string& where, Worst& pins) {
  const auto columns = columns_in(drawn);
  if (!(2.0 * part.wall->radius > request.value("pins_above"))) {
    pins.off(static_cast<double>(columns.size()), where + " has pins");
    return;
  }
  const Board board(part, request, flat, lift);
  const double edge = request.value("pin_edge");
  const double around = request.value("pin_around");
  const double along = request.value("pin_along");
  const double from_seam = std::min(edge, flat.width / 4.0);
  std::vector<double> places{from_seam};  // and where a column is wanted for certain
  for (const auto& [x, heights] : columns) places.push_back(x);
  places.push_back(flat.width - from_seam);
  for (std::size_t i = 1; i < places.size(); ++i) {
    const bool outermost = i == 1 || i + 1 == places.size();
    const double more = places[i] - places[i - 1] - (outermost ? 0.0 : around);
    if (more > 0.0 && !board.is_short_between(places[i - 1], places[i]) && !board.has_hole(places[i]) &&
        !board.has_hole(places[i - 1]))
      pins.off(more, where + " from column to column");
  }
  for (const auto& [x, heights] : columns) {
    pins.off(std::max({0.0, from_seam - x, x - flat.width + from_seam}), where + " from the seam");
    if (board.has_hole(x)) continue;
    const Stretch stretch = board.at(x);
    pins.off(heights.front() - stretch.low - edge, where + " from an end");
    pins.off(stretch.high - edge - heights.back(), where + " from an end");
    for (std::size_t i = 1; i < heights.size(); ++i)
      pins.off(std::max(0.0, heights[i] - heights[i - 1] - along), where + " along");
  }
}

}  // namespace linerwright::asked
