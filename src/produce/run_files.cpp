#include "run_files.hpp"

#include <algorithm>
#include <sstream>

#include <fmt/format.h>

#include "linerwright/error.hpp"
#include "linerwright/paper.hpp"
#include "linerwright/run_drawing.hpp"
#include "linerwright/run_page.hpp"

namespace linerwright {

namespace {

// Meshes of a run are for looking and for clearances; fittings have finer ones.
constexpr double k_deflection = 0.5;            // mm
constexpr std::size_t k_most_facets = 400'000;  // of all three STL together

// Assembly and meshes of a run.
struct Bodies {
  Assembly assembly;
  std::vector<std::vector<Mesh>> meshes;  // of each model's parts
  double deflection = k_deflection;
};

Assembly assembly_of(const LaidRun& run, const ProduceOptions& options, RunModels& models) {
  Assembly assembly{run.run.name, {}, {}};
  std::map<std::string, std::size_t> index;
  for (const Placed& placed : run.fittings) {
    const std::string key = made_from(placed.fitting->request, options, false);
    const auto [at, fresh] = index.emplace(key, assembly.models.size());
    if (fresh) {
      std::shared_ptr<const Model>& model = models[key];
      if (!model) model = std::make_shared<const Model>(build_model(*placed.fitting, Gate::closed));
      assembly.models.push_back({placed.part.tag, model});
    }
    assembly.places.push_back({shown(placed.part), at->second, placed.frame});
  }
  return assembly;
}

std::vector<std::vector<Mesh>> meshes_of(const Assembly& assembly, double deflection) {
  std::vector<std::vector<Mesh>> meshes;
  for (const AssemblyModel& model : assembly.models) {
    meshes.emplace_back();
    for (const Part& part : model.model->parts)
      meshes.back().push_back(mesh_of(part.solid, {deflection, 0.25}, 8.0 * deflection));
  }
  return meshes;
}

std::size_t facets_of(const Bodies& bodies) {
  std::size_t facets = 0;
  for (const AssemblyPlace& place : bodies.assembly.places)
    for (const Mesh& mesh : bodies.meshes[place.model]) facets += mesh.triangles.size();
  return facets;
}

Bodies bodies_of(const LaidRun& run, const ProduceOptions& options, RunModels& models) {
  Bodies bodies{assembly_of(run, options, models), {}, std::max(k_deflection, options.mesh.deflection)};
  bodies.meshes = meshes_of(bodies.assembly, bodies.deflection);
  for (int tries = 0; facets_of(bodies) > k_most_facets && tries < 3; ++tries) {
    bodies.deflection *= 4.0;
    bodies.meshes = meshes_of(bodies.assembly, bodies.deflection);
  }
  return bodies;
}

std::string stl_of(const Bodies& bodies, PartRole role, const char* title) {
  std::vector<Mesh> meshes;
  for (const AssemblyPlace& place : bodies.assembly.places) {
    const std::vector<Part>& parts = bodies.assembly.models[place.model].model->parts;
    for (std::size_t i = 0; i < parts.size(); ++i)
      if (parts[i].role == role) meshes.push_back(placed(bodies.meshes[place.model][i], place.frame));
  }
  std::ostringstream out;
  write_stl(out, meshes, title);
  return out.str();
}

std::string glb_of(const Bodies& bodies) {
  std::vector<GlbModel> models;
  for (std::size_t m = 0; m < bodies.assembly.models.size(); ++m) {
    models.emplace_back();
    const std::vector<Part>& parts = bodies.assembly.models[m].model->parts;
    for (std::size_t i = 0; i < parts.size(); ++i)
      if (parts[i].role != PartRole::bore)
        models.back().parts.push_back({parts[i].role, parts[i].piece, &bodies.meshes[m][i]});
  }
  return glb_of(bodies.assembly, models);
}

void write_picture(NewFolder& folder, const std::string& stem, const Bodies& bodies,
                   const ProduceOptions& options) {
  if (!options.pages && !options.png) return;
  std::vector<Solid> metals;
  for (const AssemblyPlace& place : bodies.assembly.places)
    for (const Part& part : bodies.assembly.models[place.model].model->parts)
      if (part.role == PartRole::metal) metals.push_back(placed(part.solid, place.frame));
  const Picture picture = run_picture(metals, 4.0 * bodies.deflection);
  if (options.pages) folder.write(stem + ".svg", svg_of(picture, {5.0, bodies.assembly.name, {}}));
  if (options.png) folder.write(stem + ".png", png_of(picture));
}

RunContents contents_of(const Bodies& bodies) {
  RunContents contents;
  contents.bodies = true;
  contents.models = bodies.assembly.models.size();
  contents.deflection = bodies.deflection;
  for (const AssemblyPlace& place : bodies.assembly.places)
    for (const Part& part : bodies.assembly.models[place.model].model->parts)
      (part.role == PartRole::metal   ? contents.metal
       : part.role == PartRole::liner ? contents.liner
                                      : contents.bore) += part.volume;
  return contents;
}

}  // namespace

void RunContents::write(JsonWriter& json) const {
  if (!bodies) return;
  json.key("bodies").begin_object();
  json.key("different_fittings").integer(static_cast<long>(models));
  json.key("metal_volume").number(metal);
  json.key("liner_volume").number(liner);
  json.key("bore_volume").number(bore);
  json.key("mesh_deflection").number(deflection);
  json.end_object();
}

namespace {

Mesh joined(const std::vector<Mesh>& meshes) {
  Mesh all;
  for (const Mesh& mesh : meshes) {
    const int first = static_cast<int>(all.points.size());
    all.points.insert(all.points.end(), mesh.points.begin(), mesh.points.end());
    for (const auto& triangle : mesh.triangles)
      all.triangles.push_back({triangle[0] + first, triangle[1] + first, triangle[2] + first});
  }
  return all;
}

// The bodies of each fitting by their role, coarse enough for a page.
std::vector<RunPagePart> page_parts(const Bodies& bodies) {
  constexpr std::size_t k_most = 60'000;  // facets: a page stays small
  Bodies coarse{bodies.assembly, {}, 2.0};
  coarse.meshes = meshes_of(coarse.assembly, coarse.deflection);
  for (int tries = 0; facets_of(coarse) > k_most && tries < 3; ++tries) {
    coarse.deflection *= 3.0;
    coarse.meshes = meshes_of(coarse.assembly, coarse.deflection);
  }
  std::vector<RunPagePart> out;
  for (std::size_t i = 0; i < coarse.assembly.places.size(); ++i) {
    const AssemblyPlace& place = coarse.assembly.places[i];
    const std::vector<Part>& parts = coarse.assembly.models[place.model].model->parts;
    for (const PartRole role : {PartRole::metal, PartRole::liner, PartRole::bore}) {
      std::vector<Mesh> meshes;
      for (std::size_t p = 0; p < parts.size(); ++p)
        if (parts[p].role == role) meshes.push_back(placed(coarse.meshes[place.model][p], place.frame));
      out.push_back({i, role, joined(meshes)});
    }
  }
  return out;
}

void write_page(NewFolder& folder, const std::string& stem, const LaidRun& run,
                const std::optional<Bodies>& bodies, std::optional<double> flow) {
  RunPage page{run, {}, {}, flow, folder.files()};
  if (bodies) page.parts = page_parts(*bodies);
  for (const Placed& placed : run.fittings) {
    const std::string name = file_stem(placed.part.tag);
    page.pages.push_back(fmt::format("../../{0}/{0}.html", name));
  }
  page.files.push_back("run.json");
  folder.write(stem + ".html", run_page(page));
}

}  // namespace

RunContents write_run_files(NewFolder& folder, const std::string& stem, const LaidRun& run,
                            const ProduceOptions& options, RunModels& models, std::optional<double> flow) {
  std::optional<Bodies> bodies;
  if (!options.patterns_only) {
    bodies = bodies_of(run, options, models);
    write_assembly(folder.path() / (stem + ".step"), bodies->assembly);
    folder.note(stem + ".step");
    folder.write(stem + "-metal.stl", stl_of(*bodies, PartRole::metal, "metal"));
    folder.write(stem + "-liner.stl", stl_of(*bodies, PartRole::liner, "liner"));
    folder.write(stem + "-bore.stl", stl_of(*bodies, PartRole::bore, "bore"));
    folder.write(stem + ".glb", glb_of(*bodies));
    write_picture(folder, stem, *bodies, options);
  }
  folder.write(stem + "-bore.csv", run_bore_csv(run));
  folder.write(stem + "-order.csv", run_order_csv(run));
  if (options.pages) {
    folder.write(stem + "-line.svg", svg_of(run_isometric(run), {8.0, run.run.name, {}}));
    folder.write(stem + "-bore.svg", svg_of(run_profile(run), {8.0, run.run.name, {}}));
    write_page(folder, stem, run, bodies, flow);
  }
  return bodies ? contents_of(*bodies) : RunContents{};
}

}  // namespace linerwright
