// From fittings to files: each fitting's folder is written beside its place and moved there whole.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/check.hpp"
#include "linerwright/draw.hpp"
#include "linerwright/fitting.hpp"
#include "linerwright/floor.hpp"
#include "linerwright/paper.hpp"
#include "linerwright/pattern.hpp"
#include "linerwright/solid.hpp"

namespace linerwright {

struct ProduceOptions {
  DxfOptions dxf;  // version, text style, cut only, single layer; units and comments are filled in
  MeshOptions mesh;
  bool patterns_only = false;      // no solids, STL or STEP
  bool pages = true;               // a page to look at in a browser
  bool png = false;                // pictures as PNG, too
  std::optional<Paper> templates;  // patterns at full size on this paper
  bool force = false;              // make again what has not changed
};

// A name for files made from a tag: letters, digits, dot, dash and underscore; anything else becomes _ and a
// short check sum of the tag is added, so that two tags never share a name. Never empty, hidden or long, nor
// the name of a device or of what else stands among the results.
std::string file_stem(const std::string& tag);

// What was made of one fitting.
struct Made {
  std::string tag;
  std::filesystem::path folder;
  std::vector<std::string> files;  // names inside the folder
  std::vector<std::string> warnings;
  std::vector<CheckResult> checks;
  bool unchanged = false;  // the earlier result was made from the same
  std::string failure;     // empty: made
  int exit_code = 0;       // 0, 1 (geometry or a check), 2 (input), 3 (writing)
};

// A fitting with its patterns.
struct Shaped {
  Fitting fitting;
  std::vector<Pattern> patterns;
};

// Called after each request by the thread that made it, several at a time: the request's index, what was made
// of it, and the fitting, null where that failed. Nothing of it is kept: what a job holds in memory does not
// grow with what it makes.
using MadeOne = std::function<void(std::size_t, Made&&, const Shaped*)>;

// Writes a folder <out>/<stem> for each request, by `threads` at a time, in any order; an earlier folder of
// the same name stays as it was until the new one is whole, and one whose fitting.json says it was made from
// the same is left alone. Requests that differ only in their tag share their solids. Throws WriteError if
// another run holds <out>. One that fails does not stop the others.
void produce_all(const std::vector<FittingRequest>& requests, const std::filesystem::path& out,
                 const ProduceOptions& options, int threads, const MadeOne& done);

// Writes <out>/<name>, which appears whole or not at all; a file that holds the same already is left alone.
// Throws WriteError.
void write_beside(const std::filesystem::path& out, const std::string& name, const std::string& bytes);

// Writes the folder <out>/boards, whole or not at all: board-1.dxf and so on, and the tables (name, bytes).
// An earlier folder is replaced if it holds the first table's name. Throws WriteError, GeometryError if a
// file does not pass its audit.
void write_boards(const FloorPlan& plan, const std::filesystem::path& out, const DxfOptions& options,
                  int threads, const std::vector<std::pair<std::string, std::string>>& tables);
constexpr const char* k_boards_folder = "boards";

// A check sum of everything a fitting's folder is made from: program, parameters, options; with or without
// the tag.
std::string made_from(const FittingRequest& request, const ProduceOptions& options, bool with_tag);

// The text of fitting.json: millimetres, mm2, mm3 and degrees.
std::string fitting_json(const Fitting& fitting, const Model* model, const std::vector<Pattern>& patterns,
                         const std::vector<std::string>& files, const std::vector<CheckResult>& checks,
                         const ProduceOptions& options);
// The request a fitting.json was made from, and the options its files were written with. Throws InputError.
FittingRequest request_from_json(const std::filesystem::path& file, ProduceOptions* options);

// Tilt table and ordinates as CSV in the fitting's units.
std::string tilt_csv(const Fitting& fitting, const std::vector<Pattern>& patterns);
std::string ordinates_csv(const Fitting& fitting, const std::vector<Pattern>& patterns);

}  // namespace linerwright
