// Losses along runs in the parts of the report.
#pragma once

#include <string>

#include "linerwright/report/bore.hpp"
#include "linerwright/report/bore_sheet.hpp"
#include "linerwright/units/json.hpp"

namespace linerwright {

// For the terminal; empty without runs.
std::string runs_part(const BoreReport& report);
// Every fitting of every run, for the document.
SheetTable runs_table(const BoreReport& report);
// The key `runs` of an open object.
void write_runs(JsonWriter& json, const BoreReport& report);

}  // namespace linerwright
