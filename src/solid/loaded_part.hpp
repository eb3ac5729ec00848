// Parts of the program that are loaded when they are asked for.
#pragma once

#include <string>

namespace linerwright {

// A function of a library that is installed with the program; `without` says in words what cannot be done
// where it is missing. Throws GeometryError.
void* from_part(const char* file, const char* function, const std::string& without);

}  // namespace linerwright
