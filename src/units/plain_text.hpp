// What keyboards, word processors and drawings put into a number, reduced to plain ASCII.
#pragma once

#include <string>
#include <string_view>

namespace linerwright {

inline bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Primes and curly quotes to ' and ", two ' to ", fraction characters to 1/2 and the like, no-break and thin
// spaces to spaces, superscripts to digits, long dashes and the minus sign to -. The degree sign stays (as
// UTF-8).
std::string plain_text(std::string_view text);

// A piece of what was written, fit for a message: quoted, control characters and bytes that are
// not UTF-8 shown as ?, cut after 20 bytes.
std::string quoted(std::string_view text);

}  // namespace linerwright
