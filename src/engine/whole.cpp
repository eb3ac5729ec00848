// A whole job: totals and boards.
#include <algorithm>
#include <iterator>
#include <set>

#include "linerwright/cut_list.hpp"
#include "linerwright/error.hpp"
#include "linerwright/floor.hpp"
#include "linerwright/live_view.hpp"
#include "linerwright/totals.hpp"
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
  std::vector<FloorPart> parts;
  std::vector<std::string> problems;
};

Whole whole_of(const Engine::State& state, bool boards) {
  const Job& job = *state.job;
  Whole whole;
  whole.totals.job = job.name;
  whole.totals.units = job.units;
  whole.totals.rules = totals_rules(table_of(job, "totals"));
  std::set<std::pair<std::string, std::string>> left_out;
  for (const Problem& problem : job.problems) left_out.insert({problem.file, problem.tag});
  whole.totals.left_out = static_cast<long>(left_out.size());
  for (std::size_t i = 0; i < job.fittings.size(); ++i) {
    tell(state, "cutting the fittings", static_cast<double>(i) / static_cast<double>(job.fittings.size()));
    try {
      const Fitting fitting = make_fitting(job.fittings[i]);
      const std::vector<Pattern> patterns = make_patterns(fitting);
      whole.totals.rows.push_back(totals_row(fitting, patterns, whole.totals.rules));
      if (!boards) continue;
      std::vector<FloorPart> parts = floor_parts(fitting, patterns, false);
      std::move(parts.begin(), parts.end(), std::back_inserter(whole.parts));
    } catch (const InputError& error) {
      for (const Problem& problem : error.problems()) whole.problems.push_back(one_line(problem));
      ++whole.totals.left_out;
    } catch (const GeometryError& error) {
      whole.problems.push_back(job.fittings[i].tag + ": " + error.what());
      ++whole.totals.left_out;
    }
  }
  return whole;
}

DrawnFloor boards_of(const Engine::State& state, const std::vector<FloorPart>& parts, double effort) {
  const Job& job = *state.job;
  JobFloor floor = job_floor(job, state.document->name(), state.document->name());
  require_room_past(floor.knife, floor.stock, floor.options, job.units, state.document->name());
  floor.options.effort = effort;
  floor.options.threads = 1;
  floor.options.watch = [&](const FloorSoFar& now) {
    const std::string of =
        now.groups > 1 ? " of liner " + std::to_string(now.group + 1) + " of " + std::to_string(now.groups)
                       : "";
    tell(state, "looking for places" + of,
         (static_cast<double>(now.group) + now.done) / static_cast<double>(now.groups), live_search(now));
  };
  return draw_floor(parts, floor.stock, floor.knife, floor.options, job.units,
                    job_dxf(job, state.document->name()));
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
  std::vector<TextFile> files;
  JsonWriter json;
  json.begin_object();
  std::vector<std::string> notes;
  if (boards) {
    DrawnFloor drawn = boards_of(state, whole.parts, effort);
    const FloorPlan& plan = drawn.plan;
    notes = std::move(drawn.notes);
    for (const Problem& problem : plan.problems) whole.problems.push_back(one_line(problem));
    const std::string folder = std::string(k_boards_folder) + "/";
    if (!plan.boards.empty()) {
      whole.totals.stock = stock_totals(plan);
      for (std::size_t b = 0; b < plan.boards.size(); ++b)
        files.push_back({folder + board_file(plan, b), std::move(drawn.files[b])});
      files.push_back({folder + "cutlist.csv", cut_list_csv(plan)});
      files.push_back({folder + "boards.csv", boards_csv(plan)});
    }
    json.key("boards").text(live_boards(plan));
  }
  files.push_back({"totals.csv", totals_csv(whole.totals)});
  json.key("totals").text(live_totals(whole.totals));
  json.key("made").integer(static_cast<long>(whole.totals.rows.size()));
  json.key("left_out").integer(whole.totals.left_out);
  json.key("files").begin_array();
  write_files(json, files);
  json.end_array();
  json.key("problems");
  write_texts(json, whole.problems);
  json.key("notes");
  write_texts(json, notes);
  json.end_object();
  return json.str();
}

}  // namespace linerwright
