// The collar under a square-to-round's rectangle: on each side a panel upright over the rectangle's side, w
// deep the plane reach - w; the flat above it reach - slope z - w size. The two planes cross at the height
// that bisects the corner between them, and each is the layer on its own side of that.
#include <algorithm>

#include "hull_proofs.hpp"
#include "readers.hpp"

namespace linerwright::asked {

double Hull::square_top(int side, double w) const {
  const double lean = slope(side * k_quarter);
  constexpr double k_upright = 1e-12;
  return std::abs(lean) < k_upright ? 0.0 : w * (1.0 - size_of(side * k_quarter)) / lean;
}

double Hull::side_off(int side, double z, double w) const {
  const double phi = side * k_quarter;
  return z <= square_top(side, w) ? reach(phi) - w : reach(phi) - slope(phi) * z - w * size_of(phi);
}

// Between the sides before and after it, up to where it meets its own flat; straight between the heights at
// which those go over.
double Hull::panel_area(int side, double w) const {
  const double top = square_top(side, w);
  std::vector<double> heights{start(), top};
  for (const int beside : {side + 1, side + 3})
    if (const double z = square_top(beside % 4, w); z < top) heights.push_back(z);
  std::sort(heights.begin(), heights.end());
  const auto across = [&](double z) {
    return side_off((side + 1) % 4, z, w) + side_off((side + 3) % 4, z, w);
  };
  double area = 0.0;
  for (std::size_t k = 0; k + 1 < heights.size(); ++k)
    area += 0.5 * (heights[k + 1] - heights[k]) * (across(heights[k]) + across(heights[k + 1]));
  return area;
}

// Its layers grow evenly with their depth (Simpson's rule).
double Hull::panel_volume(int side, double w) const {
  return w / 6.0 * (panel_area(side, 0.0) + 4.0 * panel_area(side, 0.5 * w) + panel_area(side, w));
}

// A side that narrows is met first by the nearer of panel and flat, one that widens by the farther.
double Hull::under_sides(const Place& place) const {
  double least = 1e300;
  for (int side = 0; side < 4; ++side) {
    const double phi = side * k_quarter;
    const HullPlane on = plane(phi);
    const double flat = on.off - along(on.u, place);
    const Place upright{std::cos(phi), std::sin(phi), 0.0};
    const double panel = reach(phi) - along(upright, place);
    least = std::min(least, slope(phi) > 0.0 ? std::min(panel, flat) : std::max(panel, flat));
  }
  return least;
}

double Hull::above_panels(const HullRuling& on, double w) const {
  const int side = static_cast<int>(std::lround(on.phi / k_quarter)) % 4;
  const Place start = on.base - w * on.normal;
  double low = (square_top(side, w) - start[2]) / on.way[2];
  for (const int beside : {(side + 1) % 4, (side + 3) % 4}) {
    const double phi = beside * k_quarter;
    const Place upright{std::cos(phi), std::sin(phi), 0.0};
    const double top = square_top(beside, w);
    // where the ruling crosses that side's flat, if above the height at which it goes over, else its panel
    const double toward = along(upright, on.way);
    const double lean = slope(phi);
    constexpr double k_inside = 1e-9;  // mm: within that side from the start
    const Place at = start + low * on.way;
    if (along(upright, at) <= side_off(beside, at[2], w) + k_inside) continue;
    double v = (reach(phi) - lean * start[2] - w * size_of(phi) - along(upright, start)) /
               (toward + lean * on.way[2]);
    if (start[2] + v * on.way[2] < top) v = (reach(phi) - w - along(upright, start)) / toward;
    low = std::max(low, v);
  }
  return low;
}

namespace {

struct PanelLines {
  Worst pieces{"panels", 0.0, "", "one for each side of the rectangle"};
  Worst contours{"panel contours", 0.0, "", "a closed cut and a contour for either face, four corners"};
  Worst faces{"panel faces", 0.005, "mm", "both faces by the planes of panels and flats"};
  Worst cuts{"panel cuts", 0.005, "mm", "what the knife follows under the cut asked for"};
  Worst frame{"panel frames", 0.001, "mm", "the rectangle's sides, the board's size and the cut's area"};
};

// The face w deep, counter-clockwise from outside; x in the sense of phi, y up from the rectangle.
std::vector<Point> panel_corners(const Hull& hull, int side, double w) {
  const int after = (side + 1) % 4;
  const int before = (side + 3) % 4;
  const double top = hull.square_top(side, w);
  const auto right = [&](double z) { return Point{hull.side_off(after, z, w), z}; };
  const auto left = [&](double z) { return Point{-hull.side_off(before, z, w), z}; };
  std::vector<Point> corners{left(hull.start()), right(hull.start())};
  constexpr double k_level = 1e-9;
  if (const double z = hull.square_top(after, w); z < top - k_level) corners.push_back(right(z));
  corners.push_back(right(top));
  corners.push_back(left(top));
  if (const double z = hull.square_top(before, w); z < top - k_level) corners.push_back(left(z));
  return corners;
}

std::vector<std::vector<Point>> closed_on(const Drawn& drawn, const std::string& layer) {
  std::vector<std::vector<Point>> contours;
  for (const Entity& entity : drawn.entities)
    if (entity.layer == layer && entity.closed) contours.push_back(entity.points);
  return contours;
}

double both_ways(const std::vector<Point>& drawn, const std::vector<Point>& wanted) {
  return std::max(stray(with_middles(drawn), wanted), stray(with_middles(wanted), drawn));
}

void prove_panel(const Files& files, const MadeFitting& asked, const MadePiece& made, const Hull& hull,
                 int side, PanelLines& lines) {
  const Request& request = asked.request;
  const std::string file = name_ending(files, "-" + made.id + ".dxf");
  if (file.empty()) return lines.contours.wrong("the pattern of " + made.id + " is missing");
  const Drawn drawn = read_drawn(files.at(file), file, asked.inch_drawings ? 25.4 : 1.0);
  const auto on_layer = closed_on(drawn, "CUT");
  const auto cuts = on_layer.empty() && asked.bare_drawings ? closed_on(drawn, "0") : on_layer;
  lines.contours.expect(cuts.size() == 1, file + " has " + std::to_string(cuts.size()) + " closed cuts");
  if (cuts.size() != 1) return;
  const double across = 2.0 * hull.half_side(side);
  lines.frame.off(made.stretch_out - 2.0 * (across + hull.square), made.id + " girth");
  lines.frame.off((made.area - std::abs(area_of(cuts[0]))) / (across + hull.square), made.id + " area");
  if (asked.bare_drawings) return;
  const auto duct = closed_on(drawn, "DUCT_FACE");
  const auto air = closed_on(drawn, "AIR_FACE");
  const bool faces = duct.size() == 1 && air.size() == 1;
  lines.contours.expect(faces, file + " has not one contour for each face");
  if (!faces) return;
  Flat wanted;
  wanted.duct = panel_corners(hull, side, request.outer_face());
  wanted.air = panel_corners(hull, side, request.inner_face());
  for (std::size_t i = 0; i < 4; ++i) wanted.duct_corners[i] = wanted.cut_corners[i] = wanted.duct[i];
  if (request.word("face_up") == "air") each_point(wanted, [](Point& p) { p[0] = -p[0]; });
  const auto corners = lay_on(wanted, wanted.duct_corners, duct[0]);
  if (!corners) return lines.contours.wrong(file + " has no four corners");
  // a rectangle's corners lie on themselves when it is turned end for end, a square's when it is turned by a
  // quarter: both faces tell
  const Point middle{0.5 * (wanted.duct_corners[0][0] + wanted.duct_corners[2][0]),
                     0.5 * (wanted.duct_corners[0][1] + wanted.duct_corners[2][1])};
  const auto off_faces = [&](const Flat& flat) {
    return std::max(both_ways(duct[0], flat.duct), both_ways(air[0], flat.air));
  };
  Flat turned = wanted;
  for (int quarter = 1; quarter < 4; ++quarter) {
    each_point(turned, [&](Point& p) {
      p = {middle[0] - (p[1] - middle[1]), middle[1] + (p[0] - middle[0])};
    });
    if (off_faces(turned) < off_faces(wanted)) wanted = turned;
  }
  lines.faces.off(*corners, made.id + " corners");
  lines.faces.off(both_ways(duct[0], wanted.duct), made.id + " duct face");
  lines.faces.off(both_ways(air[0], wanted.air), made.id + " air face");
  const bool outer = request.word("cut") == "outer";
  if (!outer) {
    lines.cuts.off(both_ways(cuts[0], wanted.duct), made.id);
    return;
  }
  // on the one face or the other, and inside of neither
  for (const Point& p : with_middles(cuts[0])) {
    const double on_duct = stray({p}, wanted.duct);
    const double on_air = stray({p}, wanted.air);
    lines.cuts.off(std::min(on_duct, on_air), made.id);
    if (inside(wanted.duct, p)) lines.cuts.off(on_duct, made.id + " in the duct face");
    if (inside(wanted.air, p)) lines.cuts.off(on_air, made.id + " in the air face");
  }
  for (const auto* face : {&wanted.duct, &wanted.air})
    for (const Point& p : with_middles(*face))
      if (!inside(cuts[0], p)) lines.cuts.off(stray({p}, cuts[0]), made.id + " cuts into a face");
}

}  // namespace

int panel_side(const std::string& id) {
  return id.size() == 6 && id.compare(0, 5, "panel") == 0 && id[5] >= '1' && id[5] <= '4' ? id[5] - '1' : -1;
}

void prove_hull_panels(const Files& files, const MadeFitting& made, const Hull& hull,
                       std::vector<Finding>& findings) {
  if (!(hull.square > 0.0)) return;
  PanelLines lines;
  for (int side = 0; side < 4; ++side) {
    const auto found = std::find_if(made.pieces.begin(), made.pieces.end(),
                                    [&](const MadePiece& piece) { return panel_side(piece.id) == side; });
    lines.pieces.expect(found != made.pieces.end(), "no panel " + std::to_string(side + 1));
    if (found == made.pieces.end()) continue;
    lines.pieces.expect(found->count == made.count, found->id + " is not there as often as the fitting");
    prove_panel(files, made, *found, hull, side, lines);
  }
  for (const Worst* line : {&lines.pieces, &lines.contours, &lines.faces, &lines.cuts, &lines.frame})
    line->into(findings);
}

}  // namespace linerwright::asked
