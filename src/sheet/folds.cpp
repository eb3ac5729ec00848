#include "linerwright/sheet/folds.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "fan.hpp"
#include "linerwright/sheet/panels.hpp"
#include "search.hpp"

namespace linerwright {

namespace {

constexpr double k_none = std::numeric_limits<double>::infinity();

double in_turn(double theta) {
  const double turn = theta - k_two_pi * std::floor(theta / k_two_pi);
  return turn < k_two_pi ? turn : 0.0;
}

// v at which a ruling, moved in to depth w, meets the plane of the rectangle, and of the circle.
double at_plane(const Sheet::Ruling& r, double w) {
  return w * r.normal.z / r.direction.z;
}

// v beyond the circle at which the layer ends there; infinite where its ruling comes to no collar.
double on_from_circle(const Sheet& sheet, const Sheet::Ruling& r, double w, RoundEnd round) {
  return round == RoundEnd::open ? at_plane(r, w) : way_to_collar(r, sheet.r2(), w).value_or(k_none);
}

// By the cone's flats and all its other rulings.
Best fold_of_all(const Fan& fan, double turn) {
  const double reach = fan.reach(turn);
  const double k = fan.lean(turn);
  return largest([&](double other) { return reach * fan.growth(turn, other, k); }, 0.0, k_quarter);
}

// Whether the cone's own rulings are nowhere nearer than its flats and the rectangle's plane.
bool flats_trim_all(const Sheet& sheet) {
  constexpr int k_rulings = 24;
  constexpr double k_rounding = 1e-12;
  for (int corner = 0; corner < 4; ++corner) {
    const Fan fan(sheet, corner, false);
    for (int i = 0; i <= k_rulings; ++i) {
      const double turn = k_quarter * i / k_rulings;
      const double others = std::max({fan.start(turn, 0.0), fan.start(turn, k_quarter), fan.plane(turn)});
      if (fold_of_all(fan, turn).value > others * (1.0 + k_rounding)) return false;
    }
  }
  return true;
}

// The same, kept for the sheet that was asked for last: every ruling's end asks it.
bool flats_trim(const Sheet& sheet) {
  using Sizes = std::array<double, 6>;
  const Sizes sizes{sheet.half_sides().x, sheet.half_sides().y, sheet.centre().x,
                    sheet.centre().y,     sheet.r2(),           sheet.height()};
  thread_local Sizes last{};
  thread_local bool trim = false;
  if (sizes != last) {
    trim = flats_trim_all(sheet);
    last = sizes;
  }
  return trim;
}

// Where it is known that the flats do it, by them alone.
Best fold_of(const Sheet& sheet, const Fan& fan, double turn) {
  if (!flats_trim(sheet)) return fold_of_all(fan, turn);
  const double first = fan.start(turn, 0.0);
  const double last = fan.start(turn, k_quarter);
  return last > first ? Best{k_quarter, last} : Best{0.0, first};
}

// Outside, 1 - n.n' is least where G is 1, on the other side of the steepest plane, which leans alike; or as
// near to that as the fan goes.
Best fold_outside(const Fan& fan, double turn) {
  const double other = std::clamp(2.0 * fan.steepest() - turn, 0.0, k_quarter);
  return {other, fan.start(turn, other)};
}

// On a flat's ruling, a distance `off` along the side from the corner, the plane of the corner's cone that
// trims most, by v: with u counted from the tip, u (r - off cot(turn/2)) = length (r - w G / S). Nothing
// where no plane trims it beyond `least`.
Best fold_on_flat(const Sheet& sheet, const Fan& fan, double length, double off, double w, double least) {
  constexpr double k_on_bend = 1e-9;  // mm: the bend line itself
  if (off < k_on_bend) off = 0.0;
  const double radius = sheet.r2();
  const double first = 2.0 * std::atan2(off, radius);
  if (!(first < k_quarter)) return {k_quarter, -k_none};
  const double k = fan.lean(0.0);
  const double size = Fan::size_of(k);
  // with G at its most, outside at its least, the nearest of them is the next flat's, at which cot(turn/2) is
  // 1
  const double left = radius - w * (w > 0.0 ? fan.most_growth() : 1.0) / size;
  if (left > 0.0 && off < radius && length * (1.0 - left / (radius - off)) < least)
    return {k_quarter, -k_none};
  return largest(
      [&](double turn) {
        const double inside = off > 0.0 ? radius - off / std::tan(0.5 * turn) : radius;
        if (!(inside > 0.0)) return -k_none;
        return length * (1.0 - (radius - w * fan.growth(0.0, turn, k) / size) / inside);
      },
      first, k_quarter);
}

// A cone's ruling against the planes of the cone on the other side of a flat, 2 `half` long: the lowest v.
Best fold_at_tip(const Sheet& sheet, const Fan& fan, const Fan& other, double half, double turn, double w) {
  const double radius = sheet.r2();
  const double k = fan.lean(turn);
  const double size = fan.size(turn);
  const double length = fan.length(turn);
  const Best found = largest(
      [&](double there) {
        const double s = std::sin(0.5 * (turn + there));
        const double between = 2.0 * half * std::sin(there) - 2.0 * radius * s * s;
        if (!(between > 0.0)) return -k_none;
        const double k_there = other.lean(there);
        const double apart = k - k_there;
        const double turned =
            apart * apart / (size * Fan::size_of(k_there) + 1.0 + k * k_there) + 2.0 * s * s;
        return -length * (1.0 + (2.0 * radius * s * s - w * turned / size) / between);
      },
      0.0, k_quarter);
  return {found.at, -found.value};
}

double half_side(const Sheet& sheet, int flat) {
  return flat % 2 == 0 ? sheet.half_sides().y : sheet.half_sides().x;
}

// Whether the cones beside a flat meet in a mitre at its tip.
bool mitred_tip(const Sheet& sheet, int flat, double w) {
  return w * sheet.ruling(k_quarter * flat).lean > 0.0;
}

// The mitre of a cone's ruling beside the flat at the fan's start; nothing where there is none.
std::optional<Best> tip_mitre(const Sheet& sheet, int corner, bool backwards, double turn, double w) {
  const int flat = (backwards ? corner + 1 : corner) % 4;
  if (!mitred_tip(sheet, flat, w)) return std::nullopt;
  const Fan fan(sheet, corner, backwards);
  const Fan other(sheet, (backwards ? corner + 1 : corner + 3) % 4, !backwards);
  Best best = fold_at_tip(sheet, fan, other, half_side(sheet, flat), turn, w);
  best.at = other.theta(best.at);
  return best;
}

}  // namespace

double tip_partner(const Sheet& sheet, int flat, double turn, double w) {
  if (!(turn > 0.0)) return 0.0;
  const std::optional<Best> mitre = tip_mitre(sheet, flat, false, turn, w);
  if (!mitre) return 0.0;
  const Sheet::Ruling own = sheet.ruling(corner_theta(flat, turn));
  const Vec3 point = own.base + mitre->value * own.direction - w * own.normal;
  // the other's plane is the nearest of its cone: how far the point lies under it does not change with the
  // turn there
  const auto change = [&](double theta) {
    const Sheet::Ruling r = sheet.ruling(theta);
    return dot(r.normal_slope, point - r.base);
  };
  double theta = mitre->at;
  constexpr double k_step = 1e-5;
  for (int step = 0; step < 4; ++step) {
    const double second = (change(theta + k_step) - change(theta - k_step)) / (2.0 * k_step);
    const double next = theta - change(theta) / second;
    if (!std::isfinite(next) || part_at(next - k_step).flat || part_at(next + k_step).flat) break;
    theta = next;
  }
  return k_quarter - corner_turn((flat + 3) % 4, theta);
}

namespace {

std::vector<double> ordered(std::vector<double> corners) {
  for (double& theta : corners) theta = in_turn(theta);
  std::sort(corners.begin(), corners.end());
  const auto last =
      std::unique(corners.begin(), corners.end(), [](double a, double b) { return b - a < 1e-12; });
  corners.erase(last, corners.end());
  return corners;
}

std::vector<double> part_starts() {
  std::vector<double> starts;
  for (int i = 0; i < 8; ++i) starts.push_back((i + 0.5) * k_part_span);
  return starts;
}

constexpr double k_on_corner = 1e-9;  // mm: rounding of where the higher panel ends on a flat

// Whether a local height beside a flat's corner is one at which the higher panel stands there, not its flat.
bool below_ear(const Sheet& sheet, int flat, bool next, double w, double z) {
  const PanelCorner corner = panel_corner(sheet, next ? flat : flat + 3);
  return corner.ear == (next ? LowPart::first : LowPart::second) && z < w * corner.high.z;
}

// Where a flat's ruling at depth w meets the higher panel of the flat after it or before it; nothing where it
// meets that flat itself or its cone, or where that panel is no higher.
std::optional<double> ear_on_flat(const Sheet& sheet, int flat, bool next, const Sheet::Ruling& r, double w) {
  const PanelCorner corner = panel_corner(sheet, next ? flat : flat + 3);
  if (corner.ear != (next ? LowPart::first : LowPart::second)) return std::nullopt;
  const double towards = k_quarter * (next ? flat + 1 : flat + 3);
  const Vec3 way{std::cos(towards), std::sin(towards), 0.0};
  const double within =
      (flat % 2 == 0 ? sheet.half_sides().y : sheet.half_sides().x) - w - dot(r.base - w * r.normal, way);
  const double nearer = dot(r.direction, way);  // along the ruling; away from that side
  if (!(nearer < 0.0)) return std::nullopt;
  const double v = within / nearer;
  const double z = v * r.direction.z - w * r.normal.z;
  if (!(z <= w * corner.high.z + k_on_corner) || !(z >= w * corner.low.z)) return std::nullopt;
  return v;
}

}  // namespace

LayerEnd low_end(const Sheet& sheet, double theta, double w) {
  const Sheet::Ruling r = sheet.ruling(theta);
  LayerEnd end{at_plane(r, w)};
  if (w == 0.0) return end;
  const WallPart part = part_at(theta);
  const bool on_panel = w > 0.0 && sheet.square_collar() > 0.0 && part.flat;
  if (on_panel) end.v = (w * panel_top(sheet, part.quarter) + w * r.normal.z) / r.direction.z;
  const auto try_fold = [&](const Fan& fan, const Best& fold) {
    if (fold.value > end.v) end = {fold.value, fan.theta(fold.at)};
  };
  if (!part.flat) {
    const Fan fan(sheet, part.quarter, false);
    const double turn = corner_turn(part.quarter, theta);
    if (w < 0.0 && !folds_outside(fan)) return end;
    Best fold = w > 0.0 ? fold_of(sheet, fan, turn) : fold_outside(fan, turn);
    fold.value *= w;
    try_fold(fan, fold);
    return end;
  }
  const double half = half_side(sheet, part.quarter);
  const double share = (theta - part.from) / k_part_span;
  const Fan after(sheet, part.quarter, false);
  const Fan before(sheet, (part.quarter + 3) % 4, true);
  const auto try_fan = [&](const Fan& fan, double along) {
    if (w > 0.0 || folds_outside(fan))
      try_fold(fan, fold_on_flat(sheet, fan, r.length, 2.0 * half * std::max(0.0, along), w, end.v));
  };
  for (const bool next : {true, false}) {
    // where a higher panel is met first, its flat and the cone lie above
    const std::optional<double> ear =
        on_panel ? ear_on_flat(sheet, part.quarter, next, r, w) : std::optional<double>{};
    if (ear && *ear > end.v) end = {*ear, k_quarter * (next ? part.quarter + 1 : part.quarter + 3)};
    if (ear) continue;
    const LayerEnd without = end;
    try_fan(next ? after : before, next ? 1.0 - share : share);
    if (on_panel && below_ear(sheet, part.quarter, next, w, end.v * r.direction.z - w * r.normal.z))
      end = without;
  }
  return end;
}

LayerEnd high_end(const Sheet& sheet, double theta, double w, RoundEnd round) {
  const Sheet::Ruling r = sheet.ruling(theta);
  LayerEnd end{r.length + on_from_circle(sheet, r, w, round)};
  const WallPart part = part_at(theta);
  if (part.flat) {
    if (r.length < end.v) end = {r.length, theta};
    return end;
  }
  const double turn = corner_turn(part.quarter, theta);
  for (const bool backwards : {false, true}) {
    const auto fold = tip_mitre(sheet, part.quarter, backwards, backwards ? k_quarter - turn : turn, w);
    if (fold && fold->value < end.v) end = {fold->value, fold->at};
  }
  return end;
}

double fold_start(const Sheet& sheet, double theta) {
  const WallPart part = part_at(theta);
  return fold_of(sheet, Fan(sheet, part.quarter, false), corner_turn(part.quarter, theta)).value;
}

double fold_edge(const Sheet& sheet, double theta) {
  const WallPart part = part_at(theta);
  const double turn = corner_turn(part.quarter, theta);
  return Fan(sheet, part.quarter, false).start(turn, turn);
}

bool folds_as_y(const Sheet& sheet) {
  return flats_trim(sheet);
}

std::vector<double> low_corners(const Sheet& sheet, double w) {
  std::vector<double> corners = part_starts();
  for (int corner = 0; corner < 4 && w != 0.0; ++corner) {
    const CornerLow low = corner_low(sheet, corner, w);
    if (low.level()) continue;
    for (const LowArc& arc : low.arcs) corners.push_back(corner_theta(corner, arc.to));
    for (const LowPart on : {LowPart::first, LowPart::second}) {
      const auto add = [&](Vec3 at) {
        corners.push_back(theta_on_flat(sheet, on == LowPart::first ? corner : (corner + 1) % 4, at, w));
      };
      const double theta = corner_theta(corner, low.far_end(on));
      add(low_place(sheet, theta, w));
      if (low.stem) add(sheet.ruling(theta).base + w * flats_foot(sheet, corner));
      if (w > 0.0 && sheet.square_collar() > 0.0)
        if (const PanelCorner panels = panel_corner(sheet, corner); panels.ear == on)
          add(sheet.ruling(theta).base + w * panels.low);
    }
  }
  return ordered(std::move(corners));
}

namespace {

// How far a cone's turn from the flat before it, or after it, the mitre at that flat's tip goes before it
// comes to the round end; nothing where there is none.
std::optional<double> tip_mitre_end(const Sheet& sheet, int corner, bool backwards, double w,
                                    RoundEnd round) {
  if (!mitred_tip(sheet, (backwards ? corner + 1 : corner) % 4, w)) return std::nullopt;
  const Fan fan(sheet, corner, backwards);
  return root(
      [&](double at) {
        const Sheet::Ruling r = sheet.ruling(fan.theta(at));
        return tip_mitre(sheet, corner, backwards, at, w)->value -
               (r.length + on_from_circle(sheet, r, w, round));
      },
      0.0, k_quarter);
}

}  // namespace

std::vector<double> high_corners(const Sheet& sheet, double w, RoundEnd round) {
  std::vector<double> corners = part_starts();
  for (int corner = 0; corner < 4; ++corner)
    for (const bool backwards : {false, true})
      if (const auto turn = tip_mitre_end(sheet, corner, backwards, w, round))
        corners.push_back(Fan(sheet, corner, backwards).theta(*turn));
  return ordered(std::move(corners));
}

bool tip_mitres_part(const Sheet& sheet, double w, RoundEnd round) {
  for (int corner = 0; corner < 4; ++corner) {
    const auto first = tip_mitre_end(sheet, corner, false, w, round);
    const auto second = tip_mitre_end(sheet, corner, true, w, round);
    if (!(first.value_or(0.0) + second.value_or(0.0) < k_quarter)) return false;
  }
  return true;
}

namespace {

// Whether every ruling of the cones has board at depth w.
bool has_board(const Sheet& sheet, double w, RoundEnd round) {
  constexpr int k_rulings = 48;
  for (int corner = 0; corner < 4; ++corner)
    for (int i = 0; i <= k_rulings; ++i) {
      // the first and last are a flat's as well
      const double turn = k_quarter * std::clamp(static_cast<double>(i) / k_rulings, 1e-9, 1.0 - 1e-9);
      const double theta = corner_theta(corner, turn);
      const double high = high_end(sheet, theta, w, round).v;
      if (!(low_end(sheet, theta, w).v < high) || !std::isfinite(high)) return false;
    }
  return true;
}

}  // namespace

double deepest_layer(const Sheet& sheet, RoundEnd round) {
  if (round == RoundEnd::collar) {
    double with = 0.0;
    double without = std::min(deepest_layer(sheet), sheet.r2());
    for (int step = 0; step < 24; ++step) {
      const double middle = 0.5 * (with + without);
      (has_board(sheet, middle, round) ? with : without) = middle;
    }
    return with;
  }
  double least = k_none;
  constexpr int k_rulings = 128;
  for (int corner = 0; corner < 4; ++corner) {
    const Fan fan(sheet, corner, false);
    for (int i = 0; i <= k_rulings; ++i) {
      const double turn = k_quarter * i / k_rulings;
      const double start = fold_of(sheet, fan, turn).value;
      const double length = fan.length(turn);
      // at depth w the ruling reaches the circle's plane in length (1 + w k / (S H)), on a bend line beside a
      // flat that leans inward its tip
      const double gain = fan.lean(turn) * length / (fan.size(turn) * sheet.height());
      const bool tip = i == 0 || i == k_rulings;
      const double shrinks = start - (tip ? std::min(gain, 0.0) : gain);
      if (shrinks > 0.0) least = std::min(least, length / shrinks);
    }
  }
  return least;
}

}  // namespace linerwright
