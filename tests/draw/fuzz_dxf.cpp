// Fuzz target: whatever bytes come in, the reader either refuses them with one problem or gives a file that
// can be audited.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <sstream>
#include <string>

#include "linerwright/draw/draw.hpp"
#include "linerwright/units/error.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::istringstream in(std::string(data, data + size));
  try {
    linerwright::AuditExpectations expected;
    expected.labels_inside = true;
    expected.open_cuts = size % 2 == 0;
    linerwright::audit_dxf(linerwright::read_dxf(in, "fuzz.dxf"), expected);
  } catch (const linerwright::InputError& error) {
    if (error.problems().size() != 1) std::abort();
  }
  return 0;
}
