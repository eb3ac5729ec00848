// What a STEP file says that its reader passes over.
#include <fmt/format.h>

#include "linerwright/check/file_bytes.hpp"
#include "linerwright/units/error.hpp"
#include "proof.hpp"

namespace linerwright {

// A reader takes one of the stated units for all it reads: every one must be the millimetre (ISO 10303-41: a
// length unit is a complex entity of LENGTH_UNIT, NAMED_UNIT and, here, SI_UNIT).
CheckResult prove_step_units(const std::filesystem::path& file) {
  constexpr std::size_t k_most = 256u << 20;
  std::string text;
  try {
    text = file_bytes(file, k_most);
  } catch (const InputError& error) {
    return undone("step units", error.what());
  }
  int units = 0;
  int others = 0;
  for (std::size_t at = text.find("LENGTH_UNIT("); at != std::string::npos;
       at = text.find("LENGTH_UNIT(", at + 1)) {
    const std::size_t from = text.rfind('#', at);
    const std::size_t to = text.find(';', at);
    ++units;
    if (from == std::string::npos || to == std::string::npos ||
        text.substr(from, to - from).find("SI_UNIT(.MILLI.,.METRE.)") == std::string::npos)
      ++others;
  }
  if (units == 0) return undone("step units", file.filename().string() + " states no unit of length");
  return within("step units", others, 0.0, "units",
                fmt::format("{} units of length stated, all of them millimetres", units));
}

}  // namespace linerwright
