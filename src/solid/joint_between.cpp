#include "joint_between.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <vector>

#include "heights.hpp"
#include "joint_faces.hpp"

namespace linerwright {

namespace {

// The faces of a body that look up, or down, everywhere, and whose rulings lie across.
std::vector<TopoDS_Face> facing(const TopoDS_Shape& body, const gp_Vec& up) {
  constexpr double k_least = 0.2;
  std::vector<TopoDS_Face> found;
  for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    const BRepAdaptor_Surface surface(face, false);
    if ((!is_ruled(surface) && surface.GetType() != GeomAbs_Cone) || lean_of(face, up) < 1.0) continue;
    const std::vector<gp_Vec> normals = normals_of(face);
    if (!normals.empty() && std::all_of(normals.begin(), normals.end(),
                                        [&](const gp_Vec& normal) { return normal.Dot(up) > k_least; }))
      found.push_back(face);
  }
  return found;
}

// The shared faces that look up from the lower body, and all that go on from them along common edges.
JointFaces joint_of(const TopoDS_Shape& lower, const TopoDS_Shape& upper, const gp_Vec& up) {
  JointFaces joint;
  std::vector<TopoDS_Face> waiting = facing(lower, up);
  const std::vector<TopoDS_Face> others = facing(upper, -up);
  TopTools_IndexedMapOfShape below;
  for (const TopoDS_Face& face : waiting) below.Add(face);
  for (const TopoDS_Face& face : others) {
    if (below.Contains(face)) joint.add(face, up);
    waiting.push_back(face);
  }
  if (joint.faces.IsEmpty()) return joint;
  for (bool more = true; more;) {
    more = false;
    for (const TopoDS_Face& face : waiting) {
      if (joint.faces.Contains(face)) continue;
      TopExp_Explorer it(face, TopAbs_EDGE);
      while (it.More() && !joint.edges.Contains(it.Current())) it.Next();
      if (!it.More()) continue;
      joint.add(face, up);
      more = true;
    }
  }
  return joint;
}

// Axes of the round faces.
std::vector<gp_Vec> axes_of(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  std::vector<gp_Vec> axes;
  for (const TopoDS_Shape& body : {a, b})
    for (TopExp_Explorer it(body, TopAbs_FACE); it.More(); it.Next()) {
      const BRepAdaptor_Surface surface(TopoDS::Face(it.Current()), false);
      if (surface.GetType() != GeomAbs_Cylinder && surface.GetType() != GeomAbs_Cone) continue;
      const gp_Vec axis(surface.GetType() == GeomAbs_Cone ? surface.Cone().Axis().Direction()
                                                          : surface.Cylinder().Axis().Direction());
      constexpr double k_same = 1e-12;
      if (std::none_of(axes.begin(), axes.end(),
                       [&](const gp_Vec& known) { return known.Crossed(axis).Magnitude() < k_same; }))
        axes.push_back(axis);
    }
  return axes;
}

}  // namespace

bool joint_between(const TopoDS_Shape& a, const TopoDS_Shape& b) {
  // From one place of a ring to another, the way along it is at most pi / 2 times the straight one, and
  // slopes are known at samples: the rest is margin.
  constexpr double k_longer_way = 1.7;
  try {
    for (const gp_Vec& axis : axes_of(a, b))
      for (const gp_Vec& up : {axis, -axis}) {
        const JointFaces joint = joint_of(a, b, up);
        if (joint.faces.IsEmpty()) continue;
        const double slope = k_longer_way * joint.slope;
        if (lies_under(a, joint, up, joint.low, slope) && lies_under(b, joint, -up, -joint.high, slope))
          return true;
      }
  } catch (const UnknownForm&) {
  }
  return false;
}

}  // namespace linerwright
