#include "linerwright/solid/inside_points.hpp"

#include <BRepClass3d_SolidClassifier.hxx>
#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

#include "guard.hpp"
#include "shape.hpp"

namespace linerwright {

std::vector<Vec3> inside(const Solid& solid, const std::vector<Vec3>& points) {
  return guarded("points in a solid", [&] {
    constexpr double k_on_face = 1e-4;  // mm
    const TopoDS_Shape& shape = solid.shape().shape;
    const Bnd_Box box = box_of(shape);
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

std::vector<Vec3> inside(const Mesh& mesh, const std::vector<Vec3>& points) {
  constexpr double k_infinite = std::numeric_limits<double>::infinity();
  Vec3 low{k_infinite, k_infinite, k_infinite};
  Vec3 high = -low;
  for (const Vec3 p : mesh.points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  const auto in_box = [&](Vec3 p) {
    return p.x > low.x && p.y > low.y && p.z > low.z && p.x < high.x && p.y < high.y && p.z < high.z;
  };
  const auto turns = [&](Vec3 from) {
    double half = 0.0;
    for (const auto& triangle : mesh.triangles) {
      const auto to = [&](std::size_t k) {
        return mesh.points[static_cast<std::size_t>(triangle[k])] - from;
      };
      const Vec3 a = to(0);
      const Vec3 b = to(1);
      const Vec3 c = to(2);
      const double la = norm(a);
      const double lb = norm(b);
      const double lc = norm(c);
      half +=
          std::atan2(dot(a, cross(b, c)), la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
    }
    return half / k_two_pi;
  };
  std::vector<Vec3> found;
  std::copy_if(points.begin(), points.end(), std::back_inserter(found),
               [&](Vec3 point) { return in_box(point) && turns(point) > 0.5; });
  return found;
}

std::size_t count_in_both(const Solid& own, const Solid& other, const Mesh& mesh_of_other,
                          const std::vector<Vec3>& points) {
  const std::vector<Vec3> both = inside(mesh_of_other, points);
  return both.empty() ? 0 : inside(other, inside(own, both)).size();
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
