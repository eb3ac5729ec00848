#include <algorithm>

#include "knife_edge.hpp"
#include "pins.hpp"
#include "proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

namespace {

constexpr double k_chord = 0.05;       // mm, stated in every file
constexpr double k_on_curve = 0.005;   // of a vertex: more than the request's own chords leave
constexpr std::size_t k_thinned = 12;  // one of so many wanted points is looked for in what was drawn

std::vector<std::vector<Point>> contours_on(const Drawn& drawn, const std::string& layer) {
  std::vector<std::vector<Point>> contours;
  for (const Entity& entity : drawn.entities)
    if (entity.layer == layer && entity.closed) contours.push_back(entity.points);
  // outer one first
  std::sort(contours.begin(), contours.end(),
            [](const auto& a, const auto& b) { return std::abs(area_of(a)) > std::abs(area_of(b)); });
  return contours;
}

// Far apart both ways: the drawn contour's points from the wanted one, and the wanted one's from the drawn.
double apart(const std::vector<Point>& drawn, const std::vector<Point>& wanted) {
  std::vector<Point> some;
  for (std::size_t i = 0; i < wanted.size(); i += k_thinned) some.push_back(wanted[i]);
  return std::max(stray(with_middles(drawn), wanted), stray(some, drawn));
}

// The smallest upright rectangle around a contour: least x and y, largest x and y.
std::array<double, 4> around(const std::vector<Point>& contour) {
  std::array<double, 4> box{1e300, 1e300, -1e300, -1e300};
  for (const Point& point : contour)
    for (std::size_t k = 0; k < 2; ++k) {
      box[k] = std::min(box[k], point[k]);
      box[k + 2] = std::max(box[k + 2], point[k]);
    }
  return box;
}

// The middle of the circle through three of its points, a third of the way around from each other.
Point middle_of_circle(const std::vector<Point>& contour) {
  const std::size_t n = contour.size();
  const Point& a = contour[0];
  const Point b{contour[n / 3][0] - a[0], contour[n / 3][1] - a[1]};
  const Point c{contour[2 * n / 3][0] - a[0], contour[2 * n / 3][1] - a[1]};
  const double twice = 2.0 * (b[0] * c[1] - b[1] * c[0]);
  const double bb = b[0] * b[0] + b[1] * b[1];
  const double cc = c[0] * c[0] + c[1] * c[1];
  return {a[0] + (c[1] * bb - b[1] * cc) / twice, a[1] + (b[0] * cc - c[0] * bb) / twice};
}

// What the knife leaves of a hole under the cut policy `outer`: what both faces' holes have in common.
double apart_from_common(const std::vector<Point>& drawn, const Flat::Hole& hole) {
  double worst = 0.0;
  for (const Point& point : with_middles(drawn)) {
    const double duct = stray({point}, hole.duct);
    const double air = stray({point}, hole.air);
    const bool on_duct = duct <= air;
    const double other = on_duct ? air : duct;
    const bool kept = other < k_chord || inside(on_duct ? hole.air : hole.duct, point);
    worst = std::max(worst, kept ? std::min(duct, air) : other);
  }
  std::vector<Point> rim;
  for (std::size_t i = 0; i < hole.duct.size(); i += k_thinned) {
    if (inside(hole.air, hole.duct[i])) rim.push_back(hole.duct[i]);
    if (inside(hole.duct, hole.air[i])) rim.push_back(hole.air[i]);
  }
  return std::max(worst, stray(rim, drawn));
}

}  // namespace

const Flat::Hole* nearest_hole(const std::vector<Flat::Hole>& holes, const std::vector<Point>& contour,
                               std::vector<Point> Flat::Hole::*face) {
  const Flat::Hole* best = nullptr;
  double least = 1e300;
  const std::array<double, 4> box = around(contour);
  for (const Flat::Hole& hole : holes) {
    const std::array<double, 4> wanted = around(hole.*face);
    double off = 0.0;
    for (std::size_t k = 0; k < 4; ++k) off += std::abs(box[k] - wanted[k]);
    if (off < least) {
      least = off;
      best = &hole;
    }
  }
  return best;
}

double off_hole(const std::vector<Point>& contour, const Flat::Hole& hole, const Request& request) {
  const Follows follows = follows_of(request);
  const double butt = request.value("butt_allowance");
  const bool outer = follows == Follows::further;
  const auto& edge = follows == Follows::middle ? hole.mid : follows == Follows::duct ? hole.duct : hole.air;
  if (!(butt > 0.0)) return outer ? apart_from_common(contour, hole) : apart(contour, edge);
  double worst = 0.0;
  for (const Point& point : contour) {  // inward by the allowance, square to the rim
    const double duct = stray({point}, hole.duct);
    const double air = stray({point}, hole.air);
    const bool in = outer ? inside(hole.duct, point) && inside(hole.air, point) : inside(edge, point);
    const double off = outer ? std::min(duct, air) : stray({point}, edge);
    worst = std::max(worst, in ? std::abs(off - butt) : 1e3);
  }
  return worst;
}

namespace {

struct Lines {
  Worst girths{"girths", 0.001, "mm", "pi (D - 2 k t) less the fit allowance, the panel's share"};
  Worst corners{"corners", 0.02, "mm", "corners of tapers unrolled by their true lengths"};
  Worst faces{"faces", k_chord + k_on_curve, "mm", "both faces' contours by closed form"};
  Worst on_curve{"face points", k_on_curve, "mm", "points of both faces' contours by closed form"};
  Worst cuts{"cuts", k_chord + k_on_curve, "mm",
             "what the knife follows under the cut asked for, allowances added"};
  Worst frame{"frame", 0.001, "mm", "x from the seam on, y from the lowest cut on"};
  Worst pins{"pins", 0.002, "mm", "pin_edge off seams and ends, no more than pin_around and pin_along apart"};
  Worst contours{"contours", 0.0, "", "closed contours, one for a piece and one for each hole"};
};

void prove_hole(const std::vector<Point>& contour, const Flat& flat, const Request& request, Lines& lines,
                const std::string& where) {
  const Flat::Hole* hole = nearest_hole(flat.holes, contour, &Flat::Hole::mid);
  if (hole == nullptr)
    lines.contours.wrong("a hole in " + where + " that was not asked for");
  else
    lines.cuts.off(off_hole(contour, *hole, request), where + " hole");
}

void prove_faces(const Drawn& drawn, const Flat& flat, Lines& lines, const std::string& where) {
  for (const bool duct : {true, false}) {
    const auto contours = contours_on(drawn, duct ? "DUCT_FACE" : "AIR_FACE");
    const std::string face = where + (duct ? " duct face" : " air face");
    lines.contours.expect(contours.size() == 1 + flat.holes.size(),
                          face + " has " + std::to_string(contours.size()) + " contours");
    for (std::size_t i = 0; i < contours.size(); ++i) {
      const std::vector<Point>* wanted = duct ? &flat.duct : &flat.air;
      if (i > 0) {
        const auto outline = duct ? &Flat::Hole::duct : &Flat::Hole::air;
        const Flat::Hole* hole = nearest_hole(flat.holes, contours[i], outline);
        if (hole == nullptr) continue;
        wanted = &(hole->*outline);
      }
      lines.faces.off(apart(contours[i], *wanted), face);
      lines.on_curve.off(stray(contours[i], *wanted), face);
    }
  }
}

void prove_pattern(const Cut& cut, const Case& asked, Lines& lines) {
  const Request& request = asked.made.request;
  const std::string& where = cut.made->id;
  const std::string file = name_ending(asked.files, "-" + where + ".dxf");
  if (file.empty()) {
    lines.contours.wrong("the pattern of " + where + " is missing");
    return;
  }
  const Drawn drawn = read_drawn(asked.files.at(file), file, asked.made.inch_drawings ? 25.4 : 1.0);
  const auto single = contours_on(drawn, "CUT").empty();
  const auto cuts = contours_on(drawn, single && asked.made.bare_drawings ? "0" : "CUT");
  if (cuts.empty()) {
    lines.contours.wrong(file + " has no closed cut");
    return;
  }
  Flat flat = flat_of(cut.part, request, cut.lift);
  lines.girths.off(cut.made->stretch_out - flat.width, where + " in fitting.json");
  lines.contours.expect(cuts.size() == 1 + flat.holes.size(),
                        file + " has " + std::to_string(cuts.size()) + " closed cuts");
  Point least = cuts[0][0];
  Point most = cuts[0][0];
  const auto reach = [&](const std::vector<Point>& contour) {
    for (const Point& point : contour)
      for (std::size_t k = 0; k < 2; ++k) {
        least[k] = std::min(least[k], point[k]);
        most[k] = std::max(most[k], point[k]);
      }
  };
  // the board holds the cut and both faces
  for (const auto& contour : cuts) reach(contour);
  for (const char* layer : {"CUT", "DUCT_FACE", "AIR_FACE"})
    for (const auto& contour : contours_on(drawn, layer)) reach(contour);
  const double loose = asked.made.bare_drawings ? k_chord + std::abs(flat.lowest + cut.lift) : 0.0;
  if (loose == 0.0) {
    lines.frame.off(cut.made->around - (most[0] - least[0]), where + " board around");
    lines.frame.off(cut.made->along - (most[1] - least[1]), where + " board along");
  }
  if (!cut.known_edges) return;
  if (cut.part.wall->is_disc()) {  // its ruling opposite the first stands upright, as everywhere
    const Point there = middle_of_circle(cuts[0]);
    const Point here = middle_of_circle(flat.cut);
    each_point(flat, [&](Point& point) {
      for (std::size_t k = 0; k < 2; ++k) point[k] = there[k] + here[k] - point[k];
    });
  } else if (cut.part.wall->taper > 0.0) {
    const auto corners = lay_on(flat, flat.cut_corners, cuts[0]);
    if (!corners)
      lines.contours.wrong(file + " has no four corners");
    else
      lines.corners.off(*corners, where);
  } else {
    lines.girths.off(most[0] - least[0] - flat.width, where);
    lines.frame.off(least[0], where + " x");
    if (loose == 0.0) lines.cuts.off(least[1] - (flat.lowest + cut.lift), where + " lowest point");
    lines.cuts.off(flat.lowest + cut.lift, where + " above the lower edge");
    if (!asked.made.bare_drawings) prove_pins(drawn, cut.part, request, flat, cut.lift, where, lines.pins);
  }
  lines.cuts.off(apart(cuts[0], flat.cut), where);
  for (std::size_t i = 1; i < cuts.size(); ++i) prove_hole(cuts[i], flat, request, lines, where);
  double area = std::abs(area_of(cuts[0]));
  for (std::size_t i = 1; i < cuts.size(); ++i) area -= std::abs(area_of(cuts[i]));
  lines.frame.off((cut.made->area - area) / (most[0] + most[1]), where + " area");
  if (!asked.made.bare_drawings) prove_faces(drawn, flat, lines, where);
}

}  // namespace

void prove_patterns(Case& asked) {
  Lines lines;
  for (const Cut& cut : asked.cuts) prove_pattern(cut, asked, lines);
  for (const Worst* line : {&lines.girths, &lines.contours, &lines.frame, &lines.corners, &lines.faces,
                            &lines.on_curve, &lines.cuts, &lines.pins})
    line->into(asked.findings);
}

}  // namespace linerwright::asked
