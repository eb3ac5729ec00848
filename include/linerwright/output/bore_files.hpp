// The bore report of a job as files that can be handed over: page, PDF and table.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/job/job.hpp"
#include "linerwright/output/write_job.hpp"
#include "linerwright/report/bore_sheet.hpp"

namespace linerwright {

// "bore" of a whole job, "bore-2-3" of share 2 of 3.
std::string bore_files_stem(JobShare share);
// Whether the documents are to be written into the folder: they are asked for, or lie there already, and are
// not of that check sum or not as they were written.
bool bore_files_wanted(const std::filesystem::path& out, const SheetHead& head, JobShare share,
                       bool asked_for);

// <stem>.html, <stem>.pdf and <stem>.csv with their bytes; `not_made` as bore_sheet takes it.
std::vector<std::pair<std::string, std::string>> bore_files(const BoreReport& report, const SheetHead& head,
                                                            const std::vector<std::string>& not_made,
                                                            const std::string& stem = "bore");

// Writes them into the folder, beside what a job has made there. A file of other origin, or one that somebody
// changed, stays as it is: a line for each is returned. Throws WriteError, and InputError where the folder's
// list cannot be read.
std::vector<std::string> write_bore_files(const std::filesystem::path& out, const Job& job,
                                          const std::vector<std::pair<std::string, std::string>>& files);

}  // namespace linerwright
