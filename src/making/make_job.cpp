#include "linerwright/making/make_job.hpp"

#include <algorithm>
#include <exception>
#include <iterator>
#include <map>
#include <set>

#include "linerwright/job/request_state.hpp"
#include "linerwright/making/run_air.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

class JobMaker : private Shaping {
 public:
  JobMaker(const Job& job, const JobOptions& options, Listener& listener)
      : whole_(options.whole == nullptr ? job : *options.whole),
        options_(options),
        listener_(listener),
        parts_(job.fittings.size()) {
    result_.requests = job.fittings;
    result_.fittings.resize(job.fittings.size());
    for (std::size_t i = 0; i < job.fittings.size(); ++i) result_.fittings[i].tag = job.fittings[i].tag;
    result_.totals = empty_totals(whole_, options.version);
  }

  JobResult run() {
    if (options_.bore) begin_bore();
    shape_all(result_.requests, options_.threads, *this, options_.patterns);
    result_.guarded([&] { listener_.settle(result_.fittings); });
    for (const JobFitting& fitting : result_.fittings)
      if (fitting.failed) result_.exit_code = std::max(result_.exit_code, fitting.failed->exit_code);
    gather_bore();
    if (options_.boards && result_.well() > 0) result_.guarded([&] { place_on_boards(); });
    if (options_.patterns) gather_totals();
    return std::move(result_);
  }

 private:
  const Job& whole_;
  const JobOptions& options_;
  Listener& listener_;
  std::vector<std::vector<BoardPart>> parts_;  // of each request, until all are placed
  std::optional<RunAir> air_;
  BoreOptions bore_options_;
  JobResult result_;

  void begin_bore() {
    bore_options_ = *options_.bore;
    result_.bore = bore_report({}, nullptr, bore_options_);
    // one series of sizes for all of the job: that of its first fitting's units
    if (!bore_options_.series && !whole_.fittings.empty())
      bore_options_.series =
          whole_.fittings.front().units == Units::inch ? DiameterSeries::inch : DiameterSeries::en1506;
    air_.emplace(whole_, result_.run_problems);
  }

  // What the job needs of a fitting; its patterns and itself are not kept.
  void take(std::size_t i, const Shaped& shaped) {
    JobFitting& fitting = result_.fittings[i];
    if (options_.patterns) require_pieces(options_.pieces, shaped);
    if (air_) fitting.bore = air_->report(shaped.fitting, bore_options_);
    if (!options_.patterns) return;
    fitting.needs = totals_row(shaped.fitting, shaped.patterns, result_.totals.rules);
    if (options_.boards) parts_[i] = parts_wanted(shaped);
  }

  // All pieces of a fitting that is cut on boards, or those that were named, each as often.
  std::vector<BoardPart> parts_wanted(const Shaped& shaped) const {
    const auto named = options_.pieces.find(shaped.fitting.tag);
    if (named == options_.pieces.end())
      return board_parts(shaped.fitting, shaped.patterns, options_.boards->pieces.scatter);
    std::vector<BoardPart> parts;
    for (BoardPart& part : board_parts(shaped.fitting, shaped.patterns, true)) {
      part.count = std::count(named->second.begin(), named->second.end(), part.piece);
      if (part.count > 0) parts.push_back(std::move(part));
    }
    return parts;
  }

  std::string alike(std::size_t i) override { return listener_.alike(i); }
  void begins(std::size_t i) override { listener_.begins(i); }
  void shaped(std::size_t i, Shaped&& shaped) override {
    take(i, shaped);
    listener_.shaped(i, shaped);
  }
  void failed(std::size_t i, MakingFailed&& why) override {
    result_.fittings[i].failed = std::move(why);
    listener_.failed(i, *result_.fittings[i].failed);
  }

  void gather_bore() {
    if (!air_) return;
    for (const JobFitting& fitting : result_.fittings)
      if (!fitting.failed) append(result_.bore, BoreReport(fitting.bore));
    result_.bore.runs = air_->runs();
  }

  void place_on_boards() {
    listener_.before_boards();
    PlannedBoards boards = drawn_boards();
    std::move(boards.drawn.notes.begin(), boards.drawn.notes.end(), std::back_inserter(result_.notes));
    result_.division_note = std::move(boards.note);
    const BoardPlan& plan = boards.drawn.plan;
    for (const Problem& problem : plan.problems) result_.problems.push_back(one_line(problem));
    if (!plan.problems.empty()) result_.exit_code = std::max(result_.exit_code, 2);
    if (plan.boards.empty()) return;
    result_.boards = std::move(boards.drawn);
    try {
      listener_.placed(result_);
    } catch (...) {
      result_.boards = {};
      throw;
    }
  }

  // A fitting that failed keeps its place in the list, but not its tag: so its pieces are on no board.
  PlannedBoards drawn_boards() {
    std::vector<FittingRequest> requests = result_.requests;
    std::vector<BoardPart> parts;
    for (std::size_t i = 0; i < requests.size(); ++i) {
      if (result_.fittings[i].failed)
        requests[i].tag.clear();
      else
        std::move(parts_[i].begin(), parts_[i].end(), std::back_inserter(parts));
    }
    const JobBoards& wanted = *options_.boards;
    PlannedBoards boards = boards_of_job(
        requests, parts, wanted, wanted.divided_anew ? &wanted.pieces : nullptr, whole_.units, options_.dxf);
    for (const auto& [i, changed] : boards.divided) {
      result_.requests[i] = requests[i];
      result_.fittings[i].division = requests[i].values.text("division");
      take(i, changed);
    }
    return boards;
  }

  void gather_totals() {
    std::map<std::string, const JobFitting*> asked;
    for (const JobFitting& fitting : result_.fittings) asked[fitting.tag] = &fitting;
    JobTotals& totals = result_.totals;
    for (const FittingRequest& request : whole_.fittings) {
      const auto found = asked.find(request.tag);
      if (found == asked.end())
        ++totals.missing;
      else if (found->second->failed)
        ++totals.left_out;
      else
        totals.rows.push_back(found->second->needs);
    }
    totals.stock = stock_totals(result_.boards.plan);
  }
};

}  // namespace

std::size_t JobResult::well() const {
  return static_cast<std::size_t>(std::count_if(fittings.begin(), fittings.end(),
                                                [](const JobFitting& fitting) { return !fitting.failed; }));
}

void JobResult::guarded(const std::function<void()>& step) {
  const auto failed = [&](int code) { exit_code = std::max(exit_code, code); };
  try {
    step();
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) problems.push_back(one_line(problem));
    failed(2);
  } catch (const WriteError& error) {
    problems.emplace_back(error.what());
    failed(3);
  } catch (const std::exception& error) {
    problems.emplace_back(error.what());
    failed(1);
  } catch (...) {
    problems.emplace_back("a step of the job failed for a reason that is not known");
    failed(1);
  }
}

JobResult make_job(const Job& job, const JobOptions& options, Listener& listener) {
  return JobMaker(job, options, listener).run();
}

void require_pieces(const NamedPieces& pieces, const Shaped& shaped) {
  const auto named = pieces.find(shaped.fitting.tag);
  if (named == pieces.end()) return;
  std::string known;
  std::vector<Problem> problems;
  const std::vector<std::size_t> cut = patterns_to_cut(shaped.patterns, true);
  for (const std::size_t i : cut) known += (known.empty() ? "" : ", ") + shaped.patterns[i].id;
  for (const std::string& piece : named->second)
    if (std::none_of(cut.begin(), cut.end(), [&](std::size_t i) { return shaped.patterns[i].id == piece; }))
      problems.push_back({{},
                          0,
                          {},
                          "--only",
                          shaped.fitting.tag + "/" + piece,
                          known,
                          "the fitting has no piece of this name"});
  if (!problems.empty()) throw InputError(std::move(problems));
}

JobTotals empty_totals(const Job& job, const std::string& version) {
  JobTotals totals;
  totals.job = job.name;
  totals.version = version;
  totals.units = job.units;
  totals.rules = totals_rules(table_of(job, "totals"));
  std::set<std::pair<std::string, std::string>> left_out;
  for (const Problem& problem : job.problems) left_out.insert({problem.file, problem.tag});
  totals.left_out = static_cast<long>(left_out.size());
  return totals;
}

std::vector<std::pair<std::string, std::string>> placed_fittings(const JobResult& result) {
  std::vector<std::pair<std::string, std::string>> of;
  for (std::size_t i = 0; i < result.requests.size(); ++i)
    if (!result.fittings[i].failed) of.emplace_back(result.requests[i].tag, state_of(result.requests[i]));
  return of;
}

BoardFolder board_folder_of(const Job& job, const JobResult& result, const StickerSheet& stickers,
                            const std::string& version) {
  return board_folder(result.boards, placed_fittings(result), stickers, sheet_head(job, version),
                      division_file(result.requests));
}

}  // namespace linerwright
