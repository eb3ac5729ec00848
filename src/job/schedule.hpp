// A schedule: a table of fittings, one a row, with key names as column heads.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "linerwright/job/entry.hpp"
#include "linerwright/job/job.hpp"

namespace linerwright {

struct Schedule {
  std::vector<Section> rows;
  std::optional<Units> units;     // as declared
  std::vector<Problem> problems;  // of the head line and of declarations
};

// The key that a column's head names, known or not.
std::string column_key(const std::string& head);

// Reads `text` (UTF-8 without byte order mark). Columns stand in any order, blank cells take the default, a
// unit may stand in the head, "diameter (mm)", or in the cell. "# units = in" and "# decimal = comma" declare
// what they say. Throws InputError where the quoting is broken.
Schedule read_schedule(std::string_view text, const std::string& file, const JobSchema& schema);

}  // namespace linerwright
