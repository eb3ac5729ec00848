// Pieces larger than the board: rings along the duct, panels around it.
#pragma once

#include "common.hpp"
#include "division.hpp"

namespace linerwright {

// The liner's keys that say how large a board is.
std::vector<KeySpec> board_keys();
// What the board of the request's layer leaves for a piece.
BoardRoom room_of(const FittingRequest& request);

// The fitting as its kind builds it, no piece divided. Throws as make_fitting() does.
Fitting build_by(const Kind& kind, const FittingRequest& request);
Fitting build_whole(const FittingRequest& request);

constexpr double k_same_length = 0.01;  // mm, by which lengths that add up to a whole may miss it

// Divides the pieces that are larger than the request's board_width (along the duct) and board_length
// (around) into the fewest equal rings and panels that fit, with staggered seams clear of every hole; a taper
// into the panels the request asks for. A blank of several pieces that is too large is taken apart into its
// pieces; of a notched blank each ring and panel is one of its own. Adds the reasons where a piece cannot be
// divided so that it fits.
// `other_joints`, of each piece: heights of another layer's joints between rings, from which new ones keep
// min_panel. `off_middle`, mm: how far on along the walls the cuts between even rings are to lie.
void divide(Reasons& reasons, Fitting& fitting, const std::vector<std::vector<double>>& other_joints = {},
            double off_middle = 0.0);

}  // namespace linerwright
