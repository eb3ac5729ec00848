// A second way to the same bodies: plain cylinders cut and fused by the kernel.
#include <gtest/gtest.h>

#include <BRepAlgoAPI_Common.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <TopExp_Explorer.hxx>
#include <algorithm>
#include <cmath>

#include "boolean_tee.hpp"
#include "kernel.hpp"
#include "linerwright/solid/solid.hpp"
#include "support/cases.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::cylinder;
using support::fitting_from;
using support::Flags;
using support::joined;
using support::kernel_volume_of;

int solids_of(const TopoDS_Shape& shape) {
  int count = 0;
  for (TopExp_Explorer it(shape, TopAbs_SOLID); it.More(); it.Next()) ++count;
  return count;
}

class BooleanTees : public testing::TestWithParam<Flags> {};

TEST_P(BooleanTees, CutOfFusedCylindersIsTheLiner) {
  Flags flags = GetParam();
  flags["length"] = "3000";
  flags["branch_length"] = "1400";
  SCOPED_TRACE(support::written("tee", flags));
  const Fitting fitting = fitting_from("tee", flags);
  const Model model = build_model(fitting);
  const support::BooleanTee tee = support::boolean_tee(fitting, 3000.0, 1400.0);
  EXPECT_NEAR(model.cavity_volume / kernel_volume_of(tee.cavity), 1.0, 1e-7);
  EXPECT_NEAR(model.bore_volume / kernel_volume_of(tee.bore), 1.0, 1e-7);
  EXPECT_EQ(solids_of(tee.liner), 1);
  EXPECT_NEAR(model.liner_volume / kernel_volume_of(tee.liner), 1.0, 1e-7);
  EXPECT_NEAR(model.metal_volume / kernel_volume_of(tee.metal), 1.0, 1e-6);
}

INSTANTIATE_TEST_SUITE_P(
    Solid, BooleanTees,
    testing::ValuesIn(support::drawn<Flags>(
        "tees",
        {Flags{{"diameter", "600"}, {"branch_diameter", "400"}, {"thickness", "25"}},
         Flags{{"diameter", "600"}, {"branch_diameter", "600"}, {"thickness", "25"}},
         Flags{{"diameter", "600"}, {"branch_diameter", "120"}, {"thickness", "25"}},
         Flags{{"diameter", "600"}, {"branch_diameter", "300"}, {"thickness", "25"}, {"angle", "45"}},
         Flags{{"diameter", "600"}, {"branch_diameter", "600"}, {"thickness", "25"}, {"angle", "60"}},
         Flags{{"diameter", "600"}, {"branch_diameter", "300"}, {"thickness", "50"}, {"angle", "30"}},
         Flags{{"diameter", "600"}, {"branch_diameter", "300"}, {"thickness", "25"}, {"offset", "100"}},
         Flags{{"diameter", "600"}, {"branch_diameter", "300"}, {"thickness", "25"}, {"offset", "150"}},
         Flags{{"diameter", "600"}, {"branch_diameter", "300"}, {"thickness", "25"}, {"joint", "over"}},
         Flags{{"diameter", "600"},
               {"branch_diameter", "300"},
               {"thickness", "25"},
               {"joint", "through"},
               {"angle", "120"}},
         Flags{{"diameter", "600"},
               {"branch_diameter", "400&300"},
               {"around", "0&180"},
               {"thickness", "25"}}})));

// Piece by piece: a long cylinder cut by the planes at its two ends, less the same with the liner's bore.
TEST(BooleanElbow, EveryPieceIsTheCutOfTwoMitredCylinders) {
  int pieces = 0;
  for (const char* angle : {"20", "90", "180"})
    for (const char* count : {"2", "3", "5", "8"}) {
      const Flags flags{{"diameter", "315"}, {"angle", angle},    {"pieces", count},
                        {"collar", "40"},    {"thickness", "25"}, {"radius_ratio", "1.2"}};
      if (angle[0] == '1' && count[0] == '2') continue;  // its mitre would be too steep
      SCOPED_TRACE(support::written("elbow", flags));
      const Fitting fitting = fitting_from("elbow", flags);
      const Model model = build_model(fitting);
      for (const Part& part : model.parts) {
        if (part.role != PartRole::liner) continue;
        const Wall& wall = fitting.wall_of(fitting.piece(part.piece.value()));
        const auto body = [&](double depth) {
          TopoDS_Shape shape = cylinder(wall.sheet.frame(), wall.sheet.r1() - depth, -2000.0, 2000.0);
          for (const JointUse& use : {wall.low, wall.high}) {
            const auto& plane = std::get<PlaneTarget>(fitting.joint(use.joint).target);
            const Vec3 inside = wall.sheet.frame().point({0.0, 0.0, 0.0});
            // the reference point lies on the piece's own side
            Vec3 toward = dot(inside - plane.point, plane.normal) > 0.0 ? plane.normal : -plane.normal;
            if (std::fabs(dot(inside - plane.point, plane.normal)) < 1e-9)
              toward = use.joint == wall.low.joint ? wall.sheet.frame().z : -wall.sheet.frame().z;
            const gp_Ax2 axes(to_kernel(plane.point), gp_Dir(toward.x, toward.y, toward.z));
            const gp_Vec corner = -4000.0 * (gp_Vec(axes.XDirection()) + gp_Vec(axes.YDirection()));
            const TopoDS_Shape half =
                BRepPrimAPI_MakeBox(axes.Translated(corner), 8000.0, 8000.0, 4000.0).Shape();
            shape = joined<BRepAlgoAPI_Common>(shape, half);
          }
          return shape;
        };
        const TopoDS_Shape liner = joined<BRepAlgoAPI_Cut>(body(0.0), body(fitting.liner.thickness));
        EXPECT_NEAR(part.volume / kernel_volume_of(liner), 1.0, 1e-7) << part.name;
        ++pieces;
      }
    }
  EXPECT_EQ(pieces, 2 + 3 + 5 + 8 + 2 + 3 + 5 + 8 + 3 + 5 + 8);
}

// Pieces, metal and bore fill the duct side by side: no two of them share any room.
TEST(Interference, NoTwoPartsShareRoom) {
  int pairs = 0;
  const Flags elbow{{"diameter", "315"}, {"angle", "90"}, {"pieces", "4"}, {"thickness", "25"}};
  const Flags reducer{{"diameter", "400"}, {"to_diameter", "250"}, {"length", "300"},
                      {"thickness", "25"}, {"collar", "80"},       {"to_collar", "60"}};
  const Flags tee{{"diameter", "300"},
                  {"length", "1000"},
                  {"branch_diameter", "200"},
                  {"branch_length", "450"},
                  {"thickness", "25"}};
  const std::vector<std::pair<std::string, Flags>> cases{
      {"elbow", elbow},
      {"elbow", support::with(elbow, {{"form", "smooth"}, {"collar", "50"}})},
      {"reducer", reducer},
      {"reducer", support::with(reducer, {{"flat", "yes"}})},
      {"tee", tee},
      {"tee", support::with(tee, {{"branch_diameter", "300"}})},
      {"tee", support::with(tee, {{"branch_diameter", "299.99"}})},
      {"tee", support::with(tee, {{"offset", "50"}})},
      {"tee", support::with(tee, {{"joint", "over"}})},
      {"tee", support::with(tee, {{"joint", "through"}, {"angle", "60"}})},
      {"tee", support::with(tee, {{"branch_base", "240"}, {"branch_diameter", "160"}})}};
  const auto taken = support::drawn("fittings", cases, [](const auto& each) { return each.first; });
  for (const auto& [kind, flags] : taken) {
    SCOPED_TRACE(support::written(kind, flags));
    const Model model = build_model(fitting_from(kind, flags));
    for (std::size_t i = 0; i < model.parts.size(); ++i)
      for (std::size_t k = i + 1; k < model.parts.size(); ++k) {
        const Part& a = model.parts[i];
        const Part& b = model.parts[k];
        // every pair that touches once: metal and bore lie apart
        if (a.role == PartRole::metal && b.role == PartRole::bore) continue;
        EXPECT_LE(common_volume(a.solid, b.solid), 1e-9 * std::min(a.volume, b.volume))
            << a.name << ", " << b.name;
        ++pairs;
      }
  }
  EXPECT_GT(pairs, 60 * static_cast<int>(taken.size()) / 11);
}

}  // namespace
}  // namespace linerwright
