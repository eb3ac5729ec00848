// What a solid must pass before anyone sees it.
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>

#include <fmt/format.h>

#include "linerwright/units/error.hpp"
#include "shape.hpp"
#include "soundness.hpp"

namespace linerwright {

Solid make_solid(const TopoDS_Shape& shape) {
  return Solid(std::make_shared<Solid::Shape>(Solid::Shape{shape}));
}

double kernel_volume(const TopoDS_Shape& shape) {
  GProp_GProps properties;
  BRepGProp::VolumeProperties(shape, properties, 1e-9);
  return properties.Mass();
}

namespace {

// The largest of all its vertices', edges' and faces'.
double worst_tolerance(const TopoDS_Shape& shape) {
  double worst = 0.0;
  for (TopExp_Explorer it(shape, TopAbs_VERTEX); it.More(); it.Next())
    worst = std::max(worst, BRep_Tool::Tolerance(TopoDS::Vertex(it.Current())));
  for (TopExp_Explorer it(shape, TopAbs_EDGE); it.More(); it.Next())
    worst = std::max(worst, BRep_Tool::Tolerance(TopoDS::Edge(it.Current())));
  for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next())
    worst = std::max(worst, BRep_Tool::Tolerance(TopoDS::Face(it.Current())));
  return worst;
}

void check_build(const NamedShape& named) {
  const TopoDS_Shape& shape = named.shape;
  constexpr double k_most_tolerance = 1e-4;
  const auto fail = [&](const std::string& why) { throw GeometryError(named.name + ": " + why); };
  if (shape.IsNull()) fail("no shape came out");
  int solids = 0;
  for (TopExp_Explorer it(shape, TopAbs_SOLID); it.More(); it.Next()) ++solids;
  if (solids != 1) fail(fmt::format("{} solids instead of one", solids));

  TopTools_IndexedDataMapOfShapeListOfShape faces_of_edge;
  TopExp::MapShapesAndAncestors(shape, TopAbs_EDGE, TopAbs_FACE, faces_of_edge);
  for (int i = 1; i <= faces_of_edge.Extent(); ++i) {
    const TopoDS_Edge& edge = TopoDS::Edge(faces_of_edge.FindKey(i));
    if (BRep_Tool::Degenerated(edge)) continue;
    if (faces_of_edge(i).Extent() != 2)
      fail(fmt::format("an edge is used {} times", faces_of_edge(i).Extent()));
  }
  const double worst = worst_tolerance(shape);
  if (!(worst <= k_most_tolerance))
    throw CurvesTooCoarse(fmt::format("{}: its edges meet only within {} mm", named.name, worst));
}

}  // namespace

void pass_gate(const std::vector<NamedShape>& shapes, Gate gate) {
  BRep_Builder builder;
  TopoDS_Compound all;
  builder.MakeCompound(all);
  for (const NamedShape& named : shapes) {
    check_build(named);
    builder.Add(all, named.shape);
  }
  if (gate == Gate::closed) return;
  // all at once: the analyzer then looks only once at a face that two of them share
  const auto valid = [&](const TopoDS_Shape& shape) {
    return gate == Gate::full ? is_sound(shape) : BRepCheck_Analyzer(shape, Standard_False).IsValid();
  };
  if (valid(all)) return;
  for (const NamedShape& named : shapes)
    if (!valid(named.shape)) throw GeometryError(named.name + ": the kernel's analyzer finds it invalid");
  throw GeometryError("the kernel's analyzer finds the solids invalid together");
}

}  // namespace linerwright
