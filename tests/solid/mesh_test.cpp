// Triangulation and what is said about meshes.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/mesh/shared_diagonals.hpp"
#include "linerwright/mesh/triangulate.hpp"
#include "linerwright/solid/solid.hpp"

namespace linerwright {
namespace {

double area_of(const std::vector<Vec2>& points, const std::vector<std::array<int, 3>>& triangles) {
  double sum = 0.0;
  for (const auto& t : triangles) {
    const auto at = [&](std::size_t k) { return points[static_cast<std::size_t>(t[k])]; };
    const double area = 0.5 * cross(at(1) - at(0), at(2) - at(0));
    EXPECT_GT(area, 0.0);
    sum += area;
  }
  return sum;
}

std::vector<int> add_circle(std::vector<Vec2>& points, Vec2 centre, double radius, int count,
                            bool clockwise) {
  std::vector<int> loop;
  for (int i = 0; i < count; ++i) {
    const double angle = (clockwise ? -k_two_pi : k_two_pi) * i / count;
    loop.push_back(static_cast<int>(points.size()));
    points.push_back(centre + radius * Vec2{std::cos(angle), std::sin(angle)});
  }
  return loop;
}

double polygon_area(double radius, int count) {
  return 0.5 * count * radius * radius * std::sin(k_two_pi / count);
}

// n corners and h holes take n + 2h - 2 triangles (Euler), and their areas add up.
TEST(Triangulate, RegionsWithHoles) {
  std::vector<Vec2> points;
  const std::vector<int> outer = add_circle(points, {0, 0}, 100.0, 60, false);
  std::vector<std::vector<int>> holes;
  double area = polygon_area(100.0, 60);
  for (const Vec2 centre : {Vec2{50, 0}, Vec2{-50, 0}, Vec2{0, 45}, Vec2{0, -60}}) {
    holes.push_back(add_circle(points, centre, 20.0, 24, true));
    area -= polygon_area(20.0, 24);
    const auto triangles = triangulate(points, outer, holes, {1.0, 1.0});
    EXPECT_EQ(triangles.size(), points.size() + 2 * holes.size() - 2);
    EXPECT_NEAR(area_of(points, triangles), area, 1e-9);
  }
}

// A comb: nothing but reflex corners between its teeth.
TEST(Triangulate, AComb) {
  std::vector<Vec2> points{{0, 0}, {200, 0}};
  for (int i = 19; i >= 0; --i) {
    points.push_back({10.0 * i + 8.0, 100.0});
    points.push_back({10.0 * i + 2.0, 100.0});
    points.push_back({10.0 * i, 5.0});
  }
  points.pop_back();
  points.push_back({0, 5.0});
  std::vector<int> outline;
  double area = 0.0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    outline.push_back(static_cast<int>(i));
    area += 0.5 * cross(points[i], points[(i + 1) % points.size()]);
  }
  const auto triangles = triangulate(points, outline, {}, {1.0, 1.0});
  EXPECT_EQ(triangles.size(), points.size() - 2);
  EXPECT_NEAR(area_of(points, triangles), area, 1e-9);
}

// With all weight on x a tall strip is crossed by diagonals no wider than its steps.
TEST(Triangulate, WeightTurnsDiagonalsAlongTheStrip) {
  std::vector<Vec2> points;
  std::vector<int> outline;
  constexpr int k_steps = 50;
  for (int i = 0; i <= k_steps; ++i) points.push_back({static_cast<double>(i), 0.0});
  for (int i = k_steps; i >= 0; --i) points.push_back({static_cast<double>(i), 300.0});
  for (std::size_t i = 0; i < points.size(); ++i) outline.push_back(static_cast<int>(i));
  const auto triangles = triangulate(points, outline, {}, {1.0, 0.001});
  EXPECT_EQ(triangles.size(), 2U * k_steps);
  for (const auto& t : triangles) {
    const auto x = [&](std::size_t k) { return points[static_cast<std::size_t>(t[k])].x; };
    const auto [low, high] = std::minmax({x(0), x(1), x(2)});
    EXPECT_LE(high - low, 1.0 + 1e-12);
  }
}

// Two level edges 10 m apart whose corners stand off them by rounding alone: ears along one edge would be
// slivers that reach farther than its steps, and turning diagonals would not undo them.
TEST(Triangulate, LevelEdgesOfLongStripsMakeNoSlivers) {
  constexpr int k_steps = 50;
  const auto off = [](int i) { return i % 3 == 1 ? 2e-12 : 0.0; };
  std::vector<Vec2> points;
  for (int i = 0; i <= k_steps; ++i) points.push_back({3.0 * i, off(i)});
  for (int i = k_steps; i >= 0; --i) points.push_back({3.0 * i, 10000.0 + off(i + 1)});
  std::vector<int> outline;
  for (std::size_t i = 0; i < points.size(); ++i) outline.push_back(static_cast<int>(i));
  const auto triangles = triangulate(points, outline, {}, {1.0, 0.001}, 1e-6);
  EXPECT_EQ(triangles.size(), 2U * k_steps);
  EXPECT_NEAR(area_of(points, triangles), 3.0 * k_steps * 10000.0, 1e-6);
  for (const auto& t : triangles) {
    const auto x = [&](std::size_t k) { return points[static_cast<std::size_t>(t[k])].x; };
    const auto [low, high] = std::minmax({x(0), x(1), x(2)});
    EXPECT_LE(high - low, 3.0 + 1e-12);
  }
  // where all that is left is flat, it is cut off all the same
  const std::vector<Vec2> flat{{0, 0}, {10, -1e-9}, {20, 0}, {10, 1e-9}};
  EXPECT_EQ(triangulate(flat, {0, 1, 2, 3}, {}, {1.0, 1.0}, 1e-6).size(), 2U);
}

TEST(Triangulate, RefusesOutlinesThatCross) {
  const std::vector<Vec2> bow{{0, 0}, {10, 10}, {10, 0}, {0, 10}};
  EXPECT_TRUE(triangulate(bow, {0, 1, 2, 3}, {}, {1, 1}).empty());
  EXPECT_TRUE(triangulate(bow, {0, 1}, {}, {1, 1}).empty());
}

Mesh tetrahedron(Vec3 at) {
  Mesh mesh;
  mesh.points = {at, at + Vec3{1, 0, 0}, at + Vec3{0, 1, 0}, at + Vec3{0, 0, 1}};
  mesh.triangles = {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}};
  return mesh;
}

TEST(Mesh, VolumeAndOpenEdges) {
  Mesh mesh = tetrahedron({1000.0, -500.0, 3.0});
  EXPECT_NEAR(mesh_volume(mesh), 1.0 / 6.0, 1e-12);
  EXPECT_EQ(open_edges(mesh), 0);
  std::swap(mesh.triangles[0][0], mesh.triangles[0][1]);
  EXPECT_EQ(open_edges(mesh), 3);  // turned over: its three edges run the same way twice
  mesh.triangles.erase(mesh.triangles.begin());
  EXPECT_EQ(open_edges(mesh), 3);
  mesh = tetrahedron({});
  mesh.triangles.push_back(mesh.triangles[0]);
  EXPECT_EQ(open_edges(mesh), 3);  // doubled
  EXPECT_EQ(mesh_volume(Mesh{}), 0.0);
  EXPECT_EQ(open_edges(Mesh{}), 0);
}

TEST(Mesh, SplitsBodiesThatTouchAlongAnEdge) {
  Mesh both = tetrahedron({});
  // a second body on the other side of the edge from corner 0 to corner 1
  both.points.push_back({0, -1, 0});
  both.points.push_back({0, 0, -1});
  for (const std::array<int, 3>& t : {std::array<int, 3>{0, 4, 1}, std::array<int, 3>{0, 1, 5},
                                      std::array<int, 3>{0, 5, 4}, std::array<int, 3>{1, 4, 5}})
    both.triangles.push_back(t);
  EXPECT_EQ(open_edges(both), 1);  // the edge four facets share
  const std::vector<Mesh> bodies = split_bodies(both);
  ASSERT_EQ(bodies.size(), 2U);
  for (const Mesh& body : bodies) {
    EXPECT_EQ(body.points.size(), 4U);
    EXPECT_EQ(body.triangles.size(), 4U);
    EXPECT_EQ(open_edges(body), 0);
    EXPECT_NEAR(std::fabs(mesh_volume(body)), 1.0 / 6.0, 1e-12);
  }
  EXPECT_TRUE(split_bodies(Mesh{}).empty());
}

// Two shells of two facets each on the same diagonal, as two faces that cut the same corner leave them.
TEST(Mesh, SplitsADiagonalOfTwoFaces) {
  Mesh mesh;
  mesh.points = {{0, 0, 0}, {2, 0, 0}, {2, 2, 0}, {0, 2, 0}};
  mesh.triangles = {{0, 2, 1}, {0, 3, 2}, {0, 1, 2}, {0, 2, 3}};
  std::vector<std::size_t> face_of{0, 0, 1, 1};
  EXPECT_EQ(open_edges(mesh), 1);
  split_shared_diagonals(mesh, face_of);
  EXPECT_EQ(open_edges(mesh), 0);
  EXPECT_EQ(mesh.triangles.size(), 6U);
  EXPECT_EQ(face_of.size(), 6U);
  EXPECT_NEAR(mesh_volume(mesh), 0.0, 1e-12);
  // nothing to split in a closed body
  Mesh closed = tetrahedron({});
  std::vector<std::size_t> faces{0, 1, 2, 3};
  split_shared_diagonals(closed, faces);
  EXPECT_EQ(closed.triangles.size(), 4U);
}

}  // namespace
}  // namespace linerwright
