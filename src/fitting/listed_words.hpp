// Things that a person lists in one text, each a row of words and their values: "bend 45 turn 90, straight
// 24in".
#pragma once

#include <map>
#include <string>
#include <vector>

#include "common.hpp"

namespace linerwright {

// What stands behind each of a thing's words.
using Words = std::map<std::string, std::string>;

// The things of a list, a comma between them.
std::vector<std::string> split_list(const std::string& text);
// One of them taken apart at these names; what stands before the first belongs to the empty name, where there
// may be such. The same and what follows throw std::invalid_argument with the reason.
Words words_of(const std::string& thing, const std::vector<const char*>& names, bool leads = false);
// A number in its range; lengths name their unit, so that it does not matter which one the job counts in.
double number_in(const Words& words, const std::string& name, Quantity quantity, double least, double most);
// Refuses a word that is none of these.
void require_only(const Words& words, const std::vector<const char*>& known, const std::string& of);

}  // namespace linerwright
