// A tube that stands square on a flat cuts a circle out of it. On the part of a cone all lines from its
// corner through the circle are straight: a line square to the wall meets it where its point, seen from the
// corner, falls on the circle, a quadratic. Laid flat, a cone's rulings keep their lengths and turn by the
// angles between them (triangulation: Longfield, Sheet Metal Drafting, 1921).
#include "hull_openings.hpp"

#include <algorithm>
#include <memory>

#include "closed_curve.hpp"
#include "hull_proofs.hpp"
#include "openings.hpp"

namespace linerwright::asked {

namespace {

constexpr int k_steps = 1440;  // of a closed curve

// The duct face about the middle of an opening on one flat or one cone.
struct HullSpot {
  std::shared_ptr<const Hull> hull;
  std::shared_ptr<const HullBoard> board;  // of the corner
  HullRuling on;
  double v = 0.0;
  bool flat = false;
  int q = 0;
  Place middle{}, around{};

  Place corner() const { return hull->corner(q); }

  // The plane that touches the cone over a place: the depth under planes about the corner is least there.
  double plane_over(const Place& place) const {
    const Place from = place - corner();
    const auto rises = [&](double phi) {
      const double k = hull->slope(phi);
      const Place c = corner();
      const double turned =
          ((c[1] - hull->moved[1]) * std::cos(phi) - (c[0] - hull->moved[0]) * std::sin(phi)) / hull->length;
      const double over = from[0] * std::cos(phi) + from[1] * std::sin(phi) + from[2] * k;
      const double grows = from[1] * std::cos(phi) - from[0] * std::sin(phi) + from[2] * turned;
      return grows * (1.0 + k * k) < over * k * turned;  // the depth, minus over / size
    };
    double low = q * k_quarter;
    double high = (q + 1) * k_quarter;
    for (int i = 0; i < 60; ++i) {
      const double half = 0.5 * (low + high);
      (rises(half) ? high : low) = half;
    }
    return 0.5 * (low + high);
  }

  HullFoot foot_over(const Place& place) const {
    if (flat) return {place - along(place - middle, on.normal) * on.normal, on.phi, 0.0};
    const double phi = plane_over(place);
    const Place n = hull->normal(phi);
    const Place at = place - along(place - corner(), n) * n;
    return {at, phi, size(at - corner())};
  }

  // What lies square under the middle, moved by (x, y), at depth w.
  HullFoot under(double x, double y, double w) const {
    const Place start = middle + x * around + y * on.way;
    if (flat) return {start, on.phi, 0.0};
    if (w == 0.0) return foot_over(start - on_duct_face(start) * on.normal);
    double drop = w;
    double before = w + 1e-3 * v;
    const auto miss = [&](double by) {
      const Place at = start - by * on.normal;
      return -along(at - corner(), hull->normal(plane_over(at))) - w;
    };
    double missed = miss(before);
    for (int i = 0; i < 60; ++i) {
      const double now = miss(drop);
      if (std::abs(now) < 1e-12 * v || now == missed) break;
      const double next = drop - now * (drop - before) / (now - missed);
      before = drop;
      missed = now;
      drop = next;
    }
    return foot_over(start - drop * on.normal);
  }

  // How far under a place the line along the middle's normal meets the duct face: seen from the corner its
  // point lies on the circle. With p the place from the corner, p - s n up to the circle's height is h (p -
  // s n) / (p - s n)_z.
  double on_duct_face(const Place& start) const {
    const Place p = start - corner();
    const Place& n = on.normal;
    const double ex = hull->moved[0] - corner()[0];
    const double ey = hull->moved[1] - corner()[1];
    const double h = hull->length;
    // |h p_xy - e p_z - s (h n_xy - e n_z)| = r |p_z - s n_z|
    const Point a{h * p[0] - ex * p[2], h * p[1] - ey * p[2]};
    const Point b{h * n[0] - ex * n[2], h * n[1] - ey * n[2]};
    const double r = hull->radius;
    const double two = b[0] * b[0] + b[1] * b[1] - r * r * n[2] * n[2];
    const double one = -(a[0] * b[0] + a[1] * b[1] - r * r * p[2] * n[2]);
    const double none = a[0] * a[0] + a[1] * a[1] - r * r * p[2] * p[2];
    const double root = std::sqrt(std::max(0.0, one * one - two * none));
    return none / (-one + std::copysign(root, -one));  // the one nearer to the place
  }

  // On the flat of the wall from the middle on, x the way phi grows, y up its ruling.
  Point laid(const HullFoot& foot) const {
    if (flat) return {along(foot.at - middle, around), along(foot.at - middle, on.way)};
    const double turn = board->turned(q, foot.phi) - board->turned(q, on.phi);
    return {foot.v * std::sin(turn), foot.v * std::cos(turn) - v};
  }
  HullFoot rolled(const Point& at) const {
    if (flat) return {middle + at[0] * around + at[1] * on.way, on.phi, 0.0};
    const double length = std::hypot(at[0], v + at[1]);
    const double turn = board->turned(q, on.phi) + std::atan2(at[0], v + at[1]);
    double phi = on.phi;
    for (int i = 0; i < 30; ++i) {  // by tangents
      constexpr double k_aside = 1e-6;
      const double here = board->turned(q, phi);
      const double rate =
          (board->turned(q, phi + k_aside) - board->turned(q, phi - k_aside)) / (2.0 * k_aside);
      const double change = (turn - here) / rate;
      phi = std::clamp(phi + change, q * k_quarter, (q + 1) * k_quarter);
      if (std::abs(change) < 1e-14) break;
    }
    const HullRuling ruling = hull->ruling(q, phi);
    return {ruling.base + length * ruling.way, phi, length};
  }

  // Square to the duct's axis: as far up the ruling as the normal leads down.
  HullFoot raised(const HullFoot& foot, double w) const {
    const Place tip = hull->on_circle(foot.phi);
    const Place way = 1.0 / size(tip - foot.at) * (tip - foot.at);
    const double by = w * hull->normal(foot.phi)[2] / way[2];
    return {foot.at + by * way, foot.phi, foot.v + by};
  }
};

HullSpot spot_at(const std::shared_ptr<const Hull>& hull, double around, double v) {
  HullSpot spot;
  spot.hull = hull;
  const double turn = around - k_turn * std::floor(around / k_turn);
  spot.q = static_cast<int>(turn / k_quarter) % 4;
  spot.on = ruling_at(*hull, turn);
  const double eighths = turn / (0.25 * k_quarter) - 4.0 * spot.q;
  spot.flat = eighths < 1.0 || eighths > 3.0;
  spot.v = v;
  if (!spot.flat) spot.board = std::make_shared<HullBoard>(*hull, HullPart{spot.q, 1}, std::vector<double>{});
  spot.middle = spot.on.base + v * spot.on.way;
  spot.around = square_to(spot.on.way, spot.on.normal);
  return spot;
}

// Half the width on the flat of what is so wide in a straight line.
double half_on_flat(const HullSpot& spot, double half_chord) {
  if (spot.flat) return half_chord;
  const auto across = [&](double x) { return along(spot.rolled({x, 0.0}).at - spot.middle, spot.around); };
  double low = 0.0;
  double high = spot.v;
  for (int i = 0; i < 60; ++i) {
    const double half = 0.5 * (low + high);
    (0.5 * (across(half) - across(-half)) < half_chord ? low : high) = half;
  }
  return 0.5 * (low + high);
}

HullOpening opening_of(const HullSpot& spot, const AskedOpening& asked) {
  HullOpening opening;
  opening.corner = spot.q;
  opening.flat = spot.flat;
  opening.after = spot.flat && size(spot.on.normal - spot.hull->normal(spot.q * k_quarter)) > 1e-9;
  opening.origin = spot.flat ? spot.middle : spot.corner();
  const double across = asked.round ? asked.across : half_on_flat(spot, asked.across);
  opening.rim = [spot, asked, across](double psi, double w) {
    const double out = asked.setback + (asked.bevel == "splayed" ? w * std::tan(asked.splay) : 0.0);
    const auto tube = [&](double angle) {
      return spot.laid(spot.under(-across * std::sin(angle), across * std::cos(angle), 0.0));
    };
    const Point at =
        asked.round ? moved_out(tube, psi, out) : on_rectangle(across + out, asked.upward + out, psi);
    HullFoot foot = spot.rolled(at);
    if (asked.bevel == "radial") foot = spot.raised(foot, w);
    if (asked.bevel == "straight") {
      const Place way = foot.at - spot.middle;
      foot = spot.under(along(way, spot.around), along(way, spot.on.way), w);
    }
    return foot;
  };
  return opening;
}

}  // namespace

std::vector<HullOpening> hull_openings(const Hull& hull, const Request& request, bool in_metal) {
  const auto kept = std::make_shared<const Hull>(hull);
  std::vector<HullOpening> all;
  for (AskedOpening asked : asked_openings(request)) {
    if (asked.piece == "collar" || (in_metal && !asked.metal)) continue;
    if (in_metal) {
      asked.setback = 0.0;
      asked.bevel = "square";
    }
    for (int i = 0; i < (asked.pair ? 2 : 1); ++i)
      all.push_back(opening_of(spot_at(kept, asked.around + i * k_pi, asked.at), asked));
  }
  return all;
}

// At depth w a step along the circle is shorter by w times the turn of the normals.
double opening_area(const Hull& hull, const HullOpening& opening, double w) {
  struct Step {
    HullFoot foot;
    Place normal{};
  };
  const auto where = [&](double psi) {
    const HullFoot foot = opening.rim(psi, w);
    return Step{foot, hull.normal(foot.phi)};
  };
  const HullFoot first = opening.rim(0.0, w);
  const Place up = hull.normal(first.phi);
  const HullBoard board(hull, {opening.corner, 1}, {});
  return around_curve(
      where,
      [&](const Step& before, const Step& now) {
        const Place a = before.foot.at - opening.origin;
        const Place b = now.foot.at - opening.origin;
        if (opening.flat) return 0.5 * along(square_to(a, b), up);
        // laid flat the two lie about the corner by the angle between their rulings
        const double turn =
            board.turned(opening.corner, now.foot.phi) - board.turned(opening.corner, before.foot.phi);
        const double bends = std::copysign(
            std::atan2(size(square_to(before.normal, now.normal)), along(before.normal, now.normal)),
            now.foot.phi - before.foot.phi);
        return -0.5 * before.foot.v * now.foot.v * std::sin(turn) +
               0.5 * w * bends * (before.foot.v + now.foot.v);
      },
      k_steps);
}

// Gauss's theorem, seen from a place that all the opening's planes run through: each part of its face at
// depth w lies w under that.
double opening_volume(const Hull& hull, const HullOpening& opening, double from, double to) {
  const auto curve = [&](double psi, double w) {
    const HullFoot foot = opening.rim(psi, w);
    return foot.at - w * hull.normal(foot.phi) - opening.origin;
  };
  const double faces = to * opening_area(hull, opening, to) - from * opening_area(hull, opening, from);
  return (faces - flux_between(curve, from, to, k_steps)) / 3.0;
}

Point on_board(const HullBoard& board, const HullOpening& opening, const HullFoot& foot) {
  return opening.flat ? board.on_flat(opening.corner, opening.after, foot.at)
                      : board.on_cone(opening.corner, foot.phi, foot.v);
}

}  // namespace linerwright::asked
