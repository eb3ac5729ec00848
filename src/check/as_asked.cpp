#include "as_asked.hpp"

#include <set>

#include "linerwright/asked/asked.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/solid/round_ends.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/read_json.hpp"

namespace linerwright {

namespace {

// The bytes of the files with these endings. A JSON file that has no end, or more of it than results have, is
// left out: what needs it then fails for want of it.
asked::Files files_in(const std::filesystem::path& folder, const std::set<std::string>& endings) {
  constexpr std::size_t k_largest = 128u << 20;
  asked::Files files;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const std::string ending = entry.path().extension().string();
    if (!entry.is_regular_file() || endings.count(ending) == 0) continue;
    try {
      std::string bytes = file_bytes(entry.path(), ending == ".json" ? k_largest_json : k_largest);
      if (ending == ".json") read_json(bytes, entry.path().string());
      files[entry.path().filename().string()] = std::move(bytes);
    } catch (const InputError&) {
      continue;
    }
  }
  return files;
}

const std::set<std::string> k_of_fitting{".json", ".dxf", ".stl", ".csv", ".svg"};
const std::set<std::string> k_of_boards{".json", ".dxf", ".csv"};
const std::set<std::string> k_figures{".json", ".csv"};
const std::set<std::string> k_patterns{".json", ".dxf"};

std::vector<CheckResult> lines_of(const std::vector<asked::Finding>& findings) {
  std::vector<CheckResult> results;
  for (const asked::Finding& finding : findings)
    results.push_back({"asked " + finding.name, finding.value, finding.limit, finding.pass, finding.unit,
                       finding.detail, finding.note});
  return results;
}

}  // namespace

std::vector<CheckResult> prove_as_asked(const CheckFiles& files, const std::vector<Part>& parts) {
  std::vector<asked::Body> bodies;
  for (const Part& part : parts) {
    const auto place = [](Vec3 p) { return std::array<double, 3>{p.x, p.y, p.z}; };
    asked::Body body{part.name, part.volume, {}};
    for (const FlatEnd& end : flat_ends(part.solid))
      body.ends.push_back({place(end.centre), place(end.outward), end.radii});
    for (const FlatFace& face : flat_faces(part.solid)) {
      body.flats.push_back({place(face.outward), {}});
      for (const Vec3 corner : face.corners) body.flats.back().corners.push_back(place(corner));
    }
    bodies.push_back(std::move(body));
  }
  return lines_of(asked::prove_asked(files_in(files.folder, k_of_fitting), bodies));
}

std::vector<CheckResult> prove_job_as_asked(const std::filesystem::path& out) {
  if (!std::filesystem::is_directory(out)) return {};
  const bool nested = std::filesystem::exists(out / "boards" / "boards.json");
  const bool totalled = std::filesystem::exists(out / "totals.json");
  const bool running = std::filesystem::is_directory(out / "runs");
  if (!nested && !totalled && !running) return {};
  std::vector<asked::Files> fittings;
  for (const auto& entry : std::filesystem::directory_iterator(out))
    if (entry.path().filename().string().front() != '.' &&
        std::filesystem::exists(entry.path() / "fitting.json"))
      fittings.push_back(files_in(entry.path(), k_patterns));
  std::vector<asked::Finding> findings = asked::prove_job_asked(
      fittings, nested ? files_in(out / "boards", k_of_boards) : asked::Files{}, files_in(out, k_figures));
  std::set<std::filesystem::path> runs;
  if (running)
    for (const auto& entry : std::filesystem::directory_iterator(out / "runs"))
      if (std::filesystem::exists(entry.path() / "run.json")) runs.insert(entry.path());
  for (const std::filesystem::path& run : runs) {
    const std::vector<asked::Finding> more =
        asked::prove_run_asked(run.filename().string(), files_in(run, k_figures), fittings);
    findings.insert(findings.end(), more.begin(), more.end());
  }
  return lines_of(findings);
}

}  // namespace linerwright
