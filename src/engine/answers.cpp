// What the engine answers, as JSON.
#include <fmt/format.h>

#include "linerwright/boards/boards.hpp"
#include "linerwright/engine/fitting_files.hpp"
#include "linerwright/job/job_sources.hpp"
#include "linerwright/mesh/fitting_meshes.hpp"
#include "linerwright/page/live_view.hpp"
#include "linerwright/units/error.hpp"
#include "state.hpp"

namespace linerwright {

namespace {

const char* type_word(ValueType type) {
  switch (type) {
    case ValueType::quantity:
      return "quantity";
    case ValueType::integer:
      return "integer";
    case ValueType::choice:
      return "choice";
    case ValueType::flag:
      return "flag";
    case ValueType::text:
      break;
  }
  return "text";
}

void write_keys(JsonWriter& json, const std::vector<KeySpec>& keys) {
  json.begin_array();
  for (const KeySpec& key : keys) {
    json.begin_object();
    json.key("name").text(key.name);
    json.key("type").text(type_word(key.type));
    if (key.type == ValueType::quantity) {
      json.key("in").text(unit_name(key.quantity, Units::inch));
      json.key("mm").text(unit_name(key.quantity, Units::metric));
    }
    json.key("help").text(key.help);
    json.key("needed").boolean(!key.optional && !key.default_value);
    if (key.default_value) json.key("default").text(*key.default_value);
    if (key.many) json.key("many").boolean(true);
    if (!key.choices.empty()) {
      json.key("choices").begin_array();
      for (const std::string& choice : key.choices) json.text(choice);
      json.end_array();
    }
    if (!key.sample.empty()) json.key("sample").text(key.sample);
    json.end_object();
  }
  json.end_array();
}

void write_cells(JsonWriter& json, const std::vector<Entry>& entries, const std::string& before) {
  for (const Entry& entry : entries) {
    const bool tables = !entry.inside.empty() && entry.inside.front().key.empty();
    if (tables) {
      json.key(before + entry.key).text(fmt::format("{} tables", entry.inside.size()));
      continue;
    }
    if (!entry.inside.empty()) {
      write_cells(json, entry.inside, before + entry.key + ".");
      continue;
    }
    const bool plain = entry.form == Entry::Form::list || entry.form == Entry::Form::boolean;
    json.key(before + entry.key).text(plain ? entry.text : entry.written);
  }
}

void write_problem(JsonWriter& json, const Engine::State& state, const Problem& problem) {
  json.begin_object();
  const auto row = state.row_of(problem);
  const auto table = state.table_of(problem);
  json.key("row").integer(row ? static_cast<long>(*row) : -1);
  json.key("table").integer(table ? static_cast<long>(*table) : -1);
  json.key("key").text(problem.key);
  json.key("text").text(one_line(problem));
  json.end_object();
}

}  // namespace

void write_texts(JsonWriter& json, const std::vector<std::string>& texts) {
  json.begin_array();
  for (const std::string& text : texts) json.text(text);
  json.end_array();
}

std::string schema_answer() {
  JsonWriter json;
  json.begin_object();
  json.key("kinds").begin_array();
  for (const KindSchema& kind : job_schema().kinds) {
    json.begin_object();
    json.key("kind").text(kind.kind);
    json.key("summary").text(kind.summary);
    json.key("keys");
    write_keys(json, kind.keys);
    json.end_object();
  }
  json.end_array();
  json.key("liner");
  write_keys(json, job_schema().liner_keys);
  json.key("tables").begin_array();
  const auto table = [&](const std::string& name, bool listed, const std::vector<KeySpec>& keys) {
    json.begin_object().key("table").text(name).key("listed").boolean(listed).key("keys");
    write_keys(json, keys);
    json.end_object();
  };
  table("job", false, job_keys());
  table("liner", false, job_schema().liner_keys);
  for (const auto& [name, keys] : job_schema().lists) table(name, true, keys);
  for (const auto& [name, keys] : job_schema().tables) table(name, false, keys);
  json.end_array();
  json.key("sample").text(sample_job(job_schema(), "elbow"));
  json.end_object();
  return json.str();
}

std::string job_answer(const Engine::State& state) {
  JsonWriter json;
  json.begin_object();
  const std::vector<TextFile> texts = state.document->texts();
  json.key("text").text(texts.front().text);
  json.key("name").text(texts.front().name);
  json.key("is_schedule").boolean(state.document->is_schedule());
  json.key("schedules").begin_array();
  write_files(json, {texts.begin() + 1, texts.end()});
  json.end_array();
  json.key("unused");
  write_texts(json, state.document->unused());
  json.key("whole").boolean(state.job.has_value());
  json.key("stock").integer(state.job && state.job->lists.count("stock") > 0
                                ? static_cast<long>(state.job->lists.at("stock").size())
                                : 0);
  if (state.job) json.key("units").text(state.job->units == Units::inch ? "in" : "mm");
  json.key("rows").begin_array();
  for (std::size_t i = 0; i < state.document->rows().size(); ++i) {
    const Section& row = state.document->section(i);
    json.begin_object();
    json.key("file").text(state.document->file_of(i));
    json.key("line").integer(row.line);
    json.key("can").boolean(state.request(i) != nullptr);
    json.key("cells").begin_object();
    write_cells(json, row.entries, {});
    json.end_object();
    json.end_object();
  }
  json.end_array();
  json.key("tables").begin_array();
  for (const Section& section : state.document->tables()) {
    json.begin_object().key("table").text(section.name).key("cells").begin_object();
    write_cells(json, section.entries, {});
    json.end_object().end_object();
  }
  json.end_array();
  json.key("problems").begin_array();
  for (const Problem& problem : state.problems) write_problem(json, state, problem);
  json.end_array();
  json.key("notes");
  write_texts(json, state.job ? state.job->notes : std::vector<std::string>{});
  json.end_object();
  return json.str();
}

std::string fitting_answer(Engine::State& state, std::size_t row) {
  const Tried& tried = state.tried(row);
  JsonWriter json;
  json.begin_object();
  json.key("fitting").integer(static_cast<long>(row));
  json.key("problems").begin_array();
  for (const Problem& problem : tried.problems) write_problem(json, state, problem);
  json.end_array();
  if (tried.shaped) {
    json.key("live");
    write_live_view(json, tried.shaped->fitting, tried.shaped->patterns);
  }
  json.end_object();
  return json.str();
}

std::string scene_answer(Engine::State& state, std::size_t row) {
  const Shaped& shaped = state.made(row);
  constexpr MeshOptions k_seen{0.15, 0.12};
  const std::vector<BodyPart> bodies = fitting_meshes(shaped.fitting, k_seen);
  std::vector<PagePart> parts;
  for (const BodyPart& body : bodies) parts.push_back({body.role, body.piece, &body.mesh});
  return live_scene(shaped.fitting, shaped.patterns, parts);
}

}  // namespace linerwright
