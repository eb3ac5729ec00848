// Losses along runs in the parts of the report.
#pragma once

#include <string>

#include "linerwright/bore.hpp"
#include "linerwright/bore_sheet.hpp"
#include "linerwright/json.hpp"

namespace linerwright {

// For the terminal; empty without runs.
std::string runs_part(const BoreReport& report);
// Every fitting of every run, for the document.
SheetTable runs_table(const BoreReport& report);
// The key `runs` of an open object.
void write_runs(JsonWriter& json, const BoreReport& report);

}  // namespace linerwright
