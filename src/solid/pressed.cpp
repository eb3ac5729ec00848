#include "pressed.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_Circle.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <TopExp.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <cmath>
#include <gp_Ax2.hxx>

#include "linerwright/fitting/pressed_bend.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

constexpr double k_tolerance = 1e-7;

// A section's circle begins on the outside of the first bend and turns about an axis that points back along
// the centreline, as the section's circles of the kernel's torus do.
TopoDS_Edge circle_at(const gp_Ax2& axes, double radius) {
  const Handle(Geom_Circle) curve = new Geom_Circle(axes, radius);
  BRep_Builder builder;
  TopoDS_Vertex vertex;
  builder.MakeVertex(vertex, curve->Value(0.0), k_tolerance);
  TopoDS_Edge edge;
  builder.MakeEdge(edge, curve, k_tolerance);
  builder.Add(edge, vertex.Oriented(TopAbs_FORWARD));
  builder.Add(edge, vertex.Oriented(TopAbs_REVERSED));
  builder.Range(edge, 0.0, k_two_pi);
  return edge;
}

// The face between two circles on a cylinder (which counts the way around first) or a torus (which counts the
// way along first), from this angle around on.
TopoDS_Face tube(const Handle(Geom_Surface) & surface, bool around_first, const TopoDS_Edge& first,
                 const TopoDS_Edge& last, const Handle(Geom_Curve) & seam_curve, double length, double from) {
  const auto place = [&](double around, double along) {
    return around_first ? gp_Pnt2d(around, along) : gp_Pnt2d(along, around);
  };
  const gp_Dir2d u(1.0, 0.0);
  const gp_Dir2d v(0.0, 1.0);
  const TopLoc_Location here;
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, surface, k_tolerance);
  TopoDS_Edge seam;
  builder.MakeEdge(seam, seam_curve, k_tolerance);
  builder.Add(seam, TopExp::FirstVertex(first).Oriented(TopAbs_FORWARD));
  builder.Add(seam, TopExp::FirstVertex(last).Oriented(TopAbs_REVERSED));
  builder.Range(seam, 0.0, length);
  builder.UpdateEdge(first, new Geom2d_Line(place(from, 0.0), around_first ? u : v), surface, here,
                     k_tolerance);
  builder.UpdateEdge(last, new Geom2d_Line(place(from, length), around_first ? u : v), surface, here,
                     k_tolerance);
  const Handle(Geom2d_Line) at_end = new Geom2d_Line(place(from + k_two_pi, 0.0), around_first ? v : u);
  const Handle(Geom2d_Line) at_start = new Geom2d_Line(place(from, 0.0), around_first ? v : u);
  builder.UpdateEdge(seam, around_first ? at_end : at_start, around_first ? at_start : at_end, surface, here,
                     k_tolerance);
  builder.Continuity(seam, surface, surface, here, here, GeomAbs_CN);
  TopoDS_Wire outline;
  builder.MakeWire(outline);
  const auto add = [&](const TopoDS_Edge& edge, TopAbs_Orientation orientation) {
    builder.Add(outline, edge.Oriented(orientation));
  };
  if (around_first) {
    add(first, TopAbs_FORWARD);
    add(seam, TopAbs_FORWARD);
    add(last, TopAbs_REVERSED);
    add(seam, TopAbs_REVERSED);
  } else {
    add(seam, TopAbs_FORWARD);
    add(last, TopAbs_FORWARD);
    add(seam, TopAbs_REVERSED);
    add(first, TopAbs_REVERSED);
  }
  builder.Add(face, outline);
  return face;
}

TopoDS_Shape ring(const gp_Ax2& axes, const TopoDS_Edge& outer, const TopoDS_Edge& inner, bool turn) {
  BRep_Builder builder;
  TopoDS_Face face;
  builder.MakeFace(face, new Geom_Plane(gp_Ax3(axes)), k_tolerance);
  for (const bool hole : {false, true}) {
    TopoDS_Wire wire;
    builder.MakeWire(wire);
    builder.Add(wire, (hole ? inner : outer).Oriented(hole ? TopAbs_REVERSED : TopAbs_FORWARD));
    builder.Add(face, wire);
  }
  return turn ? face.Reversed() : TopoDS_Shape(face);
}

gp_Dir dir(Vec3 v) {
  return {v.x, v.y, v.z};
}

}  // namespace

namespace {

// Where a section stands along the way; from the one before, a length of cylinder or of a torus leads to it.
struct Stop {
  gp_Ax2 axes;
  double back = 0.0;  // length of the cylinder
  const PressedBend* torus = nullptr;
};

// The way of the bends, section by section. A second bend's inside is the first one's outside, from where all
// circles are counted.
std::vector<Stop> stops_of(const std::vector<PressedBend>& bends) {
  std::vector<Stop> stops;
  double side = 1.0;
  for (const PressedBend& bend : bends) {
    const Frame& frame = bend.frame;
    const Vec3 centre = frame.origin + bend.centreline_radius * frame.x;
    const auto stop = [&](double turn, double ahead, double back, const PressedBend* torus) {
      const Vec3 along = std::sin(turn) * frame.x + std::cos(turn) * frame.z;
      const Vec3 outside = std::sin(turn) * frame.z - std::cos(turn) * frame.x;
      stops.push_back({gp_Ax2(to_kernel(centre + bend.centreline_radius * outside + ahead * along),
                              dir(-along), dir(side * outside)),
                       back, torus});
    };
    if (bend.low_collar > 0.0) stop(0.0, -bend.low_collar, 0.0, nullptr);
    if (stops.empty() || bend.low_collar > 0.0) stop(0.0, 0.0, bend.low_collar, nullptr);
    stop(bend.angle, 0.0, 0.0, &bend);
    if (bend.high_collar > 0.0) stop(bend.angle, bend.high_collar, bend.high_collar, nullptr);
    side = -1.0;
  }
  return stops;
}

}  // namespace

std::vector<TopoDS_Shape> pressed_faces(const PressedBend& pressed, double gauge) {
  const std::vector<PressedBend> bends = bends_of(pressed);
  const std::vector<Stop> stops = stops_of(bends);
  std::vector<TopoDS_Shape> faces;
  std::vector<TopoDS_Edge> ends[2];
  for (const double radius : {pressed.radius + gauge, pressed.radius}) {
    const bool inside = radius == pressed.radius;
    std::vector<TopoDS_Edge> circles;
    for (const Stop& stop : stops) circles.push_back(circle_at(stop.axes, radius));
    for (std::size_t i = 1; i < stops.size(); ++i) {
      TopoDS_Face face;
      if (const PressedBend* bend = stops[i].torus) {
        const Frame& frame = bend->frame;
        const gp_Ax3 axes(to_kernel(frame.origin + bend->centreline_radius * frame.x), dir(frame.y),
                          dir(-frame.x));
        const double rho = bend->centreline_radius;
        const bool from_heel = bend == &bends.front();
        const Handle(Geom_Circle) seam =
            new Geom_Circle(gp_Ax2(axes.Ax2()), from_heel ? rho + radius : rho - radius);
        face = tube(new Geom_ToroidalSurface(axes, rho, radius), false, circles[i - 1], circles[i], seam,
                    bend->angle, from_heel ? 0.0 : k_pi);
      } else {
        const gp_Pnt start = BRep_Tool::Pnt(TopExp::FirstVertex(circles[i]));
        face = tube(new Geom_CylindricalSurface(gp_Ax3(stops[i].axes), radius), true, circles[i],
                    circles[i - 1], new Geom_Line(start, stops[i].axes.Direction()), stops[i].back, 0.0);
      }
      faces.push_back(inside ? face.Reversed() : TopoDS_Shape(face));
    }
    ends[0].push_back(circles.front());
    ends[1].push_back(circles.back());
  }
  faces.push_back(ring(stops.front().axes, ends[0][0], ends[0][1], false));
  faces.push_back(ring(stops.back().axes, ends[1][0], ends[1][1], true));
  return faces;
}

}  // namespace linerwright
