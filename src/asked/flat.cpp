// Unrolling: rulings stay straight and keep their lengths and the angles between them (T. Apostol and M.
// Mnatsakanian, Unwrapping Curves from Cylinders and Cones, Amer. Math. Monthly 114, 2007). In the plane the
// ruling turns by d'.(d x n) and its foot moves by the foot's way along the ruling and square to it. The fit
// allowance shortens all that lies square to the rulings by one share.
#include "flat.hpp"

#include <algorithm>
#include <functional>
#include <memory>

#include "knife_edge.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_step = 1e-5;  // of numeric derivatives, radians

// A ruling laid flat: its foot and its direction.
struct Laid {
  double theta = 0.0;
  Point foot{};
  double turned = 0.0;
};

struct Rates {
  double turn, along, square;
};

Rates rates_at(const Wall& wall, double theta, double depth) {
  const Place d = wall.ruling(theta);
  const Place across = square_to(d, wall.normal(theta));
  const Place turn = 0.5 / k_step * (wall.ruling(theta + k_step) - wall.ruling(theta - k_step));
  const Place way =
      0.5 / k_step * (wall.at(theta + k_step, 0.0, depth) - wall.at(theta - k_step, 0.0, depth));
  return {linerwright::asked::along(turn, across), linerwright::asked::along(way, d),
          linerwright::asked::along(way, across)};
}

double fibre(const Request& request) {
  return request.outer_face() + request.value("neutral_factor") * request.value("thickness");
}

double share_left(const Wall& wall, const Request& request) {
  if (wall.is_disc()) return 1.0;  // nothing is rolled
  const double whole = whole_stretch(wall, request);
  return (whole - request.value("fit_allowance")) / whole;
}

constexpr double k_fine = 1e-3;  // mm that chords may lie off a curve

// Angles over a span: even steps on which a circle of this radius is followed, halved where a chord of one of
// the curves leaves its middle. Where a branch is as wide as its body, its saddle has corners on the branch's
// sides (90 and 270 degrees): they stand among the angles, and so do those that a wall names.
template <class Off>
std::vector<double> angles_over(double from, double span, double radius, const Off& off_chord,
                                const std::vector<double>& corners = {}) {
  const double largest = std::sqrt(8.0 * k_fine / std::max(radius, 1.0));
  const int steps = std::max(60, static_cast<int>(std::ceil(span / largest)));
  std::vector<double> knots;
  for (int i = 0; i <= steps; ++i) knots.push_back(from + span * i / steps);
  for (double corner = k_turn / 4.0 + k_turn / 2.0 * std::ceil((from - k_turn / 4.0) / (k_turn / 2.0));
       corner < from + span; corner += k_turn / 2.0)
    if (corner > from) knots.push_back(corner);
  for (const double corner : corners) {
    const double on = corner - k_turn * std::floor((corner - from) / k_turn);
    if (on > from && on < from + span) knots.push_back(on);
  }
  std::sort(knots.begin(), knots.end());
  std::vector<double> angles;
  std::vector<double> ahead(knots.rbegin(), knots.rend());
  constexpr double k_least = 1e-9;  // radians
  while (ahead.size() > 1) {
    const double a = ahead.back();
    const double b = ahead[ahead.size() - 2];
    if (b - a > k_least && off_chord(a, b) > k_fine) {
      ahead.insert(ahead.end() - 1, 0.5 * (a + b));
      continue;
    }
    angles.push_back(a);
    ahead.pop_back();
  }
  angles.push_back(ahead.back());
  return angles;
}

// How far the middle of the curve between two parameters lies off its chord.
template <class Curve>
double off_chord(const Curve& curve, double a, double b) {
  const Point first = curve(a);
  const Point last = curve(b);
  const Point middle = curve(0.5 * (a + b));
  const double dx = last[0] - first[0];
  const double dy = last[1] - first[1];
  const double length = std::hypot(dx, dy);
  if (length == 0.0) return 0.0;
  return std::abs(dx * (middle[1] - first[1]) - dy * (middle[0] - first[0])) / length;
}

// The ruling at an angle, from another's place by one step of the midpoint rule.
Laid stepped(const Laid& from, double theta, const Wall& wall, double depth, double share) {
  const double h = theta - from.theta;
  const Rates rates = rates_at(wall, from.theta + 0.5 * h, depth);
  const double turned = from.turned + 0.5 * share * rates.turn * h;
  const double on = rates.along * h;
  const double aside = share * rates.square * h;
  return {theta,
          {from.foot[0] + on * std::sin(turned) + aside * std::cos(turned),
           from.foot[1] + on * std::cos(turned) - aside * std::sin(turned)},
          from.turned + share * rates.turn * h};
}

std::vector<Laid> lay(const Part& part, const Request& request) {
  const Wall& wall = *part.wall;
  const double outer = request.outer_face();
  const double inner = request.inner_face();
  const Follows follows = follows_of(request);
  const std::vector<double> angles = angles_over(
      part.start, part.span, wall.larger(),
      [&](double a, double b) {
        double off = 0.0;
        for (const Edge* edge : {&wall.low, &wall.high})
          for (const double w : {outer, inner})
            off = std::max(off, off_chord(
                                    [&](double theta) {
                                      return Point{wall.larger() * theta, (*edge)(theta, w)};
                                    },
                                    a, b));
        // what the knife follows has corners where it goes over from one face's edge to the other's
        for (const bool high : {false, true}) {
          const Edge& edge = high ? wall.high : wall.low;
          const auto knife = [&](double theta) {
            return Point{wall.larger() * theta,
                         followed(edge(theta, outer), edge(theta, inner), high, follows)};
          };
          off = std::max(off, off_chord(knife, a, b));
        }
        return off;
      },
      wall.corners);
  const double share = share_left(wall, request);
  const double depth = fibre(request);
  std::vector<Laid> laid{{part.start, {0.0, 0.0}, 0.0}};
  if (wall.taper <= 0.0) {
    const double round = share * (wall.radius - depth);
    for (std::size_t i = 1; i < angles.size(); ++i)
      laid.push_back({angles[i], {round * (angles[i] - part.start), 0.0}, 0.0});
    return laid;
  }
  constexpr int fine = 4;  // steps of the midpoint rule within one
  for (std::size_t i = 0; i + 1 < angles.size(); ++i) {
    const double h = angles[i + 1] - angles[i];
    Laid next = laid.back();
    for (int k = 1; k <= fine; ++k) next = stepped(next, angles[i] + h * k / fine, wall, depth, share);
    laid.push_back(next);
  }
  return laid;
}

Point on(const Laid& laid, double v) {
  return {laid.foot[0] + v * std::sin(laid.turned), laid.foot[1] + v * std::cos(laid.turned)};
}

std::vector<Point> closed(const std::vector<Point>& low, const std::vector<Point>& high) {
  std::vector<Point> contour = low;
  contour.insert(contour.end(), high.rbegin(), high.rend());
  return contour;
}

// The square of the distance.
double square_to_segment(const Point& p, const Point& a, const Point& b) {
  const double dx = b[0] - a[0];
  const double dy = b[1] - a[1];
  const double square = dx * dx + dy * dy;
  double at = square > 0.0 ? ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square : 0.0;
  at = std::clamp(at, 0.0, 1.0);
  const double x = p[0] - a[0] - at * dx;
  const double y = p[1] - a[1] - at * dy;
  return x * x + y * y;
}

// A place of a wall on the flat, its angle counted on from the part's first ruling: of a cylinder along its
// girth, of a round taper as rates that do not change add up to an arc, of another ruling by ruling.
std::function<Point(const Point&)> laid_out(const Part& part, const Request& request, double round) {
  const Wall& wall = *part.wall;
  const double start = part.start;
  if (wall.taper <= 0.0) return [=](const Point& at) { return Point{round * (at[0] - start), at[1]}; };
  const double depth = fibre(request);
  const double share = share_left(wall, request);
  if (wall.shift[0] != 0.0 || wall.shift[1] != 0.0) {
    constexpr double step = 2e-3;  // radians
    const auto laid = std::make_shared<std::vector<Laid>>(1, Laid{start, {0.0, 0.0}, 0.0});
    while (laid->back().theta < start + part.span)
      laid->push_back(stepped(laid->back(), laid->back().theta + step, wall, depth, share));
    return [=](const Point& at) {
      const double steps = std::clamp((at[0] - start) / step, 0.0, static_cast<double>(laid->size() - 1));
      return on(stepped((*laid)[static_cast<std::size_t>(steps)], at[0], wall, depth, share), at[1]);
    };
  }
  const Rates rates = rates_at(wall, start, depth);
  return [=](const Point& at) {
    const double turned = share * rates.turn * (at[0] - start);
    const double reach = rates.square / rates.turn;
    return Point{reach * std::sin(turned) + at[1] * std::sin(turned),
                 reach * (std::cos(turned) - 1.0) + at[1] * std::cos(turned)};
  };
}

void add_holes(const Part& part, const Request& request, double round, Flat& flat) {
  const std::vector<Rim> rims = liner_rims(*part.wall);
  const std::function<Point(const Point&)> laid = laid_out(part, request, round);
  for (std::size_t index = 0; index < rims.size(); ++index) {
    const Rim& rim = rims[index];
    const double outer = request.outer_face();
    const double inner = request.inner_face();
    const double middle = 0.5 * (rim(k_pi / 2.0, outer)[0] + rim(3.0 * k_pi / 2.0, outer)[0]);
    double turned = std::fmod(middle - part.start, k_turn);
    if (turned < 0.0) turned += k_turn;
    const double v = rim(0.0, outer)[1];
    if (turned > part.span || (part.low && v < *part.low) || (part.high && v > *part.high)) continue;
    const double base = part.start + turned - middle;  // whole turns
    const auto face = [&](double psi, double w) {
      const Point at = rim(psi, w);
      return laid({at[0] + base, at[1]});
    };
    const auto half_way = [&](double psi) {
      const Point duct = face(psi, outer);
      const Point air = face(psi, inner);
      return Point{0.5 * (duct[0] + air[0]), 0.5 * (duct[1] + air[1])};
    };
    Flat::Hole hole;
    hole.index = index;
    std::vector<double> around = angles_over(0.0, k_turn, 0.0, [&](double a, double b) {
      double off = off_chord(half_way, a, b);  // as `mid` cuts
      for (const double w : {outer, inner})
        off = std::max(off, off_chord([&](double psi) { return face(psi, w); }, a, b));
      return off;
    });
    around.pop_back();  // the whole turn is where it began
    for (const double psi : around) {
      hole.duct.push_back(face(psi, outer));
      hole.air.push_back(face(psi, inner));
      hole.mid.push_back(half_way(psi));
    }
    flat.holes.push_back(std::move(hole));
  }
}

}  // namespace

void each_point(Flat& flat, const std::function<void(Point&)>& change) {
  for (auto* contour : {&flat.duct, &flat.air, &flat.cut})
    for (Point& point : *contour) change(point);
  for (auto* corners : {&flat.duct_corners, &flat.cut_corners})
    for (Point& point : *corners) change(point);
  for (Flat::Hole& hole : flat.holes)
    for (auto* contour : {&hole.duct, &hole.air, &hole.mid})
      for (Point& point : *contour) change(point);
}

namespace {

// Stretch-out of a wall between two rulings, before the allowance.
double stretch_between(const Wall& wall, const Request& request, double start, double span) {
  const double depth = fibre(request);
  if (wall.taper <= 0.0) return span * (wall.radius - depth);
  double sum = 0.0;
  constexpr int steps = 1440;
  for (int i = 0; i < steps; ++i) {
    const double theta = start + span * (i + 0.5) / steps;
    const double v = wall.radius >= wall.to_radius ? 0.0 : wall.full_ruling(theta);
    const Rates rates = rates_at(wall, theta, depth);
    sum += rates.square + v * rates.turn;
  }
  return sum * span / steps;
}

}  // namespace

double whole_stretch(const Wall& wall, const Request& request) {
  return stretch_between(wall, request, 0.0, k_turn);
}

Flat flat_of(const Part& part, const Request& request, double lift) {
  const Wall& wall = *part.wall;
  const double outer = request.outer_face();
  const double inner = request.inner_face();
  const std::vector<Laid> laid = lay(part, request);
  const Follows follows = follows_of(request);
  const double below = request.allowance(wall.low_open && !part.low);
  const double above = request.allowance(wall.high_open && !part.high);
  std::vector<Point> duct_low, duct_high, air_low, air_high, cut_low, cut_high;
  Flat flat;
  flat.lowest = 1e300;
  for (const Laid& ruling : laid) {
    const double dl = part.low ? *part.low : wall.low(ruling.theta, outer);
    const double al = part.low ? *part.low : wall.low(ruling.theta, inner);
    const double dh = part.high ? *part.high : wall.high(ruling.theta, outer);
    const double ah = part.high ? *part.high : wall.high(ruling.theta, inner);
    const double kl = followed(dl, al, false, follows) - below;
    const double kh = followed(dh, ah, true, follows) + above;
    duct_low.push_back(on(ruling, dl));
    duct_high.push_back(on(ruling, dh));
    air_low.push_back(on(ruling, al));
    air_high.push_back(on(ruling, ah));
    cut_low.push_back(on(ruling, kl));
    cut_high.push_back(on(ruling, kh));
    flat.lowest = std::min({flat.lowest, kl, dl, al});
  }
  flat.duct = closed(duct_low, duct_high);
  flat.air = closed(air_low, air_high);
  flat.cut = closed(cut_low, cut_high);
  if (wall.is_disc()) {  // its rim, once around
    for (auto* rim : {&duct_low, &air_low, &cut_low}) rim->pop_back();
    flat.duct = duct_low;
    flat.air = air_low;
    flat.cut = cut_low;
  }
  flat.duct_corners = {duct_low.front(), duct_low.back(), duct_high.back(), duct_high.front()};
  flat.cut_corners = {cut_low.front(), cut_low.back(), cut_high.back(), cut_high.front()};
  flat.width = share_left(wall, request) * stretch_between(wall, request, part.start, part.span);
  add_holes(part, request, flat.width / part.span, flat);
  const bool mirrored = request.word("face_up") == "air";
  const bool cylinder = wall.taper <= 0.0;
  each_point(flat, [&](Point& point) {
    if (mirrored) point[0] = (cylinder ? flat.width : 0.0) - point[0];
    if (cylinder) point[1] += lift;
  });
  return flat;
}

Point on_board(const Part& part, const Request& request, const Flat& flat, double lift, double theta,
               double v) {
  double turned = std::fmod(theta - part.start, k_turn);
  if (turned < -1e-9) turned += k_turn;
  const double x = flat.width * turned / part.span;
  return {request.word("face_up") == "air" ? flat.width - x : x, v + lift};
}

double stray(const std::vector<Point>& points, const std::vector<Point>& contour) {
  double worst = 0.0;
  std::size_t found = 0;  // a point's neighbour lies near the same segment
  const std::size_t n = contour.size();
  for (const Point& point : points) {
    double best = 1e300;
    for (std::size_t k = 0; k < n && best > worst; ++k) {
      const std::size_t i = (found + k) % n;
      const double square = square_to_segment(point, contour[i], contour[(i + 1) % n]);
      if (square < best) {
        best = square;
        if (best <= worst) found = i;
      }
    }
    worst = std::max(worst, best);
  }
  return std::sqrt(worst);
}

std::vector<Point> with_middles(const std::vector<Point>& contour) {
  std::vector<Point> points;
  for (std::size_t i = 0; i < contour.size(); ++i) {
    const Point& next = contour[(i + 1) % contour.size()];
    points.push_back(contour[i]);
    points.push_back({0.5 * (contour[i][0] + next[0]), 0.5 * (contour[i][1] + next[1])});
  }
  return points;
}

double area_of(const std::vector<Point>& contour) {
  double sum = 0.0;
  for (std::size_t i = 0; i < contour.size(); ++i) {
    const Point& next = contour[(i + 1) % contour.size()];
    sum += contour[i][0] * next[1] - next[0] * contour[i][1];
  }
  return 0.5 * sum;
}

bool inside(const std::vector<Point>& contour, const Point& point) {
  bool in = false;
  for (std::size_t i = 0; i < contour.size(); ++i) {
    const Point& a = contour[i];
    const Point& b = contour[(i + 1) % contour.size()];
    if ((a[1] > point[1]) != (b[1] > point[1]) &&
        point[0] < a[0] + (b[0] - a[0]) * (point[1] - a[1]) / (b[1] - a[1]))
      in = !in;
  }
  return in;
}

}  // namespace linerwright::asked
