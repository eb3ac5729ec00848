// The solids read back from the STEP, and the meshes from the STL files.
#include <algorithm>
#include <cmath>
#include <fstream>

#include <fmt/format.h>

#include "linerwright/error.hpp"
#include "proof.hpp"

namespace linerwright {

namespace {

const Part* part_named(const std::vector<Part>& parts, const std::string& name) {
  const auto found =
      std::find_if(parts.begin(), parts.end(), [&](const Part& part) { return part.name == name; });
  return found == parts.end() ? nullptr : &*found;
}

}  // namespace

std::vector<CheckResult> prove_parts(const Fitting& fitting, const Model& model,
                                     const std::vector<Part>& parts) {
  std::vector<CheckResult> results;
  double worst = 0.0;
  double liner = 0.0;
  for (const Part& expected : model.parts) {
    const Part* part = part_named(parts, expected.name);
    if (part == nullptr) return {undone("step parts", "no part named " + expected.name)};
    worst = std::max(worst, std::fabs(part->volume - expected.volume) / expected.volume);
    if (expected.role == PartRole::liner) liner += part->volume;
  }
  results.push_back(within("step volumes", worst, 1e-7, "",
                           fmt::format("{} parts against the solids made again", model.parts.size())));
  const Part* bore = part_named(parts, "bore");
  const double fill = std::fabs(liner - (model.cavity_volume - bore->volume)) / liner;
  results.push_back(within("fill", fill, 1e-8, "", "liner volumes against cavity less bore"));

  // Touching bodies share their faces only before they are written apart into a file, and the boolean
  // operation is sure of itself only then: the pairs are taken from the solids made again, which the file's
  // were just held against.
  double common = 0.0;
  int pairs = 0;
  for (std::size_t i = 0; i < model.parts.size(); ++i)
    for (std::size_t k = i + 1; k < model.parts.size(); ++k) {
      const Part& a = model.parts[i];
      const Part& b = model.parts[k];
      if (a.role != PartRole::liner || b.role != PartRole::liner) continue;
      try {
        common = std::max(common, common_volume(a.solid, b.solid) / std::min(a.volume, b.volume));
        ++pairs;
      } catch (const GeometryError& error) {
        results.push_back(undone("interference", a.name + " and " + b.name + ": " + error.what()));
      }
    }
  if (pairs > 0)
    results.push_back(
        within("interference", common, 1e-9, "", fmt::format("common volume of {} pairs of pieces", pairs)));

  double off = 0.0;
  int slices = 0;
  for (const Passage& passage : fitting.passages)
    for (std::size_t i = 0; i < passage.stations.size(); ++i) {
      const Station& station = passage.stations[i];
      if (i == 0 || i + 1 == passage.stations.size())
        continue;  // in an end's own plane there is a face, no slice
      off = std::max(off, std::fabs(slice_area_at(bore->solid, station.plane) - station.lined_area) /
                              station.lined_area);
      ++slices;
    }
  if (slices > 0)
    results.push_back(
        within("bore slices", off, 1e-6, "", fmt::format("{} slices against the closed form", slices)));
  return results;
}

std::vector<CheckResult> prove_meshes(const Fitting& fitting, const CheckFiles& files,
                                      const std::vector<Part>& parts, const MeshOptions& options) {
  std::vector<CheckResult> results;
  const double deflection =
      std::min(options.deflection, std::min(fitting.liner.gauge, fitting.liner.thickness) / 8.0);
  for (const auto& [role, name] : {std::pair<PartRole, const char*>{PartRole::metal, "metal"},
                                   {PartRole::liner, "liner"},
                                   {PartRole::bore, "bore"}}) {
    const std::filesystem::path path = files.folder / (files.stem + "-" + name + ".stl");
    std::ifstream in(path, std::ios::binary);
    if (!in) {
      results.push_back(undone(std::string("stl ") + name, path.string() + " cannot be read"));
      continue;
    }
    try {
      const std::vector<Mesh> bodies = split_bodies(read_stl(in, path.string()));
      double volume = 0.0;
      std::size_t expected = 0;
      for (const Part& part : parts)
        if (part.role == role) {
          volume += part.volume;
          ++expected;
        }
      int open = 0;
      double meshed = 0.0;
      double area = 0.0;
      for (const Mesh& body : bodies) {
        open += open_edges(body);
        meshed += mesh_volume(body);
        for (const auto& t : body.triangles) {
          const Vec3 a = body.points[static_cast<std::size_t>(t[0])];
          area += 0.5 * norm(cross(body.points[static_cast<std::size_t>(t[1])] - a,
                                   body.points[static_cast<std::size_t>(t[2])] - a));
        }
      }
      results.push_back(
          within(std::string("closed ") + name,
                 open + std::fabs(static_cast<double>(bodies.size()) - static_cast<double>(expected)), 0.0,
                 "edges", fmt::format("{} bodies of {}", bodies.size(), expected)));
      // facets lie within the deflection of the surface
      results.push_back(within(std::string("stl volume ") + name, std::fabs(meshed - volume) / area,
                               deflection, "mm", "volume off the solid's, over the area"));
    } catch (const InputError& error) {
      results.push_back(undone(std::string("stl ") + name, error.what()));
    }
  }
  return results;
}

}  // namespace linerwright
