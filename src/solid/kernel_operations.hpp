// Booleans, meshes and hidden lines of the kernel. Their libraries are a third of what a program loads when
// it starts, and most commands need none of them, so the command line has them loaded when one is asked for;
// who links our libraries links them as well.
#pragma once

#include <TopTools_ListOfShape.hxx>
#include <TopoDS_Shape.hxx>
#include <array>
#include <gp_Ax2.hxx>
#include <utility>
#include <vector>

namespace linerwright {

// What came of a boolean operation, and what the kernel itself says of it.
struct Operated {
  TopoDS_Shape shape;
  bool failed = false, in_doubt = false;
};

// A straight stretch of an edge or of an outline as an eye sees it, with the shares of it that nothing hides.
struct SeenEdge {
  TopoDS_Shape of;
  bool outline = false;
  std::array<double, 2> from{}, to{};  // across and up
  std::vector<std::pair<double, double>> visible;
};

// Lengths in mm, angles in radians. All may throw Standard_Failure.
class KernelOperations {
 public:
  KernelOperations() = default;
  KernelOperations(const KernelOperations&) = delete;
  KernelOperations& operator=(const KernelOperations&) = delete;
  virtual ~KernelOperations() = default;

  virtual Operated fused(const TopTools_ListOfShape& first, const TopTools_ListOfShape& others) const = 0;
  virtual Operated common(const TopTools_ListOfShape& first, const TopTools_ListOfShape& others) const = 0;
  // What two shapes have in common, and what is left of the first one; with points of one within `fuzzy`.
  virtual std::array<Operated, 2> parted(const TopoDS_Shape& first, const TopoDS_Shape& second,
                                         double fuzzy) const = 0;
  // Lays triangles on the shape's faces.
  virtual void mesh(const TopoDS_Shape& shape, double deflection, double angle) const = 0;
  // Of shapes that have triangles on them, by those alone.
  virtual std::vector<SeenEdge> seen(const std::vector<TopoDS_Shape>& shapes, const gp_Ax2& eye,
                                     double angle) const = 0;
};

// Loaded once. Throws GeometryError where they are not there.
const KernelOperations& kernel_operations();

}  // namespace linerwright

extern "C" const linerwright::KernelOperations* linerwright_kernel_operations();
