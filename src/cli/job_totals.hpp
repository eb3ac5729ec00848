// A job's totals as make and nest write them.
#pragma once

#include <filesystem>
#include <string>

#include "linerwright/totals.hpp"

namespace linerwright {

// Without figures yet; the fittings that the reader left out count in the first share.
JobTotals begin_totals(const Job& job, std::size_t share = 1);
// Writes <out>/<name>.csv and .json. Throws WriteError.
void write_totals(const JobTotals& totals, const std::filesystem::path& out, const std::string& name);

}  // namespace linerwright
