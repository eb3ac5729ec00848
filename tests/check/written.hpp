// A fitting made and written to a folder of its own, as the program does it, and checked from there.
#pragma once

#include <algorithm>
#include <fstream>
#include <string>

#include "linerwright/check/check.hpp"
#include "linerwright/pattern/tilt_table.hpp"
#include "proof.hpp"
#include "support/check_results.hpp"
#include "support/folder.hpp"
#include "support/requests.hpp"

namespace linerwright::support {

// All files of one fitting under the stem "f".
class Written {
 public:
  Written(const std::string& kind, const Flags& flags, const DxfOptions& options = {})
      : fitting(fitting_from(kind, flags)),
        dxf(options),
        model(build_model(fitting)),
        patterns(make_patterns(fitting)) {
    for (const Pattern& pattern : patterns) write_pattern(pattern);
    for (const Pattern& pattern : site_templates(fitting)) write_pattern(pattern);
    for (const auto& [role, name] : {std::pair<PartRole, std::string>{PartRole::metal, "metal"},
                                     {PartRole::liner, "liner"},
                                     {PartRole::bore, "bore"}})
      write_meshes(name, meshes(role));
    write_step(file("f.step"), fitting, model);
    write_text("f-tilt.csv", tilt_csv(fitting, patterns));
  }

  std::filesystem::path file(const std::string& name) const { return folder_.path() / name; }

  // The pattern's file, of a pattern or a drawing that may have been spoilt on the way.
  void write_pattern(const Pattern& pattern) const { write(pattern.id, drawing_of(pattern, fitting.units)); }
  void write(const std::string& id, const Drawing& drawing) const { write(id, drawing, dxf); }
  void write(const std::string& id, const Drawing& drawing, const DxfOptions& options) const {
    std::ofstream out(file("f-" + id + ".dxf"), std::ios::binary);
    write_dxf(out, drawing, options);
  }
  void write_text(const std::string& name, const std::string& text) const {
    std::ofstream out(file(name), std::ios::binary);
    out << text;
  }
  void write_meshes(const std::string& name, const std::vector<Mesh>& all) const {
    std::ofstream out(file("f-" + name + ".stl"), std::ios::binary);
    write_stl(out, all, name);
  }
  std::vector<Mesh> meshes(PartRole role) const {
    std::vector<Mesh> all;
    for (const Part& part : model.parts)
      if (part.role == role)
        all.push_back(mesh_of(part.solid, mesh, std::min(fitting.liner.gauge, fitting.liner.thickness)));
    return all;
  }
  const Pattern& pattern(const std::string& id) const {
    for (const Pattern& each : patterns)
      if (each.id == id) return each;
    throw std::out_of_range("no pattern " + id);
  }

  // The proof of one pattern's file alone, or of the meshes alone: what the whole proof says of them, in a
  // fraction of the time.
  std::vector<CheckResult> check_pattern(const std::string& id) const {
    std::vector<const Part*> liners;
    for (const Part& part : step())
      if (part.role == PartRole::liner) liners.push_back(&part);
    return prove_dxf(fitting, pattern(id), file("f-" + id + ".dxf"), dxf, liners);
  }
  std::vector<CheckResult> check_meshes() const {
    return prove_meshes(fitting, {folder_.path(), "f"}, step(), mesh);
  }
  std::vector<CheckResult> check_tilts() const { return prove_tilts(fitting, patterns, file("f-tilt.csv")); }
  std::vector<CheckResult> check() const {
    return check_fitting(fitting, make_patterns(fitting), {folder_.path(), "f"}, dxf, mesh);
  }

  Fitting fitting;
  DxfOptions dxf;
  MeshOptions mesh;
  Model model;
  std::vector<Pattern> patterns;

 private:
  // As read once, while the file is still as it was written.
  const std::vector<Part>& step() const {
    if (step_.empty()) step_ = read_step(file("f.step"));
    return step_;
  }

  Folder folder_;
  mutable std::vector<Part> step_;
};

}  // namespace linerwright::support
