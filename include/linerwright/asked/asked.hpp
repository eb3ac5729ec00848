// As asked: what must be true of a fitting's files by the request alone. The makers' code has no part in it:
// a small second set of formulas from handbooks and the trade's words, with readers of its own. Lengths mm,
// angles radians, volumes mm3. Needs nothing but the C++ library and RapidJSON: files come in as bytes, and
// what the kernel reads out of a STEP file as plain facts.
#pragma once

#include <array>
#include <map>
#include <string>
#include <vector>

namespace linerwright::asked {

// One line of the proof: it passes when the value is within the limit.
struct Finding {
  std::string name;  // "girths"
  double value = 0.0;
  double limit = 0.0;
  bool pass = false;
  std::string unit;    // "mm", "" for a share or a count
  std::string detail;  // where it is worst, and what it is held against
  bool note = false;   // nothing was held: worth telling, no more
};

// A flat face of a solid with circles, or arcs of circles, around one centre on its edge: an open end, whole
// or of a panel.
struct RoundEnd {
  std::array<double, 3> centre;
  std::array<double, 3> outward;  // unit normal, out of the material
  std::vector<double> radii;      // of its circles, ascending
};

// A flat face by the ends of its edges.
struct FlatFace {
  std::array<double, 3> outward;
  std::vector<std::array<double, 3>> corners;
};

// A body of the STEP file, measured.
struct Body {
  std::string name;  // "metal", "liner 1", "bore"
  double volume = 0.0;
  std::vector<RoundEnd> ends;
  std::vector<FlatFace> flats{};
};

// The files of one folder, by name.
using Files = std::map<std::string, std::string>;

// Holds the files of one fitting's folder against the request written in its fitting.json. `bodies` are those
// of the STEP file; empty where the fitting was made without solids. Never throws for what the files hold: a
// file that is missing or cannot be read is a line that fails.
std::vector<Finding> prove_asked(const Files& files, const std::vector<Body>& bodies);

// Holds a job's boards and totals against its fittings: `fittings` are the files of each fitting's folder,
// `boards` those of boards/ (empty where nothing was nested), `above` those beside the folders: totals.json
// and totals.csv, where they are. Every piece is on a board once for each fitting asked for, inside it and
// clear of the others; figures follow from the pieces.
std::vector<Finding> prove_job_asked(const std::vector<Files>& fittings, const Files& boards,
                                     const Files& above);

// Holds a run's list against those of the fittings in it: distances, bores, the order of work, sums of
// losses. `run` are the files of its folder, `name` what it is called. Nothing where a fitting's folder is
// missing.
std::vector<Finding> prove_run_asked(const std::string& name, const Files& run,
                                     const std::vector<Files>& fittings);

}  // namespace linerwright::asked
