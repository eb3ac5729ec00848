// What the trade's words mean: column heads and kinds of fitting.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linerwright {

// Lower case letters and digits, words apart by one space; the diameter sign is "dia", # is "no", "c/l" "cl".
std::string plain_words(std::string_view text);

// A column's head: what it stands for, and what else it says.
struct HeadWords {
  std::string meaning;  // a key of the job file or one of the meanings below; empty: not understood
  std::string unit;     // as the units are written: mm, in, deg ...
  std::string size_is;  // metal, clear or outside, where the head says which diameter it means
};
// Meanings that are no keys: throat_radius, to_size (second size), left (nothing to do with the work), and
// those that the cells, the other columns or a person decide: item, description, number, radius, gores.
HeadWords head_words(std::string_view head, const std::vector<std::string>& keys);

// A cell that names a kind: "90 deg 5 pc ell" is an elbow of 90 degrees and five pieces.
struct KindWords {
  std::string kind;    // a kind of the job file; "wye" where lateral and Y are not told apart
  std::string angle;   // degrees, as written
  std::string pieces;  // as written
  std::string gores;   // as written: all pieces, or those between the ends
  std::string size;    // as written, of one or several ends: 24", 24" x 20"
  std::vector<std::pair<std::string, std::string>> further;  // other keys with their values
  std::string needs;                                         // a key without which the words cannot be made
  std::string assumed;                                       // what the words left to the trade's habit
};
std::optional<KindWords> kind_words(std::string_view cell, const std::vector<std::string>& kinds);

// Whether a cell begins a row of sums: total, subtotal, sum ...
bool says_total(std::string_view cell);

}  // namespace linerwright
