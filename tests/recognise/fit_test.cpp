// Surfaces from points, against points made from the surfaces' own equations.
#include "fit.hpp"

#include <gtest/gtest.h>

#include <random>

namespace linerwright {
namespace {

struct Made {
  FittedSurface surface;
  std::vector<DrawnPoint> points;
};

Frame turned(std::mt19937& random) {
  std::uniform_real_distribution<double> part(-1.0, 1.0);
  Frame frame;
  frame.z = normalised(Vec3{part(random), part(random), part(random) + 1e-3});
  frame.x = normalised(cross(frame.z, Vec3{part(random), 0.7, part(random)}));
  frame.y = cross(frame.z, frame.x);
  frame.origin = {3000.0 * part(random), 3000.0 * part(random), 3000.0 * part(random)};
  return frame;
}

// A patch of the surface between the angles, so many degrees wide.
Made made(SurfaceSort sort, std::mt19937& random, double degrees) {
  const Frame frame = turned(random);
  std::uniform_real_distribution<double> share(0.1, 1.0);
  Made out;
  FittedSurface& s = out.surface;
  s.sort = sort;
  s.origin = frame.origin;
  s.axis = frame.z;
  s.radius = 600.0 * share(random);
  s.minor = 0.5 * s.radius * share(random);
  s.angle = 0.8 * share(random);
  for (int i = 0; i < 12; ++i)
    for (int k = 0; k < 12; ++k) {
      const double u = degrees / 180.0 * k_pi * i / 11.0;
      const double v = k / 11.0;
      const Vec3 radial = std::cos(u) * frame.x + std::sin(u) * frame.y;
      if (sort == SurfaceSort::cylinder)
        out.points.push_back({s.origin + s.radius * radial + 500.0 * v * s.axis, -radial});
      if (sort == SurfaceSort::cone) {
        const double h = 200.0 + 500.0 * v;
        out.points.push_back({s.origin + h * s.axis + h * std::tan(s.angle) * radial,
                              std::cos(s.angle) * radial - std::sin(s.angle) * s.axis});
      }
      if (sort == SurfaceSort::torus) {
        const double w = k_two_pi * v * 0.9;
        const Vec3 out_of = std::cos(w) * radial + std::sin(w) * s.axis;
        out.points.push_back({s.origin + s.radius * radial + s.minor * out_of, out_of});
      }
      if (sort == SurfaceSort::plane)
        out.points.push_back({s.origin + 400.0 * v * frame.x + 30.0 * i * frame.y, s.axis});
    }
  return out;
}

TEST(Fit, FindsEverySurfaceFromAPatch) {
  std::mt19937 random(20260101);
  for (const SurfaceSort sort :
       {SurfaceSort::plane, SurfaceSort::cylinder, SurfaceSort::cone, SurfaceSort::torus})
    for (int i = 0; i < 200; ++i) {
      const double degrees = i % 2 == 0 ? 350.0 : 30.0;
      const Made one = made(sort, random, degrees);
      const FittedSurface fit = fit_surface(one.points, 1e-3);
      const std::string what =
          "case " + std::to_string(i) + " of sort " + std::to_string(static_cast<int>(sort));
      ASSERT_EQ(static_cast<int>(fit.sort), static_cast<int>(sort)) << what;
      EXPECT_LT(norm(cross(fit.axis, one.surface.axis)), 1e-8) << what;
      EXPECT_LT(fit.residual, 1e-6) << what;
      if (sort == SurfaceSort::cylinder) {
        EXPECT_NEAR(fit.radius, one.surface.radius, 1e-6) << what;
      }
      if (sort == SurfaceSort::cone) {
        EXPECT_NEAR(fit.angle, one.surface.angle, 1e-9) << what;
      }
      if (sort == SurfaceSort::torus) {
        EXPECT_NEAR(fit.radius, one.surface.radius, 1e-5) << what;
        EXPECT_NEAR(fit.minor, one.surface.minor, 1e-5) << what;
      }
    }
}

TEST(Fit, ANearlyStraightConeIsAConeAndAWavyFaceNothing) {
  std::vector<DrawnPoint> cone, waves;
  const double slope = 5e-5;  // 399.99 to 400 mm over 100 mm
  for (int i = 0; i < 24; ++i)
    for (int k = 0; k < 10; ++k) {
      const double u = k_two_pi * i / 24, z = 10.0 * k;
      const Vec3 radial{std::cos(u), std::sin(u), 0.0};
      const double r = 200.0 - slope * z;
      cone.push_back({r * radial + Vec3{0, 0, z}, normalised(radial + slope * Vec3{0, 0, 1})});
      const double w = 200.0 + 2.0 * std::sin(5.0 * u) * std::sin(0.1 * z);
      waves.push_back(
          {w * radial + Vec3{0, 0, z}, normalised(radial + 0.01 * std::cos(3.0 * u) * Vec3{0, 0, 1})});
    }
  EXPECT_EQ(fit_surface(cone, 1e-3).sort, SurfaceSort::cone);
  EXPECT_EQ(fit_surface(waves, 1e-3).sort, SurfaceSort::other);
}

TEST(Fit, CirclesOfArcs) {
  std::vector<Vec3> arc;
  for (int i = 0; i < 20; ++i)
    arc.push_back({10.0 + 300.0 * std::cos(0.05 * i), -5.0, 300.0 * std::sin(0.05 * i)});
  const FittedCircle circle = fit_circle(arc);
  EXPECT_NEAR(circle.radius, 300.0, 1e-8);
  EXPECT_LT(distance(circle.centre, {10.0, -5.0, 0.0}), 1e-8);
  EXPECT_LT(circle.residual, 1e-8);
}

}  // namespace
}  // namespace linerwright
