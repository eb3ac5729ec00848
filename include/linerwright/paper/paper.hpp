// Pictures of fittings and patterns as files, and paper at full size.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linerwright/draw/draw.hpp"
#include "linerwright/fitting/fitting.hpp"
#include "linerwright/pattern/pattern.hpp"
#include "linerwright/solid/solid.hpp"

namespace linerwright {

// The duct and, beside it, its liner pieces drawn apart, in isometric projection with hidden lines removed;
// 160 mm wide at most, inks `duct` and `liner`. Throws GeometryError.
Picture isometric_picture(const Model& model, const Fitting& fitting);

// Solids in their places seen from the same side, hidden lines removed; 240 mm wide at most, ink `duct`.
// Throws GeometryError.
Picture run_picture(const std::vector<Solid>& metals, double deflection);

// The pattern to scale with its size and check line, lines and dimensions large enough to be read when all of
// it is seen at once; inks of the layers, and `dimension`.
Picture pattern_picture(const Pattern& pattern, const Fitting& fitting);

// The picture on white as a PNG, its longer side `pixels` long (16 to 16000), with a margin in mm; texts are
// drawn with the pen. Throws like extents(), and std::invalid_argument for other sizes.
std::string png_of(const Picture& picture, int pixels = 1600, double margin = 5.0);

struct Paper {
  std::string name;   // as asked for
  std::string title;  // in words: "A4", "a roll 36in wide"
  Vec2 size{};        // upright, mm; a roll has its width alone
  bool roll = false;
};
// "a4", "a3", "letter", "tabloid", or a roll's width: "roll=36in". Throws std::invalid_argument with a
// reason.
Paper paper_named(const std::string& name);

// All pieces of a fitting at full size as a PDF: one sheet with a map of all others, then the patterns, each
// on as few sheets as it takes, with overlaps, crop and match marks and a square to measure on every sheet.
// Pieces cut alike are drawn once, with how many. With `half`, of a pattern that is its own mirror image
// across its middle one half is drawn, with the line to fold it along. The same input gives the same bytes.
// Throws InputError where more than k_most_sheets are needed.
std::string templates_pdf(const Fitting& fitting, const std::vector<Pattern>& patterns, const Paper& paper,
                          bool half = false);
// How many sheets that takes beside the map.
std::size_t template_sheets(const Fitting& fitting, const std::vector<Pattern>& patterns, const Paper& paper,
                            bool half = false);
// What to tell before so many are written that a larger paper is worth it: how many, and how many of other
// papers; nothing where they are few.
std::optional<std::string> template_advice(const Fitting& fitting, const std::vector<Pattern>& patterns,
                                           const Paper& paper, bool half = false);
constexpr int k_most_sheets = 400;

}  // namespace linerwright
