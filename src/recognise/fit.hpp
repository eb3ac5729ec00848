// Surfaces that points with normals lie on, told from their values alone.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "linerwright/solid/drawn.hpp"

namespace linerwright {

enum class SurfaceSort { plane, cylinder, cone, torus, ruled, other };

// cylinder: axis through `origin` along `axis`, radius. cone: `origin` is the apex, `axis` points where it
// widens, `angle` is half its opening. torus: `origin` its centre, `radius` that of its centre circle,
// `minor` of its section. ruled: straight rulings through the apex `origin`, or along `axis` where
// `parallel`; plane: `origin`, normal `axis`.
struct FittedSurface {
  SurfaceSort sort = SurfaceSort::other;
  Vec3 origin{};
  Vec3 axis{0.0, 0.0, 1.0};
  double radius = 0.0;
  double minor = 0.0;
  double angle = 0.0;
  bool parallel = false;
  double residual = 0.0;  // largest distance of a point, mm

  // Distance of a point from the surface, mm; of ruled surfaces and others not known (0).
  double distance_of(Vec3 point) const;
  // The point of the axis, the centre circle or the apex that the point's normal aims at.
  Vec3 heart_of(Vec3 point) const;
};

// The simplest surface within `within` mm of all points.
FittedSurface fit_surface(const std::vector<DrawnPoint>& points, double within);

// Of any residual, for a first guess: the cylinder, cone and torus of these points; the cylinder along an
// axis; the ruled surface of tangent planes.
std::vector<FittedSurface> round_surfaces(const std::vector<DrawnPoint>& points);
FittedSurface cylinder_along(Vec3 axis, const std::vector<Vec3>& points);
FittedSurface ruled_surface(const std::vector<DrawnPoint>& points);

// Two unit vectors square to `axis` and to each other.
std::array<Vec3, 2> directions_across(Vec3 axis);

// The circle through points on one plane; `residual` is the largest distance, mm.
struct FittedCircle {
  Vec3 centre{};
  Vec3 normal{0.0, 0.0, 1.0};
  double radius = 0.0;
  double residual = 0.0;
};
FittedCircle fit_circle(const std::vector<Vec3>& points);

// Eigenvalues, smallest first, and their unit eigenvectors of a symmetric matrix, by Jacobi's rotations.
template <std::size_t N>
struct Eigen {
  std::array<double, N> values{};
  std::array<std::array<double, N>, N> vectors{};  // vectors[i] belongs to values[i]
};
Eigen<3> eigen(std::array<std::array<double, 3>, 3> matrix);
Eigen<6> eigen(std::array<std::array<double, 6>, 6> matrix);

}  // namespace linerwright
