#include "run_bodies.hpp"

#include <algorithm>
#include <map>

#include "linerwright/mesh/fitting_meshes.hpp"

namespace linerwright {

namespace {

// Meshes of a run are for looking and for clearances; fittings have finer ones.
constexpr double k_deflection = 0.5;            // mm, of the finest
constexpr double k_of_sheet = 0.3;              // metal is thin: its facets lie so much nearer
constexpr std::size_t k_most_facets = 250'000;  // of all three STL together

// Each level of meshes is several times as coarse as the one before.
std::vector<MeshOptions> levels_from(double finest) {
  return {{finest, 0.25}, {4.0 * finest, 0.25}, {16.0 * finest, 0.4}, {64.0 * finest, 0.8}};
}

// The fittings that are made of the same, and where they stand.
struct Alike {
  Assembly assembly;
  std::vector<const Fitting*> fittings;  // by model
  std::vector<std::size_t> places;       // how often each occurs
};

Alike alike(const std::vector<const LaidRun*>& runs, const std::string& name, const OutputOptions& options) {
  Alike out{{name, {}, {}}, {}, {}};
  std::map<std::string, std::size_t> index;
  for (std::size_t r = 0; r < runs.size(); ++r) {
    if (runs.size() > 1) out.assembly.groups.push_back(runs[r]->run.name);
    for (const Placed& placed : runs[r]->fittings) {
      FittingRequest request = placed.fitting->request;
      request.count = 1;  // how many there are does not shape them
      const std::string key = made_from(request, options, false);
      const auto [at, fresh] = index.emplace(key, out.fittings.size());
      if (fresh) {
        out.assembly.models.push_back(placed.part.tag);
        out.fittings.push_back(placed.fitting.get());
        out.places.push_back(0);
      }
      ++out.places[at->second];
      out.assembly.places.push_back({shown(placed.part), at->second, placed.frame, r});
    }
  }
  return out;
}

void add_volumes(RunContents& contents, const Model& model, std::size_t places) {
  for (const Part& part : model.parts)
    (part.role == PartRole::metal   ? contents.metal
     : part.role == PartRole::liner ? contents.liner
                                    : contents.bore) += part.volume * static_cast<double>(places);
}

}  // namespace

void RunContents::write(JsonWriter& json) const {
  if (!bodies) return;
  if (tree) {
    json.key("tree").begin_object();
    json.key("file").text(tree_file);
    json.key("runs").begin_array();
    for (const std::string& run : tree_runs) json.text(run);
    json.end_array();
    json.key("different_fittings").integer(static_cast<long>(tree->models));
    json.key("metal_volume").number(tree->metal);
    json.key("liner_volume").number(tree->liner);
    json.key("bore_volume").number(tree->bore);
    json.end_object();
  }
  json.key("bodies").begin_object();
  json.key("different_fittings").integer(static_cast<long>(models));
  json.key("metal_volume").number(metal);
  json.key("liner_volume").number(liner);
  json.key("bore_volume").number(bore);
  json.key("mesh_deflection").number(deflection);
  json.end_object();
}

RunBodies::RunBodies(const LaidRun& run, const std::filesystem::path& step, const OutputOptions& options,
                     bool with_picture)
    : levels_(levels_from(std::max(k_deflection, options.mesh.deflection))), facets_(levels_.size(), 0) {
  const Alike made = alike({&run}, run.run.name, options);
  assembly_ = made.assembly;
  write_assembly(step, assembly_, [&](std::size_t i) {
    auto model = std::make_shared<const Model>(build_model(*made.fittings[i], Gate::closed));
    take(i, *made.fittings[i], *model, made.places[i], with_picture);
    return model;
  });
  contents_.bodies = true;
  contents_.models = models_.size();
  contents_.deflection = deflection();
}

void RunBodies::take(std::size_t index, const Fitting& fitting, const Model& model, std::size_t places,
                     bool with_picture) {
  models_.resize(std::max(models_.size(), index + 1));
  add_volumes(contents_, model, places);
  std::vector<Body>& made = models_[index];
  for (const Part& part : model.parts) {
    made.push_back({part.role, part.piece, std::vector<Mesh>(levels_.size()), {}});
    if (with_picture && part.role == PartRole::metal) made.back().metal = part.solid;
  }
  for (std::size_t level = 0; level < levels_.size(); ++level) {
    if (level + 1 < levels_.size() && facets_[level] > k_most_facets) continue;
    std::vector<BodyPart> meshes = fitting_meshes(fitting, levels_[level]);
    std::vector<BodyPart> sheet =
        fitting_meshes(fitting, {k_of_sheet * levels_[level].deflection, levels_[level].angle});
    for (std::size_t i = 0; i < made.size(); ++i) {
      Mesh& mesh = made[i].levels[level];
      mesh = std::move((made[i].role == PartRole::metal ? sheet : meshes)[i].mesh);
      facets_[level] += mesh.triangles.size() * places;
    }
  }
  // what is too fine for so many is not kept
  for (std::size_t level = 0; level + 1 < levels_.size(); ++level)
    if (facets_[level] > k_most_facets)
      for (std::vector<Body>& bodies : models_)
        for (Body& body : bodies) body.levels[level] = {};
}

std::size_t RunBodies::level_of(std::size_t most) const {
  std::size_t level = 0;
  while (level + 1 < levels_.size() && facets_[level] > std::min(most, k_most_facets)) ++level;
  return level;
}

ModelMeshes RunBodies::level(std::size_t which) const {
  ModelMeshes out;
  for (const std::vector<Body>& bodies : models_) {
    out.emplace_back();
    for (const Body& body : bodies) out.back().push_back({body.role, body.piece, &body.levels[which]});
  }
  return out;
}

ModelMeshes RunBodies::meshes(std::size_t most) const {
  return level(level_of(most));
}

ModelMeshes RunBodies::meshes() const {
  return meshes(k_most_facets);
}

double RunBodies::deflection() const {
  return levels_[level_of(k_most_facets)].deflection;
}

std::vector<Solid> RunBodies::metals_alone() {
  for (std::vector<Body>& bodies : models_)
    for (Body& body : bodies) body.levels = {};
  std::vector<Solid> metals;
  for (const AssemblyPlace& place : assembly_.places)
    for (const Body& body : models_.at(place.model))
      if (body.metal) metals.push_back(placed(body.metal, place.frame));
  return metals;
}

RunContents write_tree(const std::vector<const LaidRun*>& runs, const std::string& name,
                       const std::filesystem::path& step, const OutputOptions& options) {
  const Alike made = alike(runs, name, options);
  RunContents contents;
  write_assembly(step, made.assembly, [&](std::size_t i) {
    auto model = std::make_shared<const Model>(build_model(*made.fittings[i], Gate::closed));
    add_volumes(contents, *model, made.places[i]);
    return model;
  });
  contents.bodies = true;
  contents.models = made.fittings.size();
  return contents;
}

}  // namespace linerwright
