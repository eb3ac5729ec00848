#include "linerwright/output/make_job.hpp"

#include <algorithm>
#include <exception>
#include <functional>
#include <map>

#include <fmt/format.h>

#include "boards.hpp"
#include "job_files.hpp"
#include "linerwright/boards/shape_job.hpp"
#include "linerwright/output/bore_files.hpp"
#include "linerwright/output/division_file.hpp"
#include "linerwright/output/job_list.hpp"
#include "linerwright/output/run_loss.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/error.hpp"
#include "runs.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// Of a fitting only what is needed when all are made.
struct Kept {
  BoreReport bore;  // with what to step up to
  TotalsRow needs;
  JobRow row;
  std::vector<BoardPart> parts;
  ShopSheet sheet;  // where sheets are wanted
};

class JobMaker : private Production, private Shaping {
 public:
  JobMaker(const Job& job, const Job& whole, const JobOptions& options, Listener& listener)
      : job_(job), whole_(whole), options_(options), listener_(listener), kept_(job.fittings.size()) {
    result_.made.resize(job.fittings.size());
    const std::filesystem::path& planned = options.planned.empty() ? options.out : options.planned;
    if (options.folders || !options.pieces.empty())
      guarded([&] {
        for (Job* each : {&whole_, &job_}) result_.notes = apply_division_file(*each, planned);
      });
    rules_ = totals_rules(table_of(whole, "totals"));
    air_.emplace(whole_);
  }

  JobResult run() {
    documents_ = options_.folders && !options_.file.empty() &&
                 bore_files_wanted(options_.out, bore_head(), options_.share, options_.output.pages);
    if (!options_.folders)
      shape_all(job_.fittings, options_.threads, *this);
    else if (!job_.fittings.empty())
      produce_all(job_.fittings, out(), options_.output, options_.threads, *this);
    const std::vector<BoardPart> parts = gather();
    if (result_.well > 0 && options_.setup) place_on_boards(parts);
    const bool some = options_.folders
                          ? result_.well > 0 || options_.share.n > 1
                          : !result_.plan.boards.empty() || (!options_.write && result_.well > 0);
    if (some) guarded([&] { options_.write ? write_files() : totals_alone(); });
    return std::move(result_);
  }

 private:
  Job job_;
  Job whole_;
  const JobOptions& options_;
  Listener& listener_;
  TotalsRules rules_;
  std::optional<RunAir> air_;
  std::vector<Kept> kept_;
  JobResult result_;
  std::optional<OutFolder> out_;
  bool documents_ = false;  // the bore report is written, with what to step up to: it does not lie there yet

  const OutFolder& out() {
    if (!out_) out_.emplace(options_.out, options_.sync);
    return *out_;
  }

  // What fails here is told, and the rest goes on.
  void guarded(const std::function<void()>& step) {
    const auto failed = [&](int code) { result_.exit_code = std::max(result_.exit_code, code); };
    try {
      step();
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems()) result_.problems.push_back(one_line(problem));
      failed(2);
    } catch (const WriteError& error) {
      result_.problems.emplace_back(error.what());
      failed(3);
    } catch (const std::exception& error) {
      result_.problems.emplace_back(error.what());
      failed(1);
    }
  }

  BoreReport bore_of(const Fitting& fitting) const {
    BoreOptions options;
    if (documents_) options.step_up = StepUpCriterion::area;
    return air_->report(fitting, options);
  }

  SheetHead bore_head() const {
    SheetHead head = sheet_head(whole_, options_.version);
    head.state = state_of(whole_, options_.version);
    return head;
  }

  void shaped(std::size_t i, const Shaped& shaped, const ShopSheet* sheet) override {
    require_pieces(options_, shaped);
    Kept kept;
    if (options_.folders || !options_.write) kept.bore = bore_of(shaped.fitting);
    if (options_.folders)
      kept.row = job_row(shaped.fitting, shaped.patterns, file_stem(shaped.fitting.tag), {});
    if (sheets_wanted())
      kept.sheet = sheet_of(shaped, sheet, options_.sheet_units, sheet_head(whole_, options_.version),
                            options_.sheet_paper);
    kept.needs = totals_row(shaped.fitting, shaped.patterns, rules_);
    if (options_.setup) kept.parts = parts_wanted(options_, shaped);
    kept_[i] = std::move(kept);
  }

  void finished(std::size_t i, Made&& made) override {
    listener_.finished(made);
    JobRow& row = kept_[i].row;
    const std::string picture = row.folder + ".svg";
    if (std::find(made.files.begin(), made.files.end(), picture) != made.files.end()) row.picture = picture;
    row.files = std::move(made.files);
    made.files.clear();
    made.checks.clear();
    result_.made[i] = std::move(made);
  }

  void begins(std::size_t i) override { result_.made[i].tag = job_.fittings[i].tag; }
  void shaped(std::size_t i, Shaped&& made) override { shaped(i, made, nullptr); }
  void failed(std::size_t i, MakingFailed&& why) override {
    result_.made[i].failure = fmt::format("{}", fmt::join(why.lines, "\n"));
    result_.made[i].exit_code = why.exit_code;
  }

  std::vector<BoardPart> gather() {
    std::vector<BoardPart> parts;
    for (std::size_t i = 0; i < kept_.size(); ++i) {
      const Made& made = result_.made[i];
      result_.exit_code = std::max(result_.exit_code, made.exit_code);
      if (!made.failure.empty()) continue;
      ++result_.well;
      result_.unchanged += made.unchanged ? 1 : 0;
      append(result_.bore, without_steps(kept_[i].bore));
      std::move(kept_[i].parts.begin(), kept_[i].parts.end(), std::back_inserter(parts));
    }
    result_.bore.runs = air_->runs();
    return parts;
  }

  void add_notes(std::vector<std::string> notes) {
    std::move(notes.begin(), notes.end(), std::back_inserter(result_.notes));
  }

  // Tag and state of what lies on the boards.
  std::vector<std::pair<std::string, std::string>> placed() const {
    std::vector<std::pair<std::string, std::string>> of;
    for (std::size_t i = 0; i < job_.fittings.size(); ++i)
      if (result_.made[i].failure.empty()) of.emplace_back(job_.fittings[i].tag, state_of(job_.fittings[i]));
    return of;
  }

  void place_on_boards(const std::vector<BoardPart>& parts) {
    guarded([&] {
      require_own_boards(job_, whole_, options_, list_name());
      const BoardSetup& setup = *options_.setup;
      PlannedBoards boards = drawn_boards(parts, setup);
      DrawnBoards& drawn = boards.drawn;
      if (options_.write && !boards.note.empty()) result_.notes.push_back(std::move(boards.note));
      BoardPlan& plan = drawn.plan;
      add_notes(std::move(drawn.notes));
      for (const Problem& problem : plan.problems) result_.problems.push_back(one_line(problem));
      if (!plan.problems.empty()) result_.exit_code = std::max(result_.exit_code, 2);
      if (plan.boards.empty()) return;
      if (!options_.write) {
        result_.plan = std::move(plan);
        return;
      }
      add_notes(write_all_boards(drawn, placed(), job_, options_, out()));
      result_.plan = std::move(plan);
    });
  }

  // For a nest of the job alone, with other divisions of large pieces, or pieces of blanks one by one, where
  // they take less.
  PlannedBoards drawn_boards(const std::vector<BoardPart>& parts, const BoardSetup& setup) {
    const bool anew = !options_.folders && options_.pieces.empty();
    std::vector<FittingRequest> requests = job_.fittings;
    for (std::size_t i = 0; i < requests.size(); ++i)
      if (!result_.made[i].failure.empty()) requests[i].tag.clear();
    PlannedBoards boards = boards_of_job(requests, parts, setup, anew ? &setup.pieces : nullptr, whole_.units,
                                         options_.output.dxf);
    for (const auto& [i, changed] : boards.divided) {
      for (FittingRequest& request : whole_.fittings)
        if (request.tag == job_.fittings[i].tag) request = requests[i];
      job_.fittings[i] = requests[i];
      shaped(i, changed, nullptr);
    }
    return boards;
  }

  bool sheets_wanted() const {
    return options_.folders && options_.write && options_.output.pages && !options_.file.empty();
  }

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
      fitting.each = kept_[i].needs.each;
      fitting.counted_count = fitting.count;
      if (!options_.folders) continue;
      fitting.made = fitting.asked;
      fitting.row = std::move(kept_[i].row);
      fitting.row.warnings = result_.made[i].warnings;
    }
    std::error_code error;
    if (!result_.plan.boards.empty()) {
      list.boards = ListedBoards{placed(), stock_totals(result_.plan)};
    } else if (!fs::exists(options_.out / k_boards_folder / "boards.json", error)) {
      list.boards.reset();
    }
  }

  // The bore of the whole job: of what this run made, and of the rest as the job asks for it now.
  std::vector<std::pair<std::string, std::string>> bore_documents() {
    BoreReport report;
    std::vector<std::string> not_made;
    for (const Problem& problem : whole_.problems) not_made.push_back(one_line(problem));
    std::map<std::string, std::size_t> made;
    for (std::size_t i = 0; i < job_.fittings.size(); ++i) made[job_.fittings[i].tag] = i;
    for (const FittingRequest& request : whole_.fittings) {
      const auto found = made.find(request.tag);
      if (found != made.end() && result_.made[found->second].failure.empty()) {
        append(report, std::move(kept_[found->second].bore));
        continue;
      }
      try {
        append(report, bore_of(make_fitting(request)));
      } catch (const std::exception& error) {
        not_made.push_back(error.what());
      }
    }
    report.runs = air_->runs();
    return bore_files(report, bore_head(), not_made, bore_files_stem(options_.share));
  }

  // All sheets of the whole job: of what this run made, and of the rest as the job asks for it now.
  std::string all_sheets() {
    const SheetHead head = sheet_head(whole_, options_.version);
    std::map<std::string, ShopSheet> made;
    for (std::size_t i = 0; i < job_.fittings.size(); ++i)
      if (result_.made[i].failure.empty()) made.emplace(job_.fittings[i].tag, std::move(kept_[i].sheet));
    std::vector<std::string> not_made;
    const auto sheets =
        whole_sheets(whole_, std::move(made), options_.sheet_units, head, options_.sheet_paper, not_made);
    return sheets_of(sheets, not_made, result_.totals, result_.plan, head, options_.sheet_paper);
  }

  void write_files() {
    std::optional<JobList> earlier = read_job_list(options_.out / list_name());
    if (stands_beside(earlier)) {
      totals_alone();
      return;
    }
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
      files.emplace_back(page, page_of(list, whole_, result_.totals, result_.plan, std::move(runs),
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

  // Of what was asked for by flags, for the terminal.
  void totals_alone() {
    JobList list = renewed(std::nullopt);
    enter(list);
    result_.totals = totals_of(list, whole_, options_);
  }
};

}  // namespace

JobResult make_job(const Job& job, const Job& whole, const JobOptions& options, Listener& listener) {
  return JobMaker(job, whole, options, listener).run();
}

}  // namespace linerwright
