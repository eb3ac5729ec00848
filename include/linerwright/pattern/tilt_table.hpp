// The tilt table as a file for a tilting head, what such a head is, and what it cannot do.
#pragma once

#include <string>
#include <vector>

#include "linerwright/fitting/choices.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

// A tilting head: keys of [knife], or of a fitting.
struct KnifeHead {
  TiltSign sign = TiltSign::air_right;
  double zero = 0.0;           // radians that the head shows with the blade upright
  double pivot_height = 0.0;   // of the pivot above the board's upper face, mm
  double limit = 0.25 * k_pi;  // largest lean either way, radians (common practice, no source)
};
KnifeHead knife_head(const Fitting& fitting);

// What the head shows for a row's tilt, and back. Radians.
double head_reading(const KnifeHead& head, Face face_up, double tilt);
double tilt_of_reading(const KnifeHead& head, Face face_up, double reading);

// Comma-separated, lengths in the fitting's units: lines that begin with # say how the rows are to be read;
// then a line that names the columns, then the rows.
std::string tilt_csv(const Fitting& fitting, const std::vector<Pattern>& patterns, int layer = 0);
// The name of that file: each layer of liner has one.
std::string tilt_file(const std::string& stem, int layer);

// A line for each pattern that leans over the head's limit, with the place, and for each whose far face no
// straight blade follows.
std::vector<std::string> tilt_warnings(const Fitting& fitting, const std::vector<Pattern>& patterns);

}  // namespace linerwright
