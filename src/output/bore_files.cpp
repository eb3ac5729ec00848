#include "linerwright/output/bore_files.hpp"

#include <fmt/format.h>

#include "contents.hpp"
#include "job_files.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/page/bore_page.hpp"
#include "linerwright/paper/bore_pdf.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

std::vector<std::pair<std::string, std::string>> bore_files(const BoreReport& report, const SheetHead& head,
                                                            const std::vector<std::string>& not_made,
                                                            const std::string& stem) {
  const BoreSheet sheet = bore_sheet(report, head, not_made);
  return {{stem + ".html", bore_page(sheet)},
          {stem + ".pdf", bore_pdf(sheet)},
          {stem + ".csv", bore_csv(report)}};
}

std::string bore_files_stem(JobShare share) {
  return share.n == 1 ? std::string("bore") : fmt::format("bore-{}-{}", share.i, share.n);
}

namespace {

bool stand(const std::filesystem::path& out, const SheetHead& head, JobShare share) {
  std::optional<JobList> list;
  try {
    list = read_job_list(out / (job_list_stem(share.i, share.n) + ".json"));
  } catch (const InputError&) {
    return false;  // told when it is written
  }
  if (!list) return false;
  const std::string stem = bore_files_stem(share);
  for (const char* ending : {".html", ".pdf", ".csv"}) {
    const auto known = list->beside.find(stem + ending);
    if (known == list->beside.end() || known->second.empty()) return false;
    std::error_code error;
    if (!std::filesystem::is_regular_file(out / (stem + ending), error)) return false;
    const std::string bytes = bytes_of_file(out / (stem + ending));
    if (digest(bytes) != known->second.front()) return false;
    if (ending == std::string(".html") && bytes.find("content=\"" + head.state + "\"") == std::string::npos)
      return false;
  }
  return true;
}

}  // namespace

bool bore_files_wanted(const std::filesystem::path& out, const SheetHead& head, JobShare share,
                       bool asked_for) {
  std::error_code error;
  const bool there = std::filesystem::exists(out / (bore_files_stem(share) + ".html"), error);
  return (asked_for || there) && !stand(out, head, share);
}

std::vector<std::string> write_bore_files(const std::filesystem::path& out, const Job& job,
                                          const std::vector<std::pair<std::string, std::string>>& files) {
  const OutFolder folder(out);
  const std::string name = job_list_stem(1, 1) + ".json";
  std::optional<JobList> list = read_job_list(out / name);
  if (!list) {
    list.emplace();
    list->job = job.name;
  }
  return write_beside(folder, name, *list, files);
}

}  // namespace linerwright
