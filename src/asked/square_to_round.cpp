// A square-to-round against its request: a rectangle, a circle and the planes that touch both (hull.cpp),
// laid flat by true lengths (hull_board.cpp).
#include <algorithm>

#include "hull_proofs.hpp"
#include "kinds.hpp"

namespace linerwright::asked {

namespace {

double circle_of(double area) {
  return 2.0 * std::sqrt(area / k_pi);
}

}  // namespace

Wanted wanted_square_to_round(const Request& request) {
  const Hull hull = hull_of(request);
  const double t = request.bore_depth();
  Wanted wanted;
  wanted.bore = {{"through", "rectangular end", circle_of(4.0 * hull.half_width * hull.half_height),
                  circle_of(hull.section_area(hull.start(), t))},
                 {"through", "round end", 2.0 * hull.radius, circle_of(hull.open_area(hull.end(), t))}};
  if (hull.collar > 0.0) {
    Wall collar;
    collar.id = "collar";
    collar.role = "round collar";
    collar.radius = hull.radius;
    collar.origin = {hull.moved[0], hull.moved[1], hull.length};
    collar.low = [hull](double phi, double w) { return hull.joint_height(phi, w) - hull.length; };
    collar.high = [hull](double, double) { return hull.collar; };
    collar.low_open = false;
    for (int side = 0; side < 4; ++side)
      if (hull.slope(side * k_quarter) > 0.0) collar.corners.push_back(hull.joint_corner(side, t));
    wanted.walls.push_back(collar);
  }
  return wanted;
}

std::vector<HullPart> parts_of(const Request& request) {
  const int count = static_cast<int>(request.value("pieces"));
  std::vector<HullPart> parts;
  for (int i = 0; i < count; ++i) parts.push_back({4 / count * i, 4 / count});
  return parts;
}

// Every station: a straight way from middle to middle.
void prove_hull_bore(Case& asked, const Hull& hull) {
  Worst sections("bore sections", 2e-7, "", "what lies under all planes that touch both ends, a share of it");
  const double t = asked.made.request.bore_depth();
  const double way = std::hypot(hull.length, hull.moved[0], hull.moved[1]);
  for (const MadeStation& station : asked.made.bore) {
    const double on = station.distance - hull.square;  // from the rectangle's plane
    const double z = on < 0.0 ? on : on < way ? hull.length * on / way : hull.length + on - way;
    const std::string at = "at " + std::to_string(z) + " mm";
    const double bare = 0.25 * k_pi * station.bare * station.bare;
    sections.off(bare / hull.open_area(z, 0.0) - 1.0, "bare " + at);
    constexpr double k_written = 5e-4;  // mm2: half the last decimal
    const double lined = hull.open_area(z, t);
    sections.off(std::max(0.0, std::abs(station.area - lined) - k_written) / lined, "lined " + at);
  }
  sections.into(asked.findings, true);
}

namespace {

// Length of the unit normal's turn over that of the ruling's, per radian: the board bends about a ruling, v
// from its corner, to the radius v over it.
double bending(const Hull& hull, int q, double phi) {
  const double h = 1e-6;
  const double from = std::max(phi - h, q * k_quarter);
  const double to = std::min(phi + h, (q + 1) * k_quarter);
  return size(hull.ruling(q, to).way - hull.ruling(q, from).way) / size(hull.normal(to) - hull.normal(from));
}

// How far from corner q along a ruling the board bends to less than this radius.
double kerfed(const Hull& hull, int q, double radius) {
  double most = 0.0;
  constexpr int k_rulings = 32;
  for (int i = 0; i <= k_rulings; ++i) {
    const double phi = (q + static_cast<double>(i) / k_rulings) * k_quarter;
    most = std::max(most, std::min(radius / bending(hull, q, phi), hull.ruling(q, phi).length));
  }
  return most;
}

// How far along a side from corner q the layer w deep of its ruling phi begins.
double from_corner(const Hull& hull, int q, int side, double phi, double w) {
  const HullRuling on = hull.ruling(q, phi);
  const Place start = on.base + hull.stretch(on, w).low * on.way - w * on.normal;
  const std::size_t k = side % 2 == 0 ? 1 : 0;
  return std::abs(start[k] - on.base[k]);
}

}  // namespace

void prove_hull_lengths(Case& asked, const Hull& hull) {
  Worst lengths("true lengths", 2e-6, "mm", "triangulation: true lengths of bend lines, slopes and angles");
  Worst folds("mitre lengths", 1e-4, "mm", "where planes of three sides lie equally deep");
  const Request& request = asked.made.request;
  const double t = request.value("thickness");
  const bool even = hull.moved == Point{};
  static const char* const sides[] = {"right", "top", "left", "bottom"};
  const auto fact = [&](Worst& line, const std::string& key, double wanted) {
    const auto found = asked.made.facts.find(key);
    if (found == asked.made.facts.end())
      line.wrong("no fact " + key);
    else
      line.off(found->second - wanted, key);
  };
  for (int side = 0; side < (even ? 2 : 4); ++side)
    fact(lengths, std::string("slope_") + sides[side], hull.length * hull.size_of(side * k_quarter));
  for (int q = 0; q < (even ? 1 : 4); ++q) {
    const std::string key = even ? "" : "_" + std::to_string(q + 1);
    const double before = q * k_quarter;
    const double after = (q + 1) * k_quarter;
    fact(lengths, "bend_line_first" + key, hull.ruling(q, before).length);
    fact(lengths, "bend_line_second" + key, hull.ruling(q, after).length);
    const HullBoard board(hull, {q, 1}, {});
    fact(lengths, "cone_angle" + key, board.turned(q, after) * 180.0 / k_pi);
    const auto arc = board.arc(q, t);
    if (!arc) fact(folds, "fork" + key, hull.stretch(hull.ruling(q, board.fork(q, t)), t).low);
    for (const bool second : {false, true}) {
      const std::string which = (second ? "_second" : "_first") + key;
      const double bend = second ? after : before;
      const double end = !arc ? bend : second ? arc->second : arc->first;
      constexpr double k_same = 1e-6;  // radians
      if (std::abs(end - bend) > k_same || !arc)
        fact(folds, "fold_end" + which, hull.stretch(hull.ruling(q, bend), t).low);
      if (arc) fact(folds, "arc" + which, from_corner(hull, q, second ? q + 1 : q, end, t));
    }
  }
  double kerf = 0.0;
  for (int q = 0; q < 4; ++q) kerf = std::max(kerf, kerfed(hull, q, request.value("least_bend")));
  Worst kerfs("kerfs", 0.01, "mm", "the radius that board around a cone's ruling bends to");
  fact(kerfs, "kerf_to", kerf);
  for (const Worst* line : {&lengths, &folds, &kerfs}) line->into(asked.findings, true);
}

HullRuling ruling_at(const Hull& hull, double theta) {
  constexpr double k_half_flat = k_pi / 8.0;
  const int side = static_cast<int>(std::floor(theta / k_quarter + 1e-9));
  const double from = theta - side * k_quarter;
  if (from <= k_half_flat + 1e-9 && std::abs(from - k_half_flat) > 1e-7)
    return hull.flat_ruling(side, from / k_half_flat);
  if (from >= 3.0 * k_half_flat + 1e-7) return hull.flat_ruling(side + 1, from / k_half_flat - 4.0);
  const double phi = std::clamp(2.0 * (from - k_half_flat), 0.0, k_quarter);
  constexpr double k_same = 1e-7;
  return hull.ruling(side, phi < k_same               ? side * k_quarter
                           : phi > k_quarter - k_same ? (side + 1) * k_quarter
                                                      : side * k_quarter + phi);
}

void prove_hull_ordinates(Case& asked, const Hull& hull) {
  Worst heights("heights", 1e-4, "mm", "rulings from the rectangle to the circle, where their layers end");
  const Request& request = asked.made.request;
  const double count = request.value("stations");
  const std::vector<HullPart> parts = parts_of(request);
  for (std::size_t i = 0; i < asked.made.pieces.size() && i < parts.size(); ++i) {
    const MadePiece& piece = asked.made.pieces[i];
    heights.expect(static_cast<double>(piece.ordinates.size()) >= count + 1.0,
                   piece.id + " has few stations");
    for (const MadeOrdinate& row : piece.ordinates) {
      const HullRuling on = ruling_at(hull, row.angle);
      const std::string at = piece.id + " at " + std::to_string(row.angle * 180.0 / k_pi);
      const Stretch duct = hull.stretch(on, request.outer_face());
      const Stretch air = hull.stretch(on, request.inner_face());
      heights.off(row.duct_low - duct.low, at + ", duct face's start");
      heights.off(row.duct_high - duct.high, at + ", duct face's end");
      heights.off(row.air_low - air.low, at + ", air face's start");
      heights.off(row.air_high - air.high, at + ", air face's end");
    }
  }
  heights.into(asked.findings, true);
}

}  // namespace linerwright::asked
