// The order of work of a run.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "linerwright/run/run.hpp"

namespace linerwright {

namespace {

// A stretch of the run that is joined in the shop.
struct Stretch {
  std::size_t first, last;  // fittings
};

std::vector<Stretch> stretches_of(const LaidRun& run) {
  std::vector<Stretch> stretches;
  for (std::size_t i = 0; i < run.fittings.size(); ++i) {
    if (i == 0 || run.fittings[i].field) stretches.push_back({i, i});
    stretches.back().last = i;
  }
  return stretches;
}

std::string names(const LaidRun& run, std::size_t first, std::size_t last) {
  std::string text;
  for (std::size_t i = first; i <= last; ++i) text += (i > first ? ", " : "") + shown(run.fittings[i].part);
  return text;
}

// How far along the fitting's own axis a piece reaches, from its start to its end.
struct Span {
  double from, to;
};

// The piece's ends projected on the way of the fitting that holds it: the nearest places of the line of
// centres.
Span span_of(const Placed& placed, const Piece& piece) {
  constexpr int k_rulings = 8;
  const Fitting& fitting = *placed.fitting;
  const Sheet& sheet = fitting.wall_of(piece).sheet;
  const double depth = liner_of(fitting, piece).outer_depth;
  Span span{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
  const auto nearest = [&](Vec3 p) {
    double best = std::numeric_limits<double>::max();
    double at = placed.way.front().distance;
    for (std::size_t i = 1; i < placed.way.size(); ++i) {
      const Vec3 a = placed.way[i - 1].point;
      const Vec3 along = placed.way[i].point - a;
      const double share = std::clamp(dot(p - a, along) / dot(along, along), 0.0, 1.0);
      const double off = distance(p, a + share * along);
      if (off >= best) continue;
      best = off;
      at = placed.way[i - 1].distance + share * (placed.way[i].distance - placed.way[i - 1].distance);
    }
    return at;
  };
  for (const End end : k_both_ends) {
    Vec3 middle{};
    for (int i = 0; i < k_rulings; ++i) {
      const double theta = piece.seam + k_two_pi * i / k_rulings;
      middle = middle + (1.0 / k_rulings) *
                            sheet.point(theta, liner_end(fitting, piece.wall, end, theta, depth), depth);
    }
    const double at = nearest(placed.frame.point(middle));
    span.from = std::min(span.from, at);
    span.to = std::max(span.to, at);
  }
  return span;
}

class Orderer {
 public:
  explicit Orderer(const LaidRun& run) : run_(run) {}

  RunOrder order() {
    for (std::size_t i = 0; i < run_.fittings.size(); ++i)
      if (!run_.fittings[i].lined_after) line_alone(i);
    const std::vector<Stretch> stretches = stretches_of(run_);
    for (const Stretch& stretch : stretches) {
      if (stretch.last > stretch.first) {
        add("shop", "join",
            fmt::format("join {} in the shop, flow arrows one way", names(run_, stretch.first, stretch.last)),
            {});
      }
      for (std::size_t i = stretch.first; i <= stretch.last; ++i)
        if (run_.fittings[i].lined_after) line_joined(i, stretch);
    }
    for (std::size_t s = 1; s < stretches.size(); ++s)
      add("field", "join",
          fmt::format("join {} to {} on site", shown(run_.fittings[stretches[s].first].part),
                      shown(run_.fittings[stretches[s - 1].last].part)),
          {});
    if (run_.run.close && !run_.run.close_to)
      add("field", "join",
          fmt::format("close the ring between {} and {}", shown(run_.fittings.back().part),
                      shown(run_.fittings.front().part)),
          {});
    return std::move(order_);
  }

 private:
  const LaidRun& run_;
  RunOrder order_;

  void add(std::string where, std::string what, std::string text, std::vector<std::string> pieces) {
    order_.steps.push_back({std::move(where), std::move(what), std::move(text), std::move(pieces)});
  }

  static std::vector<std::string> labels(const Placed& placed) {
    std::vector<std::string> pieces;
    for (const int index : placed.fitting->insertion)
      pieces.push_back(placed.fitting->tag + " " + placed.fitting->piece(index).id);
    return pieces;
  }

  static std::string turned(const Placed& placed) {
    if (placed.ring_turn == 0.0) return {};
    return fmt::format(", all seams {} degrees {} from where the pattern has them, seen from its start",
                       trimmed(std::fabs(placed.ring_turn) * 180.0 / k_pi, 1),
                       placed.ring_turn > 0.0 ? "clockwise" : "counter-clockwise");
  }

  void line_alone(std::size_t i) {
    const Placed& placed = run_.fittings[i];
    add("shop", "line", fmt::format("line {}{}", shown(placed.part), turned(placed)), labels(placed));
  }

  // From the open ends of its stretch, along the line of centres, every place of a piece is to be reached; a
  // branch of the fitting is such an end, too.
  void line_joined(std::size_t i, const Stretch& stretch) {
    const Placed& placed = run_.fittings[i];
    std::vector<double> ends;
    const double first = run_.fittings[stretch.first].way.front().distance;
    const double last = run_.fittings[stretch.last].way.back().distance;
    if (run_.fittings[stretch.first].in) ends.push_back(first);
    if (run_.fittings[stretch.last].out) ends.push_back(last);
    add("shop", "line",
        fmt::format("line {} when it is joined, through the open ends of {}{}", shown(placed.part),
                    names(run_, stretch.first, stretch.last), turned(placed)),
        labels(placed));
    for (const int index : placed.fitting->insertion) {
      const Piece& piece = placed.fitting->piece(index);
      const Span span = span_of(placed, piece);
      const double far = farthest(span, ends);
      if (far <= run_.run.reach + 1e-6) continue;
      const std::string label = placed.fitting->tag + " " + piece.id;
      const auto length = [&](double mm) { return format_quantity(Quantity::length, mm, run_.run.units, 0); };
      order_.unreached.push_back(
          {label, far,
           ends.empty() ? fmt::format("{} of {}: nobody could reach it: no end is open when it goes in",
                                      label, shown(placed.part))
                        : fmt::format("{} of {}: nobody could reach it: it lies {} from the nearest open "
                                      "end, and the reach is {}",
                                      label, shown(placed.part), length(far), length(run_.run.reach))});
    }
  }

  // The largest distance of a place of the span from the nearest end.
  static double farthest(const Span& span, const std::vector<double>& ends) {
    double far = 0.0;
    std::vector<double> places{span.from, span.to};
    if (ends.size() == 2) places.push_back(std::clamp(0.5 * (ends[0] + ends[1]), span.from, span.to));
    for (const double place : places) {
      double near = std::numeric_limits<double>::infinity();
      for (const double end : ends) near = std::min(near, std::fabs(place - end));
      far = std::max(far, near);
    }
    return far;
  }
};

}  // namespace

RunOrder order_of(const LaidRun& run) {
  return Orderer(run).order();
}

}  // namespace linerwright
