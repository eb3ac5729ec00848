#include "linerwright/output/write_job.hpp"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "boards.hpp"
#include "fitting_folders.hpp"
#include "job_files.hpp"
#include "linerwright/output/bore_files.hpp"
#include "linerwright/output/division_file.hpp"
#include "linerwright/output/job_list.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/error.hpp"
#include "runs.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// Of a fitting only what is needed when all are made.
struct Kept {
  JobRow row;
  ShopSheet sheet;  // where sheets are wanted
};

class JobWriter : private Listener {
 public:
  JobWriter(const Job& job, const Job& whole, const WriteOptions& options, FolderListener& listener)
      : job_(job), whole_(whole), options_(options), listener_(listener), kept_(job.fittings.size()) {
    for (const FittingRequest& request : job.fittings) {
      result_.made.emplace_back();
      result_.made.back().tag = request.tag;
    }
  }

  WrittenJob run() {
    JobResult before;
    const std::filesystem::path& planned = options_.planned.empty() ? options_.out : options_.planned;
    if (options_.folders || !options_.pieces.empty())
      before.guarded([&] {
        for (Job* each : {&whole_, &job_}) before.notes = apply_division_file(*each, planned);
      });
    documents_ = options_.folders && !options_.file.empty() &&
                 bore_files_wanted(options_.out, bore_head(), options_.share, options_.output.pages);
    if (options_.folders && !job_.fittings.empty())
      folders_.emplace(job_.fittings, out(), options_.output,
                       [this](std::size_t i, Made&& made) { finished(i, std::move(made)); });
    static_cast<JobResult&>(result_) = make_job(job_, job_options(), *this);
    take_up(before);
    const bool some =
        options_.folders ? result_.well() > 0 || options_.share.n > 1 : !result_.boards.plan.boards.empty();
    if (some) result_.guarded([&] { write_files(); });
    return std::move(result_);
  }

 private:
  Job job_;
  Job whole_;
  const WriteOptions& options_;
  FolderListener& listener_;
  std::vector<Kept> kept_;
  WrittenJob result_;
  std::optional<OutFolder> out_;
  std::optional<FittingFolders> folders_;
  bool documents_ = false;  // the bore report is written, with what to step up to: it does not lie there yet

  const OutFolder& out() {
    if (!out_) out_.emplace(options_.out, options_.sync);
    return *out_;
  }

  BoreOptions bore_options() const {
    BoreOptions options;
    if (documents_) options.step_up = StepUpCriterion::area;
    return options;
  }

  JobOptions job_options() const {
    JobOptions options;
    options.whole = &whole_;
    if (options_.folders) options.bore = bore_options();
    options.boards = options_.boards;
    options.pieces = options_.pieces;
    options.dxf = options_.output.dxf;
    options.threads = options_.threads;
    options.version = options_.version;
    return options;
  }

  // What went before the job was made comes before what the job says, and the job is as it was cut.
  void take_up(JobResult& before) {
    result_.notes.insert(result_.notes.begin(), before.notes.begin(), before.notes.end());
    result_.problems.insert(result_.problems.begin(), before.problems.begin(), before.problems.end());
    result_.exit_code = std::max(result_.exit_code, before.exit_code);
    if (documents_) result_.bore = without_steps(std::move(result_.bore));
    for (const Made& made : result_.made) result_.unchanged += made.unchanged ? 1 : 0;
    job_.fittings = result_.requests;
    std::map<std::string, const FittingRequest*> cut;
    for (const FittingRequest& request : result_.requests) cut[request.tag] = &request;
    for (FittingRequest& request : whole_.fittings)
      if (const auto found = cut.find(request.tag); found != cut.end()) request = *found->second;
  }

  SheetHead bore_head() const {
    SheetHead head = sheet_head(whole_, options_.version);
    head.state = state_of(whole_, options_.version);
    return head;
  }

  std::string alike(std::size_t i) override { return folders_ ? folders_->alike(i) : std::string(); }

  void shaped(std::size_t i, const Shaped& shaped) override {
    if (!folders_) return;
    std::optional<ShopSheet> sheet;
    if (options_.output.pages)
      sheet = shop_sheet(shaped.fitting, shaped.patterns, shaped.fitting.warnings, {});
    const ShopSheet* of_page = sheet ? &*sheet : nullptr;
    kept_[i].row = job_row(shaped.fitting, shaped.patterns, file_stem(shaped.fitting.tag), {});
    if (sheets_wanted())
      kept_[i].sheet = sheet_of(shaped, of_page, options_.sheet_units, sheet_head(whole_, options_.version),
                                options_.sheet_paper);
    folders_->write(i, shaped, of_page);
  }

  void failed(std::size_t i, const MakingFailed& why) override {
    if (folders_) return folders_->failed(i, why);
    result_.made[i].failure = fmt::format("{}", fmt::join(why.lines, "\n"));
    result_.made[i].exit_code = why.exit_code;
  }

  void finished(std::size_t i, Made&& made) {
    listener_.finished(made);
    JobRow& row = kept_[i].row;
    const std::string picture = row.folder + ".svg";
    if (std::find(made.files.begin(), made.files.end(), picture) != made.files.end()) row.picture = picture;
    row.files = std::move(made.files);
    made.files.clear();
    made.checks.clear();
    result_.made[i] = std::move(made);
  }

  void settle(std::vector<JobFitting>& fittings) override {
    if (!folders_) return;
    folders_->flush();
    for (std::size_t i = 0; i < fittings.size(); ++i) {
      const Made& made = result_.made[i];
      fittings[i].notes = made.warnings;
      if (!fittings[i].failed && !made.failure.empty())
        fittings[i].failed = MakingFailed{{}, {made.failure}, made.exit_code};
    }
  }

  void before_boards() override { require_own_boards(job_, whole_, options_, list_name()); }

  void placed(JobResult& result) override {
    if (!result.division_note.empty()) result.notes.push_back(result.division_note);
    for (std::string& note : write_all_boards(job_, result, options_, out()))
      result.notes.push_back(std::move(note));
  }

  bool sheets_wanted() const { return options_.folders && options_.output.pages && !options_.file.empty(); }

  std::string list_name() const { return job_list_stem(options_.share.i, options_.share.n) + ".json"; }
  // "index.html", or "index-2-3.html" of a share.
  std::string of_share(const char* stem, const char* ending) const {
    const JobShare& share = options_.share;
    return share.n == 1 ? fmt::format("{}{}", stem, ending)
                        : fmt::format("{}-{}-{}{}", stem, share.i, share.n, ending);
  }

  // A fitting asked for by flags, in a folder that holds a job: the job's files speak of the job.
  bool stands_beside(const std::optional<JobList>& earlier) {
    if (!options_.file.empty() || !earlier || earlier->file.empty()) return false;
    result_.notes.push_back(
        fmt::format("{} holds the job {}: its totals and page do not count what was made by flags",
                    options_.out.string(), earlier->file));
    return true;
  }

  // The earlier list with the job as it is now and what was made of it.
  JobList renewed(std::optional<JobList> earlier) {
    std::map<std::string, ListedFitting> known;
    std::vector<std::string> order;
    JobList list;
    if (earlier) {
      list = std::move(*earlier);
      for (ListedFitting& fitting : list.fittings) {
        std::error_code error;
        if (!fs::exists(options_.out / file_stem(fitting.tag) / "fitting.json", error)) fitting.made.clear();
        order.push_back(fitting.tag);
        known.emplace(order.back(), std::move(fitting));
      }
      list.fittings.clear();
    }
    list.job = whole_.name;
    list.file = fs::path(options_.file).filename().string();
    if (list.file.empty())  // what was made by flags before stays
      for (const std::string& tag : order)
        if (whole_.fittings.front().tag != tag) {
          list.fittings.push_back(std::move(known.at(tag)));
          known.erase(tag);
        }
    for (const FittingRequest& request : whole_.fittings) {
      ListedFitting fitting;
      if (const auto found = known.find(request.tag); found != known.end()) {
        fitting = std::move(found->second);
        known.erase(found);
      }
      const std::string state = state_of(request);
      if (fitting.asked != state) fitting.failure.clear();
      fitting.tag = request.tag;
      fitting.kind = request.kind;
      fitting.count = request.count;
      fitting.asked = state;
      list.fittings.push_back(std::move(fitting));
    }
    for (const Problem& problem : whole_.problems) known.erase(problem.tag);
    for (const auto& [tag, fitting] : known)
      if (!fitting.made.empty())
        result_.notes.push_back(tag + ": is not of the job any more; its folder stays");
    return list;
  }

  // Puts what this run made into the list.
  void enter(JobList& list) {
    std::map<std::string, std::size_t> place;
    for (std::size_t i = 0; i < list.fittings.size(); ++i) place[list.fittings[i].tag] = i;
    for (std::size_t i = 0; i < job_.fittings.size(); ++i) {
      ListedFitting& fitting = list.fittings[place.at(job_.fittings[i].tag)];
      fitting.failure = result_.made[i].failure;
      if (!fitting.failure.empty()) continue;
      fitting.counted = fitting.asked;
      fitting.each = result_.fittings[i].needs.each;
      fitting.counted_count = fitting.count;
      if (!options_.folders) continue;
      fitting.made = fitting.asked;
      fitting.row = std::move(kept_[i].row);
      fitting.row.warnings = result_.made[i].warnings;
    }
    std::error_code error;
    if (!result_.boards.plan.boards.empty()) {
      list.boards = ListedBoards{placed_fittings(result_), stock_totals(result_.boards.plan)};
    } else if (!fs::exists(options_.out / k_boards_folder / "boards.json", error)) {
      list.boards.reset();
    }
  }

  // The fittings of the whole job that are not made.
  Job not_made_now() const {
    std::set<std::string> made;
    for (const JobFitting& fitting : result_.fittings)
      if (!fitting.failed) made.insert(fitting.tag);
    Job rest = whole_;
    rest.fittings.erase(std::remove_if(rest.fittings.begin(), rest.fittings.end(),
                                       [&](const FittingRequest& each) { return made.count(each.tag) > 0; }),
                        rest.fittings.end());
    return rest;
  }

  // The bore of the whole job: of what this run made, and of the rest as the job asks for it now.
  std::vector<std::pair<std::string, std::string>> bore_documents() {
    const Job rest = not_made_now();
    JobOptions options = job_options();
    options.patterns = false;
    options.boards.reset();
    Listener nobody;
    JobResult others;
    if (!rest.fittings.empty()) others = make_job(rest, options, nobody);
    std::vector<std::string> not_made;
    for (const Problem& problem : whole_.problems) not_made.push_back(one_line(problem));
    std::map<std::string, JobFitting*> told;
    for (auto* fittings :
         {&result_.fittings, &others.fittings})  // the later ones are those that failed before
      for (JobFitting& fitting : *fittings) told[fitting.tag] = &fitting;
    BoreReport report;
    for (const FittingRequest& request : whole_.fittings) {
      JobFitting& fitting = *told.at(request.tag);
      if (!fitting.failed)
        append(report, std::move(fitting.bore));
      else
        not_made.insert(not_made.end(), fitting.failed->lines.begin(), fitting.failed->lines.end());
    }
    report.runs = result_.bore.runs;
    return bore_files(report, bore_head(), not_made, bore_files_stem(options_.share));
  }

  // All sheets of the whole job: of what this run made, and of the rest as the job asks for it now.
  std::string all_sheets() {
    const SheetHead head = sheet_head(whole_, options_.version);
    std::map<std::string, ShopSheet> made;
    for (std::size_t i = 0; i < job_.fittings.size(); ++i)
      if (!result_.fittings[i].failed) made.emplace(job_.fittings[i].tag, std::move(kept_[i].sheet));
    std::vector<std::string> not_made;
    const auto sheets = whole_sheets(whole_, std::move(made), options_, head, not_made);
    return sheets_of(sheets, not_made, result_.totals, result_.boards.plan, head, options_.sheet_paper);
  }

  void write_files() {
    std::optional<JobList> earlier = read_job_list(options_.out / list_name());
    if (stands_beside(earlier)) return;
    JobList list = renewed(std::move(earlier));
    enter(list);
    result_.totals = totals_of(list, whole_, options_);
    const std::string stem = totals_stem(options_.share.i, options_.share.n);
    std::vector<std::pair<std::string, std::string>> files{{stem + ".csv", totals_csv(result_.totals)},
                                                           {stem + ".json", totals_json(result_.totals)}};
    std::vector<PageRun> runs;
    if (options_.folders) runs = add_runs(whole_, list, options_, out(), result_);
    const std::string page = of_share("index", ".html");
    if (options_.folders ? options_.output.pages : list.beside.count(page) > 0)
      files.emplace_back(page, page_of(list, whole_, result_.totals, result_.boards.plan, std::move(runs),
                                       sheets_wanted() ? of_share("sheets", ".pdf") : std::string()));
    if (sheets_wanted()) files.emplace_back(of_share("sheets", ".pdf"), all_sheets());
    if (list.beside.count(k_script_file) > 0 || (options_.folders && options_.output.shared_script))
      files.emplace_back(k_script_file, shared_script());
    if (documents_)
      for (auto& file : bore_documents()) files.push_back(std::move(file));
    for (std::string& problem : write_beside(out(), list_name(), list, files)) {
      result_.problems.push_back(std::move(problem));
      result_.exit_code = std::max(result_.exit_code, 3);
    }
  }
};

}  // namespace

WrittenJob write_job(const Job& job, const Job& whole, const WriteOptions& options,
                     FolderListener& listener) {
  return JobWriter(job, whole, options, listener).run();
}

}  // namespace linerwright
