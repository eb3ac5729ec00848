// What was written, so that it can be read again.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright {

// The parts of "12in & 8in", without spaces at their ends.
std::vector<std::string> parts_of(std::string_view text);

// `value.written` where, read as a flag whose bare numbers take `units`, it gives the value again; otherwise
// the nearest that does: with the unit its bare numbers took, "30 cm" for a 30 under the head "diameter
// (cm)". `text` is what was read, with plain decimals; `bare_unit` may be empty.
std::string readable_again(const KeySpec& spec, const Value& value, std::string_view text,
                           std::string_view bare_unit, Units units);

}  // namespace linerwright
