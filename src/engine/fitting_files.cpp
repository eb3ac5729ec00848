#include "linerwright/engine/fitting_files.hpp"

#include <fmt/format.h>

#include <sstream>

#include "linerwright/pattern/tilt_table.hpp"

namespace linerwright {

namespace {

DxfOptions dxf_options(const Fitting& fitting, const Pattern& pattern, const DxfOptions& options) {
  DxfOptions dxf = options;
  dxf.chord_error = k_chord_error;
  if (pattern.pieces.empty()) return dxf;
  const auto shown = [&](double value) { return format_quantity(Quantity::length, value, fitting.units); };
  const LinerSpec& liner = liner_of(fitting, pattern);
  dxf.comments.push_back("liner " + shown(liner.thickness) + ", " + face_word(liner, liner.face_up) +
                         " face up");
  dxf.comments.push_back("cut square to the board: gap " + shown(pattern.gap_square) + ", overlap " +
                         shown(pattern.overlap_square));
  return dxf;
}

}  // namespace

std::string pattern_dxf(const Fitting& fitting, const Pattern& pattern, const DxfOptions& options) {
  std::ostringstream dxf;
  write_dxf(dxf, drawing_of(pattern, fitting.units), dxf_options(fitting, pattern, options));
  return dxf.str();
}

std::vector<TextFile> fitting_files(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                    const DxfOptions& options) {
  const std::string stem = file_stem(fitting.tag);
  std::vector<TextFile> files;
  const auto add = [&](const Pattern& pattern) {
    files.push_back({fmt::format("{}-{}.dxf", stem, pattern.id), pattern_dxf(fitting, pattern, options)});
  };
  for (const Pattern& pattern : patterns) add(pattern);
  for (const Pattern& pattern : site_templates(fitting)) add(pattern);
  for (int layer = 0; layer < layer_count(fitting); ++layer)
    files.push_back({tilt_file(stem, layer), tilt_csv(fitting, patterns, layer)});
  files.push_back({stem + "-ordinates.csv", ordinates_csv(fitting, patterns)});
  return files;
}

}  // namespace linerwright
