// Every kind of fitting, the degenerate ones among them, against the kernel's own measures.
#include <gtest/gtest.h>

#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <TopExp_Explorer.hxx>
#include <algorithm>
#include <cmath>

#include "cases.hpp"
#include "kernel.hpp"
#include "linerwright/solid/solid.hpp"
#include "mesh_parts.hpp"
#include "support/cases.hpp"

namespace linerwright {
namespace {

using support::Case;

class EveryFitting : public testing::TestWithParam<Case> {};

TEST_P(EveryFitting, IsValidFullAndClosed) {
  const Case& of = GetParam();
  SCOPED_TRACE(support::written(of.kind, of.flags));
  const Fitting fitting = support::fitting_from(of.kind, of.flags);
  const Model model = build_model(fitting, Gate::full);
  const bool opens = !fitting.passages.empty();  // a disc alone has no bore
  ASSERT_EQ(model.parts.size(), fitting.pieces.size() + (opens ? 2 : 1));
  EXPECT_EQ(model.parts.front().name, "metal");
  EXPECT_EQ(model.parts.back().name == "bore", opens);
  EXPECT_LE(model.fill_error, 1e-8);
  EXPECT_LE(model.curve_deviation, 1e-3);
  for (const Part& part : model.parts) {
    SCOPED_TRACE(part.name);
    // the kernel's adaptive integration over the same faces
    const double second = support::kernel_volume_of(part.solid.shape().shape);
    EXPECT_NEAR(part.volume / second, 1.0, 1e-7);
    const Mesh mesh = mesh_of(part.solid, MeshOptions{}, support::thinnest(fitting));
    EXPECT_EQ(open_edges(mesh), 0);
    // along the rulings, not by the kernel's mesher, which takes ten times as long
    EXPECT_TRUE(ruled_mesh(part.solid.shape().shape, 0.1, 0.2));
    EXPECT_EQ(split_bodies(mesh).size(), 1U);
    // A mesh whose facets stay within the deflection of the surface misses at most deflection times area.
    const double deflection = std::min(0.1, 0.125 * support::thinnest(fitting));
    EXPECT_NEAR(mesh_volume(mesh), part.volume,
                deflection * support::kernel_area_of(part.solid.shape().shape));
  }
}

INSTANTIATE_TEST_SUITE_P(Solid, EveryFitting,
                         testing::ValuesIn(support::drawn("solids", support::solid_cases(),
                                                          [](const Case& each) { return each.kind; })),
                         [](const testing::TestParamInfo<Case>& each) { return each.param.name; });

// Facets are as near to the surface as asked: the distance of facets' middles and of their sides' middles
// from the solid, found by the kernel's own search.
TEST(Mesh, StaysWithinItsDeflection) {
  int checked = 0;
  const std::vector<std::string> names = support::drawn<std::string>(
      "solids", {"elbow_pieces_5", "smooth_collar", "reducer_steep", "reducer_flat", "tee", "tee_equal",
                 "lateral_30", "tee_over", "conical"});
  for (const std::string& name : names) {
    const auto& cases = support::solid_cases();
    const auto of =
        std::find_if(cases.begin(), cases.end(), [&](const Case& each) { return each.name == name; });
    ASSERT_NE(of, cases.end()) << name;
    const Fitting fitting = support::fitting_from(of->kind, of->flags);
    const Model model = build_model(fitting);
    for (const double deflection : {0.1, 2.0})
      for (const Part& part : model.parts) {
        const double capped = std::min(deflection, 0.125 * 25.0);
        const Mesh mesh = mesh_of(part.solid, MeshOptions{deflection, 0.5}, 25.0);
        const std::size_t step = std::max<std::size_t>(1, mesh.triangles.size() / 17);
        for (std::size_t i = 0; i < mesh.triangles.size(); i += step) {
          const auto corner = [&](std::size_t k) {
            return mesh.points[static_cast<std::size_t>(mesh.triangles[i][k])];
          };
          const Vec3 middle = (1.0 / 3.0) * (corner(0) + corner(1) + corner(2));
          for (const Vec3 p : {middle, 0.5 * (corner(0) + corner(1)), 0.5 * (corner(1) + corner(2))}) {
            BRepExtrema_DistShapeShape distance;
            distance.LoadS1(BRepBuilderAPI_MakeVertex(gp_Pnt(p.x, p.y, p.z)).Vertex());
            double nearest = 1e9;
            for (TopExp_Explorer faces(part.solid.shape().shape, TopAbs_FACE); faces.More(); faces.Next()) {
              distance.LoadS2(faces.Current());
              distance.Perform();
              if (distance.IsDone()) nearest = std::min(nearest, distance.Value());
            }
            EXPECT_LE(nearest, 1.05 * capped) << name << ' ' << part.name;
            ++checked;
          }
        }
      }
  }
  EXPECT_GT(checked, 3000 * static_cast<int>(names.size()) / 9);
}

TEST(Mesh, FinerSettingsMeshAgain) {
  const auto& all = support::solid_cases();
  const auto tee = std::find_if(all.begin(), all.end(), [](const auto& each) { return each.name == "tee"; });
  ASSERT_NE(tee, all.end());
  const Fitting fitting = support::fitting_from("tee", tee->flags);
  const Model model = build_model(fitting);
  const Solid& bore = model.parts.back().solid;
  const Mesh coarse = mesh_of(bore, MeshOptions{2.0, 0.6}, 100.0);
  const Mesh fine = mesh_of(bore, MeshOptions{0.01, 0.6}, 100.0);
  EXPECT_GT(fine.triangles.size(), 4 * coarse.triangles.size());
  EXPECT_LT(std::fabs(mesh_volume(fine) - model.bore_volume),
            std::fabs(mesh_volume(coarse) - model.bore_volume));
  // an eighth of the thinnest wall is the cap
  const Mesh capped = mesh_of(bore, MeshOptions{2.0, 0.6}, 0.08);
  EXPECT_EQ(capped.triangles.size(), fine.triangles.size());
  EXPECT_THROW(mesh_of(bore, MeshOptions{0.0, 0.6}, 1.0), std::invalid_argument);
  EXPECT_THROW(mesh_of(bore, MeshOptions{0.1, std::nan("")}, 1.0), std::invalid_argument);
}

}  // namespace
}  // namespace linerwright
