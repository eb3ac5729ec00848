#include "linerwright/sheet/folds.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "search.hpp"

namespace linerwright {

namespace {

constexpr double k_quarter = 0.5 * k_pi;
constexpr double k_none = std::numeric_limits<double>::infinity();

// The planes that touch a corner's cone, by the turn of their normal from the way that one of the two flats
// faces: from the flat at its start, or counted backwards from the other.
class Fan {
 public:
  Fan(const Sheet& sheet, int corner, bool backwards) : sheet_(sheet), backwards_(backwards) {
    const Vec2 half = sheet.half_sides();
    const double cs = std::cos(corner * k_quarter + k_part_span);
    const double sn = std::sin(corner * k_quarter + k_part_span);
    from_centre_ = Vec2{std::copysign(half.x, cs), std::copysign(half.y, sn)} - sheet.centre();
    first_ = k_quarter * (backwards ? corner + 1 : corner);
    corner_ = ((corner % 4) + 4) % 4;
  }

  double lean(double turn) const {
    return lean_of(dot(from_centre_, way(turn)) - sheet_.r2(), sheet_.height());
  }
  double size(double turn) const { return size_of(lean(turn)); }
  // Of a normal with this lean; `hypot` guards against sizes that do not occur here, at ten times the cost.
  static double size_of(double lean) { return std::sqrt(1.0 + lean * lean); }
  // Length of the ruling from the corner to the circle.
  double length(double turn) const {
    const Vec2 over = sheet_.r2() * way(turn) - from_centre_;
    return std::hypot(over.x, over.y, sheet_.height());
  }
  double theta(double turn) const { return corner_theta(corner_, backwards_ ? k_quarter - turn : turn); }
  // What no growth exceeds: q is at most this slope, and what it is divided by at least 1.
  double most_growth() const {
    return 1.0 + 2.0 * dot(from_centre_, from_centre_) / (sheet_.height() * sheet_.height());
  }

  // How much farther two planes of the fan stand from each other than those of a right cylinder would: 1 -
  // n.n' = 2 s^2 G / (S S') with s the sine of half the turn between them. From (1 + k^2)(1 + k'^2) - (1 + k
  // k')^2 = (k - k')^2, and k - k' = 2 s q with q the slope of k half way between them.
  double growth(double turn, double other) const { return growth(turn, other, lean(turn)); }
  double growth(double turn, double other, double k) const {
    const double middle = 0.5 * (turn + other);
    const Vec2 across{-std::sin(angle(middle)), std::cos(angle(middle))};
    const double q = dot(from_centre_, across) / sheet_.height();
    const double k_other = lean(other);
    return 1.0 + 2.0 * q * q / (size_of(k) * size_of(k_other) + 1.0 + k * k_other);
  }

  // Where the ruling at `turn` meets the plane at `other`, per unit of depth, from the corner. The plane goes
  // through the corner, and n'.d = -2 r s^2 / (S' l): so s drops out, and the formula holds for neighbours.
  double start(double turn, double other) const { return reach(turn) * growth(turn, other); }
  double reach(double turn) const { return length(turn) / (sheet_.r2() * size(turn)); }

 private:
  double angle(double turn) const { return backwards_ ? first_ - turn : first_ + turn; }
  Vec2 way(double turn) const { return {std::cos(angle(turn)), std::sin(angle(turn))}; }

  const Sheet& sheet_;
  bool backwards_;
  Vec2 from_centre_;
  double first_;
  int corner_;
};

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

// Whether the cone's own rulings are nowhere nearer than its flats.
bool flats_trim_all(const Sheet& sheet) {
  constexpr int k_rulings = 24;
  constexpr double k_rounding = 1e-12;
  for (int corner = 0; corner < 4; ++corner) {
    const Fan fan(sheet, corner, false);
    for (int i = 0; i <= k_rulings; ++i) {
      const double turn = k_quarter * i / k_rulings;
      const double flats = std::max(fan.start(turn, 0.0), fan.start(turn, k_quarter));
      if (fold_of_all(fan, turn).value > flats * (1.0 + k_rounding)) return false;
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
  // with G at its most the nearest of them is the next flat's, at which cot(turn/2) is 1
  const double left = radius - w * fan.most_growth() / size;
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

}  // namespace

LayerEnd low_end(const Sheet& sheet, double theta, double w) {
  const Sheet::Ruling r = sheet.ruling(theta);
  LayerEnd end{at_plane(r, w)};
  if (!(w > 0.0)) return end;
  const WallPart part = part_at(theta);
  const auto try_fold = [&](const Fan& fan, const Best& fold) {
    if (fold.value > end.v) end = {fold.value, fan.theta(fold.at)};
  };
  if (!part.flat) {
    const Fan fan(sheet, part.quarter, false);
    Best fold = fold_of(sheet, fan, corner_turn(part.quarter, theta));
    fold.value *= w;
    try_fold(fan, fold);
    return end;
  }
  const double half = half_side(sheet, part.quarter);
  const double share = (theta - part.from) / k_part_span;
  const Fan after(sheet, part.quarter, false);
  const Fan before(sheet, (part.quarter + 3) % 4, true);
  try_fold(after, fold_on_flat(sheet, after, r.length, 2.0 * half * std::max(0.0, 1.0 - share), w, end.v));
  try_fold(before, fold_on_flat(sheet, before, r.length, 2.0 * half * std::max(0.0, share), w, end.v));
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

CornerFold corner_fold(const Sheet& sheet, int corner) {
  const Fan fan(sheet, corner, false);
  // one flat may trim all of the cone: then the fork lies on the other's bend line
  const auto nearer = [&](double at) { return fan.growth(at, k_quarter) - fan.growth(at, 0.0); };
  const double turn = nearer(0.0) >= 0.0         ? 0.0
                      : nearer(k_quarter) <= 0.0 ? k_quarter
                                                 : root(nearer, 0.0, k_quarter);
  CornerFold fold{};
  fold.fork_theta = fan.theta(turn);
  const Sheet::Ruling r = sheet.ruling(fold.fork_theta);
  const auto trimmed = [&](double at) { return std::max(fan.start(at, 0.0), fan.start(at, k_quarter)); };
  fold.fork = trimmed(turn) * r.direction - r.normal;
  // N.x <= A - w S on either flat
  const double along = fan.size(0.0);
  const double aside = fan.size(k_quarter);
  const double cs = std::cos(corner * k_quarter);
  const double sn = std::sin(corner * k_quarter);
  fold.foot = {-along * cs + aside * sn, -along * sn - aside * cs, 0.0};
  fold.first_end = trimmed(0.0);
  fold.second_end = trimmed(k_quarter);
  return fold;
}

bool folds_as_y(const Sheet& sheet) {
  return flats_trim(sheet);
}

std::vector<double> low_corners(const Sheet& sheet, double w) {
  std::vector<double> corners = part_starts();
  for (int corner = 0; corner < 4 && w > 0.0; ++corner) {
    const CornerFold fold = corner_fold(sheet, corner);
    corners.push_back(fold.fork_theta);
    const Vec3 at = sheet.ruling(fold.fork_theta).base;
    for (const int flat : {corner, (corner + 1) % 4})
      for (const Vec3 way : {fold.foot, fold.fork})
        corners.push_back(theta_on_flat(sheet, flat, at + w * way, w));
  }
  return ordered(std::move(corners));
}

std::vector<double> high_corners(const Sheet& sheet, double w, RoundEnd round) {
  std::vector<double> corners = part_starts();
  for (int corner = 0; corner < 4; ++corner)
    for (const bool backwards : {false, true}) {
      if (!mitred_tip(sheet, (backwards ? corner + 1 : corner) % 4, w)) continue;
      const Fan fan(sheet, corner, backwards);
      const double turn = root(
          [&](double at) {
            const Sheet::Ruling r = sheet.ruling(fan.theta(at));
            return tip_mitre(sheet, corner, backwards, at, w)->value -
                   (r.length + on_from_circle(sheet, r, w, round));
          },
          0.0, k_quarter);
      corners.push_back(fan.theta(turn));
    }
  return ordered(std::move(corners));
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
