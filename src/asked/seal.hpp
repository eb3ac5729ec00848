// The digest by which a list tells that nobody changed it.
#pragma once

#include <string>
#include <vector>

#include "linerwright/asked/asked.hpp"

namespace linerwright::asked {

// 64 hexadecimal digits.
std::string blake2b(const std::string& bytes);

// What a list of ours (fitting.json, boards.json) says of itself; nothing where it is not there or says
// nothing.
void prove_seal(const std::string& json, std::vector<Finding>& findings);

}  // namespace linerwright::asked
