// Patterns of a square-to-round: both faces laid flat, what the knife follows, bend lines, what is carved by
// hand around the corners.
#include <algorithm>

#include "hull_openings.hpp"
#include "hull_proofs.hpp"
#include "knife_edge.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_chord = 0.05;      // mm, stated in every file
constexpr double k_on_curve = 0.005;  // of a vertex: more than the request's own chords leave

struct Lines {
  Worst pieces{"pieces", 0.0, "", "as many as asked for, each from middle line to middle line of flats"};
  Worst girths{"girths", 1e-5, "mm", "the rectangle's girth, shared out"};
  Worst contours{"contours", 0.0, "", "a closed cut and a contour for either face, four corners"};
  Worst corners{"corners", 0.02, "mm", "corners of the pieces by their true lengths"};
  Worst faces{"faces", k_chord + k_on_curve, "mm",
              "both faces' contours by triangulation and tangent planes"};
  Worst on_curve{"face points", k_on_curve, "mm", "points of both faces' contours"};
  Worst cuts{"cuts", k_chord + k_on_curve, "mm", "what the knife follows under the cut asked for"};
  Worst bends{"bend lines", 0.01, "mm", "marks from the corners to the circle"};
  Worst carved{"carved lines", k_chord + k_on_curve, "mm", "the air face's mitre around each corner"};
  Worst frame{"frame", 0.001, "mm", "the board's size and the cut's area"};
};

// Without the points that lie on the one before.
std::vector<Point> without_repeats(const std::vector<Point>& contour) {
  std::vector<Point> points;
  for (const Point& p : contour)
    if (points.empty() || std::hypot(p[0] - points.back()[0], p[1] - points.back()[1]) > 1e-5)
      points.push_back(p);
  while (points.size() > 1 &&
         std::hypot(points.front()[0] - points.back()[0], points.front()[1] - points.back()[1]) <= 1e-5)
    points.pop_back();
  return points;
}

std::vector<std::vector<Point>> closed_on(const Drawn& drawn, const std::string& layer) {
  std::vector<std::vector<Point>> contours;
  for (const Entity& entity : drawn.entities)
    if (entity.layer == layer && entity.closed) contours.push_back(without_repeats(entity.points));
  // the outline first, then openings
  std::sort(contours.begin(), contours.end(),
            [](const auto& a, const auto& b) { return std::abs(area_of(a)) > std::abs(area_of(b)); });
  return contours;
}

double distance(const Point& a, const Point& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1]);
}

// What a pattern has, in the places of the flat's holes so that it is laid on with it.
struct LaidFlat {
  Flat flat;
  std::vector<Point> corners() const { return flat.holes[0].mid; }
  // from and to of each bend line, two points each
  const std::vector<Point>& bends() const { return flat.holes[1].mid; }
  const std::vector<Point>& mitre(std::size_t i) const { return flat.holes[2 + i].mid; }
  std::size_t corner_count = 0;
  std::vector<Flat::Hole> openings() const {
    return {flat.holes.begin() + 2 + static_cast<std::ptrdiff_t>(corner_count), flat.holes.end()};
  }
};

// An opening's edge on both faces.
Flat::Hole laid_opening(const HullBoard& board, const HullOpening& opening, const Request& request) {
  Flat::Hole hole;
  constexpr int k_points = 720;
  for (int i = 0; i < k_points; ++i) {
    const double psi = k_turn * i / k_points;
    hole.duct.push_back(on_board(board, opening, opening.rim(psi, request.outer_face())));
    hole.air.push_back(on_board(board, opening, opening.rim(psi, request.inner_face())));
    hole.mid.push_back(
        {0.5 * (hole.duct.back()[0] + hole.air.back()[0]), 0.5 * (hole.duct.back()[1] + hole.air.back()[1])});
  }
  return hole;
}

LaidFlat wanted_of(const Hull& hull, const HullPart& part, const Request& request,
                   const std::vector<HullOpening>& openings) {
  const double outer = request.outer_face();
  const double inner = request.inner_face();
  const Follows follows = follows_of(request);
  const HullBoard board(hull, part, {outer, inner});
  LaidFlat wanted;
  Flat& flat = wanted.flat;
  flat.duct = board.layer(outer);
  flat.air = board.layer(inner);
  flat.cut = board.through_corners(
      [&](int side) {
        return followed(board.low_of(side, outer), board.low_of(side, inner), false, follows);
      },
      [&](int q, std::size_t i) {
        return followed(board.highs(q, outer)[i], board.highs(q, inner)[i], true, follows);
      },
      [&](int side) {
        return followed(board.tip_of(side, outer), board.tip_of(side, inner), true, follows);
      });
  flat.duct_corners = {board.on_seam(false, 0.0), board.on_seam(true, 0.0),
                       board.on_seam(true, board.tip_of(board.last_corner() + 1, 0.0)),
                       board.on_seam(false, board.tip_of(part.first, 0.0))};
  flat.cut_corners = flat.duct_corners;
  for (int side = part.first; side <= board.last_corner(); ++side)
    flat.width += hull.half_side(side) + hull.half_side(side + 1);
  flat.holes.resize(2 + static_cast<std::size_t>(part.corners));
  for (int q = part.first; q <= board.last_corner(); ++q) {
    flat.holes[0].mid.push_back(board.corner(q));
    for (const int side : {q, q + 1}) {
      const HullRuling on = hull.ruling(q, side * k_quarter);
      const Stretch stretch = hull.stretch(on, inner);
      flat.holes[1].mid.push_back(board.on_cone(q, on.phi, stretch.low));
      flat.holes[1].mid.push_back(board.on_cone(q, on.phi, std::min(stretch.high, on.length)));
    }
    flat.holes[2 + static_cast<std::size_t>(q - part.first)].mid = board.mitre(q, inner);
  }
  wanted.corner_count = static_cast<std::size_t>(part.corners);
  for (const HullOpening& opening : openings)
    if (opening.corner >= part.first && opening.corner <= board.last_corner())
      flat.holes.push_back(laid_opening(board, opening, request));
  return wanted;
}

double apart(const std::vector<Point>& drawn, const std::vector<Point>& wanted) {
  std::vector<Point> some;
  for (std::size_t i = 0; i < wanted.size(); i += 5) some.push_back(wanted[i]);
  return std::max(stray(with_middles(drawn), wanted), stray(some, drawn));
}

// Away from the corners the knife is where the cut asks for it; around them it lies on the one face or the
// other, or goes from the one to the other at the foot of the mitre.
void prove_cut(const std::vector<Point>& cut, const LaidFlat& wanted, const Request& request, Lines& lines,
               const std::string& where) {
  const std::vector<Point> corners = wanted.corners();
  std::vector<double> reach;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    double most = 0.0;
    for (const Point& p : wanted.mitre(i)) most = std::max(most, distance(p, corners[i]));
    reach.push_back(most + 1.0);
  }
  const auto near_corner = [&](const Point& p) {
    for (std::size_t i = 0; i < corners.size(); ++i)
      if (distance(p, corners[i]) < reach[i]) return true;
    return false;
  };
  for (const Point& p : with_middles(cut)) {
    if (!near_corner(p)) {
      lines.cuts.off(stray({p}, wanted.flat.cut), where);
      continue;
    }
    const double off = std::min(stray({p}, wanted.flat.duct), stray({p}, wanted.flat.air));
    const bool between = inside(wanted.flat.duct, p) || inside(wanted.flat.air, p);
    lines.cuts.off(request.word("cut") == "mid" || between ? 0.0 : off, where + " beside a corner");
  }
  for (std::size_t i = 0; i < wanted.flat.cut.size(); i += 5)
    if (!near_corner(wanted.flat.cut[i]))
      lines.cuts.off(stray({wanted.flat.cut[i]}, cut), where + " left out");
  if (request.word("cut") != "outer") return;
  // all of both faces is kept
  for (const auto* face : {&wanted.flat.duct, &wanted.flat.air})
    for (std::size_t i = 0; i < face->size(); i += 3) {
      const Point& p = (*face)[i];
      if (!inside(cut, p)) lines.cuts.off(stray({p}, cut), where + " cuts into a face");
    }
  for (const Point& corner : corners) lines.cuts.off(stray({corner}, cut), where + " a corner's point");
}

double off_line(const Point& p, const Point& a, const Point& b) {
  return std::abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / distance(a, b);
}

// A straight mark along each bend line, as long as the line on the air face.
void prove_bends(const Drawn& drawn, const LaidFlat& wanted, Lines& lines, const std::string& where) {
  const std::vector<Point>& bends = wanted.bends();
  for (std::size_t i = 0; i + 1 < bends.size(); i += 2) {
    double best = 1e300;
    for (const Entity& entity : drawn.entities) {
      if (entity.layer != "MARK" || entity.closed || entity.points.size() < 2) continue;
      const Point& a = entity.points.front();
      const Point& b = entity.points.back();
      const double straight =
          std::max(off_line(a, bends[i], bends[i + 1]), off_line(b, bends[i], bends[i + 1]));
      if (distance(a, b) < 0.5 * distance(bends[i], bends[i + 1])) continue;
      const double ends = std::min(std::max(distance(a, bends[i]), distance(b, bends[i + 1])),
                                   std::max(distance(b, bends[i]), distance(a, bends[i + 1])));
      best = std::min(best, std::max(straight, ends));
    }
    lines.bends.off(best, where + " bend " + std::to_string(i / 2 + 1));
  }
}

// Where the knife goes through the corner, the line to carve to is the air face's mitre from foot to foot.
void prove_carved(const Drawn& drawn, const LaidFlat& wanted, Lines& lines, const std::string& where) {
  const std::vector<Point> corners = wanted.corners();
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const std::vector<Point>& mitre = wanted.mitre(i);
    double best = 1e300;
    for (const Entity& entity : drawn.entities) {
      if (entity.layer != "MARK" || entity.points.size() < 6) continue;
      const std::vector<Point>& points = entity.points;
      const double ends =
          std::min(std::max(distance(points.front(), mitre.front()), distance(points.back(), mitre.back())),
                   std::max(distance(points.back(), mitre.front()), distance(points.front(), mitre.back())));
      if (ends > best) continue;
      double off = ends;
      for (std::size_t k = 0; k + 1 < points.size(); ++k)
        for (const double share : {0.0, 0.5}) {
          const Point p{points[k][0] + share * (points[k + 1][0] - points[k][0]),
                        points[k][1] + share * (points[k + 1][1] - points[k][1])};
          off = std::max(off, stray({p}, mitre));
        }
      for (std::size_t k = 0; k < mitre.size(); k += 5) {
        double near = 1e300;
        for (std::size_t m = 0; m + 1 < points.size(); ++m) {
          const Point way{points[m + 1][0] - points[m][0], points[m + 1][1] - points[m][1]};
          const double square = way[0] * way[0] + way[1] * way[1];
          const double at = square > 0.0 ? std::clamp(((mitre[k][0] - points[m][0]) * way[0] +
                                                       (mitre[k][1] - points[m][1]) * way[1]) /
                                                          square,
                                                      0.0, 1.0)
                                         : 0.0;
          near = std::min(near, distance(mitre[k], {points[m][0] + at * way[0], points[m][1] + at * way[1]}));
        }
        off = std::max(off, near);
      }
      best = std::min(best, off);
    }
    lines.carved.off(best, where + " corner " + std::to_string(i + 1));
  }
}

// The knife, and of the drawing's faces each, in its openings.
void prove_holes(const std::vector<std::vector<Point>>& contours, const LaidFlat& wanted,
                 std::vector<Point> Flat::Hole::*face, Lines& lines, const std::string& where) {
  const std::vector<Flat::Hole> openings = wanted.openings();
  for (std::size_t i = 1; i < contours.size(); ++i) {
    const Flat::Hole* hole = nearest_hole(openings, contours[i], face);
    if (hole == nullptr) continue;
    lines.faces.off(apart(contours[i], hole->*face), where + " opening");
    lines.on_curve.off(stray(contours[i], hole->*face), where + " opening");
  }
}

void prove_piece(const Case& asked, const MadePiece& made, const Hull& hull, const HullPart& part,
                 const std::vector<HullOpening>& openings, Lines& lines) {
  const Request& request = asked.made.request;
  const std::string file = name_ending(asked.files, "-" + made.id + ".dxf");
  if (file.empty()) {
    lines.contours.wrong("the pattern of " + made.id + " is missing");
    return;
  }
  const Drawn drawn = read_drawn(asked.files.at(file), file, asked.made.inch_drawings ? 25.4 : 1.0);
  const auto on_layer = closed_on(drawn, "CUT");
  const auto cuts = on_layer.empty() && asked.made.bare_drawings ? closed_on(drawn, "0") : on_layer;
  LaidFlat wanted = wanted_of(hull, part, request, openings);
  const std::size_t count = 1 + wanted.openings().size();
  lines.contours.expect(cuts.size() == count, file + " has " + std::to_string(cuts.size()) + " closed cuts");
  if (cuts.size() != count) return;
  lines.girths.off(made.stretch_out - wanted.flat.width, made.id + " in fitting.json");
  Point least = cuts[0][0];
  Point most = cuts[0][0];
  const auto duct = closed_on(drawn, "DUCT_FACE");
  const auto air = closed_on(drawn, "AIR_FACE");
  for (const auto* layer : {&cuts, &duct, &air})
    for (const auto& contour : *layer)
      for (const Point& p : contour)
        for (std::size_t k = 0; k < 2; ++k) {
          least[k] = std::min(least[k], p[k]);
          most[k] = std::max(most[k], p[k]);
        }
  double area = std::abs(area_of(cuts[0]));
  for (std::size_t i = 1; i < cuts.size(); ++i) area -= std::abs(area_of(cuts[i]));
  lines.frame.off((made.area - area) / (most[0] + most[1]), made.id + " area");
  if (asked.made.bare_drawings) return;
  lines.frame.off(made.around - (most[0] - least[0]), made.id + " board around");
  lines.frame.off(made.along - (most[1] - least[1]), made.id + " board along");
  const bool faces = duct.size() == count && air.size() == count;
  lines.contours.expect(faces, file + " has not one contour for each face and opening");
  if (!faces) return;
  if (request.word("face_up") == "air") each_point(wanted.flat, [](Point& p) { p[0] = -p[0]; });
  const auto corners = lay_on(wanted.flat, wanted.flat.duct_corners, duct[0]);
  if (!corners) {
    lines.contours.wrong(file + " has no four corners");
    return;
  }
  lines.corners.off(*corners, made.id);
  lines.faces.off(apart(duct[0], wanted.flat.duct), made.id + " duct face");
  lines.faces.off(apart(air[0], wanted.flat.air), made.id + " air face");
  lines.on_curve.off(stray(duct[0], wanted.flat.duct), made.id + " duct face");
  lines.on_curve.off(stray(air[0], wanted.flat.air), made.id + " air face");
  prove_cut(cuts[0], wanted, request, lines, made.id);
  prove_holes(duct, wanted, &Flat::Hole::duct, lines, made.id + " duct face");
  prove_holes(air, wanted, &Flat::Hole::air, lines, made.id + " air face");
  const std::vector<Flat::Hole> laid = wanted.openings();
  for (std::size_t i = 1; i < cuts.size(); ++i)
    if (const Flat::Hole* hole = nearest_hole(laid, cuts[i], &Flat::Hole::mid))
      lines.cuts.off(off_hole(cuts[i], *hole, request), made.id + " opening");
  prove_bends(drawn, wanted, lines, made.id);
  const std::string cut = request.word("cut");
  if (cut == "outer" || cut == "duct" || cut == "tilt") prove_carved(drawn, wanted, lines, made.id);
}

}  // namespace

void prove_hull_patterns(Case& asked, const Hull& hull) {
  Lines lines;
  const std::vector<HullPart> parts = parts_of(asked.made.request);
  const std::vector<HullOpening> openings = hull_openings(hull, asked.made.request, false);
  lines.pieces.expect(asked.made.pieces.size() == parts.size(),
                      std::to_string(asked.made.pieces.size()) + " pieces");
  for (std::size_t i = 0; i < asked.made.pieces.size() && i < parts.size(); ++i) {
    const MadePiece& made = asked.made.pieces[i];
    lines.pieces.expect(made.id == std::to_string(i + 1), "a piece is called " + made.id);
    lines.pieces.expect(made.count == asked.made.count, made.id + " is not there as often as the fitting");
    prove_piece(asked, made, hull, parts[i], openings, lines);
  }
  lines.pieces.into(asked.findings, true);
  for (const Worst* line : {&lines.girths, &lines.contours, &lines.corners, &lines.faces, &lines.on_curve,
                            &lines.cuts, &lines.bends, &lines.carved, &lines.frame})
    line->into(asked.findings);
}

}  // namespace linerwright::asked
