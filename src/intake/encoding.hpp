// What text files are written in.
#pragma once

#include <string>
#include <string_view>

namespace linerwright {

// The bytes as UTF-8 without byte order mark; `told` names the encoding where it is not UTF-8. `said` is
// utf-8, utf-16, windows-1252 or empty. Throws InputError where the bytes are none of these.
std::string decoded(std::string_view bytes, const std::string& said, const std::string& file,
                    std::string& told);

}  // namespace linerwright
