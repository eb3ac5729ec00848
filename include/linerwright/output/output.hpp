// From fittings to files: each fitting's folder is written beside its place and moved there whole.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/boards/planned_boards.hpp"
#include "linerwright/check/check.hpp"
#include "linerwright/draw/draw.hpp"
#include "linerwright/engine/fitting_files.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/job/job.hpp"
#include "linerwright/job/request_state.hpp"
#include "linerwright/paper/paper.hpp"
#include "linerwright/pattern/guide_band.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/pattern/tilt_table.hpp"
#include "linerwright/solid/solid.hpp"

namespace linerwright {

struct OutputOptions {
  DxfOptions dxf;  // version, text style, cut only, single layer; units and comments are filled in
  MeshOptions mesh;
  bool patterns_only = false;      // no solids, STL or STEP
  bool pages = true;               // a page to look at in a browser
  bool shared_script = false;      // pages load the job's one script instead of carrying it
  bool png = false;                // pictures as PNG, too
  bool glb = false;                // the bodies as glTF, too
  std::optional<BandSheet> bands;  // guide bands of this, too
  std::optional<Paper> templates;  // patterns at full size on this paper
  bool half_templates = false;     // half of those that are their own mirror images
  bool force = false;              // make again what has not changed
};

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

// What the folders in a folder of results are: fittings and boards, or runs of duct.
enum class Shelf { fittings, runs };

// Holds an out folder for one run: makes it, refuses while another run holds it, and clears away what a run
// that ended early left behind, with its earlier results and what people put there back in place. Without
// `sync` nothing waits for the disk. Throws WriteError.
class OutFolder {
 public:
  explicit OutFolder(const std::filesystem::path& out, bool sync = true, Shelf shelf = Shelf::fittings);
  ~OutFolder();
  OutFolder(const OutFolder&) = delete;
  OutFolder& operator=(const OutFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  // Waits until everything written so far is on the disk. Throws WriteError.
  void sync() const;
  // Writes a file beside the fittings, which appears whole or not at all, in the place of whatever is there.
  // Throws WriteError.
  void write(const std::string& name, const std::string& bytes) const;

 private:
  std::filesystem::path path_;
  int lock_;
  bool sync_;
};

// state_of() the program, a job's tables and all its fittings.
std::string state_of(const Job& job, const std::string& version);
// A check sum of everything a fitting's folder is made from: the library's sources, parameters, options; with
// or without the tag.
std::string made_from(const FittingRequest& request, const OutputOptions& options, bool with_tag);

// The text of fitting.json: millimetres, mm2, mm3 and degrees. `digests` are of the files written so far, by
// name.
std::string fitting_json(const Fitting& fitting, const Model* model, const std::vector<Pattern>& patterns,
                         const std::vector<std::string>& files,
                         const std::map<std::string, std::string>& digests,
                         const std::vector<CheckResult>& checks, const OutputOptions& options);
// The request a fitting.json was made from, and the options its files were written with. Throws InputError.
FittingRequest request_from_json(const std::filesystem::path& file, OutputOptions* options);

}  // namespace linerwright
