// Notched blanks as the proof sees them.
#pragma once

#include <string>
#include <vector>

#include "proofs.hpp"
#include "worst.hpp"

namespace linerwright::asked {

// One blank as fitting.json has it, and the radii of its duct face at the bend line and at its small end.
struct NotchedPart {
  const MadePiece* made;
  std::string ring;  // its id without the panel's number
  bool collar = false;
  double start = 0.0, span = 0.0;
  double large = 0.0, small = 0.0;
  double blur = 0.0;  // mm along the wall, of a ring's edge whose radius is told by a girth's last decimal
};

struct NotchedReducer {
  explicit NotchedReducer(const Case& asked) : request(asked.made.request) {
    for (const Wall& wall : asked.wanted.walls)
      if (wall.id == "taper") taper = &wall;
    if (taper == nullptr) throw Unreadable("a notched blank without a taper");
    grows = taper->to_radius > taper->radius;
    for (const Wall& wall : asked.wanted.walls)
      if (wall.id == (grows ? "tocollar" : "collar")) collar = &wall;
    large = std::max(taper->radius, taper->to_radius);
    small = std::min(taper->radius, taper->to_radius);
    allowance = request.value("fit_allowance");
    keeps = request.value("neutral_factor") * request.value("thickness");
  }
  double share_of(double radius) const {  // of the axis, from the first circle
    const double from_large = (large - radius) / (large - small);
    return grows ? 1.0 - from_large : from_large;
  }
  // The circle of this radius on a ruling, and the plane through it at depth w.
  double circle(double radius, double theta) const { return share_of(radius) * taper->full_ruling(theta); }
  double plane(double radius, double theta, double w) const {
    const double c = taper->lean(theta);
    return circle(radius, theta) + w * c / std::sqrt(1.0 + c * c) * taper->full_ruling(theta) / taper->taper;
  }
  // Heights over the bend line, toward the second end: of the large edge, of the small edge.
  double large_height(const NotchedPart& blank, double theta, double w) const {
    if (blank.collar) return grows ? collar->high(theta, w) : collar->low(theta, w);
    const bool outer = std::abs(blank.large - large) < 1e-6;
    const double v = !outer  ? plane(blank.large, theta, w)
                     : grows ? taper->high(theta, w)
                             : taper->low(theta, w);
    return v - circle(blank.large, theta);
  }
  double small_height(const NotchedPart& blank, double theta, double w) const {
    const bool outer = std::abs(blank.small - small) < 1e-6;
    const double v = !outer  ? plane(blank.small, theta, w)
                     : grows ? taper->low(theta, w)
                             : taper->high(theta, w);
    return v - circle(blank.large, theta);
  }
  // What half a last decimal of the girths of a ring's panels moves its edge along the wall.
  double blur(std::size_t panels) const {
    return 0.5e-6 * static_cast<double>(panels) / k_turn * longest_ruling() / (large - small);
  }
  double longest_ruling() const {
    return std::hypot(taper->taper, large - small + std::hypot(taper->shift[0], taper->shift[1]));
  }
  double girth(double radius) const { return k_turn * (radius - keeps) - allowance; }

  const Request& request;
  const Wall* taper = nullptr;
  const Wall* collar = nullptr;  // the large one
  bool grows = false;
  double large = 0.0, small = 0.0, allowance = 0.0, keeps = 0.0;
};

// What the knife goes around: the blank, and holes in it.
struct NotchedCuts {
  std::vector<Point> outline;
  std::vector<std::vector<Point>> holes;
};

constexpr double k_cut = 0.055;  // mm: chords of the file, and the place of a vertex

struct HoleLines {
  Worst cuts{"notched openings", k_cut, "mm",
             "what the knife follows around openings laid out on their tabs"};
  Worst stations{"opening stations", 2e-5, "mm", "openings' edges at their stations, both faces"};
};

// Openings that lie on a blank, in the order in which they are listed there, the collar's first: their
// stations, and the knife's way around them.
void prove_openings(const NotchedReducer& reducer, const NotchedPart& blank, const NotchedCuts& cuts,
                    HoleLines& lines);

}  // namespace linerwright::asked
