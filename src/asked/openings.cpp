// An opening's middle stands on the duct's inside surface. A tube that stands square on the wall there meets
// it in the points that lie as deep under the surface as asked, each on a line along the tube (coping of a
// tube on a duct: any book on pattern drafting); a rectangle is drawn on the flat, its width as wide as its
// chord. On the flat a cylinder's surface is as long around as its arcs; a cone's turns about its point by
// the angles between its rulings there, which on a right one are the share sin p of the angle around the axis
// (Longfield, Sheet Metal Drafting, 1921, radial line developments).
#include "openings.hpp"

#include <algorithm>
#include <map>
#include <optional>

#include "worded_list.hpp"

namespace linerwright::asked {

namespace {

// "sensor at 2in around 90" to what stands behind each word; what stands first belongs to no word.
std::vector<Words> openings_of(const std::string& text) {
  return worded_list(text, {"piece", "at", "around", "diameter", "width", "length", "setback", "bevel",
                            "splay", "metal", "pair"});
}

// By halving, where f grows.
template <class Function>
double root(const Function& f, double low, double high) {
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (f(middle) < 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// The surface about one place of it.
struct Spot {
  Wall wall;
  double theta, v;
  Place middle, around, upward, normal;
  double radius;  // around the axis, square to the wall's normal as seen on the flat

  Spot(const Wall& on, double at_theta, double at_v)
      : wall(on), theta(at_theta), v(at_v), middle(on.at(at_theta, at_v, 0.0)) {
    upward = wall.ruling(theta);
    normal = wall.normal(theta);
    around = square_to(upward, normal);
    const Place out = middle - wall.origin;
    radius = size(out - along(out, wall.axis) * wall.axis);
  }

  // Angle and height of what lies square over or under the middle, moved by (x, y), at depth w.
  Point under(double x, double y, double w) const {
    const Place start = middle + x * around + y * upward;
    const auto depth = [&](double drop) { return wall.depth_of(start - drop * normal) - w; };
    double drop = w;  // under the tangent plane, by secants
    double before = w + 1e-3 * radius;
    double miss_before = depth(before);
    for (int i = 0; i < 60; ++i) {
      const double miss = depth(drop);
      if (std::abs(miss) < 1e-13 * radius || miss == miss_before) break;
      const double next = drop - miss * (drop - before) / (miss - miss_before);
      before = drop;
      miss_before = miss;
      drop = next;
    }
    const Place found = start - drop * normal;
    const double angle = wall.ruling_over(found);
    return {near(angle), along(found - wall.at(angle, 0.0, w), wall.ruling(angle))};
  }

  double near(double angle) const { return theta + std::remainder(angle - theta, k_turn); }

  // How fast the ruling at an angle turns about the cone's point, and the height of that on it. The way q
  // from circle to circle turns by |q x q'| / q^2.
  double turning(double angle) const {
    const double narrows = wall.to_radius - wall.radius;
    const Place q = wall.full_ruling(angle) * wall.ruling(angle);
    const Place step = narrows * (std::cos(angle) * wall.side() - std::sin(angle) * wall.zero);
    return -std::copysign(size(square_to(q, step)) / along(q, q), narrows);
  }
  double point_at(double angle) const {
    return wall.full_ruling(angle) * wall.radius / (wall.radius - wall.to_radius);
  }
  // Between the middle's ruling and another, by five points of Gauss in every tenth of a radian.
  double turned(double angle) const {
    const int panels = 1 + static_cast<int>(10.0 * std::abs(angle - theta));
    const double step = (angle - theta) / panels;
    double sum = 0.0;
    for (int panel = 0; panel < panels; ++panel)
      for (int k = 0; k < 5; ++k)
        sum += step * k_gauss_weight[k] * turning(theta + step * (panel + k_gauss_at[k]));
    return sum;
  }

  Point flat(const Point& place) const {
    if (wall.taper <= 0.0) return {radius * (place[0] - theta), place[1] - v};
    const double left = point_at(place[0]) - place[1];
    const double turn = turned(place[0]);
    return {left * std::sin(turn), point_at(theta) - v - left * std::cos(turn)};
  }

  Point rolled(const Point& flat) const {
    if (wall.taper <= 0.0) return {theta + flat[0] / radius, v + flat[1]};
    const double reach = point_at(theta) - v;
    const double side = std::copysign(1.0, reach);
    const double left = side * std::hypot(flat[0], reach - flat[1]);
    const double turn = std::atan2(side * flat[0], side * (reach - flat[1]));
    double angle = theta + turn / turning(theta);
    for (int i = 0; i < 40; ++i) {  // by tangents
      const double change = (turn - turned(angle)) / turning(angle);
      angle += change;
      if (std::abs(change) < 1e-14) break;
    }
    return {angle, point_at(angle) - left};
  }
};

struct Edge2 {
  bool round;
  double across, upward;  // halves; of a round one its radius
  double setback, splay;
  std::string bevel;
};

// The duct face's edge on the flat, `out` further out.
Point drawn(const Spot& spot, const Edge2& edge, double psi, double out) {
  if (!edge.round) return on_rectangle(edge.across + out, edge.upward + out, psi);
  return moved_out(
      [&](double angle) {
        return spot.flat(spot.under(-edge.upward * std::sin(angle), edge.upward * std::cos(angle), 0.0));
      },
      psi, out);
}

Rim rim_of(const Wall& wall, double theta, double v, const Edge2& edge) {
  const Spot spot(wall, theta, v);
  return [wall, spot, edge](double psi, double w) -> Point {
    const double out = edge.setback + (edge.bevel == "splayed" ? w * std::tan(edge.splay) : 0.0);
    Point place = spot.rolled(drawn(spot, edge, psi, out));
    // square to the axis: the same height over the axis' start
    if (edge.bevel == "radial")
      place[1] += w * along(wall.normal(place[0]), wall.axis) / along(wall.ruling(place[0]), wall.axis);
    if (edge.bevel == "straight") {
      const Place way = spot.wall.at(place[0], place[1], 0.0) - spot.middle;
      place = spot.under(along(way, spot.around), along(way, spot.upward), w);
    }
    return place;
  };
}

// Half the width on the flat of what is so wide in a straight line, from side to side.
double half_on_flat(const Spot& spot, double half_chord) {
  if (spot.wall.is_disc()) return half_chord;
  const auto across = [&](double on_flat) {
    const Point place = spot.rolled({on_flat, 0.0});
    return along(spot.wall.at(place[0], place[1], 0.0) - spot.middle, spot.around);
  };
  return root([&](double half) { return 0.5 * (across(half) - across(-half)) - half_chord; }, 0.0,
              0.25 * k_turn * spot.radius);
}

}  // namespace

Point on_rectangle(double x, double y, double psi) {
  const double quarter = psi / (k_turn / 4.0);
  const double side = std::floor(quarter);
  const double gone = 2.0 * (quarter - side);  // of two halves of the side
  const int which = ((static_cast<int>(side) % 4) + 4) % 4;
  if (which == 0) return {x * (1.0 - gone), y};
  if (which == 1) return {-x, y * (1.0 - gone)};
  if (which == 2) return {-x * (1.0 - gone), -y};
  return {x, -y * (1.0 - gone)};
}

std::vector<AskedOpening> asked_openings(const Request& request) {
  std::vector<AskedOpening> all;
  if (!request.stated("openings")) return all;
  for (const Words& words : openings_of(request.word("openings"))) {
    const auto said = [&](const std::string& name) { return words.count(name) > 0; };
    const auto length = [&](const std::string& name) {
      return said(name) ? value_of(words.at(name), What::length, request.inches) : 0.0;
    };
    AskedOpening asked;
    if (said("piece")) asked.piece = words.at("piece");
    asked.at = length("at");
    asked.around = value_of(words.at("around"), What::angle, request.inches);
    asked.round = said("diameter");
    asked.across = 0.5 * length(asked.round ? "diameter" : "width");
    asked.upward = 0.5 * length(asked.round ? "diameter" : "length");
    asked.setback = length("setback");
    asked.bevel = said("bevel") ? words.at("bevel") : "square";
    if (asked.bevel == "splayed")
      asked.splay = said("splay") ? value_of(words.at("splay"), What::angle, request.inches) : k_pi / 4.0;
    asked.pair = said("pair") ? words.at("pair") == "yes" : words.at("") == "damper shaft";
    asked.metal = said("metal") && words.at("metal") == "yes";
    all.push_back(asked);
  }
  return all;
}

Wanted with_openings(const Request& request, const Wanted& metal, Wanted wanted) {
  for (const AskedOpening& asked : asked_openings(request))
    for (std::size_t k = 0; k < metal.walls.size(); ++k) {
      // of a square-to-round's walls the collar alone is one that is rolled, and none is the first
      const bool first = asked.piece.empty() && k == 0 && request.kind != "square_to_round";
      if (!first && metal.walls[k].id != asked.piece) continue;
      const double v = metal.walls[k].low(asked.around, 0.0) + asked.at;
      Edge2 edge{asked.round, asked.across, asked.upward, asked.setback, asked.splay, asked.bevel};
      for (int i = 0; i < (asked.pair ? 2 : 1); ++i) {
        const double theta = asked.around + i * k_pi;
        if (!edge.round) edge.across = half_on_flat(Spot(metal.walls[k], theta, v), asked.across);
        wanted.walls[k].openings.push_back(rim_of(metal.walls[k], theta, v, edge));
        if (asked.metal)
          wanted.walls[k].metal_openings.push_back(
              rim_of(metal.walls[k], theta, v, {edge.round, edge.across, edge.upward, 0.0, 0.0, "square"}));
      }
    }
  return wanted;
}

}  // namespace linerwright::asked
