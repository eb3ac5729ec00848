#include "step_shapes.hpp"

#include <BRepTools_WireExplorer.hxx>
#include <BRep_Tool.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

std::vector<double> coordinates(const gp_XYZ& xyz) {
  return {xyz.X(), xyz.Y(), xyz.Z()};
}

class Geometry {
 public:
  explicit Geometry(StepLines& lines) : lines_(lines) {}

  int point(const gp_Pnt& at) {
    return lines_.geometry("CARTESIAN_POINT(''," + step_reals(coordinates(at.XYZ())) + ")");
  }

  int curve(const Handle(Geom_Curve) & curve) {
    if (const auto line = Handle(Geom_Line)::DownCast(curve); !line.IsNull()) {
      const int along =
          lines_.geometry(fmt::format("VECTOR('',#{},1.)", direction(line->Position().Direction().XYZ())));
      return lines_.geometry(fmt::format("LINE('',#{},#{})", point(line->Position().Location()), along));
    }
    if (const auto circle = Handle(Geom_Circle)::DownCast(curve); !circle.IsNull())
      return lines_.geometry(
          fmt::format("CIRCLE('',#{},{})", placement(circle->Position()), step_real(circle->Radius())));
    if (const auto ellipse = Handle(Geom_Ellipse)::DownCast(curve); !ellipse.IsNull())
      return lines_.geometry(fmt::format("ELLIPSE('',#{},{},{})", placement(ellipse->Position()),
                                         step_real(ellipse->MajorRadius()),
                                         step_real(ellipse->MinorRadius())));
    if (const auto spline = Handle(Geom_BSplineCurve)::DownCast(curve); !spline.IsNull())
      return spline_curve(*spline);
    throw GeometryError("step: a curve of a kind that is not written");
  }

  int surface(const Handle(Geom_Surface) & surface) {
    if (const auto plane = Handle(Geom_Plane)::DownCast(surface); !plane.IsNull())
      return lines_.geometry(fmt::format("PLANE('',#{})", placement(plane->Position())));
    if (const auto cylinder = Handle(Geom_CylindricalSurface)::DownCast(surface); !cylinder.IsNull())
      return lines_.geometry(fmt::format("CYLINDRICAL_SURFACE('',#{},{})", placement(cylinder->Position()),
                                         step_real(cylinder->Radius())));
    if (const auto cone = Handle(Geom_ConicalSurface)::DownCast(surface); !cone.IsNull())
      return cone_of(*cone);
    if (const auto torus = Handle(Geom_ToroidalSurface)::DownCast(surface); !torus.IsNull())
      return lines_.geometry(fmt::format("TOROIDAL_SURFACE('',#{},{},{})", placement(torus->Position()),
                                         step_real(torus->MajorRadius()), step_real(torus->MinorRadius())));
    if (const auto spline = Handle(Geom_BSplineSurface)::DownCast(surface); !spline.IsNull())
      return spline_surface(*spline);
    throw GeometryError("step: a surface of a kind that is not written");
  }

 private:
  int direction(const gp_XYZ& along) {
    return lines_.geometry("DIRECTION(''," + step_reals(coordinates(along)) + ")");
  }

  int placement(const gp_Pnt& at, const gp_Dir& z, const gp_Dir& x) {
    const int right = direction(x.XYZ());
    const int up = direction(z.XYZ());
    return lines_.geometry(fmt::format("AXIS2_PLACEMENT_3D('',#{},#{},#{})", point(at), up, right));
  }
  int placement(const gp_Ax2& axes) {
    return placement(axes.Location(), axes.Direction(), axes.XDirection());
  }
  // STEP knows right-handed placements alone.
  int placement(const gp_Ax3& axes) {
    if (!axes.Direct()) throw GeometryError("step: a surface stands in a left-handed frame");
    return placement(axes.Location(), axes.Direction(), axes.XDirection());
  }

  // The half angle is positive in STEP: a cone that narrows upward stands on its head.
  int cone_of(const Geom_ConicalSurface& cone) {
    const gp_Ax3 axes = cone.Position();
    if (!axes.Direct()) throw GeometryError("step: a cone stands in a left-handed frame");
    const bool narrows = cone.SemiAngle() < 0.0;
    const gp_Dir up = narrows ? axes.Direction().Reversed() : axes.Direction();
    return lines_.geometry(fmt::format("CONICAL_SURFACE('',#{},{},{})",
                                       placement(axes.Location(), up, axes.XDirection()),
                                       step_real(cone.RefRadius()), step_real(std::fabs(cone.SemiAngle()))));
  }

  int spline_curve(const Geom_BSplineCurve& spline) {
    if (spline.IsRational() || spline.IsPeriodic())
      throw GeometryError("step: a rational or periodic spline");
    std::vector<int> poles;
    for (int i = 1; i <= spline.NbPoles(); ++i) poles.push_back(point(spline.Pole(i)));
    std::vector<int> multiplicities;
    std::vector<double> knots;
    for (int i = 1; i <= spline.NbKnots(); ++i) {
      multiplicities.push_back(spline.Multiplicity(i));
      knots.push_back(spline.Knot(i));
    }
    return lines_.geometry(
        fmt::format("B_SPLINE_CURVE_WITH_KNOTS('',{},{},.UNSPECIFIED.,.F.,.F.,({}),{},.UNSPECIFIED.)",
                    spline.Degree(), step_refs(poles), fmt::join(multiplicities, ","), step_reals(knots)));
  }

  int spline_surface(const Geom_BSplineSurface& spline) {
    if (spline.IsURational() || spline.IsVRational() || spline.IsUPeriodic() || spline.IsVPeriodic())
      throw GeometryError("step: a rational or periodic surface");
    std::string rows;
    for (int i = 1; i <= spline.NbUPoles(); ++i) {
      std::vector<int> row;
      for (int j = 1; j <= spline.NbVPoles(); ++j) row.push_back(point(spline.Pole(i, j)));
      rows += (i > 1 ? "," : "") + step_refs(row);
    }
    std::vector<int> around, across;
    std::vector<double> around_knots, across_knots;
    for (int i = 1; i <= spline.NbUKnots(); ++i) {
      around.push_back(spline.UMultiplicity(i));
      around_knots.push_back(spline.UKnot(i));
    }
    for (int i = 1; i <= spline.NbVKnots(); ++i) {
      across.push_back(spline.VMultiplicity(i));
      across_knots.push_back(spline.VKnot(i));
    }
    return lines_.geometry(fmt::format(
        "B_SPLINE_SURFACE_WITH_KNOTS('',{},{},({}),.UNSPECIFIED.,.F.,.F.,.F.,({}),({}),{},{},.UNSPECIFIED.)",
        spline.UDegree(), spline.VDegree(), rows, fmt::join(around, ","), fmt::join(across, ","),
        step_reals(around_knots), step_reals(across_knots)));
  }

  StepLines& lines_;
};

class Topology {
 public:
  explicit Topology(StepLines& lines) : lines_(lines), geometry_(lines) {}

  int shell(const TopoDS_Shape& solid) {
    std::vector<int> faces;
    for (TopExp_Explorer it(solid, TopAbs_FACE); it.More(); it.Next())
      faces.push_back(face(TopoDS::Face(it.Current())));
    return lines_.add("CLOSED_SHELL(''," + step_refs(faces) + ")");
  }

 private:
  int vertex(const TopoDS_Vertex& vertex) {
    const auto [place, fresh] = vertices_.emplace(vertex.TShape().get(), 0);
    if (fresh)
      place->second =
          lines_.add(fmt::format("VERTEX_POINT('',#{})", geometry_.point(BRep_Tool::Pnt(vertex))));
    return place->second;
  }

  int edge(const TopoDS_Edge& edge) {
    const auto [place, fresh] = edges_.emplace(edge.TShape().get(), 0);
    if (!fresh) return place->second;
    const TopoDS_Edge forward = TopoDS::Edge(edge.Oriented(TopAbs_FORWARD));
    double first = 0.0, last = 0.0;
    const int curve = geometry_.curve(BRep_Tool::Curve(forward, first, last));
    const int end = vertex(TopExp::LastVertex(forward));
    const int start = vertex(TopExp::FirstVertex(forward));
    return place->second = lines_.add(fmt::format("EDGE_CURVE('',#{},#{},#{},.T.)", start, end, curve));
  }

  // Head to tail, counter-clockwise about the surface's own normal; a hole's clockwise.
  int loop(const TopoDS_Wire& wire, const TopoDS_Face& forward) {
    std::vector<int> edges;
    // a side that is a point has no edge in STEP
    for (BRepTools_WireExplorer it(wire, forward); it.More(); it.Next())
      if (!BRep_Tool::Degenerated(it.Current()))
        edges.push_back(
            lines_.add(fmt::format("ORIENTED_EDGE('',*,*,#{},{})", edge(it.Current()),
                                   it.Current().Orientation() == TopAbs_FORWARD ? ".T." : ".F.")));
    std::size_t wanted = 0;
    for (TopExp_Explorer it(wire, TopAbs_EDGE); it.More(); it.Next())
      if (!BRep_Tool::Degenerated(TopoDS::Edge(it.Current()))) ++wanted;
    if (edges.size() != wanted) throw GeometryError("step: the edges of a face do not follow one another");
    return lines_.add("EDGE_LOOP(''," + step_refs(edges) + ")");
  }

  int face(const TopoDS_Face& face) {
    const TopoDS_Face forward = TopoDS::Face(face.Oriented(TopAbs_FORWARD));
    const char* sense = face.Orientation() == TopAbs_FORWARD ? ".T." : ".F.";
    std::vector<int> bounds;
    for (TopExp_Explorer it(forward, TopAbs_WIRE); it.More(); it.Next())
      bounds.push_back(
          lines_.add(fmt::format("FACE_BOUND('',#{},{})", loop(TopoDS::Wire(it.Current()), forward), sense)));
    return lines_.add(fmt::format("ADVANCED_FACE('',{},#{},{})", step_refs(bounds),
                                  geometry_.surface(BRep_Tool::Surface(forward)), sense));
  }

  StepLines& lines_;
  Geometry geometry_;
  std::map<const TopoDS_TShape*, int> vertices_, edges_;
};

}  // namespace

int add_solid(StepLines& lines, const TopoDS_Shape& solid, const std::string& name) {
  const int shell = Topology(lines).shell(solid);
  return lines.add(fmt::format("MANIFOLD_SOLID_BREP({},#{})", step_text(name), shell));
}

}  // namespace linerwright
