// In the program, in place of operations_linked: they are loaded when one is asked for.
#include "kernel_operations.hpp"
#include "loaded_part.hpp"

namespace linerwright {

const KernelOperations& kernel_operations() {
  using Entry = const KernelOperations* (*)();
  static const KernelOperations& once =
      *reinterpret_cast<Entry>(from_part("liblinerwright_operations.so", "linerwright_kernel_operations",
                                         "solids cannot be drawn, cut or meshed"))();
  return once;
}

}  // namespace linerwright
