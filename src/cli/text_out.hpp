// Small text files that a command writes where it is told.
#pragma once

#include <string>
#include <string_view>

namespace linerwright {

// Throws InputError where a file is there already and `force` is not given; an empty path is none.
void refuse_existing(const std::string& path, bool force);

// Throws InputError where no file can be read there, or one far larger than drawn metal (256 MB).
void require_readable(const std::string& path);

// The whole file or none: written beside it, then renamed. Throws WriteError.
void write_text_out(const std::string& path, std::string_view text);

}  // namespace linerwright
