// A number from its characters, in no locale.
#pragma once

#include <charconv>

namespace linerwright {

// As std::from_chars for a double in the general format: digits with an optional point and exponent, a minus
// sign, "inf" and "nan". errc::result_out_of_range where no double other than 0 or infinity is near; then,
// and where no number stands at `first` (errc::invalid_argument), `value` is left alone.
std::from_chars_result read_double(const char* first, const char* last, double& value);

}  // namespace linerwright
