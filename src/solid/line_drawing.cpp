// What an eye sees of solids, as lines. The kernel's polygonal method alone: its exact one takes seconds on a
// plain tee and shows edges that are hidden.
#include <BRepAdaptor_Surface.hxx>
#include <BRepBndLib.hxx>
#include <BRepLProp_SLProps.hxx>
#include <BRepLib.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <Geom2d_Curve.hxx>
#include <NCollection_DataMap.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Ax2.hxx>
#include <gp_Trsf.hxx>

#include <algorithm>
#include <cmath>

#include "kernel_operations.hpp"
#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"
#include "mesh_parts.hpp"

namespace linerwright {

namespace {

constexpr double k_smooth = 0.01;  // rad: faces that meet at less than this show no edge
constexpr double k_round = 0.003;  // of all that is seen: a bend of so small a radius prints as an edge

// Whose edge or face a line comes from, and whether it is one that nobody draws.
struct Source {
  std::size_t solid;
  bool smooth;
};
using Sources = NCollection_DataMap<TopoDS_Shape, Source, TopTools_ShapeMapHasher>;

// Whether a face bends more sharply beside the middle of an edge than that radius.
bool bends_within(const TopoDS_Edge& edge, const TopoDS_Face& face, double radius) {
  const BRepAdaptor_Surface surface(face, Standard_False);
  if (surface.GetType() == GeomAbs_Plane) return false;
  double from = 0.0;
  double to = 0.0;
  const Handle(Geom2d_Curve) on_face = BRep_Tool::CurveOnSurface(edge, face, from, to);
  if (on_face.IsNull()) return false;
  const gp_Pnt2d at = on_face->Value(0.5 * (from + to));
  BRepLProp_SLProps bend(surface, at.X(), at.Y(), 2, 1e-9);
  if (!bend.IsCurvatureDefined()) return false;
  return std::max(std::fabs(bend.MaxCurvature()), std::fabs(bend.MinCurvature())) * radius > 1.0;
}

void add_sources(Sources& sources, const TopoDS_Shape& shape, std::size_t solid, double least_radius) {
  TopTools_IndexedDataMapOfShapeListOfShape around;
  TopExp::MapShapesAndAncestors(shape, TopAbs_EDGE, TopAbs_FACE, around);
  for (int i = 1; i <= around.Extent(); ++i) {
    const TopTools_ListOfShape& faces = around(i);
    const TopoDS_Edge edge = TopoDS::Edge(around.FindKey(i));
    const TopoDS_Face first = TopoDS::Face(faces.First());
    const TopoDS_Face last = TopoDS::Face(faces.Last());
    const bool smooth = faces.Size() == 2 &&
                        BRepLib::ContinuityOfFaces(edge, first, last, k_smooth) > GeomAbs_C0 &&
                        !bends_within(edge, first, least_radius) && !bends_within(edge, last, least_radius);
    sources.Bind(edge, {solid, smooth});
  }
  for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next())
    sources.Bind(faces.Current(), {solid, false});
}

// The triangles that hide lines, on the solids' faces as long as this lives.
class Triangles {
 public:
  Triangles(const std::vector<PlacedSolid>& solids, const MeshOptions& options) {
    BRep_Builder builder;
    builder.MakeCompound(all_);
    // a triangulation is kept in the coordinates in which a solid was made, wherever it stands now
    for (const PlacedSolid& each : solids)
      builder.Add(all_, each.solid.shape().shape.Located(TopLoc_Location()));
    BRepTools::Clean(all_);
    if (!put_ruled_triangles_on(all_, options.deflection, options.angle))
      kernel_operations().mesh(all_, options.deflection, options.angle);
  }
  ~Triangles() { BRepTools::Clean(all_); }
  double diagonal() const {
    Bnd_Box box;
    BRepBndLib::Add(all_, box);
    return std::sqrt(box.SquareExtent());
  }
  Triangles(const Triangles&) = delete;
  Triangles& operator=(const Triangles&) = delete;

 private:
  TopoDS_Compound all_;
};

}  // namespace

std::vector<SeenLines> kernel::seen_lines(const std::vector<PlacedSolid>& solids, const Eye& eye,
                                          const MeshOptions& options) {
  const Triangles triangles(solids, options);
  std::vector<TopoDS_Shape> shapes;
  Sources sources;
  for (std::size_t i = 0; i < solids.size(); ++i) {
    const Vec3 shift = solids[i].shift;
    gp_Trsf move;
    move.SetTranslation({shift.x, shift.y, shift.z});
    shapes.push_back(solids[i].solid.shape().shape.Moved(TopLoc_Location(move)));
    add_sources(sources, shapes.back(), i, k_round * triangles.diagonal());
  }
  // A corner of the mesh within half a facet of an outline stands for it: where the kernel has to place one
  // of its own beside a corner, it may put it off the face, by hundredths of a cylinder's radius.
  const gp_Ax2 from({0.0, 0.0, 0.0}, {eye.toward.x, eye.toward.y, eye.toward.z},
                    {eye.right.x, eye.right.y, eye.right.z});
  std::vector<SeenLines> seen(solids.size());
  for (const SeenEdge& edge : kernel_operations().seen(shapes, from, 0.5 * options.angle)) {
    const Source* source = sources.Seek(edge.of);
    if (source == nullptr) throw GeometryError("line drawing: a line belongs to none of the solids");
    if (source->smooth && !edge.outline) continue;
    const Vec2 a{edge.from[0], edge.from[1]};
    const Vec2 b{edge.to[0], edge.to[1]};
    for (const auto& [start, end] : edge.visible)
      if (end > start) seen[source->solid].push_back({a + start * (b - a), a + end * (b - a)});
  }
  return seen;
}

}  // namespace linerwright
