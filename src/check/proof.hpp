// The parts of the full proof.
#pragma once

#include <vector>

#include "linerwright/check/check.hpp"
#include "linerwright/reroll/dxf_lines.hpp"
#include "linerwright/reroll/reroll.hpp"

namespace linerwright {

// One DXF: audit, comparison with the pattern, the knife's lines, and re-roll of both faces onto the pieces'
// solids (by piece index; null where the STEP lacks one). Of a guide band its edge is rolled around the liner
// instead.
std::vector<CheckResult> prove_dxf(const Fitting& fitting, const Pattern& pattern,
                                   const std::filesystem::path& file, const DxfOptions& options,
                                   const std::vector<const Part*>& liners, const GuideBand* band = nullptr);

// Guide bands that were asked for: drawings and stations.
std::vector<CheckResult> prove_bands(const Fitting& fitting, const CheckFiles& files,
                                     const DxfOptions& options);
// A band's cut as read: rolled around the liner its edge against the closed form of mitre or saddle, and its
// bolt holes on each other.
std::vector<CheckResult> prove_band(const GuideBand& band, const Fitting& fitting, const BoardLines& cut);

// The comments of a pattern's file that contradict what was asked for; a note where usual ones are missing.
std::vector<CheckResult> prove_comments(const Fitting& fitting, const Pattern& pattern, const DxfFile& file);
// Every stroke (or text) of the labels in its place, and the words right, upright and large enough.
std::vector<CheckResult> prove_labels(const Fitting& fitting, const Pattern& pattern, const DxfFile& file,
                                      double tolerance);

// Both faces' contours rolled onto the solids' edges, the solids' edges unrolled onto the contours, and the
// seams. Throws std::invalid_argument where lines are missing or lie on no ruling.
std::vector<CheckResult> prove_roll(const Fitting& fitting, const Pattern& pattern, const DxfFile& file,
                                    const std::vector<const Part*>& liners);
// The tilt table read back: its head, and each pattern's rows, swept as a straight blade goes, against the
// joints' closed forms of both faces, and against the rows made again. A table that cannot be read fails
// once.
std::vector<CheckResult> prove_tilts(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                     const std::filesystem::path& file, int layer = 0);

// What `fill` holds the liner's volumes against.
std::string fill_words(const Fitting& fitting);
// Every unit of length that the STEP's text states.
CheckResult prove_step_units(const std::filesystem::path& file);
// Volumes, fill, interference and the bore's slices of the STEP's parts.
std::vector<CheckResult> prove_parts(const Fitting& fitting, const Model& model,
                                     const std::vector<Part>& parts);
// The wall that a part of the liner lies on.
const Wall& wall_of(const Fitting& fitting, const Part& part);
// Pieces of one square-to-round: points of each lie under its own rulings.
bool are_folded(const Fitting& fitting, const Part& a, const Part& b);
CheckResult prove_folded_apart(const Fitting& fitting, const Model& model);
// The STL files against the STEP's parts.
std::vector<CheckResult> prove_meshes(const Fitting& fitting, const CheckFiles& files,
                                      const std::vector<Part>& parts, const MeshOptions& options);

}  // namespace linerwright
