// A fitting as the bench shows it while it is being thought of: the same parts as its page has, in pieces.
#pragma once

#include <string>
#include <vector>

#include "linerwright/json.hpp"
#include "linerwright/mesh.hpp"
#include "linerwright/page.hpp"

namespace linerwright {

// Writes an object: figures, warnings, patterns, bore, facts, pieces, steps as HTML, all text in it escaped.
void write_live_view(JsonWriter& json, const Fitting& fitting, const std::vector<Pattern>& patterns);

// The 3D view's data as JSON: `boxes` as HTML, `scene` as the pages' own scripts read it.
std::string live_scene(const Fitting& fitting, const std::vector<Pattern>& patterns,
                       const std::vector<PagePart>& parts);

}  // namespace linerwright
