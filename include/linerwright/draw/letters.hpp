// Characters in the letters that every font has.
#pragma once

#include <optional>
#include <string>

namespace linerwright {

// How ASCII letters spell a character: accents dropped, "1/2", "EUR"; a degree sign is 0x7F. Nothing where
// they cannot.
std::optional<std::string> spelling_of(char32_t code);

}  // namespace linerwright
