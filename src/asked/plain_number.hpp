// A decimal number in a text, in the one way that every standard library here has.
#pragma once

#include <cstddef>
#include <string_view>

namespace linerwright::asked {

// Reads a number from the start of `text`, with point and exponent, in no language's way; a minus sign may
// stand before it, a plus sign and spaces may not. Returns how many characters it took: 0 where there is no
// number or none that a double holds, and `value` is left alone.
std::size_t read_plain_number(std::string_view text, double& value);

}  // namespace linerwright::asked
