// Fuzz target: whatever bytes come in, the reader either refuses them with one problem or gives a tree.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "linerwright/units/error.hpp"
#include "linerwright/units/read_json.hpp"

namespace {

std::size_t values_in(const linerwright::JsonValue& value) {
  if (value.is_object() && value.keys.size() != value.items.size()) std::abort();
  std::size_t count = 1;
  for (const linerwright::JsonValue& each : value.items) count += values_in(each);
  return count;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  try {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    if (values_in(linerwright::read_json(text, "fuzz.json")) > linerwright::k_most_in_json) std::abort();
  } catch (const linerwright::InputError& error) {
    if (error.problems().size() != 1) std::abort();
  }
  return 0;
}
