// A fitting's lengths and names as its page words them.
#pragma once

#include <string>
#include <vector>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/fitting/shop_words.hpp"
#include "linerwright/pattern/pattern.hpp"

namespace linerwright {

// "24 in", "609.6 mm", as the sheet says it.
inline std::string length_text(const Fitting& fitting, double mm) {
  return shop_length(fitting, mm);
}
// The same without the unit, for tables whose heads name it, with all decimals so that they line up.
inline std::string length_cell(const Fitting& fitting, double mm, int finer = 0) {
  return fixed(to_units(Quantity::length, mm, fitting.units), (fitting.units == Units::inch ? 2 : 1) + finer);
}
inline std::string unit_text(const Fitting& fitting) {
  return std::string(unit_name(Quantity::length, fitting.units));
}
inline std::string degrees_text(double radians, int decimals = 1) {
  return trimmed(radians * 180.0 / k_pi, decimals) + "\u00b0";
}

// The place of a piece in the order in which the pieces go in, from 1; 0 if it has none.
int insertion_rank(const Fitting& fitting, int piece);
// The pattern a piece is cut by when its pieces are cut one by one; null without one.
const Pattern* pattern_of(const std::vector<Pattern>& patterns, int piece);
// The narrowest station of a passage.
const Station& narrowest(const Passage& passage);
double free_share(const Station& station);
// "24 in", "24 in to 20 in": the bare diameter at a passage's ends.
std::string ends_text(const Fitting& fitting, const Passage& passage);

}  // namespace linerwright
