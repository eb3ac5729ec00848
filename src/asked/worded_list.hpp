// Lists in the user's words: "bend 45 turn 180, straight 2in".
#pragma once

#include <map>
#include <string>
#include <vector>

namespace linerwright::asked {

// What stands behind each word of one entry; what stands first belongs to no word.
using Words = std::map<std::string, std::string>;
// The entries between commas or semicolons, by the words that this list knows.
std::vector<Words> worded_list(const std::string& text, const std::vector<std::string>& words);

}  // namespace linerwright::asked
