// The files of one fitting that need no solid: patterns, tables. What the program writes to folders and what
// a browser hands over are these same texts.
#pragma once

#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

// What else stands beside the fittings' folders.
constexpr const char* k_boards_folder = "boards";
constexpr const char* k_runs_folder = "runs";
constexpr const char* k_again_folder = "again";  // boards of pieces that are cut once more

// A name for files made from a tag: letters, digits, dot, dash and underscore; anything else becomes _ and a
// short check sum of the tag is added, so that two tags never share a name. Never empty, hidden or long, nor
// the name of a device or of what else stands among the results.
std::string file_stem(const std::string& tag);

// A pattern's DXF; units, chord error and comments of `options` are filled in.
std::string pattern_dxf(const Fitting& fitting, const Pattern& pattern, const DxfOptions& options);

// Ordinates as CSV in the fitting's units.
std::string ordinates_csv(const Fitting& fitting, const std::vector<Pattern>& patterns);

struct TextFile {
  std::string name;
  std::string text;
};
// The DXF of every pattern and site template, the tilt table of each layer and the ordinates, named
// <stem>-<what>.
std::vector<TextFile> fitting_files(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                    const DxfOptions& options);

}  // namespace linerwright
