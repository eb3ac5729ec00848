#include "fit.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace linerwright {

namespace {

template <std::size_t N>
using Matrix = std::array<std::array<double, N>, N>;

// Jacobi's method: rotations in the plane of two axes until what is off the diagonal is gone (Golub and Van
// Loan, Matrix Computations, section 8.5; from memory).
template <std::size_t N>
Eigen<N> jacobi(Matrix<N> a) {
  Matrix<N> v{};
  for (std::size_t i = 0; i < N; ++i) v[i][i] = 1.0;
  for (int sweep = 0; sweep < 60; ++sweep) {
    double off = 0.0, on = 0.0;
    for (std::size_t i = 0; i < N; ++i)
      for (std::size_t k = 0; k < N; ++k) (i == k ? on : off) += a[i][k] * a[i][k];
    if (off <= 1e-34 * on) break;
    for (std::size_t p = 0; p < N; ++p)
      for (std::size_t q = p + 1; q < N; ++q) {
        if (a[p][q] == 0.0) continue;
        const double theta = (a[q][q] - a[p][p]) / (2.0 * a[p][q]);
        const double t = std::copysign(1.0, theta) / (std::fabs(theta) + std::hypot(theta, 1.0));
        const double c = 1.0 / std::hypot(t, 1.0), s = t * c;
        for (std::size_t k = 0; k < N; ++k) {
          const double x = a[k][p], y = a[k][q];
          a[k][p] = c * x - s * y;
          a[k][q] = s * x + c * y;
        }
        for (std::size_t k = 0; k < N; ++k) {
          const double x = a[p][k], y = a[q][k];
          a[p][k] = c * x - s * y;
          a[q][k] = s * x + c * y;
        }
        for (std::size_t k = 0; k < N; ++k) {
          const double x = v[k][p], y = v[k][q];
          v[k][p] = c * x - s * y;
          v[k][q] = s * x + c * y;
        }
      }
  }
  std::array<std::size_t, N> order{};
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t k) { return a[i][i] < a[k][k]; });
  Eigen<N> out;
  for (std::size_t i = 0; i < N; ++i) {
    out.values[i] = a[order[i]][order[i]];
    for (std::size_t k = 0; k < N; ++k) out.vectors[i][k] = v[k][order[i]];
  }
  return out;
}

Vec3 vector_of(const std::array<double, 3>& v) {
  return {v[0], v[1], v[2]};
}

void add_outer(Matrix<3>& m, Vec3 a, Vec3 b) {
  const double p[3] = {a.x, a.y, a.z}, q[3] = {b.x, b.y, b.z};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t k = 0; k < 3; ++k) m[i][k] += p[i] * q[k];
}

// Centre and radius of the circle through points of a plane: x^2 + y^2 = 2 a x + 2 b y + c, by least squares
// about their mean.
struct PlaneCircle {
  Vec2 centre{};
  double radius = 0.0;
};
PlaneCircle plane_circle(const std::vector<Vec2>& points) {
  Vec2 mean{};
  for (const Vec2 p : points) mean = mean + p;
  mean = (1.0 / static_cast<double>(points.size())) * mean;
  double xx = 0, xy = 0, yy = 0, xr = 0, yr = 0, rr = 0;
  for (const Vec2 p : points) {
    const Vec2 d = p - mean;
    const double r = dot(d, d);
    xx += d.x * d.x;
    xy += d.x * d.y;
    yy += d.y * d.y;
    xr += d.x * r;
    yr += d.y * r;
    rr += r;
  }
  const double det = xx * yy - xy * xy;
  if (!(std::fabs(det) > 0.0)) return {mean, 0.0};
  const Vec2 c{0.5 * (xr * yy - yr * xy) / det, 0.5 * (yr * xx - xr * xy) / det};
  return {mean + c, std::sqrt(dot(c, c) + rr / static_cast<double>(points.size()))};
}

struct Cloud {
  const std::vector<DrawnPoint>& points;
  Vec3 mean{};
  double size = 0.0;    // largest distance from the mean
  Matrix<3> normals{};  // sum of n n^T
  Vec3 mean_normal{};

  explicit Cloud(const std::vector<DrawnPoint>& all) : points(all) {
    const double share = 1.0 / static_cast<double>(all.size());
    for (const DrawnPoint& p : all) {
      mean = mean + share * p.at;
      mean_normal = mean_normal + share * p.normal;
      add_outer(normals, p.normal, p.normal);
    }
    for (const DrawnPoint& p : all) size = std::max(size, distance(p.at, mean));
  }
};

void measure(FittedSurface& surface, const Cloud& cloud) {
  for (const DrawnPoint& p : cloud.points)
    surface.residual = std::max(surface.residual, surface.distance_of(p.at));
}

FittedSurface plane_of(const Cloud& cloud) {
  FittedSurface s;
  s.sort = SurfaceSort::plane;
  s.origin = cloud.mean;
  s.axis = vector_of(eigen(cloud.normals).vectors[2]);
  measure(s, cloud);
  return s;
}

FittedSurface cylinder_of(const Cloud& cloud) {
  std::vector<Vec3> places;
  for (const DrawnPoint& p : cloud.points) places.push_back(p.at);
  return cylinder_along(vector_of(eigen(cloud.normals).vectors[0]), places);
}

// All tangent planes of a cone pass through its apex: n . (x - apex) = 0, solved by least squares about the
// mean.
bool apex_of(const Cloud& cloud, Vec3& apex) {
  const Eigen<3> e = eigen(cloud.normals);
  if (!(e.values[0] > 1e-13 * e.values[2])) return false;
  Vec3 right{};
  for (const DrawnPoint& p : cloud.points) right = right + dot(p.normal, p.at - cloud.mean) * p.normal;
  apex = cloud.mean;
  for (std::size_t i = 0; i < 3; ++i) {
    const Vec3 v = vector_of(e.vectors[i]);
    apex = apex + (dot(v, right) / e.values[i]) * v;
  }
  return true;
}

FittedSurface cone_of(const Cloud& cloud) {
  FittedSurface s;
  if (!apex_of(cloud, s.origin)) return s;
  Matrix<3> spread{};
  for (const DrawnPoint& p : cloud.points)
    add_outer(spread, p.normal - cloud.mean_normal, p.normal - cloud.mean_normal);
  s.sort = SurfaceSort::cone;
  s.axis = vector_of(eigen(spread).vectors[0]);
  double slope = 0.0;
  for (const DrawnPoint& p : cloud.points)
    slope += dot(p.normal, s.axis) / static_cast<double>(cloud.points.size());
  if (dot(cloud.mean - s.origin, s.axis) < 0.0) {
    s.axis = -s.axis;
    slope = -slope;
  }
  s.angle = std::asin(std::min(1.0, std::fabs(slope)));
  measure(s, cloud);
  return s;
}

// All normals of a surface of revolution meet its axis: with moments m = p x n of the normals, a of the axis'
// direction and b its moment, n . b + m . a = 0 (Pluecker's condition for two lines to meet). Then the
// section is a circle.
FittedSurface torus_of(const Cloud& cloud) {
  FittedSurface s;
  Matrix<6> m{};
  for (const DrawnPoint& p : cloud.points) {
    const Vec3 moment = (1.0 / cloud.size) * cross(p.at - cloud.mean, p.normal);
    const double row[6] = {moment.x, moment.y, moment.z, p.normal.x, p.normal.y, p.normal.z};
    for (std::size_t i = 0; i < 6; ++i)
      for (std::size_t k = 0; k < 6; ++k) m[i][k] += row[i] * row[k];
  }
  const auto line = eigen(m).vectors[0];
  const Vec3 direction{line[0], line[1], line[2]};
  if (!(norm(direction) > 1e-9)) return s;
  s.axis = normalised(direction);
  const Vec3 moment = (1.0 / norm(direction)) * Vec3{line[3], line[4], line[5]};
  const Vec3 foot = cloud.mean + cloud.size * cross(s.axis, moment);
  std::vector<Vec2> section;
  for (const DrawnPoint& p : cloud.points) {
    const double z = dot(p.at - foot, s.axis);
    section.push_back({norm(p.at - foot - z * s.axis), z});
  }
  const PlaneCircle circle = plane_circle(section);
  s.sort = SurfaceSort::torus;
  s.origin = foot + circle.centre.y * s.axis;
  s.radius = circle.centre.x;
  s.minor = circle.radius;
  measure(s, cloud);
  return s;
}

// Rulings through one point, or along one direction, whatever their section; the residual is that of the
// tangent planes.
FittedSurface ruled_of(const Cloud& cloud) {
  FittedSurface s;
  const Eigen<3> e = eigen(cloud.normals);
  s.sort = SurfaceSort::ruled;
  s.axis = vector_of(e.vectors[0]);
  s.parallel = !apex_of(cloud, s.origin) || distance(s.origin, cloud.mean) > 1e7 * cloud.size;
  for (const DrawnPoint& p : cloud.points)
    s.residual = std::max(s.residual, s.parallel ? std::fabs(dot(p.normal, s.axis)) * cloud.size
                                                 : std::fabs(dot(p.normal, p.at - s.origin)));
  return s;
}

}  // namespace

Eigen<3> eigen(Matrix<3> matrix) {
  return jacobi<3>(matrix);
}

Eigen<6> eigen(Matrix<6> matrix) {
  return jacobi<6>(matrix);
}

double FittedSurface::distance_of(Vec3 point) const {
  const Vec3 d = point - origin;
  const double z = dot(d, axis);
  const double across_axis = norm(d - z * axis);
  switch (sort) {
    case SurfaceSort::plane:
      return std::fabs(z);
    case SurfaceSort::cylinder:
      return std::fabs(across_axis - radius);
    case SurfaceSort::cone:
      return std::fabs(across_axis * std::cos(angle) - z * std::sin(angle));
    case SurfaceSort::torus:
      return std::fabs(std::hypot(across_axis - radius, z) - minor);
    default:
      return 0.0;
  }
}

Vec3 FittedSurface::heart_of(Vec3 point) const {
  const Vec3 d = point - origin;
  const double z = dot(d, axis);
  if (sort == SurfaceSort::torus) {
    const Vec3 out = d - z * axis;
    return origin + (radius / std::max(norm(out), 1e-300)) * out;
  }
  // of a cone where the normal meets the axis
  if (sort == SurfaceSort::cone) return origin + (z + norm(d - z * axis) * std::tan(angle)) * axis;
  return origin + z * axis;
}

std::array<Vec3, 2> directions_across(Vec3 axis) {
  const Vec3 other = std::fabs(axis.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  const Vec3 x = normalised(cross(axis, other));
  return {x, cross(axis, x)};
}

FittedSurface cylinder_along(Vec3 axis, const std::vector<Vec3>& points) {
  FittedSurface s;
  s.sort = SurfaceSort::cylinder;
  s.axis = axis;
  Vec3 mean{};
  for (const Vec3 p : points) mean = mean + (1.0 / static_cast<double>(points.size())) * p;
  const auto [x, y] = directions_across(axis);
  std::vector<Vec2> flat;
  for (const Vec3 p : points) flat.push_back({dot(p - mean, x), dot(p - mean, y)});
  const PlaneCircle circle = plane_circle(flat);
  s.origin = mean + circle.centre.x * x + circle.centre.y * y;
  s.radius = circle.radius;
  for (const Vec3 p : points) s.residual = std::max(s.residual, s.distance_of(p));
  return s;
}

std::vector<FittedSurface> round_surfaces(const std::vector<DrawnPoint>& points) {
  std::vector<FittedSurface> out;
  if (points.size() < 4) return out;
  const Cloud cloud(points);
  if (!(cloud.size > 0.0)) return out;
  for (const auto& fit : {cylinder_of, cone_of, torus_of})
    if (const FittedSurface surface = fit(cloud); surface.sort != SurfaceSort::other) out.push_back(surface);
  return out;
}

FittedSurface ruled_surface(const std::vector<DrawnPoint>& points) {
  return ruled_of(Cloud(points));
}

FittedSurface fit_surface(const std::vector<DrawnPoint>& points, double within) {
  if (points.size() < 4) return {};
  const Cloud cloud(points);
  if (!(cloud.size > 0.0)) return {};
  // corners of a mesh are never exact, but their normals may be
  constexpr double k_drawn = 1e-3;
  const double exact = within > k_drawn ? within : 1e-8 * cloud.size;
  FittedSurface best;
  for (const double limit : {std::min(exact, within), within}) {
    for (const auto& fit : {plane_of, cylinder_of, cone_of, torus_of, ruled_of}) {
      const FittedSurface surface = fit(cloud);
      const bool torus_itself = surface.sort != SurfaceSort::torus || surface.minor < 100.0 * cloud.size;
      if (surface.sort != SurfaceSort::other && std::isfinite(surface.residual) &&
          surface.residual <= limit && torus_itself)
        return surface;
    }
  }
  return best;
}

FittedCircle fit_circle(const std::vector<Vec3>& points) {
  FittedCircle circle;
  if (points.size() < 3) return circle;
  Vec3 mean{};
  for (const Vec3 p : points) mean = mean + (1.0 / static_cast<double>(points.size())) * p;
  Matrix<3> spread{};
  for (const Vec3 p : points) add_outer(spread, p - mean, p - mean);
  circle.normal = vector_of(eigen(spread).vectors[0]);
  const auto [x, y] = directions_across(circle.normal);
  std::vector<Vec2> flat;
  for (const Vec3 p : points) flat.push_back({dot(p - mean, x), dot(p - mean, y)});
  const PlaneCircle in_plane = plane_circle(flat);
  circle.centre = mean + in_plane.centre.x * x + in_plane.centre.y * y;
  circle.radius = in_plane.radius;
  for (const Vec3 p : points) {
    const Vec3 d = p - circle.centre;
    const double z = dot(d, circle.normal);
    circle.residual = std::max(circle.residual, std::hypot(z, norm(d - z * circle.normal) - circle.radius));
  }
  return circle;
}

}  // namespace linerwright
