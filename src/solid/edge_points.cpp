// The edges of a solid as points along their curves.
#include <BRepAdaptor_Curve.hxx>
#include <algorithm>
#include <cmath>

#include "edge_search.hpp"
#include "kernel_side.hpp"
#include "shape.hpp"

namespace linerwright {

std::vector<std::vector<Vec3>> kernel::edge_points(const Solid& solid, double spacing) {
  std::vector<std::vector<Vec3>> all;
  for (const TopoDS_Edge& edge : edges_of(solid)) {
    const BRepAdaptor_Curve curve(edge);
    const double first = curve.FirstParameter();
    const double last = curve.LastParameter();
    double length = 0.0;  // by its chords
    gp_Pnt before = curve.Value(first);
    for (const double at : places_along(edge, curve)) {
      const gp_Pnt here = curve.Value(at);
      length += before.Distance(here);
      before = here;
    }
    // the curves run at a nearly even pace: twice the steps keep the spacing where they hurry
    const int steps = std::max(4, static_cast<int>(std::ceil(2.0 * length / spacing)));
    std::vector<Vec3> points;
    for (int k = 0; k <= steps; ++k)
      points.push_back(from_kernel(curve.Value(first + (last - first) * k / steps)));
    all.push_back(std::move(points));
  }
  return all;
}

}  // namespace linerwright
