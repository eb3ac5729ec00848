#include "job_files.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "contents.hpp"
#include "linerwright/output/bore_files.hpp"
#include "linerwright/output/write_job.hpp"
#include "linerwright/page/page_boards.hpp"
#include "linerwright/paper/sheets_pdf.hpp"
#include "linerwright/pattern/tilt_table.hpp"
#include "linerwright/report/board_sheets.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"
#include "stale.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// The fittings that the reader left out, with what is wrong with them.
std::vector<JobRow> left_out_rows(const Job& job) {
  std::vector<JobRow> rows;
  for (const Problem& problem : job.problems) {
    if (rows.empty() || rows.back().tag != problem.tag) {
      rows.emplace_back();
      rows.back().tag = problem.tag;
    }
    std::string& why = rows.back().failure;
    why += (why.empty() ? "" : "; ") + one_line(problem);
  }
  return rows;
}

JobRow page_row(const ListedFitting& fitting) {
  JobRow row;
  if (fitting.failure.empty() && !fitting.made.empty()) {
    row = fitting.row;
    if (fitting.made != fitting.asked)
      row.warnings.insert(row.warnings.begin(), "older than the job: it has changed since this was made");
    return row;
  }
  row.tag = fitting.tag;
  row.kind = fitting.kind;
  row.count = fitting.count;
  row.failure = fitting.failure.empty() ? "nobody has asked for it yet" : fitting.failure;
  return row;
}

}  // namespace

std::vector<std::string> write_beside(const OutFolder& out, const std::string& list_name, JobList& list,
                                      const std::vector<std::pair<std::string, std::string>>& files) {
  std::vector<std::string> problems;
  std::vector<const std::pair<std::string, std::string>*> to_write;
  for (const auto& file : files) {
    const fs::path place = out.path() / file.first;
    const std::string sum = digest(file.second);
    std::vector<std::string>& known = list.beside[file.first];
    std::error_code error;
    const fs::file_type there = fs::symlink_status(place, error).type();
    std::string now;
    if (there == fs::file_type::regular) now = digest(bytes_of_file(place));
    if (there != fs::file_type::not_found && now != sum &&
        std::find(known.begin(), known.end(), now) == known.end()) {
      problems.push_back(
          fmt::format("{}: is not of this program or was changed since it was written: it stays as it is, "
                      "and the new one "
                      "is not written; move it elsewhere and make the job again",
                      place.string()));
      continue;
    }
    known = {sum};
    if (!now.empty() && now != sum) known.push_back(now);
    if (now != sum) to_write.push_back(&file);
  }
  // the list first: what it names may then be there or not
  const std::string text = job_list_json(list);
  std::error_code error;
  if (!fs::exists(out.path() / list_name, error) || bytes_of_file(out.path() / list_name) != text)
    out.write(list_name, text);
  for (const auto* file : to_write) out.write(file->first, file->second);
  return problems;
}

JobTotals totals_of(const JobList& list, const Job& whole, const WriteOptions& options) {
  JobTotals totals = empty_totals(whole, options.version);
  if (options.share.i != 1) totals.left_out = 0;  // the first share counts them
  for (const ListedFitting& fitting : list.fittings) {
    if (!fitting.failure.empty()) {
      ++totals.left_out;
    } else if (fitting.counted.empty()) {
      ++totals.missing;
    } else {
      totals.rows.push_back({fitting.tag, fitting.kind, fitting.counted_count, fitting.each});
      if (fitting.counted != fitting.asked) ++totals.older;
    }
  }
  if (!list.boards) return totals;
  totals.stock = list.boards->stock;
  totals.boards_older = !older_boards(*list.boards, list.fittings).empty();
  return totals;
}

std::string page_of(const JobList& list, const Job& whole, const JobTotals& totals, const BoardPlan& plan,
                    std::vector<PageRun> runs, const std::string& sheets) {
  JobPage page{whole.name, {}, {}, {}};
  page.sheets = sheets;
  page.date = sheet_head(whole, {}).date;
  for (const ListedFitting& fitting : list.fittings) page.rows.push_back(page_row(fitting));
  for (JobRow& row : left_out_rows(whole)) page.rows.push_back(std::move(row));
  for (TotalsCells& cells : totals_cells(totals))
    page.totals.push_back({"", std::move(cells.heads), 1, std::move(cells.rows)});
  PageTable notes{"", {"about these totals"}, 1, {}};
  for (std::string& note : totals_notes(totals)) notes.rows.push_back({std::move(note)});
  if (!notes.rows.empty()) page.totals.push_back(std::move(notes));
  page.boards = page_boards(plan);
  for (std::size_t b = 0; b < page.boards.size(); ++b) {
    const std::string folder = std::string(k_boards_folder) + "/";
    page.boards[b].file = folder + board_file(plan, b);
    page.boards[b].more = {folder + board_pdf_file(plan, b)};
  }
  page.runs = std::move(runs);
  return job_page(page);
}

ShopSheet sheet_of(const Shaped& shaped, const ShopSheet* of_page, std::optional<Units> units,
                   const SheetHead& head, const std::optional<Paper>& on) {
  const Vec2 paper = on ? on->size : k_shop_paper;
  if (!units || *units == shaped.fitting.units) {
    if (of_page != nullptr && !on) {
      ShopSheet sheet = *of_page;
      sheet.head = head;
      return sheet;
    }
    return shop_sheet(shaped.fitting, shaped.patterns, shaped.fitting.warnings, head, paper);
  }
  // the same fitting, said in the other units
  FittingRequest request = shaped.fitting.request;
  request.units = *units;
  const Fitting said = make_fitting(request);
  std::vector<std::string> warnings = said.warnings;
  for (std::string& warning : tilt_warnings(said, shaped.patterns)) warnings.push_back(std::move(warning));
  return shop_sheet(said, shaped.patterns, warnings, head, paper);
}

namespace {

// The sheets of fittings that this run has not made.
class SheetsOfRest : public Shaping {
 public:
  SheetsOfRest(std::size_t count, const WriteOptions& options, const SheetHead& head)
      : sheets(count), not_made(count), options_(options), head_(head) {}
  std::vector<ShopSheet> sheets;
  std::vector<std::vector<std::string>> not_made;  // why, of each

  void shaped(std::size_t i, Shaped&& shaped) override {
    sheets[i] = sheet_of(shaped, nullptr, options_.sheet_units, head_, options_.sheet_paper);
  }
  void failed(std::size_t i, MakingFailed&& why) override { not_made[i] = std::move(why.lines); }

 private:
  const WriteOptions& options_;
  const SheetHead& head_;
};

}  // namespace

std::vector<ShopSheet> whole_sheets(const Job& whole, std::map<std::string, ShopSheet> made,
                                    const WriteOptions& options, const SheetHead& head,
                                    std::vector<std::string>& not_made) {
  for (const Problem& problem : whole.problems) not_made.push_back(one_line(problem));
  std::vector<FittingRequest> rest;
  for (const FittingRequest& request : whole.fittings)
    if (made.count(request.tag) == 0) rest.push_back(request);
  SheetsOfRest others(rest.size(), options, head);
  shape_all(rest, options.threads, others);
  for (std::size_t i = 0; i < rest.size(); ++i) {
    if (others.not_made[i].empty()) made.emplace(rest[i].tag, std::move(others.sheets[i]));
    not_made.insert(not_made.end(), others.not_made[i].begin(), others.not_made[i].end());
  }
  std::vector<ShopSheet> sheets;
  for (const FittingRequest& request : whole.fittings)
    if (const auto found = made.find(request.tag); found != made.end())
      sheets.push_back(std::move(found->second));
  return sheets;
}

std::string sheets_of(const std::vector<ShopSheet>& sheets, const std::vector<std::string>& not_made,
                      const JobTotals& totals, const BoardPlan& plan, const SheetHead& head,
                      const std::optional<Paper>& paper) {
  SheetsCover cover{head, totals.units, {}, totals_notes(totals), not_made};
  for (TotalsCells& cells : totals_cells(totals))
    cover.totals.push_back(
        {cover.totals.empty() ? "Totals" : "Boards", std::move(cells.heads), 1, std::move(cells.rows), {}});
  return sheets_pdf(sheets, cover, plan,
                    paper ? *paper : paper_named(totals.units == Units::inch ? "letter" : "a4"));
}

namespace {

class TemplateAdvice : public Shaping {
 public:
  TemplateAdvice(std::size_t count, const OutputOptions& options) : lines(count), options_(options) {}
  std::vector<std::string> lines;  // of each; empty where there is nothing to say

  void shaped(std::size_t i, Shaped&& shaped) override {
    if (const auto advice =
            template_advice(shaped.fitting, shaped.patterns, *options_.templates, options_.half_templates))
      lines[i] = fmt::format("{}: note: {}", shaped.fitting.tag, *advice);
  }
  void failed(std::size_t, MakingFailed&&) override {}  // told when it is made

 private:
  const OutputOptions& options_;
};

}  // namespace

std::vector<std::string> template_advice(const Job& job, const OutputOptions& options, int threads) {
  if (!options.templates) return {};
  TemplateAdvice advice(job.fittings.size(), options);
  shape_all(job.fittings, threads, advice);
  advice.lines.erase(std::remove(advice.lines.begin(), advice.lines.end(), std::string()),
                     advice.lines.end());
  return advice.lines;
}

std::vector<std::string> write_joined(const JobTotals& totals, const fs::path& folder) {
  const OutFolder out(folder);
  const std::string name = job_list_stem(1, 1) + ".json";
  JobList list;
  if (std::optional<JobList> earlier = read_job_list(folder / name)) list = std::move(*earlier);
  const std::string stem = totals_stem(1, 1);
  return write_beside(out, name, list,
                      {{stem + ".csv", totals_csv(totals)}, {stem + ".json", totals_json(totals)}});
}

Job share_of(Job job, JobShare share) {
  std::vector<FittingRequest> kept;
  for (std::size_t k = share.i - 1; k < job.fittings.size(); k += share.n)
    kept.push_back(std::move(job.fittings[k]));
  job.fittings = std::move(kept);
  return job;
}

}  // namespace linerwright
