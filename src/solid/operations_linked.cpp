// Where our libraries are linked: the operations are linked with them.
#include "kernel_operations.hpp"

namespace linerwright {

const KernelOperations& kernel_operations() {
  return *linerwright_kernel_operations();
}

}  // namespace linerwright
