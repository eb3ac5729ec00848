// Bodies of a run's fittings, made one after the other: what stays of each is its meshes.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/output/output.hpp"
#include "linerwright/run/run.hpp"
#include "linerwright/solid/assembly.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

// What run.json says of the bodies: volumes of all places, mm3.
struct RunContents {
  bool bodies = false;
  double metal = 0.0, liner = 0.0, bore = 0.0;
  std::size_t models = 0;   // different ones
  double deflection = 0.0;  // mm, of the meshes
  // Of a run that others start from: all of them in one file, and their folders.
  std::shared_ptr<RunContents> tree;
  std::string tree_file;
  std::vector<std::string> tree_runs;
  void write(JsonWriter& json) const;
};

class RunBodies {
 public:
  // Writes the assembly as STEP while the bodies are made; metals are kept for a picture where it is asked
  // for. Throws WriteError, GeometryError.
  RunBodies(const LaidRun& run, const std::filesystem::path& step, const OutputOptions& options,
            bool with_picture);

  const Assembly& assembly() const { return assembly_; }
  const RunContents& contents() const { return contents_; }
  // Meshes of at most so many facets in all places together, or the coarsest there are.
  ModelMeshes meshes(std::size_t most) const;
  ModelMeshes meshes() const;  // of the files
  double deflection() const;   // of those, mm
  // The metals in their places; the meshes are let go.
  std::vector<Solid> metals_alone();

 private:
  struct Body {
    PartRole role;
    std::optional<int> piece;
    std::vector<Mesh> levels;  // from the finest to the coarsest; empty where there are too many facets
    Solid metal;
  };
  Assembly assembly_;
  RunContents contents_;
  std::vector<std::vector<Body>> models_;
  std::vector<MeshOptions> levels_;
  std::vector<std::size_t> facets_;  // of each level, in all places

  void take(std::size_t index, const Fitting& fitting, const Model& model, std::size_t places,
            bool with_picture);
  ModelMeshes level(std::size_t which) const;
  std::size_t level_of(std::size_t most) const;
};

// Several runs that hang together as one assembly of assemblies, as STEP: a fitting that is made of the same
// is written once for all of them. Returns their volumes. Throws WriteError, GeometryError.
RunContents write_tree(const std::vector<const LaidRun*>& runs, const std::string& name,
                       const std::filesystem::path& step, const OutputOptions& options);

}  // namespace linerwright
