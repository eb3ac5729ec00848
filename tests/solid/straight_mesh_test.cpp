// The kernel's second opinion on the meshes that are made without it.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "linerwright/mesh/fitting_meshes.hpp"
#include "linerwright/solid/mesh_fit.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"
#include "support/cases.hpp"
#include "support/random_fittings.hpp"

namespace linerwright {
namespace {

// Every facet cut into four at the middles of its sides: corners where facets are farthest off.
Mesh finer(const Mesh& mesh) {
  Mesh out;
  out.points = mesh.points;
  std::map<std::pair<int, int>, int> middles;
  const auto middle = [&](int a, int b) {
    const auto [found, fresh] = middles.emplace(std::minmax(a, b), static_cast<int>(out.points.size()));
    if (fresh)
      out.points.push_back(
          0.5 * (mesh.points[static_cast<std::size_t>(a)] + mesh.points[static_cast<std::size_t>(b)]));
    return found->second;
  };
  for (const auto& [a, b, c] : mesh.triangles) {
    const int ab = middle(a, b), bc = middle(b, c), ca = middle(c, a);
    for (const std::array<int, 3> part :
         {std::array<int, 3>{a, ab, ca}, {ab, b, bc}, {ca, bc, c}, {ab, bc, ca}})
      out.triangles.push_back(part);
  }
  return out;
}

TEST(StraightMeshRandom, LiesOnTheSolidsWithinItsDeflection) {
  support::Chance chance(47);
  constexpr double k_deflection = 0.01;
  int made = 0;
  const int all = support::cases(16);
  for (int i = 0; i < all; ++i) {
    const auto kinds = support::random_kinds();
    const std::string kind = kinds[static_cast<std::size_t>(i) % kinds.size()];
    const support::Flags flags = support::random_flags(chance, kind);
    const std::string what = support::written(kind, flags);
    std::optional<Fitting> fitting;
    try {
      fitting = support::fitting_from(kind, flags);
    } catch (const InputError&) {
      continue;
    }
    const Model model = build_model(*fitting);
    const std::vector<BodyPart> parts = fitting_meshes(*fitting, {k_deflection, 0.1});
    ASSERT_EQ(parts.size(), model.parts.size()) << what;
    for (std::size_t p = 0; p < parts.size(); ++p) {
      EXPECT_EQ(parts[p].name, model.parts[p].name);
      EXPECT_EQ(parts[p].piece, model.parts[p].piece);
      // of large bends of thin metal the header promises no more than this
      const bool bent = fitting->pressed && parts[p].role == PartRole::metal;
      const double deflection =
          bent ? deflection_along(*fitting->pressed, fitting->liner.gauge, k_deflection) : k_deflection;
      try {
        const MeshFit fit = mesh_fit(finer(parts[p].mesh), model.parts[p].solid, deflection);
        EXPECT_LE(fit.points_off, deflection) << what << " " << parts[p].name;
        for (const EdgeFit& edge : fit.edges) EXPECT_LE(edge.off, deflection) << what << " " << parts[p].name;
      } catch (const GeometryError& error) {
        ADD_FAILURE() << what << " " << parts[p].name << ": " << error.what();
      }
    }
    ++made;
  }
  EXPECT_GE(made, all / 2);
}

}  // namespace
}  // namespace linerwright
