// Meshes made straight from sheets and joints: closed, and their volumes are the integrals' of
// src/fitting/measure.cpp.
#include "linerwright/mesh/fitting_meshes.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "linerwright/units/error.hpp"
#include "support/cases.hpp"
#include "support/held_back.hpp"
#include "support/random_fittings.hpp"

namespace linerwright {
namespace {

using support::Flags;

// Volumes of the parts of each role.
struct Volumes {
  double metal = 0.0, liner = 0.0, bore = 0.0;
};

Volumes volumes_of(const std::vector<BodyPart>& parts) {
  Volumes all;
  for (const BodyPart& part : parts)
    (part.role == PartRole::metal   ? all.metal
     : part.role == PartRole::liner ? all.liner
                                    : all.bore) += mesh_volume(part.mesh);
  return all;
}

// The branch's panels meet on seams that end on the body.
Flags panels_on_body(const std::string& joint) {
  return {{"diameter", "2000"}, {"length", "3500"},          {"thickness", "25"},
          {"angle", "60"},      {"branch_diameter", "1550"}, {"branch_length", "1700"},
          {"joint", joint},     {"board_width", "2000"},     {"board_length", "4000"}};
}

// Chords of circles of step a take a^2 / 6 of their area: 0.02 radians take 0.7e-4.
void expect_as_integrals(const Fitting& fitting, const std::string& what) {
  const std::vector<BodyPart> parts = fitting_meshes(fitting, {0.01, 0.02});
  const Volumes volumes = volumes_of(parts);
  constexpr double k_within = 1e-4;
  const double bore = shell_volume(fitting, fitting.liner.bore_depth());
  const double liner = shell_volume(fitting, 0.0) - bore - plug_volume(fitting);
  const double metal = metal_volume(fitting);
  EXPECT_NEAR(volumes.metal, metal, k_within * metal) << what;
  EXPECT_NEAR(volumes.bore, bore, k_within * bore) << what;
  EXPECT_NEAR(volumes.liner, liner, k_within * liner) << what;
  for (const BodyPart& part : parts) EXPECT_EQ(open_edges(part.mesh), 0) << what << " " << part.name;
}

TEST(FittingMeshes, ACylinderIsAPrism) {
  const Fitting fitting =
      support::fitting_from("straight", {{"diameter", "400"}, {"length", "1000"}, {"thickness", "25"}});
  const std::vector<BodyPart> parts = fitting_meshes(fitting, {0.5, 0.1});
  ASSERT_EQ(parts.size(), 3u);
  EXPECT_EQ(parts[0].name, "metal");
  EXPECT_EQ(parts[1].role, PartRole::liner);
  // a prism over a regular polygon with n corners on the circle: n / 2 r^2 sin(2 pi / n) h
  const Mesh& bore = parts[2].mesh;
  const double n = static_cast<double>(bore.points.size()) / 2.0;
  EXPECT_NEAR(mesh_volume(bore), 0.5 * n * 175.0 * 175.0 * std::sin(k_two_pi / n) * 1000.0, 1e-3);
  EXPECT_GE(n, k_two_pi / 0.1);
  // 0.5 mm off a circle of 200.8 mm: a step of 0.1412 radians, more than the angle that is asked for
  EXPECT_LE(n, 1.0 + k_two_pi / (0.8 * 0.1));
}

TEST(FittingMeshes, EveryKindAndStyleAsTheIntegralsHaveIt) {
  const std::vector<std::pair<std::string, Flags>> all = {
      {"elbow",
       {{"diameter", "300"}, {"angle", "90"}, {"pieces", "5"}, {"radius_ratio", "1.5"}, {"thickness", "25"}}},
      {"elbow",
       {{"diameter", "300"},
        {"angle", "60"},
        {"pieces", "4"},
        {"radius_ratio", "1.5"},
        {"thickness", "25"},
        {"form", "smooth"},
        {"collar", "80"}}},
      {"reducer",
       {{"diameter", "300"},
        {"to_diameter", "200"},
        {"length", "400"},
        {"flat", "yes"},
        {"thickness", "25"},
        {"collar", "60"},
        {"to_collar", "60"}}},
      {"tee",
       {{"diameter", "300"},
        {"length", "800"},
        {"branch_diameter", "300"},
        {"branch_length", "400"},
        {"thickness", "25"}}},
      {"tee",
       {{"diameter", "400"},
        {"length", "900"},
        {"branch_diameter", "200"},
        {"branch_length", "500"},
        {"angle", "45"},
        {"thickness", "25"},
        {"joint", "over"}}},
      {"tee",
       {{"diameter", "400"},
        {"length", "900"},
        {"branch_diameter", "200"},
        {"branch_length", "400"},
        {"thickness", "25"},
        {"joint", "through"}}},
      {"tee",
       {{"diameter", "400"},
        {"length", "1200"},
        {"branch_diameter", "200"},
        {"branch_length", "600"},
        {"angle", "45"},
        {"turn_to", "90"},
        {"thickness", "25"}}},
      {"offset",
       {{"diameter", "300"},
        {"offset", "500"},
        {"angle", "50"},
        {"pieces", "3"},
        {"collar", "30"},
        {"form", "smooth"},
        {"thickness", "20"}}},
      {"tap",
       {{"diameter", "500"}, {"branch_diameter", "200"}, {"branch_length", "500"}, {"thickness", "25"}}},
      {"straight",
       {{"diameter", "400"},
        {"length", "1000"},
        {"thickness", "25"},
        {"hold_back_start", "40"},
        {"hold_back_end", "25"}}},
      {"reducer", support::with(support::held_back_reducer(), {{"panels", "3"}})},
      {"wye", support::held_back_wye()},
      {"straight",
       {{"diameter", "600"},
        {"length", "2600"},
        {"thickness", "25"},
        {"board_width", "1200"},
        {"board_length", "1000"},
        {"second_layer", "20"}}},
      {"tee", panels_on_body("over")},
      {"tee", panels_on_body("through")},
      {"wye",
       {{"diameter", "300"},
        {"inlet_length", "300"},
        {"angle", "45"},
        {"leg_diameter", "250"},
        {"leg_length", "500"},
        {"thickness", "25"}}},
  };
  int made = 0;
  for (const auto& [kind, flags] : all) {
    const std::string what = support::written(kind, flags);
    try {
      expect_as_integrals(support::fitting_from(kind, flags), what);
      ++made;
    } catch (const std::exception& error) {
      ADD_FAILURE() << what << ": " << error.what();
    }
  }
  EXPECT_EQ(made, static_cast<int>(all.size()));
}

TEST(FittingMeshesRandom, AsTheIntegralsHaveThem) {
  support::Chance chance(31);
  int made = 0;
  const int all = support::cases(60);
  for (int i = 0; i < all; ++i) {
    const auto [kind, flags] = support::random_fitting(chance);
    const std::string what = support::written(kind, flags);
    std::optional<Fitting> fitting;
    try {
      fitting = support::fitting_from(kind, flags);
    } catch (const InputError&) {
      continue;
    }
    try {
      expect_as_integrals(*fitting, what);
      ++made;
    } catch (const std::exception& error) {
      ADD_FAILURE() << what << ": " << error.what();
    }
  }
  EXPECT_GT(made, all / 3);
}

}  // namespace
}  // namespace linerwright
