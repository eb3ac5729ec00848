#include "as_asked.hpp"

#include <fstream>
#include <iterator>

#include "linerwright/asked.hpp"
#include "linerwright/error.hpp"
#include "linerwright/round_ends.hpp"

namespace linerwright {

namespace {

asked::Files files_in(const std::filesystem::path& folder) {
  constexpr std::uintmax_t largest = 512u * 1024u * 1024u;
  asked::Files files;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const std::string kind = entry.path().extension().string();
    if (!entry.is_regular_file() || entry.file_size() > largest) continue;
    if (kind != ".json" && kind != ".dxf" && kind != ".stl" && kind != ".csv" && kind != ".svg") continue;
    std::ifstream in(entry.path(), std::ios::binary);
    files[entry.path().filename().string()] = std::string(std::istreambuf_iterator<char>(in), {});
  }
  return files;
}

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
    asked::Body body{part.name, part.volume, {}};
    for (const FlatEnd& end : flat_ends(part.solid))
      body.ends.push_back({{end.centre.x, end.centre.y, end.centre.z},
                           {end.outward.x, end.outward.y, end.outward.z},
                           end.radii});
    bodies.push_back(std::move(body));
  }
  return lines_of(asked::prove_asked(files_in(files.folder), bodies));
}

std::vector<CheckResult> prove_job_as_asked(const std::filesystem::path& out) {
  if (!std::filesystem::is_directory(out)) return {};
  const bool nested = std::filesystem::exists(out / "boards" / "boards.json");
  const bool totalled = std::filesystem::exists(out / "totals.json");
  if (!nested && !totalled) return {};
  std::vector<asked::Files> fittings;
  for (const auto& entry : std::filesystem::directory_iterator(out))
    if (entry.path().filename().string().front() != '.' &&
        std::filesystem::exists(entry.path() / "fitting.json"))
      fittings.push_back(files_in(entry.path()));
  const asked::Files above = files_in(out);
  const auto totals = above.find("totals.json");
  return lines_of(asked::prove_job_asked(fittings, nested ? files_in(out / "boards") : asked::Files{},
                                         totals == above.end() ? std::string() : totals->second));
}

}  // namespace linerwright
