// The tables behind head_words().
#pragma once

#include <string>

namespace linerwright {

// Whether a word changes nothing in a head: "size of the branch" is "size branch".
bool says_nothing(const std::string& word);
// One spelling for each word of a head: dia is diameter.
std::string spelled(const std::string& word);
// What spelled words mean together, apart by one space; empty: not known.
std::string meaning_of_words(const std::string& words);
// Words of a head that promise feet and inches: every cell marks its own.
bool is_feet_and_inches(const std::string& words);
// A unit that stands in a head, as the units are written; empty: none.
std::string unit_in_head(const std::string& words);

}  // namespace linerwright
