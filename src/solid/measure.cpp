// What two solids share.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "boolean.hpp"
#include "heights.hpp"
#include "joint_between.hpp"
#include "kernel_side.hpp"
#include "linerwright/units/error.hpp"
#include "shape.hpp"

namespace linerwright {

namespace {

constexpr double k_edge_tolerance = 1e-4;  // mm, the most that the gate lets an edge have

// Throws GeometryError where the kernel has any doubt.
double sure_common_volume(const TopoDS_Shape& first, const TopoDS_Shape& second, double fuzzy) {
  const auto [common, rest] = kernel_operations().parted(first, second, fuzzy);
  // An operation of this kernel may come out empty without a word; what is common and what is left have to
  // make up the whole.
  constexpr double k_agreement = 1e-7;
  const double shared = measured_volume(sure(common, "common volume"));
  const double left = measured_volume(sure(rest, "common volume"));
  const double whole = measured_volume(first);
  if (!(std::fabs(shared + left - whole) <= k_agreement * whole))
    throw GeometryError(fmt::format("common volume: {} mm3 and the rest, {} mm3, do not make up {} mm3",
                                    fixed(shared, 3), fixed(left, 3), fixed(whole, 3)));
  return std::max(0.0, shared);
}

}  // namespace

double kernel::common_volume(const Solid& a, const Solid& b) {
  const TopoDS_Shape& first = a.shape().shape;
  const TopoDS_Shape& second = b.shape().shape;
  if (box_of(first).IsOut(box_of(second))) return 0.0;
  if (plane_between(first, second) || joint_between(first, second) || saddle_between(first, second) ||
      wall_between(first, second) || convex_beside(first, second))
    return 0.0;
  // Nearly tangent faces: the kernel finds in one order what it misses, and says so, in the other; where it
  // doubts both, with its tolerance raised to that of the solids' edges.
  std::string doubt;
  for (const double fuzzy : {0.0, k_edge_tolerance})
    for (const bool swapped : {false, true}) {
      try {
        return swapped ? sure_common_volume(second, first, fuzzy) : sure_common_volume(first, second, fuzzy);
      } catch (const GeometryError& error) {
        doubt = error.what();
      }
    }
  throw GeometryError(doubt);
}

}  // namespace linerwright
