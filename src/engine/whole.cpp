// A whole job: totals and boards.
#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "linerwright/boards/boards.hpp"
#include "linerwright/boards/remnant_list.hpp"
#include "linerwright/boards/shape_job.hpp"
#include "linerwright/job/request_state.hpp"
#include "linerwright/page/live_view.hpp"
#include "linerwright/report/board_folder.hpp"
#include "linerwright/report/cut_list.hpp"
#include "linerwright/report/totals.hpp"
#include "linerwright/units/error.hpp"
#include "state.hpp"

namespace linerwright {

namespace {

void tell(const Engine::State& state, const std::string& step, double done, const std::string& picture = {}) {
  if (!state.told) return;
  JsonWriter json;
  json.begin_object();
  json.key("step").text(step);
  json.key("done").number(done, 4);
  if (!picture.empty()) json.key("picture").text(picture);
  json.end_object();
  state.told(json.str());
}

// All fittings of the job that can be made.
struct Whole {
  JobTotals totals;
  std::vector<FittingRequest> requests;  // as they are cut; without a tag what cannot be made
  std::vector<std::size_t> rows;         // of each request, in the totals
  std::vector<BoardPart> parts;
  std::vector<std::string> problems;
  std::map<std::string, std::string> divided;  // otherwise than evenly: tag and division
};

// Counts each fitting, and what it needs of boards where they are wanted.
class Counting : public Shaping {
 public:
  Counting(const Engine::State& state, Whole& whole, bool boards)
      : state_(state), whole_(whole), boards_(boards) {}

  void begins(std::size_t i) override {
    const auto all = static_cast<double>(whole_.requests.size());
    tell(state_, "cutting the fittings", static_cast<double>(i) / all);
    whole_.rows.push_back(whole_.totals.rows.size());
  }
  void shaped(std::size_t, Shaped&& shaped) override {
    whole_.totals.rows.push_back(totals_row(shaped.fitting, shaped.patterns, whole_.totals.rules));
    if (!boards_) return;
    std::vector<BoardPart> parts = board_parts(shaped.fitting, shaped.patterns, false);
    std::move(parts.begin(), parts.end(), std::back_inserter(whole_.parts));
  }
  void failed(std::size_t i, MakingFailed&& why) override {
    std::move(why.lines.begin(), why.lines.end(), std::back_inserter(whole_.problems));
    ++whole_.totals.left_out;
    whole_.requests[i].tag.clear();
  }

 private:
  const Engine::State& state_;
  Whole& whole_;
  bool boards_;
};

Whole whole_of(const Engine::State& state, bool boards) {
  const Job& job = *state.job;
  Whole whole;
  whole.totals.job = job.name;
  whole.totals.units = job.units;
  whole.totals.version = LINERWRIGHT_VERSION;
  whole.totals.rules = totals_rules(table_of(job, "totals"));
  std::set<std::pair<std::string, std::string>> left_out;
  for (const Problem& problem : job.problems) left_out.insert({problem.file, problem.tag});
  whole.totals.left_out = static_cast<long>(left_out.size());
  whole.requests = job.fittings;
  Counting counting(state, whole, boards);
  shape_all(job.fittings, 1, counting);
  return whole;
}

JobStock stock_of(const Engine::State& state, double effort) {
  const Job& job = *state.job;
  const std::string name = state.document->name();
  JobStock setup = job_stock(job, name, name);
  setup.options.effort = effort;
  setup.options.threads = 1;
  require_room_past(setup.knife, setup.stock, setup.options, job.units, name);
  setup.options.watch = [&state](const BoardsSoFar& now) {
    const std::string of =
        now.groups > 1 ? " of liner " + std::to_string(now.group + 1) + " of " + std::to_string(now.groups)
                       : "";
    tell(state, "looking for places" + of,
         (static_cast<double>(now.group) + now.done) / static_cast<double>(now.groups), live_search(now));
  };
  return setup;
}

// The boards of a nest of the job alone: pieces larger than a board are divided as the boards are best used.
DrawnBoards boards_of(const Engine::State& state, Whole& whole, const JobStock& setup) {
  const Job& job = *state.job;
  const DxfOptions dxf = job_dxf(job, state.document->name());
  const PieceRules rules{division_rules(table_of(job, "boards"), {}, {}), false};
  PlannedBoards boards = boards_of_job(whole.requests, whole.parts, setup, &rules, job.units, dxf);
  for (const auto& [i, shaped] : boards.divided) {
    whole.divided[whole.requests[i].tag] = whole.requests[i].values.text("division");
    whole.totals.rows[whole.rows[i]] = totals_row(shaped.fitting, shaped.patterns, whole.totals.rules);
  }
  if (!boards.note.empty()) boards.drawn.notes.insert(boards.drawn.notes.begin(), std::move(boards.note));
  return std::move(boards.drawn);
}

void write_boards(const Engine::State& state, JsonWriter& json, const Whole& whole, const DrawnBoards& drawn,
                  const std::string& key) {
  const Job& job = *state.job;
  std::vector<std::pair<std::string, std::string>> of;
  for (const FittingRequest& request : whole.requests)
    if (!request.tag.empty()) of.emplace_back(request.tag, state_of(request));
  const BoardFolder boards =
      board_folder(drawn, of, sticker_sheet(table_of(job, "stickers"), job.units, state.document->name()),
                   sheet_head(job, LINERWRIGHT_VERSION), division_file(whole.requests));
  const auto write = [&](const std::string& name, const std::string& bytes) {
    write_file(json, std::string(k_boards_folder) + "/" + name, bytes);
  };
  for (const auto& [name, bytes] : boards.files) write(name, bytes);
  write(k_board_list, boards.list);
  write(k_remnants_file, remnants_json(remnants_of(drawn.plan, key)));
}

double effort_in(const JsonValue& question) {
  const JsonValue* word = question.find("effort");
  if (word == nullptr) return k_effort_quick;
  const std::optional<double> effort = effort_named(word->text);
  if (!effort) refuse_question("names no effort: fill, quick or thorough");
  return *effort;
}

}  // namespace

std::string whole_answer(Engine::State& state, const JsonValue& question) {
  if (!state.job) throw InputError(state.problems);
  const JsonValue* asked = question.find("boards");
  const bool boards = asked != nullptr && asked->flag;
  const double effort = effort_in(question);
  Whole whole = whole_of(state, boards);
  std::optional<DrawnBoards> drawn;
  std::string key;
  if (boards) {
    const JobStock setup = stock_of(state, effort);
    key = setup.options.job;
    drawn = boards_of(state, whole, setup);
    for (const Problem& problem : drawn->plan.problems) whole.problems.push_back(one_line(problem));
    if (!drawn->plan.boards.empty()) whole.totals.stock = stock_totals(drawn->plan);
  }
  JsonWriter json;
  json.begin_object();
  if (drawn) json.key("boards").text(live_boards(drawn->plan));
  json.key("totals").text(live_totals(whole.totals));
  json.key("made").integer(static_cast<long>(whole.totals.rows.size()));
  json.key("left_out").integer(whole.totals.left_out);
  json.key("divided").begin_object();
  for (const auto& [tag, division] : whole.divided) json.key(tag).text(division);
  json.end_object();
  json.key("files").begin_array();
  if (drawn && !drawn->plan.boards.empty()) write_boards(state, json, whole, *drawn, key);
  write_file(json, "totals.csv", totals_csv(whole.totals));
  write_file(json, "totals.json", totals_json(whole.totals));
  json.end_array();
  json.key("problems");
  write_texts(json, whole.problems);
  json.key("notes");
  write_texts(json, drawn ? drawn->notes : std::vector<std::string>{});
  json.end_object();
  return json.str();
}

}  // namespace linerwright
