#include "face_outline.hpp"

#include <BRep_Tool.hxx>
#include <ElSLib.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <algorithm>
#include <cmath>

namespace linerwright {

gp_Pnt2d OutlineSide::on_edge(double parameter) const {
  if (!plane) return on_face->Value(parameter);
  double u = 0.0;
  double v = 0.0;
  ElSLib::Parameters(*plane, curve->Value(parameter), u, v);
  return {u, v};
}

gp_Pnt2d OutlineSide::at(double share) const {
  return on_edge(forward ? first + share * (last - first) : last - share * (last - first));
}

Vec2 OutlineSide::extent() const {
  constexpr int k_pieces = 16;
  Vec2 sum{};
  gp_Pnt2d before = at(0.0);
  for (int i = 1; i <= k_pieces; ++i) {
    const gp_Pnt2d next = at(static_cast<double>(i) / k_pieces);
    sum = sum + Vec2{std::fabs(next.X() - before.X()), std::fabs(next.Y() - before.Y())};
    before = next;
  }
  return sum;
}

FaceOutline outline_of(const TopoDS_Face& any_face) {
  const TopoDS_Face face = TopoDS::Face(any_face.Oriented(TopAbs_FORWARD));
  const GeomAdaptor_Surface surface(BRep_Tool::Surface(face));
  FaceOutline outline;
  double outer_area = 0.0;
  for (TopExp_Explorer wires(face, TopAbs_WIRE); wires.More(); wires.Next()) {
    std::vector<std::size_t> left;
    for (TopoDS_Iterator it(wires.Current()); it.More(); it.Next()) {
      OutlineSide side{
          TopoDS::Edge(it.Value()), it.Value().Orientation() == TopAbs_FORWARD, {}, {}, {}, 0.0, 0.0};
      side.curve = BRep_Tool::Curve(side.edge, side.first, side.last);
      if (side.curve.IsNull() && !side.is_point()) throw NoOutline();
      if (surface.GetType() == GeomAbs_Plane) {
        side.plane = surface.Plane();
      } else {
        side.on_face = BRep_Tool::CurveOnSurface(side.edge, face, side.first, side.last);
        if (side.on_face.IsNull()) throw NoOutline();
      }
      left.push_back(outline.sides.size());
      outline.sides.push_back(std::move(side));
    }
    if (left.empty()) throw NoOutline();
    // each next side is the one that begins where the last one ends
    std::vector<std::size_t> loop{left.front()};
    left.erase(left.begin());
    constexpr double k_gap = 1e-4;
    while (!left.empty()) {
      const gp_Pnt2d end = outline.sides[loop.back()].at(1.0);
      const auto apart = [&](std::size_t s) { return end.Distance(outline.sides[s].at(0.0)); };
      const auto next = std::min_element(left.begin(), left.end(),
                                         [&](std::size_t a, std::size_t b) { return apart(a) < apart(b); });
      if (!(apart(*next) <= k_gap)) throw NoOutline();
      loop.push_back(*next);
      left.erase(next);
    }
    if (!(outline.sides[loop.back()].at(1.0).Distance(outline.sides[loop.front()].at(0.0)) <= k_gap))
      throw NoOutline();
    double area = 0.0;
    for (const std::size_t s : loop) {
      constexpr int k_pieces = 16;
      gp_Pnt2d a = outline.sides[s].at(0.0);
      for (int i = 1; i <= k_pieces; ++i) {
        const gp_Pnt2d b = outline.sides[s].at(static_cast<double>(i) / k_pieces);
        area += 0.5 * (a.X() * b.Y() - b.X() * a.Y());
        a = b;
      }
    }
    if (area > 0.0) {
      if (outer_area > 0.0) throw NoOutline();
      outer_area = area;
      outline.loops.insert(outline.loops.begin(), std::move(loop));
    } else {
      outline.loops.push_back(std::move(loop));
    }
  }
  if (!(outer_area > 0.0)) throw NoOutline();
  return outline;
}

}  // namespace linerwright
