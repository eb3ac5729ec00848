// Sections of the bore square to the way through it: to the first end's axis in the collars, and in the taper
// to the line of centres, which leans by e/H where the second circle's centre is moved by e over the height
// H. The planes turn from the one to the other about the metal's rim on the side toward which they lean, as a
// bend's do about its throat; where the ends stand too near each other for the whole lean, they turn as far
// as both rims let them. So all planes lie between the ends, and none crosses another.
//
// With a plane's unit vectors a, b and a point q in it, the tangent plane of ruling theta on the air face
// (depth t) of the taper, (cos, sin, c) X = r1 - t sqrt(1 + c^2), c = (r1 - r2 - e cos theta) / H, shows in
// it as a line at the distance h = g/L in the direction psi: L (cos psi, sin psi) = ((cos, sin, c) a, (cos,
// sin, c) b), g = r1 - t sqrt(1 + c^2) - (cos, sin, c) q. The taper's part of the section is the envelope of
// these lines; its share of the area, about q, is 1/2 integral of h (h + h'') dpsi = 1/2 integral of (h^2 -
// h'^2) dpsi + 1/2 [h h']. A collar's is the same with c = 0 and its own radius. The corners of the air face
// walk along the axis by t tan(phi/2), more where the wall leans more. Counted from the side toward which the
// second end is moved (where a flat taper grows, the offset is negative and that side is ruling pi), c grows
// with theta, so the section is made of the first collar up to one ruling, of the taper up to another, and of
// the second collar from there on. In a steep taper all three may lie in one plane.
#include "taper_bore.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace linerwright {

namespace {

constexpr int k_steps = 8;  // between the taper's two seams

double circle(double radius) {
  return k_pi * radius * radius;
}

// A plane across the way, by its middle (x, 0, z) on it and how far it leans: its normal is (lean, 0, 1).
struct Cut {
  double x = 0.0;
  double z = 0.0;
  double lean = 0.0;
};

class TaperBore {
 public:
  TaperBore(const Fitting& fitting, const Taper& taper, int wall)
      : fitting_(fitting),
        taper_(taper),
        wall_(wall),
        t_(fitting.liner.bore_depth()),
        turned_(taper.offset < 0.0 ? k_pi : 0.0) {
    taper_.offset = std::fabs(taper.offset);
  }

  // Height at which the air face of the ruling at theta from the offset's side begins or ends.
  double corner(End end, double theta) const {
    const Sheet& sheet = fitting_.wall(wall_).sheet;
    const double ruling = theta + turned_;
    return sheet.frame().local_point(sheet.point(ruling, shell_end(fitting_, wall_, end, ruling, t_), t_)).z;
  }

  // Area left open.
  double area(const Cut& cut) const {
    const double from = boundary(End::low, cut);
    if (from >= k_pi) return circle(taper_.r1 - t_);
    const double to = boundary(End::high, cut);
    if (to <= 0.0) return circle(taper_.r2 - t_);
    double half = 0.0;
    if (from > 0.0) {
      const Vec3 end = point(cut, from);
      half += part(cut, collar(End::low), 0.0, std::atan2(end.y, end.x));
    }
    if (to > from) half += part(cut, taper_wall(), from, to);
    if (to < k_pi) {
      const Vec3 begin = point(cut, to);
      half += part(cut, collar(End::high), std::atan2(begin.y, begin.x - taper_.offset), k_pi);
    }
    return 2.0 * half;
  }

  // Area inside the metal. A plane that leans shows an ellipse of the cone: with z = z0 - lean x in it, the
  // circle of height z, (x - e z/H)^2 + y^2 = R(z)^2, is y^2 = (r - k x)^2 - (a x - b)^2; seen along the axis
  // its half axes are w across and w / sqrt(a^2 - k^2), w^2 = r^2 - b^2 + (a b - k r)^2 / (a^2 - k^2).
  double bare_area(const Cut& cut) const {
    if (cut.lean == 0.0) {
      const double share = std::clamp(cut.z / taper_.length, 0.0, 1.0);
      const double radius = taper_.r1 + (taper_.r2 - taper_.r1) * share;
      return circle(radius);
    }
    const double grows = (taper_.r2 - taper_.r1) / taper_.length;
    const double moves = taper_.offset / taper_.length;
    const double at_zero = cut.z + cut.lean * cut.x;
    const double a = 1.0 + moves * cut.lean;
    const double b = moves * at_zero;
    const double r = taper_.r1 + grows * at_zero;
    const double k = grows * cut.lean;
    const double squared = a * a - k * k;
    const double across = r * r - b * b + (a * b - k * r) * (a * b - k * r) / squared;
    return k_pi * across / std::sqrt(squared) * std::sqrt(1.0 + cut.lean * cut.lean);
  }

  // The plane through (x, 0, z) that leans so far.
  Cut through(double x, double z, double lean) const {
    const double e = taper_.offset;
    const double at_zero = z + lean * x;
    if (at_zero <= 0.0) return {0.0, at_zero, lean};
    const double middle = at_zero / (1.0 + lean * e / taper_.length);
    if (middle <= taper_.length) return {e * middle / taper_.length, middle, lean};
    return {e, at_zero - lean * e, lean};
  }

  const Taper& taper() const { return taper_; }

 private:
  // A tangent plane (cos, sin, c) X = reach of a wall, with its derivatives by theta.
  struct Tangent {
    double c, c1, reach, reach1;
  };
  using Tangents = std::function<Tangent(double)>;

  Tangents taper_wall() const {
    return [this](double theta) -> Tangent {
      const double c = (taper_.r1 - taper_.r2 - taper_.offset * std::cos(theta)) / taper_.length;
      const double c1 = taper_.offset * std::sin(theta) / taper_.length;
      const double s = std::sqrt(1.0 + c * c);
      return {c, c1, taper_.r1 - t_ * s, -t_ * c * c1 / s};
    };
  }

  Tangents collar(End end) const {
    const double radius = (end == End::high ? taper_.r2 : taper_.r1) - t_;
    const double moved = end == End::high ? taper_.offset : 0.0;
    return [radius, moved](double theta) -> Tangent {
      return {0.0, 0.0, radius + moved * std::cos(theta), -moved * std::sin(theta)};
    };
  }

  // The line in which a tangent plane shows in the cut: its distance from the cut's middle, that one's
  // derivative by the line's direction, the direction and its derivative by theta.
  struct Line {
    double h, slope, psi, turn;
  };

  static Line line(const Cut& cut, const Tangents& tangents, double theta) {
    const Tangent at = tangents(theta);
    const double k = std::sqrt(1.0 + cut.lean * cut.lean);
    const double cosine = std::cos(theta);
    const double sine = std::sin(theta);
    const double u = (cosine - cut.lean * at.c) / k;
    const double u1 = (-sine - cut.lean * at.c1) / k;
    const double squared = u * u + sine * sine;
    const double g = at.reach - cosine * cut.x - at.c * cut.z;
    const double g1 = at.reach1 + sine * cut.x - at.c1 * cut.z;
    const double length = std::sqrt(squared);
    const double turn = (u * cosine - sine * u1) / squared;
    const double h1 = g1 / length - g * (u * u1 + sine * cosine) / (squared * length);
    return {g / length, h1 / turn, std::atan2(sine, u), turn};
  }

  // Where a ruling of the taper passes the cut.
  Vec3 point(const Cut& cut, double theta) const {
    const Line at = line(cut, taper_wall(), theta);
    const double along = at.h * std::cos(at.psi) - at.slope * std::sin(at.psi);
    const double across = at.h * std::sin(at.psi) + at.slope * std::cos(at.psi);
    const double k = std::sqrt(1.0 + cut.lean * cut.lean);
    return {cut.x + along / k, across, cut.z - along * cut.lean / k};
  }

  static double part(const Cut& cut, const Tangents& tangents, double from, double to) {
    const auto ends = [&](double theta) {
      const Line at = line(cut, tangents, theta);
      return at.h * at.slope;
    };
    return 0.5 * (integrate(
                      [&](double theta) {
                        const Line at = line(cut, tangents, theta);
                        return (at.h * at.h - at.slope * at.slope) * at.turn;
                      },
                      from, to, 12) +
                  ends(to) - ends(from));
  }

  // Half way around, the ruling up to which the cut lies under the taper's beginning (or short of its end).
  double boundary(End end, const Cut& cut) const {
    if ((end == End::high ? taper_.to_collar : taper_.collar) == 0.0)
      return end == End::high ? k_pi : 0.0;  // an open end
    const auto over = [&](double theta) {
      return (cut.lean == 0.0 ? cut.z : point(cut, theta).z) >= corner(end, theta);
    };
    if (over(0.0)) return 0.0;
    if (!over(k_pi)) return k_pi;
    double under = 0.0;
    double beyond = k_pi;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (under + beyond);
      (over(middle) ? beyond : under) = middle;
    }
    return 0.5 * (under + beyond);
  }

  const Fitting& fitting_;
  Taper taper_;  // its offset counted toward ruling 0
  int wall_;
  double t_;
  double turned_;  // the wall's ruling that lies toward the offset
};

// Where `f` is least between a and b, to a hundred thousandth of the way (golden section).
double least_between(const std::function<double(double)>& f, double a, double b) {
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double x1 = b - golden * (b - a);
  double x2 = a + golden * (b - a);
  double f1 = f(x1);
  double f2 = f(x2);
  for (int i = 0; i < 24; ++i) {
    if (f1 < f2) {
      b = x2;
      x2 = x1;
      f2 = f1;
      f1 = f(x1 = b - golden * (b - a));
    } else {
      a = x1;
      x1 = x2;
      f1 = f2;
      f2 = f(x2 = a + golden * (b - a));
    }
  }
  return 0.5 * (a + b);
}

struct Place {
  Cut cut;
  std::string name;
};

// The cuts of a taper, from one seam to the other.
class TaperCuts {
 public:
  explicit TaperCuts(const TaperBore& bore)
      : bore_(bore),
        taper_(bore.taper()),
        first_{bore.corner(End::low, k_pi), bore.corner(End::low, 0.0)},
        second_{bore.corner(End::high, k_pi), bore.corner(End::high, 0.0)},
        clear_(first_.second < second_.first) {}

  std::vector<Place> places() {
    const double low = clear_ ? first_.second : first_.first;
    const double high = clear_ ? second_.first : second_.second;
    low_rim_ = std::max(0.0, low);
    high_rim_ = std::min(taper_.length, high);
    most_ = clear_ && low_rim_ < high_rim_ ? most_lean() : 0.0;
    for (int i = 0; i <= k_steps; ++i) {
      if (i > 0 && i < k_steps && most_ > 0.0) continue;
      add(square(low + (high - low) * i / k_steps),
          i == 0         ? taper_.collar > 0.0 ? "first seam" : "first end"
          : i == k_steps ? taper_.to_collar > 0.0 ? "second seam" : "second end"
                         : "taper");
    }
    if (most_ > 0.0) add_leaning();
    add_seams();
    return in_order();
  }

 private:
  Cut square(double z) const { return bore_.through(0.0, z, 0.0); }
  Cut about_low(double lean) const { return bore_.through(low_edge(), low_rim_, lean); }
  Cut about_high(double lean) const { return bore_.through(high_edge(), high_rim_, lean); }
  void add(const Cut& cut, const char* name) { places_.push_back({cut, name}); }

  // Where the planes turn about the rims: the collars', or of an open end the wall's at the lining's end.
  double low_edge() const {
    const double share = taper_.collar > 0.0 ? 0.0 : low_rim_ / taper_.length;
    return taper_.r1 + (taper_.offset + taper_.r2 - taper_.r1) * share;
  }
  double high_edge() const {
    const double share = taper_.to_collar > 0.0 ? 1.0 : high_rim_ / taper_.length;
    return taper_.offset - taper_.r2 - (taper_.offset - taper_.r2 + taper_.r1) * (1.0 - share);
  }

  // Square to the line of centres, or as far as both rims let the planes turn.
  double most_lean() const {
    const double lean = taper_.offset / taper_.length;
    const double between = low_edge() - high_edge();  // of the rims, sideways
    return between > 0.0 ? std::min(lean, (high_rim_ - low_rim_) / between) : lean;
  }

  void add_leaning() {
    const auto turned_about = [&](const std::function<Cut(double)>& about) {
      add(about(0.5 * most_), "taper");
      add(about(most_), "taper");
      const double least = least_between([&](double lean) { return bore_.area(about(lean)); }, 0.0, most_);
      if (bore_.area(about(least)) <
          std::min(bore_.area(about(0.0)), bore_.area(about(most_))) * (1.0 - 1e-9))
        add(about(least), "taper");
    };
    turned_about([&](double lean) { return about_low(lean); });
    turned_about([&](double lean) { return about_high(lean); });
    for (int i = 1; i < 4; ++i) {
      const double share = 0.25 * i;
      add(bore_.through(low_edge() + (high_edge() - low_edge()) * share,
                        low_rim_ + (high_rim_ - low_rim_) * share, most_),
          "taper");
    }
  }

  // Where the wall leans outward on one side and inward on the other, the bore may be narrowest while it
  // passes a seam; elsewhere its area falls or grows all the way.
  void add_seams() {
    if (taper_.offset <= std::fabs(taper_.r1 - taper_.r2)) return;
    const auto area = [&](double z) { return bore_.area(square(z)); };
    const double ends[2][2] = {{first_.first, clear_ ? first_.second : second_.second},
                               {second_.first, second_.second}};
    for (const auto& [from, to] : ends) {
      if (!(to > from)) continue;
      const double z = least_between(area, from, to);
      if (area(z) < std::min(area(from), area(to)) * (1.0 - 1e-9)) add(square(z), "passing the seam");
    }
  }

  std::vector<Place> in_order() {
    const auto along = [](const Place& place) { return place.cut.z; };
    std::stable_sort(places_.begin(), places_.end(),
                     [&](const Place& a, const Place& b) { return along(a) < along(b); });
    places_.erase(std::unique(places_.begin(), places_.end(),
                              [&](const Place& a, const Place& b) { return along(b) - along(a) < 1e-6; }),
                  places_.end());
    return std::move(places_);
  }

  const TaperBore& bore_;
  const Taper& taper_;
  std::pair<double, double> first_, second_;  // heights of the air face's corners, least and most
  bool clear_;                                // a plane square to the first axis lies in the taper all around
  double low_rim_ = 0.0, high_rim_ = 0.0, most_ = 0.0;
  std::vector<Place> places_;
};

}  // namespace

void add_taper_passage(Fitting& fitting, const Taper& taper, int wall) {
  const Frame& frame = fitting.wall(wall).sheet.frame();
  const double t = fitting.liner.bore_depth();
  Passage passage{"through", {}};
  // along the line of centres, which leans where the second end is moved aside
  const double way = std::hypot(taper.length, taper.offset);
  const auto distance = [&](double z) {
    const double share = std::clamp(z / taper.length, 0.0, 1.0);
    return taper.collar + z + share * (way - taper.length);
  };
  const double side = taper.offset < 0.0 ? -1.0 : 1.0;  // of the offset, in the frame
  const auto add = [&](const Cut& cut, double area, double bare, const std::string& place) {
    const Vec3 normal = (1.0 / std::hypot(1.0, cut.lean)) * frame.direction({side * cut.lean, 0.0, 1.0});
    passage.stations.push_back({distance(cut.z),
                                std::sqrt(4.0 * bare / k_pi),
                                std::sqrt(4.0 * area / k_pi),
                                area,
                                {frame.point({side * cut.x, 0.0, cut.z}), normal},
                                place});
  };
  const TaperBore bore(fitting, taper, wall);
  if (taper.collar > 0.0) add({0.0, -taper.collar, 0.0}, circle(taper.r1 - t), circle(taper.r1), "first end");
  for (const Place& place : TaperCuts(bore).places())
    add(place.cut, bore.area(place.cut), bore.bare_area(place.cut), place.name);
  if (taper.to_collar > 0.0)
    add({std::fabs(taper.offset), taper.length + taper.to_collar, 0.0}, circle(taper.r2 - t),
        circle(taper.r2), "second end");
  const double end = distance(taper.length);
  passage.metal = {{0.0, 2.0 * taper.r1}, {taper.collar, 2.0 * taper.r1}, {end, 2.0 * taper.r2}};
  if (taper.to_collar > 0.0) passage.metal.push_back({end + taper.to_collar, 2.0 * taper.r2});
  fitting.passages.push_back(std::move(passage));
}

}  // namespace linerwright
