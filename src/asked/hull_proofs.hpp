// The parts of the proof of a square-to-round.
#pragma once

#include "hull_board.hpp"
#include "proofs.hpp"

namespace linerwright::asked {

std::vector<HullPart> parts_of(const Request& request);
// The ruling of a station: flats take an eighth of a turn each, cones as much between them.
HullRuling ruling_at(const Hull& hull, double theta);

void prove_hull_patterns(Case& asked, const Hull& hull);  // contours, cuts, bend lines, what is carved
void prove_hull_ordinates(Case& asked, const Hull& hull);
void prove_hull_bodies(Case& asked, const Hull& hull, const std::vector<Body>& bodies);
void prove_hull_meshes(Case& asked, const Hull& hull);
void prove_hull_lengths(Case& asked, const Hull& hull);  // facts
void prove_hull_bore(Case& asked, const Hull& hull);
// Patterns of the panels of a collar under the rectangle; and which side's one is, by its id, or -1.
void prove_hull_panels(const Files& files, const MadeFitting& made, const Hull& hull,
                       std::vector<Finding>& findings);
int panel_side(const std::string& id);
// Of one fitting, by the totals' keys.
std::map<std::string, double> totals_of_hull(const MadeFitting& made, double metal_density);

}  // namespace linerwright::asked
