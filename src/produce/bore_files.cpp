#include "linerwright/bore_files.hpp"

#include "job_files.hpp"
#include "linerwright/bore_page.hpp"
#include "linerwright/bore_pdf.hpp"
#include "linerwright/produce.hpp"

namespace linerwright {

SheetHead sheet_head(const Job& job, const std::string& version) {
  SheetHead head{job.name, {}, version};
  const auto table = job.tables.find("job");
  if (table != job.tables.end() && table->second.has("date")) head.date = table->second.text("date");
  return head;
}

std::vector<std::pair<std::string, std::string>> bore_files(const BoreReport& report, const SheetHead& head,
                                                            const std::vector<std::string>& not_made,
                                                            const std::string& stem) {
  const BoreSheet sheet = bore_sheet(report, head, not_made);
  return {{stem + ".html", bore_page(sheet)},
          {stem + ".pdf", bore_pdf(sheet)},
          {stem + ".csv", bore_csv(report)}};
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
