// The damped Gauss-Newton method (K. Levenberg 1944, D. Marquardt 1963; from memory) on at most seven
// numbers.
#include "refine.hpp"

#include <algorithm>
#include <cmath>

namespace linerwright {

namespace {

constexpr std::size_t k_numbers = 7;
constexpr std::size_t k_most_points = 300;
using Step = std::array<double, k_numbers>;

// A surface with its angle's cosine and sine at hand.
struct Placed {
  FittedSurface surface;
  double c, s;
  explicit Placed(const FittedSurface& of) : surface(of), c(std::cos(of.angle)), s(std::sin(of.angle)) {}

  double signed_distance(Vec3 point) const {
    const Vec3 d = point - surface.origin;
    const double z = dot(d, surface.axis);
    const double across = norm(d - z * surface.axis);
    if (surface.sort == SurfaceSort::cylinder) return across - surface.radius;
    if (surface.sort == SurfaceSort::cone) return across * c - z * s;
    const double out = across - surface.radius;
    return std::sqrt(out * out + z * z) - surface.minor;
  }
};

// Turn of the axis (two), way of the origin (three), radius, and the minor radius or the angle.
FittedSurface stepped(FittedSurface surface, const Step& step, double size) {
  const auto [x, y] = directions_across(surface.axis);
  const Vec3 z = surface.axis;
  surface.axis = normalised(z + step[0] * x + step[1] * y);
  surface.origin = surface.origin + size * (step[2] * x + step[3] * y + step[4] * z);
  surface.radius += size * step[5];
  if (surface.sort == SurfaceSort::cone)
    surface.angle += step[6];
  else
    surface.minor += size * step[6];
  return surface;
}

std::vector<std::size_t> numbers_of(SurfaceSort sort) {
  if (sort == SurfaceSort::cylinder) return {0, 1, 2, 3, 5};
  if (sort == SurfaceSort::cone) return {0, 1, 2, 3, 4, 6};
  return {0, 1, 2, 3, 4, 5, 6};
}

// Solves a x = b by elimination with pivots; false where it has no one solution.
bool solve(std::vector<std::vector<double>> a, std::vector<double> b, std::vector<double>& x) {
  const std::size_t n = b.size();
  for (std::size_t i = 0; i < n; ++i) {
    std::size_t pivot = i;
    for (std::size_t k = i + 1; k < n; ++k)
      if (std::fabs(a[k][i]) > std::fabs(a[pivot][i])) pivot = k;
    if (!(std::fabs(a[pivot][i]) > 0.0)) return false;
    std::swap(a[i], a[pivot]);
    std::swap(b[i], b[pivot]);
    for (std::size_t k = i + 1; k < n; ++k) {
      const double share = a[k][i] / a[i][i];
      for (std::size_t c = i; c < n; ++c) a[k][c] -= share * a[i][c];
      b[k] -= share * b[i];
    }
  }
  x.assign(n, 0.0);
  for (std::size_t i = n; i-- > 0;) {
    double sum = b[i];
    for (std::size_t c = i + 1; c < n; ++c) sum -= a[i][c] * x[c];
    x[i] = sum / a[i][i];
  }
  return std::all_of(x.begin(), x.end(), [](double value) { return std::isfinite(value); });
}

double squares(const FittedSurface& surface, const std::vector<Vec3>& points) {
  const Placed placed(surface);
  double sum = 0.0;
  for (const Vec3 p : points) {
    const double off = placed.signed_distance(p);
    sum += off * off;
  }
  return sum;
}

}  // namespace

void refine(FittedSurface& surface, const std::vector<Vec3>& points) {
  const bool moves = surface.sort == SurfaceSort::cylinder || surface.sort == SurfaceSort::cone ||
                     surface.sort == SurfaceSort::torus;
  std::vector<Vec3> some;
  Vec3 mean{};
  const std::size_t stride = 1 + (points.size() - 1) / k_most_points;
  for (std::size_t i = 0; i < points.size(); i += stride) some.push_back(points[i]);
  for (const Vec3 p : some) mean = mean + (1.0 / static_cast<double>(some.size())) * p;
  double size = 1e-3;
  for (const Vec3 p : some) size = std::max(size, distance(p, mean));
  if (surface.sort == SurfaceSort::cylinder)
    surface.origin = surface.origin + dot(mean - surface.origin, surface.axis) * surface.axis;
  const std::vector<std::size_t> numbers = numbers_of(surface.sort);
  double now = moves ? squares(surface, some) : 0.0;
  double damping = 1e-6;
  for (int round = 0, failed = 0; moves && round < 40 && failed < 5; ++round) {
    constexpr double k_step = 1e-6;
    const std::size_t n = numbers.size();
    std::vector<std::vector<double>> a(n, std::vector<double>(n, 0.0));
    std::vector<double> b(n, 0.0);
    const Placed here(surface);
    std::vector<Placed> ahead, behind;
    for (const std::size_t number : numbers) {
      Step step{};
      step[number] = k_step;
      ahead.emplace_back(stepped(surface, step, size));
      step[number] = -k_step;
      behind.emplace_back(stepped(surface, step, size));
    }
    for (const Vec3 p : some) {
      std::array<double, k_numbers> slope{};
      const double off = here.signed_distance(p);
      for (std::size_t i = 0; i < n; ++i)
        slope[i] = (ahead[i].signed_distance(p) - behind[i].signed_distance(p)) / (2.0 * k_step);
      for (std::size_t i = 0; i < n; ++i) {
        b[i] -= slope[i] * off;
        for (std::size_t k = 0; k < n; ++k) a[i][k] += slope[i] * slope[k];
      }
    }
    for (std::size_t i = 0; i < n; ++i) a[i][i] *= 1.0 + damping;
    std::vector<double> x;
    Step step{};
    if (!solve(a, b, x)) break;
    for (std::size_t i = 0; i < n; ++i) step[numbers[i]] = x[i];
    const FittedSurface next = stepped(surface, step, size);
    const double then = squares(next, some);
    if (!(then < now)) {
      damping = std::max(10.0 * damping, 1e-4);
      ++failed;
      continue;
    }
    const bool settled = now - then < 1e-6 * now;
    surface = next;
    now = then;
    damping *= 0.1;
    failed = 0;
    if (settled) break;
  }
  surface.residual = 0.0;
  for (const Vec3 p : points) surface.residual = std::max(surface.residual, surface.distance_of(p));
}

}  // namespace linerwright
