#include "linerwright/output/division_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <sstream>

#include "linerwright/job/toml_file.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

constexpr const char* k_key = "division";
constexpr std::uintmax_t k_most_bytes = 8u << 20u;

struct Planned {
  std::string of, division;
};

std::map<std::string, Planned> read_file(const fs::path& path) {
  std::error_code error;
  const std::uintmax_t size = fs::file_size(path, error);
  std::ifstream in(path, std::ios::binary);
  if (error || !in || size > k_most_bytes)
    throw InputError({Problem{path.string(), 0, {}, {}, {}, {}, "cannot be read"}});
  std::ostringstream text;
  text << in.rdbuf();
  std::map<std::string, Planned> planned;
  for (const Section& section : read_toml(text.str(), path.string())) {
    if (section.name.empty() && section.entries.empty()) continue;
    std::string tag;
    Planned one;
    for (const Entry& entry : section.entries) {
      if (entry.key == "tag") tag = entry.text;
      if (entry.key == "of") one.of = entry.text;
      if (entry.key == k_key) one.division = entry.text;
    }
    if (section.name != "fitting" || tag.empty() || one.of.empty() || one.division.empty())
      throw InputError({Problem{path.string(),
                                section.line,
                                {},
                                section.name,
                                {},
                                "[[fitting]] with tag, of and division",
                                "is no division that linerwright nest wrote; nest the job again"}});
    planned[tag] = std::move(one);
  }
  return planned;
}

}  // namespace

std::vector<std::string> apply_division_file(Job& job, const fs::path& out) {
  const fs::path path = out / k_boards_folder / k_division_file;
  std::error_code error;
  if (!fs::exists(path, error)) return {};
  const std::map<std::string, Planned> planned = read_file(path);
  std::string stale;
  for (FittingRequest& request : job.fittings) {
    const auto found = planned.find(request.tag);
    if (found == planned.end() || request.values.has(k_key)) continue;
    if (found->second.of != state_of(request)) {
      stale += (stale.empty() ? "" : ", ") + request.tag;
      continue;
    }
    request = divided_as(std::move(request), found->second.division);
  }
  if (stale.empty()) return {};
  return {
      fmt::format("{}: was planned for other sizes of {}: divided evenly until the job is nested "
                  "again",
                  path.string(), stale)};
}

}  // namespace linerwright
