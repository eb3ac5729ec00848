// Openings in a square-to-round: each lies in one of its flats or in one of its rounded corners.
#pragma once

#include <string>
#include <vector>

#include "common.hpp"

namespace linerwright {

// How much liner is left on the board between an opening's edge, at any of its depths, and a line; negative
// where the edge reaches beyond it. mm.
struct BesideOpening {
  double clear;
  std::string what;  // "the bend line toward the top side"
};
// The bend lines and the ends of the part of the wall that the opening's middle lies in.
std::vector<BesideOpening> beside_opening(const Fitting& fitting, int wall, const Joint& edge);

// Whether the part that the opening's middle lies in is a rounded corner whose metal folds over itself.
bool metal_folds_at(const Fitting& fitting, int wall, const Joint& edge);

// The same of a seam on the middle line of a flat; without limit where the opening lies in no such flat.
double clear_of_seam(const Joint& edge, const LinerSpec& liner, double seam);

}  // namespace linerwright
