// Branches that turn behind their saddle by a bend of gores: laterals turned square to their body, or
// parallel to it.
#pragma once

#include "branch.hpp"
#include "path_walls.hpp"

namespace linerwright {

// Keys of a branch's bend.
std::vector<KeySpec> branch_turn_keys();
// Reads them for all branches; adds the reasons where they say nothing of one that turns.
void read_turns(const FittingRequest& request, std::vector<Branch>& branches, Reasons& reasons);
// Adds the reasons why a branch cannot turn so.
void require_turn(Reasons& reasons, const Fitting& fitting, const Branch& b);

// The walls of a branch that turns, from the one that stands on the body, whose sheet is given.
Path path_of(const Branch& b, const Sheet& sheet);
// The pieces behind the one that stands on the body, which is this one.
std::vector<Piece> turned_pieces(const Path& path, const Branch& b, const Piece& first);

}  // namespace linerwright
