#include "fitting_folders.hpp"

#include <algorithm>
#include <map>
#include <sstream>

#include <fmt/format.h>

#include "batch.hpp"
#include "earlier.hpp"
#include "folder.hpp"
#include "linerwright/mesh/fitting_meshes.hpp"
#include "linerwright/mesh/placed_meshes.hpp"
#include "linerwright/page/page.hpp"
#include "linerwright/paper/guide_bands_pdf.hpp"
#include "linerwright/paper/paper.hpp"
#include "linerwright/report/shop_sheet.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

// What fittings that differ only in their tag have in common.
struct FittingBodies {
  Model model;
  std::vector<std::pair<std::string, std::string>> stl;  // names and files
  std::optional<Picture> isometric;
  std::vector<Mesh> view;  // of the model's parts, for the page
  double view_deflection;
};

namespace {

std::size_t triangles_in(const std::vector<BodyPart>& bodies) {
  std::size_t count = 0;
  for (const BodyPart& body : bodies) count += body.mesh.triangles.size();
  return count;
}

FittingBodies make_bodies(const Fitting& fitting, const OutputOptions& made) {
  MeshOptions options = made.mesh;
  FittingBodies bodies{build_model(fitting, Gate::closed), {}, {}, {}, options.deflection};
  std::vector<BodyPart> meshes = fitting_meshes(fitting, options, thinnest_layer(fitting));
  bodies.stl = stl_files(meshes);
  if (!made.pages && !made.glb) return bodies;
  // a page stays under 2 MB
  constexpr std::size_t k_most = 60000;
  for (int tries = 0; triangles_in(meshes) > k_most && tries < 4; ++tries) {
    options.deflection *= 4.0;
    options.angle = std::min(0.4, 2.0 * options.angle);
    meshes = fitting_meshes(fitting, options, fitting.liner.thickness);
  }
  for (BodyPart& part : meshes) bodies.view.push_back(std::move(part.mesh));
  bodies.view_deflection = options.deflection;
  return bodies;
}

// Writes a picture as the files asked for; returns the SVG.
std::string write_picture(NewFolder& folder, const std::string& name, const Picture& picture,
                          const std::string& title, const OutputOptions& options) {
  std::string svg;
  if (options.pages) folder.write(name + ".svg", svg = svg_of(picture, {5.0, title, {}}));
  if (options.png) folder.write(name + ".png", png_of(picture));
  return svg;
}

void write_pattern(NewFolder& folder, const std::string& stem, const Fitting& fitting, const Pattern& pattern,
                   const OutputOptions& options) {
  folder.write(fmt::format("{}-{}.dxf", stem, pattern.id), pattern_dxf(fitting, pattern, options.dxf));
  if (options.pages || options.png)
    write_picture(folder, stem + "-" + pattern.id, pattern_picture(pattern, fitting),
                  fitting.tag + "/" + pattern.id, options);
}

// The bands of one fitting: their drawings, their stations, and all at full size on paper.
void write_bands(NewFolder& folder, const std::string& stem, const Fitting& fitting,
                 const OutputOptions& options) {
  const std::vector<Fitting> fittings{fitting};
  const std::vector<GuideBand> bands = guide_bands(fittings, *options.bands);
  if (bands.empty()) return;
  for (const GuideBand& band : bands) {
    if (const double off = edge_error(band, fittings); off > k_chord_error + 1e-3)
      throw GeometryError(
          fmt::format("{}: rolled, its edge is {} mm off the liner's", band.id, fixed(off, 3)));
    folder.write(band_file(stem, band), pattern_dxf(fitting, band.pattern, options.dxf));
  }
  folder.write(stem + "-bands.csv", bands_csv(bands, fittings));
  const Paper paper =
      options.templates ? *options.templates : paper_named(fitting.units == Units::inch ? "letter" : "a4");
  folder.write(stem + "-bands.pdf", guide_bands_pdf(bands, fittings, paper));
}

std::string glb_text(const Fitting& fitting, const FittingBodies& bodies) {
  std::vector<BodyMesh> meshes;
  for (std::size_t i = 0; i < bodies.view.size(); ++i) {
    const Part& part = bodies.model.parts[i];
    meshes.push_back({part.role, part.piece, &bodies.view[i]});
    if (part.role == PartRole::liner) meshes.back().name = "liner " + fitting.piece(part.piece.value()).id;
  }
  std::ostringstream out;
  write_glb(out, {fitting.tag, {fitting.tag}, {{fitting.tag, 0, Frame{}, 0}}}, {std::move(meshes)});
  return out.str();
}

// Writes one fitting's folder, up to its place; bodies are made where `bodies` is still empty.
std::unique_ptr<NewFolder> write_folder(const Shaped& shaped, const ShopSheet* sheet,
                                        const std::filesystem::path& out, const OutputOptions& options,
                                        std::optional<FittingBodies>& bodies, Made& made) {
  const auto& [fitting, patterns] = shaped;
  const std::string stem = file_stem(fitting.tag);
  if (!options.patterns_only && !bodies) bodies = make_bodies(fitting, options);

  auto whole = std::make_unique<NewFolder>(out, stem);
  NewFolder& folder = *whole;
  for (const Pattern& pattern : patterns) write_pattern(folder, stem, fitting, pattern, options);
  for (const Pattern& pattern : site_templates(fitting))
    write_pattern(folder, stem, fitting, pattern, options);
  if (options.templates)
    folder.write(stem + "-templates.pdf",
                 templates_pdf(fitting, patterns, *options.templates, options.half_templates));
  if (options.bands) write_bands(folder, stem, fitting, options);
  for (int layer = 0; layer < layer_count(fitting); ++layer)
    folder.write(tilt_file(stem, layer), tilt_csv(fitting, patterns, layer));
  folder.write(stem + "-ordinates.csv", ordinates_csv(fitting, patterns));
  std::string picture;
  if (bodies) {
    if (options.pages || options.png) {
      if (!bodies->isometric) bodies->isometric = isometric_picture(bodies->model, fitting);
      picture = write_picture(folder, stem, *bodies->isometric, fitting.tag, options);
    }
    for (const auto& [name, bytes] : bodies->stl) folder.write(fmt::format("{}-{}.stl", stem, name), bytes);
    if (options.glb) folder.write(stem + ".glb", glb_text(fitting, *bodies));
    write_step(folder.path() / (stem + ".step"), fitting, bodies->model);
    folder.note(stem + ".step");
    made.checks = quick_checks(fitting, bodies->model, patterns);
  }
  std::vector<std::string> files = folder.files();
  if (options.pages) files.push_back(stem + ".html");
  files.push_back("fitting.json");
  if (options.pages) {
    FittingPage page{fitting, patterns, {}, {}, made.checks, files, picture, {}, sheet};
    if (options.shared_script) page.script = std::string("../") + k_script_file;
    if (bodies) {
      for (std::size_t i = 0; i < bodies->view.size(); ++i)
        page.parts.push_back({bodies->model.parts[i].role, bodies->model.parts[i].piece, &bodies->view[i]});
      if (bodies->view_deflection != options.mesh.deflection) page.coarser = bodies->view_deflection;
    }
    folder.write(stem + ".html", fitting_page(page));
  }
  folder.write("fitting.json", fitting_json(fitting, bodies ? &bodies->model : nullptr, patterns, files,
                                            folder.digests(), made.checks, options));
  folder.carry();

  made.folder = out / stem;
  made.files = folder.files();
  made.warnings = fitting.warnings;
  for (const auto& [name, kept] : folder.kept())
    made.warnings.push_back(
        fmt::format("{} was changed since it was made: that one is now called {}", name, kept));
  for (const CheckResult& check : made.checks)
    if (!check.pass) {
      made.failure = fitting.tag + ": check failed: " + one_line(check);
      made.exit_code = 1;
      break;
    }
  return whole;
}

// What a run without pictures or templates asks for does not take away those of an earlier run.
OutputOptions with_extras(const OutputOptions& options, const std::optional<Earlier>& earlier) {
  OutputOptions wanted = options;
  if (!earlier) return wanted;
  wanted.png = wanted.png || earlier->options.png;
  wanted.glb = wanted.glb || earlier->options.glb;
  if (!wanted.bands) wanted.bands = earlier->options.bands;
  if (!wanted.templates) {
    wanted.templates = earlier->options.templates;
    wanted.half_templates = earlier->options.half_templates;
  }
  return wanted;
}

}  // namespace

struct FittingFolders::Alike {
  std::size_t left = 0;  // fittings that are still to be made
  std::optional<FittingBodies> bodies;
};

FittingFolders::FittingFolders(const std::vector<FittingRequest>& requests, const OutFolder& out,
                               const OutputOptions& options, Finished finished)
    : requests_(requests),
      out_(out),
      options_(options),
      finished_(std::move(finished)),
      words_(requests.size()),
      made_(requests.size()),
      batch_(out, [this](std::size_t i, const std::string& failure) { placed(i, failure); }) {}

FittingFolders::~FittingFolders() = default;

std::string FittingFolders::alike(std::size_t i) {
  words_[i] = made_from(requests_[i], options_, false);
  std::unique_ptr<Alike>& alike = alike_[words_[i]];
  if (!alike) alike = std::make_unique<Alike>();
  ++alike->left;
  return words_[i];
}

void FittingFolders::write(std::size_t i, const Shaped& shaped, const ShopSheet* sheet) {
  Alike* alike = nullptr;
  {
    const std::lock_guard<std::mutex> lock(counting_);
    alike = alike_.at(words_[i]).get();
  }
  for (bool again = true; again;) {
    again = false;
    try {
      std::unique_ptr<NewFolder> folder = make(i, shaped, sheet, *alike);
      if (folder)
        batch_.add(i, std::move(folder));
      else
        finish(i);
      count_off(i);
    } catch (const WriteError&) {
      again = batch_.flush() > 0;  // earlier results that made way may have left room
      if (!again) throw;
    }
  }
}

void FittingFolders::failed(std::size_t i, const MakingFailed& why) {
  count_off(i);
  made_[i] = {};
  made_[i].failure = fmt::format("{}", fmt::join(why.lines, "\n"));
  made_[i].exit_code = why.exit_code;
  finish(i);
}

void FittingFolders::flush() {
  batch_.flush();
}

// The bodies of fittings that are alike are kept until the last of them is made.
void FittingFolders::count_off(std::size_t i) {
  const std::lock_guard<std::mutex> lock(counting_);
  const auto found = alike_.find(words_[i]);
  if (found != alike_.end() && --found->second->left == 0) alike_.erase(found);
}

void FittingFolders::finish(std::size_t i) {
  made_[i].tag = requests_[i].tag;
  const std::lock_guard<std::mutex> lock(telling_);
  finished_(i, std::move(made_[i]));
  made_[i] = {};
}

void FittingFolders::placed(std::size_t i, const std::string& failure) {
  if (!failure.empty()) {
    made_[i] = {};
    made_[i].failure = failure;
    made_[i].exit_code = 3;
  }
  finish(i);
}

// Writes the fitting's folder, up to its place; none where the earlier one is still right.
std::unique_ptr<NewFolder> FittingFolders::make(std::size_t i, const Shaped& shaped, const ShopSheet* sheet,
                                                Alike& alike) {
  const FittingRequest& request = requests_[i];
  made_[i] = {};
  const std::filesystem::path folder = out_.path() / file_stem(request.tag);
  const std::optional<Earlier> earlier = earlier_result(folder);
  const OutputOptions wanted = with_extras(options_, earlier);
  if (!options_.force && earlier && earlier->whole &&
      earlier->made_from == made_from(request, wanted, true)) {
    made_[i].folder = folder;
    made_[i].files = earlier->files;
    made_[i].warnings = earlier->warnings;
    made_[i].unchanged = true;
    return nullptr;
  }
  return write_folder(shaped, sheet, out_.path(), wanted, alike.bodies, made_[i]);
}

}  // namespace linerwright
