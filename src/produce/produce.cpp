#include "linerwright/produce.hpp"

#include <algorithm>
#include <atomic>
#include <map>
#include <mutex>
#include <sstream>
#include <thread>

#include <fmt/format.h>

#include "folder.hpp"
#include "linerwright/error.hpp"

namespace linerwright {

namespace {

DxfOptions dxf_options(const Fitting& fitting, const Pattern& pattern, const ProduceOptions& options) {
  DxfOptions dxf = options.dxf;
  dxf.chord_error = k_chord_error;
  const auto shown = [&](double value) { return format_quantity(Quantity::length, value, fitting.units); };
  dxf.comments.push_back("liner " + shown(fitting.liner.thickness) + ", " +
                         (fitting.liner.face_up == Face::air ? "air" : "duct") + " face up");
  dxf.comments.push_back("cut square to the board: gap " + shown(pattern.gap_square) + ", overlap " +
                         shown(pattern.overlap_square));
  return dxf;
}

void write_solids(NewFolder& folder, const std::string& stem, const Fitting& fitting, const Model& model,
                  const MeshOptions& options) {
  const double thinnest = std::min(fitting.liner.gauge, fitting.liner.thickness);
  const auto stl = [&](PartRole role, const char* name) {
    std::vector<Mesh> meshes;
    for (const Part& part : model.parts)
      if (part.role == role) meshes.push_back(mesh_of(part.solid, options, thinnest));
    std::ostringstream out;
    write_stl(out, meshes, name);
    folder.write(stem + "-" + name + ".stl", out.str());
  };
  stl(PartRole::metal, "metal");
  stl(PartRole::liner, "liner");
  stl(PartRole::bore, "bore");
  write_step(folder.path() / (stem + ".step"), fitting, model);
  folder.note(stem + ".step");
}

}  // namespace

Made produce_fitting(const Fitting& fitting, const std::filesystem::path& out,
                     const ProduceOptions& options) {
  const std::string stem = file_stem(fitting.tag);
  const std::vector<Pattern> patterns = make_patterns(fitting);
  std::optional<Model> model;
  if (!options.patterns_only) model = build_model(fitting);

  NewFolder folder(out, stem);
  for (const Pattern& pattern : patterns) {
    std::ostringstream dxf;
    write_dxf(dxf, drawing_of(pattern, fitting.units), dxf_options(fitting, pattern, options));
    folder.write(fmt::format("{}-{}.dxf", stem, pattern.id), dxf.str());
  }
  folder.write(stem + "-tilt.csv", tilt_csv(fitting, patterns));
  folder.write(stem + "-ordinates.csv", ordinates_csv(fitting, patterns));
  Made made;
  if (model) {
    write_solids(folder, stem, fitting, *model, options.mesh);
    made.checks = quick_checks(fitting, *model, patterns);
  }
  std::vector<std::string> files = folder.files();
  files.push_back("fitting.json");
  folder.write("fitting.json",
               fitting_json(fitting, model ? &*model : nullptr, patterns, files, made.checks, options));
  folder.keep();

  made.tag = fitting.tag;
  made.folder = out / stem;
  made.files = folder.files();
  made.warnings = fitting.warnings;
  for (const CheckResult& check : made.checks)
    if (!check.pass) {
      made.failure = "check failed: " + one_line(check);
      made.exit_code = 1;
      break;
    }
  return made;
}

std::vector<Made> produce_all(const std::vector<FittingRequest>& requests, const std::filesystem::path& out,
                              const ProduceOptions& options, int threads,
                              const std::function<void(const Made&)>& done) {
  std::vector<Made> all(requests.size());
  std::atomic<std::size_t> next{0};
  std::mutex telling;
  const auto work = [&] {
    for (std::size_t i = next++; i < requests.size(); i = next++) {
      Made& made = all[i];
      const auto failed = [&](const std::exception& error, int code) {
        made.failure = error.what();
        made.exit_code = code;
      };
      try {
        made = produce_fitting(make_fitting(requests[i]), out, options);
      } catch (const InputError& error) {
        failed(error, 2);
      } catch (const WriteError& error) {
        failed(error, 3);
      } catch (const std::exception& error) {
        failed(std::runtime_error(requests[i].tag + ": " + error.what()), 1);
      }
      made.tag = requests[i].tag;
      const std::lock_guard<std::mutex> lock(telling);
      if (done) done(made);
    }
  };
  const int count = std::max(1, std::min(threads, static_cast<int>(requests.size())));
  std::vector<std::thread> pool;
  for (int t = 1; t < count; ++t) pool.emplace_back(work);
  work();
  for (std::thread& thread : pool) thread.join();
  return all;
}

}  // namespace linerwright
