// Any bytes as an STL file of drawn metal: bodies are fittings within the residual, or refused in one line.
#include <cstdint>
#include <cstdlib>
#include <sstream>

#include "linerwright/recognise/recognise.hpp"
#include "linerwright/units/error.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linerwright;
  std::istringstream in(std::string(data, data + size));
  try {
    const Recognised recognised = recognise(read_drawn_mesh(in, "drawn.stl", 1.0));
    for (const RecognisedBody& body : recognised.bodies) {
      if (body.fault.find_first_of("\n\r") != std::string::npos) std::abort();
      if (body.fault.empty() && !(body.residual <= k_recognised_within)) std::abort();
    }
  } catch (const InputError& error) {
    if (error.problems().size() != 1) std::abort();
    if (one_line(error.problems().front()).find_first_of("\n\r") != std::string::npos) std::abort();
  }
  return 0;
}
