// In the program, in place of step_linked: the reader is loaded when it is asked for.
#include "loaded_part.hpp"
#include "step_translator.hpp"

namespace linerwright {

Translate step_translator() {
  static const auto once = reinterpret_cast<Translate>(
      from_part("liblinerwright_step.so", "linerwright_translate_step", "STEP files cannot be read"));
  return once;
}

}  // namespace linerwright
