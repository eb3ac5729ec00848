// Any bytes as a job file.
#include "job/fuzz_reading.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  linerwright::fuzzing::read_any(data, size, "job.toml");
  return 0;
}
