// Sections of the bore square to the first end's axis. On the air face (depth t) the taper's tangent plane of
// ruling theta cuts the plane at height z in a line whose distance from the first axis is
//   h = R(z) + e z/H cos theta - t sqrt(1 + c^2),   c = (r1 - r2 - e cos theta) / H,
// so the taper's part of the section is the envelope of these lines, (h cos - h' sin, h sin + h' cos), and
// its share of the area is 1/2 integral of h (h + h'') dtheta. The corners of the air face walk along the
// axis by t tan(phi/2), more where the wall leans more. Counted from the side toward which the second end is
// moved (where a flat taper grows, the offset is negative and that side is ruling pi), c grows with theta, so
// the section is made of the first collar's circle up to one ruling, of the taper up to another, and of the
// second collar's circle from there on. In a steep taper all three may lie in one plane.
#include "taper_bore.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace linerwright {

namespace {

constexpr int k_steps = 8;  // between the taper's two seams

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
  double corner(bool upper, double theta) const {
    const Sheet& sheet = fitting_.walls[static_cast<std::size_t>(wall_)].sheet;
    const double ruling = theta + turned_;
    return sheet.frame()
        .local_point(sheet.point(ruling, end_height(fitting_, wall_, upper, ruling, t_, true), t_))
        .z;
  }

  double area(double z) const {
    const double from = boundary(false, z);
    const double to = boundary(true, z);
    double half = 0.0;
    if (from > 0.0) {
      const Vec2 end = from < k_pi ? point(from, z) : Vec2{-1.0, 0.0};
      half += 0.5 * square(taper_.r1 - t_) * std::atan2(end.y, end.x);
    }
    if (to > from) half += taper_part(z, from, to);
    if (to < k_pi) {
      const double radius = taper_.r2 - t_;
      const Vec2 begin = to > 0.0 ? point(to, z) : Vec2{taper_.offset + 1.0, 0.0};
      const double angle = std::atan2(begin.y, begin.x - taper_.offset);
      half += 0.5 * (square(radius) * (k_pi - angle) - taper_.offset * radius * std::sin(angle));
    }
    return 2.0 * half;
  }

 private:
  static double square(double x) { return x * x; }

  struct Support {
    double h, slope, bend;  // with its derivatives by theta
  };

  Support support(double theta, double z) const {
    const double e = taper_.offset;
    const double length = taper_.length;
    const double c = (taper_.r1 - taper_.r2 - e * std::cos(theta)) / length;
    const double c1 = e * std::sin(theta) / length;
    const double c2 = e * std::cos(theta) / length;
    const double s = std::sqrt(1.0 + c * c);
    const double s1 = c * c1 / s;
    const double s2 = (c1 * c1 + c * c2 - s1 * s1) / s;
    const double moved = e * z / length;
    return {taper_.r1 + (taper_.r2 - taper_.r1) * z / length + moved * std::cos(theta) - t_ * s,
            -moved * std::sin(theta) - t_ * s1, -moved * std::cos(theta) - t_ * s2};
  }

  Vec2 point(double theta, double z) const {
    const Support at = support(theta, z);
    return {at.h * std::cos(theta) - at.slope * std::sin(theta),
            at.h * std::sin(theta) + at.slope * std::cos(theta)};
  }

  double taper_part(double z, double from, double to) const {
    return 0.5 * integrate(
                     [&](double theta) {
                       const Support at = support(theta, z);
                       return at.h * (at.h + at.bend);
                     },
                     from, to, 12);
  }

  // Half way around, the ruling up to which the plane lies under the taper's beginning (or short of its end).
  double boundary(bool upper, double z) const {
    if ((upper ? taper_.to_collar : taper_.collar) == 0.0) return upper ? k_pi : 0.0;  // an open end
    if (z >= corner(upper, 0.0)) return 0.0;
    if (z <= corner(upper, k_pi)) return k_pi;
    double under = 0.0;
    double over = k_pi;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (under + over);
      (z < corner(upper, middle) ? under : over) = middle;
    }
    return 0.5 * (under + over);
  }

  const Fitting& fitting_;
  Taper taper_;  // its offset counted toward ruling 0
  int wall_;
  double t_;
  double turned_;  // the wall's ruling that lies toward the offset
};

// Where `f` is least between a and b, to a thousandth of the way (golden section).
double least_between(const std::function<double(double)>& f, double a, double b) {
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double x1 = b - golden * (b - a);
  double x2 = a + golden * (b - a);
  double f1 = f(x1);
  double f2 = f(x2);
  for (int i = 0; i < 40; ++i) {
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
  double z;
  std::string name;
};

// Heights of the taper's stations: between its clear length's ends, or, where no plane lies in the taper all
// around, between the first and the last of its corners.
std::vector<Place> places_of(const TaperBore& bore, const Taper& taper) {
  const double first[2] = {bore.corner(false, k_pi), bore.corner(false, 0.0)};
  const double second[2] = {bore.corner(true, k_pi), bore.corner(true, 0.0)};
  const bool clear = first[1] < second[0];
  const double low = clear ? first[1] : first[0];
  const double high = clear ? second[0] : second[1];
  std::vector<Place> places;
  for (int i = 0; i <= k_steps; ++i)
    places.push_back({low + (high - low) * i / k_steps,
                      i == 0         ? taper.collar > 0.0 ? "first seam" : "first end"
                      : i == k_steps ? taper.to_collar > 0.0 ? "second seam" : "second end"
                                     : "taper"});
  // Where the wall leans outward on one side and inward on the other, the bore may be narrowest while it
  // passes a seam; elsewhere its area falls or grows all the way.
  if (std::fabs(taper.offset) <= std::fabs(taper.r1 - taper.r2)) return places;
  const auto area = [&](double z) { return bore.area(z); };
  const double ends[2][2] = {{first[0], clear ? first[1] : second[1]}, {second[0], second[1]}};
  for (const auto& [from, to] : ends) {
    if (!(to > from)) continue;
    const double z = least_between(area, from, to);
    if (area(z) < std::min(area(from), area(to)) * (1.0 - 1e-9)) places.push_back({z, "passing the seam"});
  }
  std::sort(places.begin(), places.end(), [](const Place& a, const Place& b) { return a.z < b.z; });
  places.erase(std::unique(places.begin(), places.end(),
                           [](const Place& a, const Place& b) { return b.z - a.z < 1e-6; }),
               places.end());
  return places;
}

}  // namespace

void add_taper_passage(Fitting& fitting, const Taper& taper, int wall) {
  const Frame& frame = fitting.walls[static_cast<std::size_t>(wall)].sheet.frame();
  const double t = fitting.liner.bore_depth();
  Passage passage{"through", {}};
  // along the line of centres, which leans where the second end is moved aside
  const double way = std::hypot(taper.length, taper.offset);
  const auto distance = [&](double z) {
    const double share = std::clamp(z / taper.length, 0.0, 1.0);
    return taper.collar + z + share * (way - taper.length);
  };
  const auto add = [&](double z, double area, const std::string& place) {
    const double share = std::clamp(z / taper.length, 0.0, 1.0);
    passage.stations.push_back({distance(z),
                                2.0 * (taper.r1 + (taper.r2 - taper.r1) * share),
                                std::sqrt(4.0 * area / k_pi),
                                area,
                                {frame.point({taper.offset * share, 0.0, z}), frame.z},
                                place});
  };
  const auto circle = [](double r) { return k_pi * r * r; };
  const TaperBore bore(fitting, taper, wall);
  if (taper.collar > 0.0) add(-taper.collar, circle(taper.r1 - t), "first end");
  for (const Place& place : places_of(bore, taper)) add(place.z, bore.area(place.z), place.name);
  if (taper.to_collar > 0.0) add(taper.length + taper.to_collar, circle(taper.r2 - t), "second end");
  const double end = distance(taper.length);
  passage.metal = {{0.0, 2.0 * taper.r1}, {taper.collar, 2.0 * taper.r1}, {end, 2.0 * taper.r2}};
  if (taper.to_collar > 0.0) passage.metal.push_back({end + taper.to_collar, 2.0 * taper.r2});
  fitting.passages.push_back(std::move(passage));
}

}  // namespace linerwright
