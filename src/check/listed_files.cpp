// The files of a fitting's folder: those that belong there are listed and there, and are as they were
// written. A digest proves nothing about a file that a wrong program wrote; it tells what was changed
// afterwards.
#include <algorithm>
#include <set>

#include "beside.hpp"
#include "linerwright/check/file_bytes.hpp"
#include "linerwright/fitting/port.hpp"
#include "linerwright/pattern/tilt_table.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"
#include "tally.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t k_largest_file = 512u << 20;

bool ends_with(const std::string& text, const std::string& ending) {
  return text.size() >= ending.size() &&
         text.compare(text.size() - ending.size(), ending.size(), ending) == 0;
}

// Of the files that belong to what was asked for, those whose whole content is proved by other checks: a
// change that those find harmless is none.
bool proved_otherwise(const std::string& name) {
  return ends_with(name, ".dxf") || ends_with(name, ".stl") || ends_with(name, ".step") ||
         ends_with(name, ".csv");
}

// `needed` takes the names that what was asked for has.
CheckResult belonging(const Fitting& fitting, const std::vector<Pattern>& patterns, const CheckFiles& files,
                      const JsonValue& json, const std::set<std::string>& listed,
                      std::set<std::string>& needed) {
  Tally tally("files listed");
  const auto need = [&](const std::string& name) {
    needed.insert(name);
    tally.require(listed.count(name) != 0, name + " is not in the list of files");
  };
  const auto listed_for = [&](const std::string& id, const std::string& name) {
    const JsonValue* pieces = json.find("pieces");
    if (pieces == nullptr) return false;
    return std::any_of(pieces->items.begin(), pieces->items.end(), [&](const JsonValue& piece) {
      const JsonValue* own = piece.find("id");
      const std::vector<std::string> names = names_in(piece.find("files"));
      return own != nullptr && own->text == id && std::find(names.begin(), names.end(), name) != names.end();
    });
  };
  for (const Pattern& pattern : patterns) {
    const std::string name = files.stem + "-" + pattern.id + ".dxf";
    need(name);
    tally.require(pattern.pieces.empty() || listed_for(pattern.id, name),
                  name + " is not in the list of its piece");
  }
  int layers = 1;
  for (const Pattern& pattern : patterns) layers = std::max(layers, pattern.layer + 1);
  for (int layer = 0; layer < layers; ++layer) need(tilt_file(files.stem, layer));
  need(files.stem + "-ordinates.csv");
  if (files.bands) {
    const std::vector<GuideBand> bands = guide_bands({fitting}, *files.bands);
    for (const GuideBand& band : bands) need(band_file(files.stem, band));
    if (!bands.empty())
      for (const char* ending : {"-bands.csv", "-bands.pdf"}) need(files.stem + ending);
  }
  need("fitting.json");
  const JsonValue* volumes = json.find("volumes");
  std::error_code error;
  const bool solids = (volumes != nullptr && !volumes->keys.empty()) ||
                      fs::exists(files.folder / (files.stem + ".step"), error);
  if (solids)
    for (const char* ending : {"-metal.stl", "-liner.stl", "-bore.stl", ".step"})
      if (!is_disc_alone(fitting) || std::string_view(ending) != "-bore.stl") need(files.stem + ending);
  for (const std::string& name : listed) {
    const fs::path path = files.folder / name;
    // a name is a name: no way out of the folder
    const bool plain = !name.empty() && fs::path(name).filename() == name;
    tally.require(plain && fs::is_regular_file(fs::symlink_status(path, error)),
                  "'" + name + "' is listed but is no file in the folder");
  }
  return tally.result("files there");
}

CheckResult unchanged(const std::string& name, const std::vector<std::string>& wrong,
                      const std::size_t read) {
  return within(name, static_cast<double>(wrong.size()), 0.0, "files",
                wrong.empty() ? fmt::format("{} files are what was written", read)
                              : wrong.front() + " was changed since it was made, and nothing else proves it");
}

}  // namespace

bool as_it_was_written(const JsonValue& json, std::string bytes) {
  const JsonValue* own = json.find("own_digest");
  if (own == nullptr || own->text.empty()) return false;
  const std::size_t at = bytes.rfind(own->text);
  if (at == std::string::npos) return false;
  bytes.replace(at, own->text.size(), own->text.size(), '0');
  return digest(bytes) == own->text;
}

std::vector<std::string> names_in(const JsonValue* list) {
  std::vector<std::string> names;
  if (list != nullptr)
    for (const JsonValue& each : list->items)
      if (each.is_text()) names.push_back(each.text);
  return names;
}

std::vector<CheckResult> prove_files(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                     const CheckFiles& files, const JsonValue& json,
                                     const std::string& json_bytes) {
  const std::vector<std::string> names = names_in(json.find("files"));
  std::set<std::string> needed;
  std::vector<CheckResult> results{
      belonging(fitting, patterns, files, json, {names.begin(), names.end()}, needed)};
  const JsonValue* digests = json.find("digests");
  if (digests == nullptr) {
    results.push_back(undone("files unchanged", "fitting.json states no digests"));
    return results;
  }

  std::vector<std::string> wrong;
  std::string elsewhere;
  std::size_t read = 0;
  if (!as_it_was_written(json, json_bytes)) wrong.push_back("fitting.json");
  for (const std::string& name : names) {
    if (name == "fitting.json") continue;
    const JsonValue* stated = digests->find(name);
    try {
      ++read;
      if (stated != nullptr && digest(file_bytes(files.folder / name, k_largest_file)) == stated->text)
        continue;
    } catch (const InputError&) {
      continue;  // told already: it is not there
    }
    if (stated != nullptr && needed.count(name) > 0 && proved_otherwise(name))
      elsewhere += (elsewhere.empty() ? "" : ", ") + name;
    else
      wrong.push_back(name);
  }
  results.push_back(unchanged("files unchanged", wrong, read));
  if (!elsewhere.empty())
    results.push_back(noted("files unchanged", elsewhere +
                                                   ": changed since made, perhaps saved by another program; "
                                                   "the other checks tell whether it is still the same"));
  return results;
}

}  // namespace linerwright
