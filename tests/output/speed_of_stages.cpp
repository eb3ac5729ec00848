// How long each stage of making a schedule's fittings takes, on one core.
//   speed_of_stages SCHEDULE.csv OUT
#include <fmt/format.h>

#include <ctime>
#include <filesystem>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "folder.hpp"
#include "linerwright/check/check.hpp"
#include "linerwright/draw/draw.hpp"
#include "linerwright/job/job.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/page/page.hpp"
#include "linerwright/paper/paper.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/solid/solid.hpp"
#include "linerwright/units/error.hpp"

namespace {

using namespace linerwright;

constexpr const char* k_stages[] = {
    "fitting: walls and joints", "patterns",          "DXF text", "tables, JSON",
    "solids with their gate",    "mesh and STL text", "STEP",     "quick checks",
    "writing the other files",   "picture",           "page"};

// CPU seconds by stage, and by kind of fitting.
class Stages {
 public:
  // Adds the time since the last call.
  void ended(std::size_t stage, const std::string& kind) {
    const std::clock_t now = std::clock();
    seconds_[kind][stage] += static_cast<double>(now - last_) / CLOCKS_PER_SEC;
    last_ = now;
  }
  void begin() { last_ = std::clock(); }

  void print(const std::map<std::string, int>& fittings) const {
    std::string head = "| CPU ms for each fitting |", rule = "| --- |";
    for (const auto& [kind, count] : fittings) {
      head += fmt::format(" {} |", kind);
      rule += " --- |";
    }
    fmt::print("{}\n{}\n", head, rule);
    for (std::size_t stage = 0; stage < std::size(k_stages); ++stage) {
      fmt::print("| {} |", k_stages[stage]);
      for (const auto& [kind, count] : fittings)
        fmt::print(" {:.2f} |", 1e3 * seconds_.at(kind).at(stage) / count);
      fmt::print("\n");
    }
    fmt::print("| all |");
    for (const auto& [kind, count] : fittings) {
      double all = 0.0;
      for (const auto& [stage, seconds] : seconds_.at(kind)) all += seconds;
      fmt::print(" {:.2f} |", 1e3 * all / count);
    }
    fmt::print("\n");
  }

 private:
  std::clock_t last_ = 0;
  std::map<std::string, std::map<std::size_t, double>> seconds_;
};

// As produce_fitting does it, stage by stage.
void make(const FittingRequest& request, const std::filesystem::path& out, Stages& stages) {
  const std::string& kind = request.kind;
  const OutputOptions options;
  stages.begin();
  const Fitting fitting = make_fitting(request);
  stages.ended(0, kind);
  const std::vector<Pattern> patterns = make_patterns(fitting);
  stages.ended(1, kind);
  std::map<std::string, std::string> texts;
  for (const Pattern& pattern : patterns) {
    std::ostringstream dxf;
    write_dxf(dxf, drawing_of(pattern, fitting.units), options.dxf);
    texts[pattern.id + ".dxf"] = dxf.str();
  }
  stages.ended(2, kind);
  const Model model = build_model(fitting);
  stages.ended(4, kind);
  std::map<const Part*, Mesh> view;
  for (const PartRole role : {PartRole::metal, PartRole::liner, PartRole::bore}) {
    std::vector<Mesh> meshes;
    for (const Part& part : model.parts)
      if (part.role == role) {
        meshes.push_back(
            mesh_of(part.solid, options.mesh, std::min(fitting.liner.gauge, fitting.liner.thickness)));
        view[&part] = meshes.back();
      }
    std::ostringstream stl;
    write_stl(stl, meshes, "speed");
    texts[fmt::format("{}.stl", static_cast<int>(role))] = stl.str();
  }
  stages.ended(5, kind);
  NewFolder folder(out, file_stem(fitting.tag));
  write_step(folder.path() / "fitting.step", fitting, model);
  stages.ended(6, kind);
  const std::vector<CheckResult> checks = quick_checks(fitting, model, patterns);
  stages.ended(7, kind);
  texts["tilt.csv"] = tilt_csv(fitting, patterns);
  texts["ordinates.csv"] = ordinates_csv(fitting, patterns);
  texts["fitting.json"] = fitting_json(fitting, &model, patterns, {}, {}, checks, options);
  stages.ended(3, kind);
  for (const auto& [name, text] : texts) folder.write(name, text);
  folder.place();
  stages.ended(8, kind);
  const std::string picture = svg_of(isometric_picture(model, fitting));
  stages.ended(9, kind);
  FittingPage page{fitting, patterns, {}, {}, checks, {}, picture};
  for (const Part& part : model.parts) page.parts.push_back({part.role, part.piece, &view.at(&part)});
  if (fitting_page(page).empty()) throw std::logic_error("an empty page");
  stages.ended(10, kind);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    fmt::print(stderr, "usage: speed_of_stages SCHEDULE.csv OUT\n");
    return 2;
  }
  try {
    const Job job = read_job(argv[1], job_schema());
    const OutFolder hold(argv[2], false);
    Stages stages;
    std::map<std::string, int> fittings;
    for (const FittingRequest& request : job.fittings) {
      make(request, argv[2], stages);
      ++fittings[request.kind];
    }
    stages.print(fittings);
  } catch (const std::exception& error) {
    fmt::print(stderr, "speed_of_stages: {}\n", error.what());
    return 1;
  }
  return 0;
}
