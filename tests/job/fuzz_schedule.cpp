// Any bytes as a schedule.
#include "job/fuzz_reading.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  linerwright::fuzzing::read_any(data, size, "plan.csv");
  return 0;
}
