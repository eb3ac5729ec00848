#include "loaded_part.hpp"

#include <dlfcn.h>

#include "linerwright/units/error.hpp"

namespace linerwright {

void* from_part(const char* file, const char* function, const std::string& without) {
  void* const library = dlopen(file, RTLD_NOW | RTLD_LOCAL);
  void* const found = library == nullptr ? nullptr : dlsym(library, function);
  if (found == nullptr)
    throw GeometryError(without + ": " + file + ", a part of this program, is not there or does not fit (" +
                        dlerror() + "); install the program anew");
  return found;
}

}  // namespace linerwright
