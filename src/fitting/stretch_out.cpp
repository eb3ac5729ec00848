// How long a wall's board is around.
#include <cmath>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/sheet/panels.hpp"

namespace linerwright {

namespace {

constexpr int k_panels = 12;

// Along the rectangle, from ruling to ruling.
double rectangle_girth(const Sheet& sheet, double from, double span) {
  double sum = 0.0;
  const int quarters = static_cast<int>(std::ceil(span / (0.5 * k_part_span) - 1e-9));
  for (int i = 0; i < quarters; ++i) {
    const double begin = from + span * i / quarters;
    const double end = from + span * (i + 1) / quarters;
    sum += distance(sheet.ruling(begin).base, sheet.ruling(end).base);
  }
  return sum;
}

}  // namespace

double stretch_out(const Fitting& fitting, int wall, double from, double span) {
  const Sheet& sheet = fitting.wall(wall).sheet;
  const double depth = liner_of(fitting, wall).reference_depth();
  if (sheet.is_cylinder()) return span * (sheet.r1() - depth);
  if (sheet.is_square_to_round()) return rectangle_girth(sheet, from, span);
  if (const auto* panel = std::get_if<PanelTarget>(&fitting.joint(fitting.wall(wall).low.joint).target)) {
    const std::vector<Vec2> face = panel_face(panel->hull, panel->side, 0.0);
    return 2.0 * (distance(face[0], face[1]) + distance(face[1], face[2]));
  }
  const bool high = sheet.r2() > sheet.r1();
  return integrate(
      [&](double theta) { return sheet.spread(theta, high ? sheet.ruling(theta).length : 0.0, depth); }, from,
      from + span, k_panels);
}

double fit_scale(const Fitting& fitting, int wall) {
  if (fitting.wall(wall).sheet.is_flat()) return 1.0;  // nothing is rolled
  // its flats lie on the metal, whatever the corners do
  if (fitting.wall(wall).sheet.is_square_to_round()) return 1.0;
  return 1.0 - liner_of(fitting, wall).fit_allowance / stretch_out(fitting, wall);
}

Development development_of(const Fitting& fitting, const Piece& piece) {
  return {fitting.wall_of(piece).sheet, liner_of(fitting, piece).reference_depth(),
          fit_scale(fitting, piece.wall), piece.seam};
}

}  // namespace linerwright
