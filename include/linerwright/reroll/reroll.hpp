// Patterns read back from their files and rolled onto the fitting: held against the joints' closed forms,
// without a solid.
#pragma once

#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/reroll/dxf_lines.hpp"
#include "linerwright/units/check_result.hpp"

namespace linerwright {

// The cut lines against the joints' closed forms, both ways, in at least so many steps around and more where
// curves would stray from their chords. Throws std::invalid_argument where lines are missing or lie on no
// ruling.
CheckResult prove_knife(const Fitting& fitting, const Pattern& pattern, const BoardLines& cut,
                        int steps = 2880);
// The hole of a tap's template against the branch, rolled onto the duct.
CheckResult prove_hole(const Fitting& fitting, const Pattern& pattern, const BoardLines& cut);
// The notches of a blank drawn on `layer`, whose small end lies at, or between, these depths of the taper.
CheckResult prove_notches(const Fitting& fitting, const Pattern& pattern, const NotchedBlank& blank,
                          const BoardLines& lines, const std::string& layer,
                          const std::vector<double>& depths);
// The holes of a notched blank on `layer`, laid out on its tabs at these depths: one face's edges, or what
// the knife follows where there are two.
CheckResult prove_notched_holes(const Fitting& fitting, const Pattern& pattern, const BoardLines& holes,
                                const std::string& layer, const std::vector<double>& depths);
// Both of a blank's lines, some of which are the edges of holes.
std::vector<CheckResult> prove_notched(const Fitting& fitting, const Pattern& pattern,
                                       const NotchedBlank& blank, const BoardLines& lines,
                                       const std::string& layer, const std::vector<double>& depths);
// Both faces' contours of a file rolled into space, against the curves in which the faces end there, and
// back. Throws like prove_knife.
CheckResult prove_faces(const Fitting& fitting, const Pattern& pattern, const DxfFile& file);

// What a pattern's file that is written with `options` promises.
AuditExpectations audit_promises(const Pattern& pattern, const DxfOptions& options);
// What is asked of a pattern's DXF text before it leaves: its audit, the knife's lines, both faces rolled up,
// of a notched blank its notches, of a template its hole. `text` was written with `options`, `name` stands in
// messages. A proof that cannot be carried through fails under its name.
std::vector<CheckResult> prove_pattern_text(const Fitting& fitting, const Pattern& pattern,
                                            const std::string& text, const std::string& name,
                                            const DxfOptions& options);

}  // namespace linerwright
