#include "run_files.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <functional>

#include <fmt/format.h>

#include "linerwright/page/run_page.hpp"
#include "linerwright/paper/paper.hpp"
#include "linerwright/report/bore_run.hpp"
#include "linerwright/run/run_drawing.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// A file that is written as it comes, without being held.
void write_streamed(NewFolder& folder, const std::string& name,
                    const std::function<void(std::ostream&)>& write) {
  const std::filesystem::path file = folder.path() / name;
  std::ofstream out(file, std::ios::binary);
  write(out);
  out.close();
  if (!out) throw WriteError(fmt::format("{}: cannot write: {}", file.string(), std::strerror(errno)));
  folder.note(name);
}

void write_meshes(NewFolder& folder, const std::string& stem, const RunBodies& bodies) {
  const ModelMeshes meshes = bodies.meshes();
  for (const auto& [role, title] :
       {std::make_pair(PartRole::metal, "metal"), std::make_pair(PartRole::liner, "liner"),
        std::make_pair(PartRole::bore, "bore")})
    write_streamed(folder, fmt::format("{}-{}.stl", stem, title),
                   [&, role = role, title = title](std::ostream& out) {
                     write_stl(out, bodies.assembly(), meshes, role, title);
                   });
  write_streamed(folder, stem + ".glb",
                 [&](std::ostream& out) { write_glb(out, bodies.assembly(), meshes); });
}

// Last of all: it takes the room that the meshes took.
void write_picture(NewFolder& folder, const std::string& stem, RunBodies& bodies,
                   const OutputOptions& options) {
  const std::vector<Solid> metals = bodies.metals_alone();
  if (metals.empty()) return;
  const Picture picture = run_picture(metals, 4.0 * bodies.deflection());
  if (options.pages) folder.write(stem + ".svg", svg_of(picture, {5.0, bodies.assembly().name, {}}));
  if (options.png) folder.write(stem + ".png", png_of(picture));
}

void append(Mesh& all, const Mesh& mesh) {
  const int first = static_cast<int>(all.points.size());
  all.points.insert(all.points.end(), mesh.points.begin(), mesh.points.end());
  for (const auto& triangle : mesh.triangles)
    all.triangles.push_back({triangle[0] + first, triangle[1] + first, triangle[2] + first});
}

// The bodies of each fitting by their role, coarse enough for a page.
std::vector<RunPagePart> page_parts(const RunBodies& bodies) {
  constexpr std::size_t k_most = 60'000;  // facets: a page stays small
  const ModelMeshes meshes = bodies.meshes(k_most);
  std::vector<RunPagePart> out;
  for (std::size_t i = 0; i < bodies.assembly().places.size(); ++i) {
    const AssemblyPlace& place = bodies.assembly().places[i];
    for (const PartRole role : {PartRole::metal, PartRole::liner, PartRole::bore}) {
      Mesh all;
      for (const BodyMesh& body : meshes.at(place.model))
        if (body.role == role) append(all, placed(*body.mesh, place.frame));
      out.push_back({i, role, std::move(all)});
    }
  }
  return out;
}

void write_page(NewFolder& folder, const std::string& stem, const LaidRun& run, const BoreRun& losses,
                const std::optional<RunBodies>& bodies, bool with_tree, bool shared_script) {
  RunPage page{run, losses, {}, {}, folder.files()};
  if (shared_script) page.script = std::string("../../") + k_script_file;
  if (bodies) page.parts = page_parts(*bodies);
  for (const Placed& placed : run.fittings) {
    const std::string name = file_stem(placed.part.tag);
    page.pages.push_back(fmt::format("../../{0}/{0}.html", name));
  }
  if (bodies) page.files.push_back(stem + ".svg");
  if (bodies && with_tree) page.files.push_back(stem + "-tree.step");
  page.files.push_back("run.json");
  folder.write(stem + ".html", run_page(page));
}

}  // namespace

RunContents write_run_files(NewFolder& folder, const std::string& stem, const LaidRun& run,
                            const BoreRun& losses, const OutputOptions& options,
                            const std::vector<const LaidRun*>& tree) {
  std::optional<RunBodies> bodies;
  if (!options.patterns_only) {
    bodies.emplace(run, folder.path() / (stem + ".step"), options, options.pages || options.png);
    folder.note(stem + ".step");
    write_meshes(folder, stem, *bodies);
  }
  folder.write(stem + "-bore.csv", run_bore_csv(run));
  folder.write(stem + "-loss.csv", run_loss_csv(losses, run.run.units));
  folder.write(stem + "-order.csv", run_order_csv(run));
  if (options.pages) {
    folder.write(stem + "-line.svg", svg_of(run_isometric(run), {8.0, run.run.name, {}}));
    folder.write(stem + "-bore.svg", svg_of(run_profile(run), {8.0, run.run.name, {}}));
    write_page(folder, stem, run, losses, bodies, tree.size() > 1, options.shared_script);
  }
  if (bodies && (options.pages || options.png)) write_picture(folder, stem, *bodies, options);
  if (!bodies) return {};
  RunContents contents = bodies->contents();
  bodies.reset();
  if (tree.size() > 1) {
    contents.tree_file = stem + "-tree.step";
    contents.tree = std::make_shared<RunContents>(
        write_tree(tree, run.run.name + " with branches", folder.path() / contents.tree_file, options));
    for (const LaidRun* each : tree) contents.tree_runs.push_back(file_stem(each->run.name));
    folder.note(contents.tree_file);
  }
  return contents;
}

}  // namespace linerwright
