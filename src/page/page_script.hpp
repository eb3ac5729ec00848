// How pages with a 3D view come to their script.
#pragma once

#include <string>

namespace linerwright {

// Packed, inside it, or from a file at this address. `allowed` is what its
// policy lets run besides the unpacking.
struct PageScript {
  std::string allowed, element;
};
PageScript page_script(const std::string& address);

}  // namespace linerwright
