// Slices in closed form against the kernel's boolean operations.
#include <gtest/gtest.h>

#include <BRepAlgoAPI_Common.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <TopoDS_Face.hxx>
#include <cmath>
#include <gp_Pln.hxx>
#include <random>

#include "kernel.hpp"
#include "linerwright/units/error.hpp"
#include "slice.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

double by_boolean(const Solid& solid, const PlaneTarget& plane) {
  const gp_Pln at(to_kernel(plane.point), gp_Dir(plane.normal.x, plane.normal.y, plane.normal.z));
  constexpr double k_reach = 5000.0;
  const TopoDS_Shape face = BRepBuilderAPI_MakeFace(at, -k_reach, k_reach, -k_reach, k_reach).Face();
  BRepAlgoAPI_Common common(face, solid.shape().shape);
  if (common.HasErrors() || common.HasWarnings()) throw GeometryError("the boolean operation is in doubt");
  return support::kernel_area_of(common.Shape());
}

TEST(Slice, AgreesWithTheKernelsBooleansOnPlanesOfAnyDirection) {
  const std::vector<std::pair<std::string, support::Flags>> fittings{
      {"elbow",
       {{"diameter", "315"}, {"angle", "90"}, {"pieces", "4"}, {"thickness", "25"}, {"collar", "30"}}},
      {"reducer",
       {{"diameter", "400"},
        {"to_diameter", "250"},
        {"length", "300"},
        {"thickness", "25"},
        {"collar", "80"}}},
      {"reducer",
       {{"diameter", "400"},
        {"to_diameter", "250"},
        {"length", "300"},
        {"thickness", "25"},
        {"offset", "40"}}},
      {"tee",
       {{"diameter", "300"},
        {"length", "1000"},
        {"branch_diameter", "200"},
        {"branch_length", "600"},
        {"angle", "60"},
        {"thickness", "25"}}}};
  std::mt19937 bits(11);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(bits()) / 4294967296.0;
  };
  int compared = 0;
  int empty = 0;
  for (const auto& [kind, flags] : fittings) {
    const Model model = build_model(support::fitting_from(kind, flags));
    for (const Part& part : model.parts)
      for (int i = 0; i < 4; ++i) {
        const double turn = between(0.0, k_two_pi);
        const double z = between(-1.0, 1.0);
        const double r = std::sqrt(1.0 - z * z);
        const PlaneTarget plane{{between(-100.0, 100.0), between(-100.0, 100.0), between(0.0, 300.0)},
                                {r * std::cos(turn), r * std::sin(turn), z}};
        SCOPED_TRACE(kind + " " + part.name + " plane " + std::to_string(i));
        ASSERT_TRUE(slice_loops(part.solid.shape().shape, plane));
        double expected = 0.0;
        try {
          expected = by_boolean(part.solid, plane);
        } catch (const GeometryError&) {
          continue;
        }
        const double area = slice_area(part.solid, plane);
        // the kernel's own edges lie within a few 1e-5 mm of the cut
        EXPECT_NEAR(area, expected, 1e-6 * expected + 0.02);
        ++(expected > 0.0 ? compared : empty);
      }
  }
  EXPECT_GT(compared, 40);
  EXPECT_GT(compared, empty);
}

// A cylinder of radius r cut by a plane through its axis' middle at an angle: an ellipse, pi r^2 / cos; along
// the axis: a rectangle.
TEST(Slice, ClosedFormsOfACylinder) {
  const Model model = build_model(
      support::fitting_from("straight", {{"diameter", "250"}, {"length", "600"}, {"thickness", "25"}}));
  const Solid& bore = model.parts.back().solid;
  for (const double lean : {0.0, 0.1, 0.5, 1.0}) {
    const PlaneTarget plane{{0, 0, 300}, {std::sin(lean), 0, std::cos(lean)}};
    EXPECT_NEAR(slice_area(bore, plane) / (k_pi * 100.0 * 100.0 / std::cos(lean)), 1.0, 1e-11) << lean;
  }
  EXPECT_NEAR(slice_area(bore, {{0, 0, 300}, {0, 1, 0}}) / (600.0 * 200.0), 1.0, 1e-12);
  EXPECT_NEAR(slice_area(bore, {{60, 0, 300}, {1, 0, 0}}) / (600.0 * 160.0), 1.0, 1e-12);
  EXPECT_EQ(slice_area(bore, {{101, 0, 300}, {1, 0, 0}}), 0.0);
  EXPECT_EQ(slice_area(bore, {{0, 0, 601}, {0, 0, 1}}), 0.0);
  // the metal's ring
  EXPECT_NEAR(slice_area(model.parts.front().solid, {{0, 0, 300}, {0, 0, 1}}) /
                  (k_pi * (125.8 * 125.8 - 125.0 * 125.0)),
              1.0, 1e-10);
}

}  // namespace
}  // namespace linerwright
