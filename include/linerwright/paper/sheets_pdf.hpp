// The sheets of a whole job as one PDF for whoever prints them.
#pragma once

#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/paper/paper.hpp"
#include "linerwright/report/shop_sheet.hpp"

namespace linerwright {

// What stands on the first page.
struct SheetsCover {
  SheetHead head;
  Units units = Units::metric;
  std::vector<SheetTable> totals;
  std::vector<std::string> notes;
  std::vector<std::string> not_made;  // fittings that have no sheet, and why
};

// A list of the fittings with the totals, the sheet of each, and each board as it lies on the table with its
// pieces; without boards the plan is empty. No letter is smaller than k_least_letter points. The same job
// gives the same bytes. Throws std::invalid_argument for a roll.
std::string sheets_pdf(const std::vector<ShopSheet>& sheets, const SheetsCover& cover, const BoardPlan& plan,
                       const Paper& paper);

}  // namespace linerwright
