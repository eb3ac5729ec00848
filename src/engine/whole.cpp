// A whole job: totals and boards.
#include <map>

#include "linerwright/boards/boards.hpp"
#include "linerwright/boards/remnant_list.hpp"
#include "linerwright/making/make_job.hpp"
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

// Tells how far the fittings are.
class Progress : public Listener {
 public:
  Progress(const Engine::State& state, std::size_t count) : state_(state), count_(count) {}
  void begins(std::size_t i) override {
    tell(state_, "cutting the fittings", static_cast<double>(i) / static_cast<double>(count_));
  }

 private:
  const Engine::State& state_;
  std::size_t count_;
};

JobBoards boards_wanted(const Engine::State& state, double effort) {
  const Job& job = *state.job;
  const std::string name = state.document->name();
  JobBoards boards;
  static_cast<JobStock&>(boards) = job_stock(job, name, name);
  boards.options.effort = effort;
  boards.options.threads = 1;
  require_room_past(boards.knife, boards.stock, boards.options, job.units, name);
  boards.options.watch = [&state](const BoardsSoFar& now) {
    const std::string of =
        now.groups > 1 ? " of liner " + std::to_string(now.group + 1) + " of " + std::to_string(now.groups)
                       : "";
    tell(state, "looking for places" + of,
         (static_cast<double>(now.group) + now.done) / static_cast<double>(now.groups), live_search(now));
  };
  // a nest of the job alone: pieces larger than a board are divided as the boards are best used
  boards.pieces.division = division_rules(table_of(job, "boards"), {}, {});
  boards.divided_anew = true;
  return boards;
}

void write_boards(const Engine::State& state, JsonWriter& json, const JobResult& result,
                  const std::string& key) {
  const Job& job = *state.job;
  const BoardFolder boards = board_folder_of(
      job, result, sticker_sheet(table_of(job, "stickers"), job.units, state.document->name()),
      LINERWRIGHT_VERSION);
  const auto write = [&](const std::string& name, const std::string& bytes) {
    write_file(json, std::string(k_boards_folder) + "/" + name, bytes);
  };
  for (const auto& [name, bytes] : boards.files) write(name, bytes);
  write(k_board_list, boards.list);
  write(k_remnants_file, remnants_json(remnants_of(result.boards.plan, key)));
}

// Fittings whose pieces the boards divide otherwise than evenly: tag and division.
void write_divided(JsonWriter& json, const JobResult& result) {
  std::map<std::string, std::string> divided;
  for (const JobFitting& fitting : result.fittings)
    if (fitting.division) divided[fitting.tag] = *fitting.division;
  json.key("divided").begin_object();
  for (const auto& [tag, division] : divided) json.key(tag).text(division);
  json.end_object();
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
  const Job& job = *state.job;
  const JsonValue* asked = question.find("boards");
  const double effort = effort_in(question);
  JobOptions options;
  if (asked != nullptr && asked->flag) options.boards = boards_wanted(state, effort);
  options.dxf = job_dxf(job, state.document->name());
  options.version = LINERWRIGHT_VERSION;
  Progress progress(state, job.fittings.size());
  const JobResult result = make_job(job, options, progress);
  std::vector<std::string> problems;
  for (const JobFitting& fitting : result.fittings)
    if (fitting.failed)
      problems.insert(problems.end(), fitting.failed->lines.begin(), fitting.failed->lines.end());
  problems.insert(problems.end(), result.problems.begin(), result.problems.end());
  std::vector<std::string> notes = result.notes;
  if (!result.division_note.empty()) notes.insert(notes.begin(), result.division_note);
  JsonWriter json;
  json.begin_object();
  if (options.boards) json.key("boards").text(live_boards(result.boards.plan));
  json.key("totals").text(live_totals(result.totals));
  json.key("made").integer(static_cast<long>(result.well()));
  json.key("left_out").integer(result.totals.left_out);
  write_divided(json, result);
  json.key("files").begin_array();
  if (!result.boards.plan.boards.empty()) write_boards(state, json, result, options.boards->options.job);
  write_file(json, "totals.csv", totals_csv(result.totals));
  write_file(json, "totals.json", totals_json(result.totals));
  json.end_array();
  json.key("problems");
  write_texts(json, problems);
  json.key("notes");
  write_texts(json, notes);
  json.end_object();
  return json.str();
}

}  // namespace linerwright
