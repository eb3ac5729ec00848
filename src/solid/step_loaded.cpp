// In the program, in place of step_linked: the reader is loaded when it is asked for.
#include <dlfcn.h>

#include <string>

#include "linerwright/units/error.hpp"
#include "step_translator.hpp"

namespace linerwright {

namespace {

Translate loaded() {
  constexpr const char* k_file = "liblinerwright_step.so";
  void* const library = dlopen(k_file, RTLD_NOW | RTLD_LOCAL);
  void* const found = library == nullptr ? nullptr : dlsym(library, "linerwright_translate_step");
  if (found == nullptr)
    throw GeometryError(std::string("STEP files cannot be read: ") + k_file +
                        ", a part of this program, is not there or does not fit (" + dlerror() +
                        "); install the program anew");
  return reinterpret_cast<Translate>(found);
}

}  // namespace

Translate step_translator() {
  static const Translate once = loaded();
  return once;
}

}  // namespace linerwright
