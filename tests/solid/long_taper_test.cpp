// Long thin tapers, as random trials found them: their meshes follow the chord around, not the length.
#include <gtest/gtest.h>

#include "cases.hpp"
#include "linerwright/solid/solid.hpp"
#include "support/requests.hpp"

namespace linerwright {
namespace {

using support::fitting_from;
using support::Flags;

const std::vector<Flags>& tapers() {
  static const std::vector<Flags> all{
      {{"diameter", "50"}, {"to_diameter", "60"}, {"length", "10000"}, {"thickness", "10"}},
      {{"diameter", "81.3438"},
       {"to_diameter", "64.8143"},
       {"length", "14951.2"},
       {"to_collar", "100"},
       {"thickness", "5.99334"},
       {"gauge", "6"}},
      {{"diameter", "65.4864"},
       {"to_diameter", "30.8516"},
       {"length", "12443.7"},
       {"collar", "729.297"},
       {"to_collar", "2"},
       {"thickness", "6.17033"}},
      // hardly a taper at all
      {{"diameter", "27.4687983"},
       {"to_diameter", "27.4677983"},
       {"length", "15198.6"},
       {"collar", "100"},
       {"thickness", "13.1339"},
       {"gauge", "6"}},
      {{"diameter", "32.8622628"},
       {"to_diameter", "34.2190585"},
       {"length", "1320.61"},
       {"collar", "100"},
       {"thickness", "15.8311"}},
      {{"diameter", "157.902"},
       {"to_diameter", "79.9951"},
       {"length", "16519.5"},
       {"collar", "100"},
       {"thickness", "6.44916"},
       {"gauge", "6"}},
      {{"diameter", "277.154"},
       {"to_diameter", "277.147"},
       {"length", "11888.4"},
       {"collar", "100"},
       {"to_collar", "42.0624"},
       {"thickness", "41.7371"}},
  };
  return all;
}

std::size_t facets_of(const Flags& taper, bool look) {
  const Fitting fitting = fitting_from("reducer", taper);
  const Model model = build_model(fitting, Gate::full);
  const double thinnest = support::thinnest(fitting);
  const double deflection = std::min(MeshOptions{}.deflection, 0.125 * thinnest);
  std::size_t facets = 0;
  for (const Part& part : model.parts) {
    const Mesh mesh = mesh_of(part.solid, MeshOptions{}, thinnest);
    facets += mesh.triangles.size();
    if (!look) continue;
    EXPECT_EQ(open_edges(mesh), 0) << part.name;
    double area = 0.0;
    for (const auto& t : mesh.triangles) {
      const auto at = [&](std::size_t k) { return mesh.points[static_cast<std::size_t>(t[k])]; };
      area += 0.5 * norm(cross(at(1) - at(0), at(2) - at(0)));
    }
    // each facet lies within the deflection of the surface
    EXPECT_LE(std::fabs(mesh_volume(mesh) - part.volume), deflection * area) << part.name;
  }
  return facets;
}

// A cone's chord error is that of its circles: a tenth of the length asks for as many facets.
TEST(LongTaper, FacetsFollowTheChordNotTheLength) {
  for (const Flags& taper : tapers()) {
    SCOPED_TRACE(support::written("reducer", taper));
    const std::string tenth = std::to_string(0.1 * std::stod(taper.at("length")));
    const std::size_t facets = facets_of(taper, true);
    EXPECT_GT(facets, 500U);
    EXPECT_LE(facets, 3 * facets_of(support::with(taper, {{"length", tenth}}), false) / 2);
  }
}

}  // namespace
}  // namespace linerwright
