// A digest of bytes, to tell whether a file is still what was written.
#pragma once

#include <istream>
#include <string>
#include <string_view>

namespace linerwright {

// BLAKE2b with 256 bits (RFC 7693), as 64 hexadecimal digits; `b2sum -l 256` prints the same of a file.
std::string digest(std::string_view bytes);
// The same of all that is left of a stream, a piece at a time.
std::string digest(std::istream& in);

}  // namespace linerwright
