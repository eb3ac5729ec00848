// The meshes read back from the STL files, held against the solids of the STEP.
#include <algorithm>
#include <cmath>
#include <fstream>

#include <fmt/format.h>

#include "linerwright/fitting/port.hpp"
#include "linerwright/mesh/fitting_meshes.hpp"
#include "linerwright/solid/mesh_fit.hpp"
#include "linerwright/units/error.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

constexpr double k_single_precision = 5e-3;  // mm: 1e-7 of coordinates up to some 30 m

Vec3 corner_of(const Mesh& mesh, const std::array<int, 3>& facet, std::size_t k) {
  return mesh.points[static_cast<std::size_t>(facet[k])];
}

// Twice the area of a facet, along its normal.
Vec3 area_vector(const Mesh& mesh, const std::array<int, 3>& facet) {
  const Vec3 a = corner_of(mesh, facet, 0);
  return cross(corner_of(mesh, facet, 1) - a, corner_of(mesh, facet, 2) - a);
}

// The smallest box, as its two corners.
using Corners = std::pair<Vec3, Vec3>;

Corners corners_of(const std::vector<Vec3>& points) {
  Vec3 low{1e300, 1e300, 1e300};
  Vec3 high{-1e300, -1e300, -1e300};
  for (const Vec3& p : points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  return {low, high};
}

// The bodies in the parts' order: a file lists its facets in any order, so each part takes the body that lies
// where its edges lie. A body that is taken for the wrong part fails the checks.
std::vector<Mesh> in_order_of(const std::vector<const Part*>& parts, std::vector<Mesh> bodies) {
  constexpr double k_spacing = 20.0;  // mm
  std::vector<Mesh> ordered;
  for (const Part* part : parts) {
    std::vector<Vec3> points;
    for (const std::vector<Vec3>& edge : edge_points(part->solid, k_spacing))
      points.insert(points.end(), edge.begin(), edge.end());
    const Corners place = corners_of(points);
    const auto away = [&](const Mesh& body) {
      const Corners own = corners_of(body.points);
      return distance(own.first, place.first) + distance(own.second, place.second);
    };
    const auto nearest = std::min_element(bodies.begin(), bodies.end(),
                                          [&](const Mesh& a, const Mesh& b) { return away(a) < away(b); });
    ordered.push_back(std::move(*nearest));
    bodies.erase(nearest);
  }
  return ordered;
}

// How far edges may lie off: of a pressed bend's metal those along its bends by another measure.
struct EdgeLimits {
  double deflection;
  double along = 0.0;
  Vec3 bend_axis{};

  double of(const EdgeFit& edge) const {
    constexpr double k_parallel = 1.0 - 1e-9;
    return std::fabs(dot(edge.axis, bend_axis)) > k_parallel ? along : deflection;
  }
};

std::vector<CheckResult> prove_mesh(const std::string& name, std::vector<Mesh> bodies,
                                    const std::vector<const Part*>& parts, const EdgeLimits& limits) {
  int open = 0;
  for (const Mesh& body : bodies) open += open_edges(body);
  std::vector<CheckResult> results{
      within("closed " + name,
             open + std::fabs(static_cast<double>(bodies.size()) - static_cast<double>(parts.size())), 0.0,
             "edges", fmt::format("{} bodies of {}, {} open edges", bodies.size(), parts.size(), open))};
  if (bodies.size() != parts.size()) return results;
  bodies = in_order_of(parts, std::move(bodies));

  // facets lie within the deflection of the surface, so the volume is off by no more than that over the area
  double thickness = 0.0;
  double off = 0.0;
  double chords = 0.0;
  double bends = 0.0;
  std::size_t points = 0;
  std::size_t edges = 0;
  std::string fault;  // why the mesh could not be followed
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    double area = 0.0;
    for (const auto& facet : bodies[i].triangles) area += 0.5 * norm(area_vector(bodies[i], facet));
    thickness = std::max(thickness, std::fabs(mesh_volume(bodies[i]) - parts[i]->volume) / area);
    if (!fault.empty()) continue;
    try {
      const MeshFit fit = mesh_fit(bodies[i], parts[i]->solid, k_single_precision);
      off = std::max(off, fit.points_off);
      for (const EdgeFit& edge : fit.edges) {
        double& worst = limits.of(edge) == limits.deflection ? chords : bends;
        worst = std::max(worst, edge.off);
      }
      points += fit.points;
      edges += fit.edges.size();
    } catch (const GeometryError& error) {
      fault = error.what();
    }
  }
  results.push_back(within("stl volume " + name, thickness, limits.deflection, "mm",
                           "volume off the solid's, over the area"));
  if (!fault.empty()) {
    results.push_back(undone("stl edges " + name, fault));
    return results;
  }
  results.push_back(within("stl corners " + name, off, k_single_precision, "mm",
                           fmt::format("{} corners of the mesh to the solid's edges and faces", points)));
  results.push_back(within("stl edges " + name, chords, limits.deflection + k_single_precision, "mm",
                           fmt::format("{} edges of the solid to the mesh's edges that follow them", edges)));
  if (bends > 0.0)
    results.push_back(within("stl bends " + name, bends, limits.along + k_single_precision, "mm",
                             "edges along the bend to the mesh's edges that follow them"));
  return results;
}

}  // namespace

std::vector<CheckResult> prove_meshes(const Fitting& fitting, const CheckFiles& files,
                                      const std::vector<Part>& parts, const MeshOptions& options) {
  std::vector<CheckResult> results;
  const double deflection = std::min(options.deflection, thinnest_layer(fitting) / 8.0);
  for (const auto& [role, name] : {std::pair<PartRole, std::string>{PartRole::metal, "metal"},
                                   {PartRole::liner, "liner"},
                                   {PartRole::bore, "bore"}}) {
    if (role == PartRole::bore && is_disc_alone(fitting)) continue;
    const std::filesystem::path path = files.folder / (files.stem + "-" + name + ".stl");
    std::ifstream in(path, std::ios::binary);
    if (!in) {
      results.push_back(undone("stl " + name, path.string() + " cannot be read"));
      continue;
    }
    std::vector<const Part*> of_role;
    for (const Part& part : parts)
      if (part.role == role) of_role.push_back(&part);
    EdgeLimits limits{deflection};
    if (role == PartRole::metal && fitting.pressed) {
      limits.along = deflection_along(*fitting.pressed, fitting.liner.gauge, deflection);
      limits.bend_axis = fitting.pressed->frame.y;
    }
    try {
      const std::vector<CheckResult> more =
          prove_mesh(name, split_bodies(read_stl(in, path.string())), of_role, limits);
      results.insert(results.end(), more.begin(), more.end());
    } catch (const std::exception& error) {
      results.push_back(undone("stl " + name, error.what()));
    }
  }
  return results;
}

}  // namespace linerwright
