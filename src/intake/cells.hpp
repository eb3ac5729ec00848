// What stands in a cell: lengths with their units, one size or several, counts.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/units/units.hpp"

namespace linerwright {

// A length as a job file takes it; `bare` where it has no unit at all.
struct LengthText {
  std::string text;
  bool bare = false;
};
// `unit`: what bare numbers take, may be empty. Throws std::invalid_argument where the text is no length.
LengthText length_text(std::string_view cell, std::string_view unit);

// Sizes in one cell: 24" x 20", 24"/12", 24 to 20, each without diameter signs; a unit that one of them names
// goes for those without. `slash`: whether 24/12 is two sizes rather than a fraction.
struct SizesText {
  std::vector<std::string> sizes;
  std::string size_is;  // metal, clear or outside, where the cell says so
};
SizesText sizes_text(std::string_view cell, bool slash);

// "1 EA", "2 pcs", "x4": the number alone; as it stands where it is none.
std::string count_text(std::string_view cell);

// "1.5 D", "1.5xD": the number alone.
std::string ratio_text(std::string_view cell);

std::string trimmed_text(std::string_view text);

// What somebody wrote on one line of a table: control characters, invisible marks and broken bytes as ?.
std::string shown_text(std::string_view text);

}  // namespace linerwright
