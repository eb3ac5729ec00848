// Where our libraries are linked: the reader is linked with them.
#include "step_translator.hpp"

namespace linerwright {

Translate step_translator() {
  return &linerwright_translate_step;
}

}  // namespace linerwright
