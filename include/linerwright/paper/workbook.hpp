// Tables of a job as one workbook for a spreadsheet (Office Open XML).
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace linerwright {

// One sheet: its name (at most 31 characters, none of []:*?/\), and its rows as comma-separated values, heads
// first. Empty: left out.
struct WorkbookSheet {
  std::string name;
  std::string csv;
};

// Writes the workbook, whole or not at all: cells that are numbers as numbers, with as many decimals as they
// have in their column; heads stay in sight. The same sheets give the same bytes. Throws WriteError.
void write_workbook(const std::filesystem::path& file, const std::vector<WorkbookSheet>& sheets);

}  // namespace linerwright
