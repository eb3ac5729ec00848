// A job file's text as sections of entries.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "linerwright/job/entry.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

// The tables of `text` (UTF-8 without byte order mark) in the order of the file. Throws InputError with one
// problem, where TOML's grammar is broken or the nesting is deeper than any job file needs.
std::vector<Section> read_toml(std::string_view text, const std::string& file);

// Text in TOML's quotes, and a value as a job file writes it: numbers and flags bare, everything else in
// quotes.
std::string toml_text(std::string_view text);
std::string toml_value(const KeySpec& key, const std::string& text);

}  // namespace linerwright
