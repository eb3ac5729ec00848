// The boards of a job on paper, for whoever stands at the table.
#pragma once

#include <string>

#include "linerwright/bore_sheet.hpp"
#include "linerwright/floor.hpp"

namespace linerwright {

// A PDF on A4, or on letter where the job is in inches, lying: a page with all boards, then each board as it
// lies on the table, with its pieces numbered in the order they come free and named as large as they allow,
// and a list of them. The same plan gives the same bytes.
std::string jobsheet_pdf(const FloorPlan& plan, const SheetHead& head);

}  // namespace linerwright
