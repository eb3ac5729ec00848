// Faces of a square-to-round that openings lie in. A flat is one plane whatever lines cross it; a part of a
// cone with an opening is one ruled surface, which reaches from the edge of regression of its layer to beyond
// the round end, and on which all that bounds it lies.
#include <BRep_Builder.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_Plane.hxx>
#include <TopLoc_Location.hxx>
#include <algorithm>
#include <cmath>

#include "linerwright/sheet/folds.hpp"
#include "ruled_wall.hpp"

namespace linerwright {

namespace {

constexpr double k_quarter = 0.5 * k_pi;

// The ruling of a cone a turn on from its first, as its own where it shares it with a flat.
double inside_cone(int quarter, double turn) {
  constexpr double k_inside = 1e-12;
  return corner_theta(quarter, std::clamp(turn, k_inside, k_quarter - k_inside));
}

double way_along(const Sheet& sheet, double theta, Vec3 point) {
  const Sheet::Ruling ruling = sheet.ruling(theta);
  return dot(sheet.frame().local_point(point) - ruling.base, ruling.direction);
}

// The layer of a cone at depth w, on a surface that is smooth all over it.
RuledWall wall_of_cone(const Sheet& sheet, double w, int quarter, const FoldedEdges& of, int fineness) {
  double beyond = 0.0;  // the ruling's own end
  for (const FoldedPatch& patch : of.layer.patches[static_cast<std::size_t>(quarter)]) {
    const ArcEdge& high = of.edges[static_cast<std::size_t>(patch.high)];
    const FoldedCurve& curve = of.layer.curves[static_cast<std::size_t>(patch.high)];
    for (const double s : high.parameters) {
      const double theta = inside_cone(quarter, patch.turn_at(s));
      beyond = std::max(beyond, way_along(sheet, theta, curve.at(s)) - sheet.ruling(theta).length);
    }
  }
  constexpr double k_step = 0.01;  // radians of turn
  const int steps = static_cast<int>(std::ceil(k_quarter / k_step)) * fineness;
  std::vector<double> thetas;
  for (int i = 0; i <= steps; ++i)
    thetas.push_back(corner_theta(quarter, i == steps ? k_quarter : k_quarter * i / steps));
  constexpr double k_aside = 1.0;  // mm
  const auto own = [quarter](double theta) {
    return inside_cone(quarter, 2.0 * (theta - corner_theta(quarter, 0.0)));
  };
  const auto low = [sheet, w, own](double theta) {
    return w > 0.0 ? w * fold_edge(sheet, own(theta)) : w < 0.0 ? sheet.v_at_height(theta, 0.0, w) : 0.0;
  };
  const auto high = [sheet, beyond](double theta) { return sheet.ruling(theta).length + beyond + k_aside; };
  return {sheet, w, low, high, thetas};
}

}  // namespace

TopoDS_Face Faces::pierced_cone(const Sheet& sheet, double w, int quarter, const std::vector<Loop>& holes) {
  const FoldedEdges& of = edges_.folded(sheet, w);
  const std::vector<FoldedPatch>& patches = of.layer.patches[static_cast<std::size_t>(quarter)];
  const RuledWall wall = wall_of_cone(sheet, w, quarter, of, edges_.fineness());
  BRep_Builder builder;
  const TopLoc_Location here;
  TopoDS_Face face;
  builder.MakeFace(face, wall.surface(), k_tolerance);
  TopoDS_Wire wire;
  builder.MakeWire(wire);
  const auto place_of = [&](double turn, Vec3 point) {
    const double theta = corner_theta(quarter, turn);
    return wall.at({theta, way_along(sheet, theta, point)});
  };
  const auto add_curve = [&](int which, const FoldedPatch& patch, bool low) {
    const ArcEdge& arc = of.edges[static_cast<std::size_t>(which)];
    const FoldedCurve& curve = of.layer.curves[static_cast<std::size_t>(which)];
    builder.UpdateEdge(
        arc.edge,
        fitted_line([&](double s) { return place_of(patch.turn_at(s), curve.at(s)); }, arc.parameters),
        wall.surface(), here, k_tolerance);
    builder.Add(wire, arc.edge.Oriented(low != patch.reversed ? TopAbs_FORWARD : TopAbs_REVERSED));
  };
  const auto add_bend = [&](const FoldedPatch& patch, bool first) {
    const int which = (first != patch.reversed ? patch.start : patch.end).curve;
    const FoldedCurve& line = of.layer.curves[static_cast<std::size_t>(which)];
    const TopoDS_Edge& edge = of.edges[static_cast<std::size_t>(which)].edge;
    const auto end = [&](int point) {
      return place_of(first ? 0.0 : k_quarter, of.layer.points[static_cast<std::size_t>(point)]);
    };
    put_side(edge, end(line.from).x, wall.surface(), end(line.from).y, end(line.to).y);
    builder.Add(wire, edge.Oriented(first ? TopAbs_REVERSED : TopAbs_FORWARD));
  };
  if (w == 0.0) {
    const TopoDS_Vertex corner = of.vertices[static_cast<std::size_t>(patches.front().low_point)];
    TopoDS_Edge apex;
    builder.MakeEdge(apex);
    builder.UpdateEdge(apex, new Geom2d_Line(gp_Pnt2d(0.0, 0.0), gp_Dir2d(1.0, 0.0)), wall.surface(), here,
                       k_tolerance);
    builder.Add(apex, corner.Oriented(TopAbs_FORWARD));
    builder.Add(apex, corner.Oriented(TopAbs_REVERSED));
    builder.Range(apex, wall.surface(), here, corner_theta(quarter, 0.0), corner_theta(quarter, k_quarter));
    builder.Degenerated(apex, true);
    builder.Add(wire, apex.Oriented(TopAbs_FORWARD));
  }
  for (const FoldedPatch& patch : patches)
    if (patch.low) add_curve(*patch.low, patch, true);
  add_bend(patches.back(), false);
  for (auto patch = patches.rbegin(); patch != patches.rend(); ++patch) add_curve(patch->high, *patch, false);
  add_bend(patches.front(), true);
  builder.Add(face, wire);
  for (const Loop& hole : holes)
    wall.add_loop(face, edges_.joint(hole.joint), hole, edges_.edges(hole.joint, hole.depths),
                  corner_theta(quarter, 0.5 * k_quarter), TopAbs_REVERSED);
  return face;
}

TopoDS_Face Faces::patch_on_part(const Sheet& sheet, double w, const Loop& loop) {
  const double middle = middle_of(loop);
  if (!part_at(middle).flat) return patch_on_oblique(sheet, w, loop);
  const Vec3 normal = sheet.normal(middle);
  TopoDS_Face face;
  BRep_Builder builder;
  builder.MakeFace(
      face, new Geom_Plane(to_kernel(sheet.point(middle, 0.0, w)), gp_Dir(normal.x, normal.y, normal.z)),
      k_tolerance);
  builder.Add(face, wire_of(loop));
  return face;
}

}  // namespace linerwright
