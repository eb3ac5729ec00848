// Openings as a person lists them: "access door piece 1 at 600mm around 90 width 200mm length 300mm".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "common.hpp"

namespace linerwright {

struct OpeningWish {
  std::string what;   // access door, damper shaft, sensor, test hole
  std::string piece;  // id; empty: the fitting's first
  double at = 0.0;    // from the metal's start edge of the piece, along the wall, to its middle
  double around = 0.0;
  double diameter = 0.0;             // of a round one
  double width = 0.0, length = 0.0;  // of a rectangle: across, and along the wall
  double setback = 0.0;
  OpeningBevel bevel = OpeningBevel::square;
  double splay = 0.0;  // angle
  bool metal = false;
  bool pair = false;  // a second one opposite
  bool is_round() const { return diameter > 0.0; }
};

constexpr const char* k_openings = "openings";  // the key
// That key.
KeySpec openings_key();
// The openings that a request lists; adds a reason for each that cannot be read.
std::vector<OpeningWish> read_openings(const FittingRequest& request, Reasons& reasons);

}  // namespace linerwright
