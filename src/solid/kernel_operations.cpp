// Stands alone: nothing of ours is used here, so that it can be loaded by itself.
#include "kernel_operations.hpp"

#include <BOPAlgo_PaveFiller.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <HLRAlgo_EdgeStatus.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_PolyAlgo.hxx>

namespace linerwright {

namespace {

template <class Operation>
Operated done(Operation& operation) {
  return {operation.Shape(), operation.HasErrors(), operation.HasWarnings()};
}

template <class Operation>
Operated between(const TopTools_ListOfShape& first, const TopTools_ListOfShape& others) {
  Operation operation;
  operation.SetArguments(first);
  operation.SetTools(others);
  operation.SetNonDestructive(Standard_True);
  operation.Build();
  return done(operation);
}

class Operations : public KernelOperations {
 public:
  Operated fused(const TopTools_ListOfShape& first, const TopTools_ListOfShape& others) const override {
    return between<BRepAlgoAPI_Fuse>(first, others);
  }

  Operated common(const TopTools_ListOfShape& first, const TopTools_ListOfShape& others) const override {
    return between<BRepAlgoAPI_Common>(first, others);
  }

  std::array<Operated, 2> parted(const TopoDS_Shape& first, const TopoDS_Shape& second,
                                 double fuzzy) const override {
    TopTools_ListOfShape both;
    both.Append(first);
    both.Append(second);
    BOPAlgo_PaveFiller crossing;
    crossing.SetArguments(both);
    crossing.SetNonDestructive(Standard_True);
    crossing.SetFuzzyValue(fuzzy);
    crossing.Perform();
    if (crossing.HasErrors() || crossing.HasWarnings()) {
      const Operated none{{}, crossing.HasErrors(), crossing.HasWarnings()};
      return {none, none};
    }
    BRepAlgoAPI_Common common(first, second, crossing);
    const Operated shared = done(common);
    if (shared.failed || shared.in_doubt) return {shared, shared};
    BRepAlgoAPI_Cut rest(first, second, crossing);
    return {shared, done(rest)};
  }

  void mesh(const TopoDS_Shape& shape, double deflection, double angle) const override {
    BRepMesh_IncrementalMesh(shape, deflection, Standard_False, angle, Standard_False);
  }

  std::vector<SeenEdge> seen(const std::vector<TopoDS_Shape>& shapes, const gp_Ax2& eye,
                             double angle) const override {
    Handle(HLRBRep_PolyAlgo) algorithm = new HLRBRep_PolyAlgo;
    for (const TopoDS_Shape& shape : shapes) algorithm->Load(shape);
    algorithm->Projector(HLRAlgo_Projector(eye));
    algorithm->TolAngular(angle);
    algorithm->Update();
    std::vector<SeenEdge> all;
    for (algorithm->InitHide(); algorithm->MoreHide(); algorithm->NextHide()) {
      SeenEdge edge;
      HLRAlgo_EdgeStatus status;
      Standard_Boolean first_order = Standard_False;
      Standard_Boolean higher_order = Standard_False;
      Standard_Boolean outline = Standard_False;
      Standard_Boolean inner = Standard_False;
      const HLRAlgo_BiPoint::PointsT& ends =
          algorithm->Hide(status, edge.of, first_order, higher_order, outline, inner);
      edge.outline = outline || inner;
      edge.from = {ends.PntP1.X(), ends.PntP1.Y()};
      edge.to = {ends.PntP2.X(), ends.PntP2.Y()};
      for (int part = 1; part <= status.NbVisiblePart(); ++part) {
        double start = 0.0;
        double end = 0.0;
        float ignored = 0.0F;
        status.VisiblePart(part, start, ignored, end, ignored);
        edge.visible.emplace_back(start, end);
      }
      all.push_back(std::move(edge));
    }
    return all;
  }
};

}  // namespace

}  // namespace linerwright

const linerwright::KernelOperations* linerwright_kernel_operations() {
  static const linerwright::Operations operations;
  return &operations;
}
