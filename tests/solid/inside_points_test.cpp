// Points in a solid, the second opinion on what two pieces share.
#include <gtest/gtest.h>

#include "linerwright/solid/inside_points.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

const Part& part_of(const Model& model, const std::string& name) {
  for (const Part& part : model.parts)
    if (part.name == name) return part;
  throw std::out_of_range(name);
}

Model straight(const char* thickness) {
  return build_model(
      support::fitting_from("straight", {{"diameter", "300"}, {"length", "400"}, {"thickness", thickness}}));
}

TEST(InsidePoints, OfPiecesThatOverlapAndThatTouch) {
  const Model thin = straight("25");
  const Model thick = straight("50");
  const auto under = [](const Part& part) {
    return points_under_facets(mesh_of(part.solid, {0.002, 0.2}, 25.0), 0.02, 500);
  };
  const Part& liner = part_of(thin, "liner 1");
  const std::vector<Vec3> points = under(liner);
  ASSERT_GT(points.size(), 100u);
  EXPECT_EQ(inside(liner.solid, points).size(), points.size());
  const auto mesh = [](const Part& part) { return mesh_of(part.solid, {0.002, 0.2}, 25.0); };
  EXPECT_EQ(inside(mesh(liner), points).size(), points.size());
  EXPECT_EQ(inside(mesh(part_of(thin, "metal")), points).size(), 0u);
  EXPECT_EQ(inside(mesh(part_of(thin, "bore")), points).size(), 0u);
  // a liner of twice the thickness fills the same place
  EXPECT_EQ(inside(part_of(thick, "liner 1").solid, points).size(), points.size());
  // metal and bore touch it and share nothing
  EXPECT_EQ(inside(part_of(thin, "metal").solid, points).size(), 0u);
  EXPECT_EQ(inside(part_of(thin, "bore").solid, points).size(), 0u);
  EXPECT_EQ(inside(liner.solid, under(part_of(thin, "metal"))).size(), 0u);
}

}  // namespace
}  // namespace linerwright
