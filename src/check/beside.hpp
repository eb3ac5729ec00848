// The parts of the proof of what stands beside solids and patterns.
#pragma once

#include <string>
#include <vector>

#include "linerwright/check/check_written.hpp"
#include "linerwright/units/read_json.hpp"

namespace linerwright {

// Figures of fitting.json against the fitting made again.
std::vector<CheckResult> prove_figures(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                       const JsonValue& json);
// The templates of a tap's hole in it; nothing of other fittings.
std::vector<CheckResult> prove_templates(const Fitting& fitting, const JsonValue& json);
// The lists of files against what belongs to the fitting and what is there, and their digests.
std::vector<CheckResult> prove_files(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                     const CheckFiles& files, const JsonValue& json,
                                     const std::string& json_bytes);
// True where the digest that fitting.json carries is that of its own bytes, the digest's digits taken as
// zeros.
bool as_it_was_written(const JsonValue& json, std::string bytes);
// The table of ordinates.
CheckResult prove_ordinates(const Fitting& fitting, const std::vector<Pattern>& patterns,
                            const CheckFiles& files);
// The patterns' pictures are to scale and show the cut; pages and paper are whole files.
std::vector<CheckResult> prove_pictures(const std::vector<Pattern>& patterns, const CheckFiles& files,
                                        const JsonValue& json);

// The names in a list of the file; nothing where it is no list of texts.
std::vector<std::string> names_in(const JsonValue* list);

}  // namespace linerwright
