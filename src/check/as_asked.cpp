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
  std::vector<CheckResult> results;
  for (asked::Finding& finding : asked::prove_asked(files_in(files.folder), bodies))
    results.push_back(
        {"asked " + finding.name, finding.value, finding.limit, finding.pass, finding.unit, finding.detail});
  return results;
}

}  // namespace linerwright
