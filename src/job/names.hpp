// Names of keys and kinds: how they are shown, matched and guessed.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright {

// "radius_ratio" in a file, "--radius-ratio" on the command line (no file).
std::string shown_key(const std::string& key, const std::string& file);

// Lower case, spaces and dashes as underscores: "Branch diameter" is branch_diameter.
std::string key_form(std::string_view written);

// Without spaces and tabs at both ends.
std::string_view without_ends(std::string_view text);

std::string joined(const std::vector<std::string>& names);
std::vector<std::string> names_of(const std::vector<KindSchema>& kinds);
std::vector<std::string> names_of(const std::vector<const KeySpec*>& keys);

// "unknown key, did you mean diameter?", or "unknown key" where nothing is near.
std::string unknown(const std::string& what, std::string_view written, const std::vector<std::string>& known);

// The kind of that name. Throws InputError with the nearest known kind.
const KindSchema& kind_named(const std::string& name, const JobSchema& schema);

}  // namespace linerwright
