// What the JSON file says that closes a folder of results: its files with their digests, and last its own.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "linerwright/units/json.hpp"

namespace linerwright {

// Files by name with the digest of what was written; an empty one is not known.
using Contents = std::map<std::string, std::string>;

// Writes "files" and "digests" of a folder.
void write_contents(JsonWriter& json, const std::vector<std::string>& files, const Contents& digests);
// The last key of a proof: a digest of its own text, in which the digest's digits stand as zeros.
void write_seal(JsonWriter& json);
std::string sealed(std::string text);
// False where the text has another digest than it says; true where it says none.
bool seal_holds(const std::string& text);

}  // namespace linerwright
