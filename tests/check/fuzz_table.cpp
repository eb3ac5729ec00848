// Fuzz target: whatever bytes come in, the reader either refuses them with one problem or gives a table whose
// rows are as long as its head.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "linerwright/units/error.hpp"
#include "read_table.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using linerwright::InputError;
  try {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const linerwright::TableFile table = linerwright::read_table(text, "fuzz.csv");
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
      if (table.rows[i].cells.size() != table.heads.size()) std::abort();
      for (const std::string& head : table.heads) try {
          table.number(i, head);
        } catch (const InputError& error) {
          if (error.problems().size() != 1) std::abort();
        }
    }
  } catch (const InputError& error) {
    if (error.problems().size() != 1) std::abort();
  }
  return 0;
}
