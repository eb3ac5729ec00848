// Slices, common volumes and distances against closed forms.
#include <gtest/gtest.h>

#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <cmath>

#include "kernel.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::fitting_from;
using support::Flags;

const Flags k_elbow{{"diameter", "315"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25"}};
const Flags k_tee{{"diameter", "300"},
                  {"length", "1000"},
                  {"branch_diameter", "200"},
                  {"branch_length", "450"},
                  {"thickness", "25"}};

const Part& part_of(const Model& model, const std::string& name) {
  for (const Part& part : model.parts)
    if (part.name == name) return part;
  throw std::runtime_error("no part " + name);
}

TEST(Slice, ShowsTheLinedAreaAtEveryStation) {
  int stations = 0;
  const Flags reducer{
      {"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"}, {"thickness", "25"}, {"collar", "80"}};
  for (const auto& [kind, flags] : std::vector<std::pair<std::string, Flags>>{
           {"elbow", support::with(k_elbow, {{"collar", "30"}})},
           {"elbow", support::with(k_elbow, {{"form", "smooth"}})},
           {"reducer", reducer},
           {"reducer", support::with(reducer, {{"flat", "yes"}})},
           {"tee", k_tee},
           {"tee", support::with(k_tee, {{"angle", "60"}, {"branch_length", "700"}})},
           {"tee", support::with(k_tee, {{"branch_base", "240"}})}}) {
    SCOPED_TRACE(support::written(kind, flags));
    const Fitting fitting = fitting_from(kind, flags);
    const Model model = build_model(fitting);
    for (const Passage& passage : fitting.passages)
      for (const Station& station : passage.stations) {
        EXPECT_NEAR(slice_area_at(model.parts.back().solid, station.plane) / station.lined_area, 1.0, 1e-7)
            << passage.name << ' ' << station.place;
        ++stations;
      }
  }
  EXPECT_GT(stations, 30);
}

// Lengthwise through the axis a lined straight duct shows two strips of the board, and its bore a rectangle.
TEST(Slice, CountsAllRegionsOrTheNearest) {
  const Model model =
      build_model(fitting_from("straight", {{"diameter", "250"}, {"length", "600"}, {"thickness", "25"}}));
  const PlaneTarget along{{40.0, 0.0, 300.0}, {0.0, 1.0, 0.0}};
  EXPECT_NEAR(slice_area(model.parts.back().solid, along), 600.0 * 200.0, 1e-4);
  const Solid& liner = part_of(model, "liner 1").solid;
  EXPECT_NEAR(slice_area(liner, along), 2.0 * 600.0 * 25.0, 1e-4);
  EXPECT_NEAR(slice_area_at(liner, along), 600.0 * 25.0, 1e-4);
  // square to the axis: the ring
  EXPECT_NEAR(slice_area(liner, {{0, 0, 300.0}, {0, 0, 1}}), k_pi * (125.0 * 125.0 - 100.0 * 100.0), 1e-4);
  // beside the duct: nothing
  EXPECT_EQ(slice_area(liner, {{0, 0, 700.0}, {0, 0, 1}}), 0.0);
}

// Oblique cut of a cylinder: an ellipse of area pi r^2 / cos(angle).
TEST(Slice, ObliqueCutIsAnEllipse) {
  const Model model =
      build_model(fitting_from("straight", {{"diameter", "250"}, {"length", "600"}, {"thickness", "25"}}));
  for (const double angle : {0.1, 0.4, 0.7})
    EXPECT_NEAR(
        slice_area(model.parts.back().solid, {{0, 0, 300.0}, {std::sin(angle), 0.0, std::cos(angle)}}),
        k_pi * 100.0 * 100.0 / std::cos(angle), 1e-3);
}

TEST(CommonVolume, OfBodiesThatOverlap) {
  const Solid box = make_solid(BRepPrimAPI_MakeBox(100.0, 100.0, 100.0).Shape());
  const Solid shifted =
      make_solid(BRepPrimAPI_MakeBox(gp_Pnt(90.0, 80.0, 70.0), 100.0, 100.0, 100.0).Shape());
  EXPECT_NEAR(common_volume(box, shifted), 10.0 * 20.0 * 30.0, 1e-6);
  EXPECT_NEAR(common_volume(shifted, box), 10.0 * 20.0 * 30.0, 1e-6);
  const Solid inside = make_solid(BRepPrimAPI_MakeBox(gp_Pnt(10.0, 10.0, 10.0), 5.0, 5.0, 5.0).Shape());
  EXPECT_NEAR(common_volume(box, inside), 125.0, 1e-9);
  EXPECT_NEAR(common_volume(box, box), 1e6, 1e-3);
  const Solid touching = make_solid(BRepPrimAPI_MakeBox(gp_Pnt(100.0, 0.0, 0.0), 5.0, 5.0, 5.0).Shape());
  EXPECT_EQ(common_volume(box, touching), 0.0);
  const Solid far = make_solid(BRepPrimAPI_MakeBox(gp_Pnt(500.0, 0.0, 0.0), 5.0, 5.0, 5.0).Shape());
  EXPECT_EQ(common_volume(box, far), 0.0);
  // a body whose faces are not of our forms
  const Solid ball = make_solid(BRepPrimAPI_MakeSphere(gp_Pnt(50.0, 50.0, 50.0), 10.0).Shape());
  EXPECT_NEAR(common_volume(box, ball), k_pi * 1000.0 * 4.0 / 3.0, 1e-5);
}

// A liner made for a wider bore reaches into the bore of a thinner liner by exactly the difference.
TEST(CommonVolume, FindsALinerThatReachesIntoTheBore) {
  const Model thin = build_model(fitting_from("elbow", k_elbow));
  const Model thick = build_model(fitting_from("elbow", support::with(k_elbow, {{"thickness", "26"}})));
  double shared = 0.0;
  for (const Part& part : thick.parts)
    if (part.role == PartRole::liner) shared += common_volume(part.solid, thin.parts.back().solid);
  EXPECT_NEAR(shared / (thick.liner_volume - thin.liner_volume), 1.0, 1e-6);
}

TEST(DistanceToEdges, IsTheLargestOverThePoints) {
  const Solid box = make_solid(BRepPrimAPI_MakeBox(100.0, 100.0, 100.0).Shape());
  EXPECT_EQ(distance_to_edges(box, {}), 0.0);
  EXPECT_NEAR(distance_to_edges(box, {{50.0, 0.0, 0.0}}), 0.0, 1e-12);
  EXPECT_NEAR(distance_to_edges(box, {{50.0, 3.0, 4.0}}), 5.0, 1e-12);
  EXPECT_NEAR(distance_to_edges(box, {{-3.0, -4.0, -12.0}}), 13.0, 1e-12);
  EXPECT_NEAR(distance_to_edges(box, {{50.0, 50.0, 50.0}, {50.0, 0.0, 0.0}}), std::hypot(50.0, 50.0), 1e-12);
  const Solid can = make_solid(BRepPrimAPI_MakeCylinder(40.0, 70.0).Shape());
  for (const double angle : {0.3, 1.9, 4.4}) {
    const Vec3 out{std::cos(angle), std::sin(angle), 0.0};
    EXPECT_NEAR(distance_to_edges(can, {43.0 * out + Vec3{0, 0, -4.0}}), 5.0, 1e-12);
    EXPECT_NEAR(distance_to_edges(can, {37.0 * out}), 3.0, 1e-12);
  }
}

// Joint curves are edges of the liner: exact points of them lie on edges, the same points moved do not.
TEST(DistanceToEdges, FindsJointCurves) {
  int curves = 0;
  for (const auto& [kind, flags] : std::vector<std::pair<std::string, Flags>>{
           {"elbow", k_elbow},
           {"tee", k_tee},
           {"tee", support::with(k_tee, {{"branch_diameter", "300"}})},
           {"tee", support::with(k_tee, {{"angle", "60"}, {"branch_length", "700"}, {"offset", "50"}})}}) {
    SCOPED_TRACE(support::written(kind, flags));
    const Fitting fitting = fitting_from(kind, flags);
    const Model model = build_model(fitting);
    for (const Wall& wall : fitting.walls) {
      const Part* liner = nullptr;
      for (const Part& part : model.parts)
        if (part.role == PartRole::liner && &fitting.wall_of(fitting.piece(part.piece.value())) == &wall)
          liner = &part;
      ASSERT_NE(liner, nullptr);
      for (const double w : {0.0, fitting.liner.thickness}) {
        std::vector<Vec3> points;
        for (int i = 0; i < 250; ++i) {
          const Joint& joint = fitting.joint(wall.low.joint);
          points.push_back(point_of(joint, k_two_pi * (i + 0.37) / 250, {w, w}));
        }
        EXPECT_LE(distance_to_edges(liner->solid, points), 1e-3);
        const double moved = 0.5;
        for (Vec3& p : points) p = p + moved * wall.sheet.frame().z;
        EXPECT_GT(distance_to_edges(liner->solid, points), 0.3);
        ++curves;
      }
    }
  }
  EXPECT_EQ(curves, 2 * (5 + 2 + 2 + 2));
}

}  // namespace
}  // namespace linerwright
