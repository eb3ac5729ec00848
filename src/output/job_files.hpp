// The files beside the fittings' folders: list, totals and page of the whole job.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/output/job_list.hpp"
#include "linerwright/output/write_job.hpp"
#include "linerwright/report/shop_sheet.hpp"

namespace linerwright {

// Writes the list, and after it the files (name and bytes) that it names. A file that the list does not know
// is left as it is. Returns a line for each of those, and for what cannot be written.
std::vector<std::string> write_beside(const OutFolder& out, const std::string& list_name, JobList& list,
                                      const std::vector<std::pair<std::string, std::string>>& files);

// Totals of what the list holds; the job gives name, units and rules.
JobTotals totals_of(const JobList& list, const Job& whole, const WriteOptions& options);
// The page of what the list holds, with the boards of `plan` if there are any; `sheets` is the file with all
// sheets, empty where there is none.
std::string page_of(const JobList& list, const Job& whole, const JobTotals& totals, const BoardPlan& plan,
                    std::vector<PageRun> runs, const std::string& sheets);

// The sheet of a fitting in the units asked for, or in its own, on that paper or on what prints on letter and
// A4; `of_page`, which may be null, where that is the same but for its head.
ShopSheet sheet_of(const Shaped& shaped, const ShopSheet* of_page, std::optional<Units> units,
                   const SheetHead& head, const std::optional<Paper>& on);
// The sheets of a whole job: those of `made` by their tags, the rest as the job asks for it now; who cannot
// be made is told in `not_made`.
std::vector<ShopSheet> whole_sheets(const Job& whole, std::map<std::string, ShopSheet> made,
                                    const WriteOptions& options, const SheetHead& head,
                                    std::vector<std::string>& not_made);
// All sheets of a job with its totals and the boards of `plan`.
std::string sheets_of(const std::vector<ShopSheet>& sheets, const std::vector<std::string>& not_made,
                      const JobTotals& totals, const BoardPlan& plan, const SheetHead& head,
                      const std::optional<Paper>& paper);

}  // namespace linerwright
