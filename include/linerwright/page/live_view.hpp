// A fitting as the bench shows it while it is being thought of: the same parts as its page has, in pieces.
#pragma once

#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/mesh/mesh.hpp"
#include "linerwright/page/page.hpp"
#include "linerwright/report/bore_sheet.hpp"
#include "linerwright/report/totals.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

// Writes an object: figures, warnings, patterns, bore, facts, pieces, steps as HTML, all text in it escaped.
void write_live_view(JsonWriter& json, const Fitting& fitting, const std::vector<Pattern>& patterns);

// The 3D view's data as JSON: `boxes` as HTML, `scene` as the pages' own scripts read it.
std::string live_scene(const Fitting& fitting, const std::vector<Pattern>& patterns,
                       const std::vector<PagePart>& parts);

// The sheet for the shop, for the printer, as the fitting's page prints it, with the job's name and date;
// HTML. The fitting's warnings are all that is told of it.
std::string live_sheet(const Fitting& fitting, const std::vector<Pattern>& patterns, const SheetHead& head);

// A whole job's totals as tables, its boards as figures, and boards while places are being looked for; HTML.
std::string live_totals(const JobTotals& totals);
std::string live_boards(const BoardPlan& plan);
std::string live_search(const BoardsSoFar& now);

}  // namespace linerwright
