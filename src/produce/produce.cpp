#include "linerwright/produce.hpp"

#include <algorithm>
#include <atomic>
#include <cstdint>
#include <map>
#include <optional>
#include <sstream>
#include <thread>

#include <fmt/format.h>

#include "earlier.hpp"
#include "folder.hpp"
#include "linerwright/error.hpp"
#include "linerwright/page.hpp"
#include "linerwright/paper.hpp"

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

// What fittings that differ only in their tag have in common.
struct Bodies {
  Model model;
  std::string metal, liner, bore;  // STL files
  Picture isometric;
  std::vector<Mesh> view;  // of the model's parts, for the page
  double view_deflection;
};

std::vector<Mesh> meshes_of(const Model& model, const MeshOptions& options, double thinnest) {
  std::vector<Mesh> meshes;
  for (const Part& part : model.parts) meshes.push_back(mesh_of(part.solid, options, thinnest));
  return meshes;
}

std::size_t triangles_in(const std::vector<Mesh>& meshes) {
  std::size_t count = 0;
  for (const Mesh& mesh : meshes) count += mesh.triangles.size();
  return count;
}

Bodies make_bodies(const Fitting& fitting, const ProduceOptions& made) {
  MeshOptions options = made.mesh;
  Bodies bodies{build_model(fitting), {}, {}, {}, {}, {}, options.deflection};
  std::vector<Mesh> meshes =
      meshes_of(bodies.model, options, std::min(fitting.liner.gauge, fitting.liner.thickness));
  const auto stl = [&](PartRole role, const char* title) {
    std::vector<Mesh> chosen;
    for (std::size_t i = 0; i < meshes.size(); ++i)
      if (bodies.model.parts[i].role == role) chosen.push_back(meshes[i]);
    std::ostringstream out;
    write_stl(out, chosen, title);
    return out.str();
  };
  bodies.metal = stl(PartRole::metal, "metal");
  bodies.liner = stl(PartRole::liner, "liner");
  bodies.bore = stl(PartRole::bore, "bore");
  if (made.pages || made.png) bodies.isometric = isometric_picture(bodies.model, fitting);
  if (!made.pages) return bodies;
  // a page stays under 2 MB
  constexpr std::size_t k_most = 60000;
  for (int tries = 0; triangles_in(meshes) > k_most && tries < 4; ++tries) {
    options.deflection *= 4.0;
    options.angle = std::min(0.4, 2.0 * options.angle);
    meshes = meshes_of(bodies.model, options, fitting.liner.thickness);
  }
  bodies.view = std::move(meshes);
  bodies.view_deflection = options.deflection;
  return bodies;
}

// Writes a picture as the files asked for; returns the SVG.
std::string write_picture(NewFolder& folder, const std::string& name, const Picture& picture,
                          const std::string& title, const ProduceOptions& options) {
  std::string svg;
  if (options.pages) folder.write(name + ".svg", svg = svg_of(picture, {5.0, title, {}}));
  if (options.png) folder.write(name + ".png", png_of(picture));
  return svg;
}

// Writes one fitting's folder; bodies are made where `bodies` is still empty.
Made produce_fitting(const Shaped& shaped, const std::filesystem::path& out, const ProduceOptions& options,
                     std::optional<Bodies>& bodies) {
  const auto& [fitting, patterns] = shaped;
  const std::string stem = file_stem(fitting.tag);
  if (!options.patterns_only && !bodies) bodies = make_bodies(fitting, options);

  NewFolder folder(out, stem);
  for (const Pattern& pattern : patterns) {
    std::ostringstream dxf;
    write_dxf(dxf, drawing_of(pattern, fitting.units), dxf_options(fitting, pattern, options));
    folder.write(fmt::format("{}-{}.dxf", stem, pattern.id), dxf.str());
    if (options.pages || options.png)
      write_picture(folder, stem + "-" + pattern.id, pattern_picture(pattern, fitting),
                    fitting.tag + " - " + pattern.id, options);
  }
  if (options.templates)
    folder.write(stem + "-templates.pdf", templates_pdf(fitting, patterns, *options.templates));
  folder.write(stem + "-tilt.csv", tilt_csv(fitting, patterns));
  folder.write(stem + "-ordinates.csv", ordinates_csv(fitting, patterns));
  Made made;
  std::string picture;
  if (bodies) {
    picture = write_picture(folder, stem, bodies->isometric, fitting.tag, options);
    folder.write(stem + "-metal.stl", bodies->metal);
    folder.write(stem + "-liner.stl", bodies->liner);
    folder.write(stem + "-bore.stl", bodies->bore);
    write_step(folder.path() / (stem + ".step"), fitting, bodies->model);
    folder.note(stem + ".step");
    made.checks = quick_checks(fitting, bodies->model, patterns);
  }
  std::vector<std::string> files = folder.files();
  if (options.pages) files.push_back(stem + ".html");
  files.push_back("fitting.json");
  if (options.pages) {
    FittingPage page{fitting, patterns, {}, {}, made.checks, files, picture};
    if (bodies) {
      for (std::size_t i = 0; i < bodies->view.size(); ++i)
        page.parts.push_back({bodies->model.parts[i].role, bodies->model.parts[i].piece, &bodies->view[i]});
      if (bodies->view_deflection != options.mesh.deflection) page.coarser = bodies->view_deflection;
    }
    folder.write(stem + ".html", fitting_page(page));
  }
  folder.write("fitting.json", fitting_json(fitting, bodies ? &bodies->model : nullptr, patterns, files,
                                            made.checks, options));
  folder.keep();

  made.folder = out / stem;
  made.files = folder.files();
  made.warnings = fitting.warnings;
  for (const CheckResult& check : made.checks)
    if (!check.pass) {
      made.failure = fitting.tag + ": check failed: " + one_line(check);
      made.exit_code = 1;
      break;
    }
  return made;
}

// Fills in the fitting as far as it could be made.
Made produce_one(const FittingRequest& request, const std::filesystem::path& out,
                 const ProduceOptions& options, std::optional<Bodies>& bodies,
                 std::optional<Shaped>& shaped) {
  Made made;
  const auto failed = [&](const std::string& why, int code) {
    made.failure = why;
    made.exit_code = code;
  };
  try {
    const std::filesystem::path folder = out / file_stem(request.tag);
    Fitting fitting = make_fitting(request);
    std::vector<Pattern> patterns = make_patterns(fitting);
    shaped = Shaped{std::move(fitting), std::move(patterns)};
    if (options.force || !earlier_result(folder, made_from(request, options, true), &made))
      made = produce_fitting(*shaped, out, options, bodies);
  } catch (const InputError& error) {
    failed(error.what(), 2);
  } catch (const WriteError& error) {
    failed(error.what(), 3);
  } catch (const std::exception& error) {
    failed(request.tag + ": " + error.what(), 1);
  }
  made.tag = request.tag;
  return made;
}

// Two independent 64-bit check sums (FNV-1a with two starting values); equal by chance once in 2^128.
std::string check_sum(const std::string& text) {
  std::string digits;
  for (std::uint64_t hash : {14695981039346656037ull, 0x9e3779b97f4a7c15ull}) {
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ull;
    digits += fmt::format("{:016x}", hash);
  }
  return digits;
}

}  // namespace

std::string made_from(const FittingRequest& request, const ProduceOptions& options, bool with_tag) {
  // lengths before the texts, so that no two lists run together to the same
  std::string all;
  const auto add = [&](const std::string& text) { all += fmt::format("{}:{};", text.size(), text); };
  add(LINERWRIGHT_VERSION);
  if (with_tag) add(request.tag);
  add(request.kind);
  add(std::to_string(request.count));
  add(request.units == Units::inch ? "in" : "mm");
  for (const auto& [key, value] : request.values.all()) {
    add(key);
    add(value.written);
  }
  add(fmt::format("{} {} {} {} {} {} {}", static_cast<int>(options.dxf.version),
                  static_cast<int>(options.dxf.units), options.dxf.cut_only, options.dxf.single_layer,
                  static_cast<int>(options.dxf.text), options.patterns_only, options.pages));
  add(fixed(options.mesh.deflection, 9) + " " + fixed(options.mesh.angle, 9));
  add(fmt::format("{} {}", options.png, options.templates ? options.templates->name : ""));
  return check_sum(all);
}

void produce_all(const std::vector<FittingRequest>& requests, const std::filesystem::path& out,
                 const ProduceOptions& options, int threads, const MadeOne& done) {
  if (requests.empty()) return;
  const OutFolder hold(out);
  // fittings alike but for their tag are made one after the other by one thread
  std::vector<std::vector<std::size_t>> groups;
  std::map<std::string, std::size_t> group_of;
  for (std::size_t i = 0; i < requests.size(); ++i) {
    const auto [place, fresh] = group_of.emplace(made_from(requests[i], options, false), groups.size());
    if (fresh) groups.emplace_back();
    groups[place->second].push_back(i);
  }

  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t g = next++; g < groups.size(); g = next++) {
      std::optional<Bodies> bodies;
      for (const std::size_t i : groups[g]) {
        std::optional<Shaped> shaped;
        Made made = produce_one(requests[i], out, options, bodies, shaped);
        const bool failed = !made.failure.empty();
        done(i, std::move(made), failed ? nullptr : &*shaped);
      }
    }
  };
  const int count = std::max(1, std::min(threads, static_cast<int>(groups.size())));
  std::vector<std::thread> pool;
  for (int t = 1; t < count; ++t) pool.emplace_back(work);
  work();
  for (std::thread& thread : pool) thread.join();
}

}  // namespace linerwright
