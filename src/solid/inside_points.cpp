#include "linerwright/solid/inside_points.hpp"

#include <BRepBndLib.hxx>
#include <BRepClass3d_SolidClassifier.hxx>
#include <Bnd_Box.hxx>
#include <algorithm>
#include <iterator>

#include "guard.hpp"
#include "shape.hpp"

namespace linerwright {

std::vector<Vec3> inside(const Solid& solid, const std::vector<Vec3>& points) {
  return guarded("points in a solid", [&] {
    constexpr double k_on_face = 1e-4;  // mm
    const TopoDS_Shape& shape = solid.shape().shape;
    Bnd_Box box;
    BRepBndLib::Add(shape, box, Standard_False);
    BRepClass3d_SolidClassifier classifier(shape);
    std::vector<Vec3> found;
    std::copy_if(points.begin(), points.end(), std::back_inserter(found), [&](Vec3 point) {
      const gp_Pnt place = to_kernel(point);
      if (box.IsOut(place)) return false;
      classifier.Perform(place, k_on_face);
      return classifier.State() == TopAbs_IN;
    });
    return found;
  });
}

std::vector<Vec3> points_under_facets(const Mesh& mesh, double depth, std::size_t most) {
  std::vector<Vec3> points;
  const std::size_t stride = 1 + mesh.triangles.size() / std::max<std::size_t>(most, 1);
  for (std::size_t i = 0; i < mesh.triangles.size(); i += stride) {
    const auto corner = [&](std::size_t k) {
      return mesh.points[static_cast<std::size_t>(mesh.triangles[i][k])];
    };
    const Vec3 out = cross(corner(1) - corner(0), corner(2) - corner(0));
    if (norm(out) == 0.0) continue;
    points.push_back((1.0 / 3.0) * (corner(0) + corner(1) + corner(2)) - (depth / norm(out)) * out);
  }
  return points;
}

}  // namespace linerwright
