// Files read whole.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

#include "linerwright/units/read_json.hpp"

namespace linerwright {

// The bytes of a plain file. Throws InputError where it is missing, no file, cannot be read, or is larger
// than `most` bytes.
std::string file_bytes(const std::filesystem::path& file, std::size_t most);

// The JSON that a file holds. Throws like file_bytes and read_json.
JsonValue json_of(const std::filesystem::path& file);

}  // namespace linerwright
