// A spreadsheet with heads of its own, and what each of its rows becomes.
#include "linerwright/intake/intake.hpp"
#include "linerwright/units/error.hpp"
#include "state.hpp"

namespace linerwright {

namespace {

// A text among the answers; empty where there is none.
std::string said(const JsonValue& answers, const char* key) {
  const JsonValue* found = answers.find(key);
  return found != nullptr && found->is_text() ? found->text : std::string();
}

ReadAnswers answers_in(const JsonValue& question) {
  ReadAnswers answers;
  const JsonValue* given = question.find("answers");
  if (given == nullptr) return answers;
  if (!given->is_object()) refuse_question("has answers that are no object");
  if (const JsonValue* columns = given->find("columns"); columns != nullptr && columns->is_object())
    for (std::size_t i = 0; i < columns->keys.size(); ++i)
      answers.columns.emplace_back(columns->keys[i], columns->items[i].text);
  const std::string units = said(*given, "units");
  if (!units.empty()) answers.units = units == "in" ? Units::inch : Units::metric;
  answers.decimal = said(*given, "decimal");
  answers.gores = said(*given, "gores");
  answers.wye = said(*given, "wye");
  answers.size_is = said(*given, "size_is");
  answers.tags = said(*given, "tags");
  answers.liner = said(*given, "liner");
  if (const std::string down = said(*given, "fill_down"); !down.empty()) answers.fill_down.push_back(down);
  return answers;
}

// Cells that a browser took from a workbook.
Grid grid_in(const JsonValue& question, const std::string& name) {
  Grid grid{name, "values of a workbook", {}, {}};
  const JsonValue* rows = question.find("rows");
  if (rows == nullptr || !rows->is_array()) refuse_question("has no rows");
  int line = 0;
  for (const JsonValue& row : rows->items) {
    GridRow made{++line, {}};
    bool blank = true;
    for (const JsonValue& cell : row.items) {
      const JsonValue* number = cell.find("number");
      made.cells.push_back({text_in(cell, "text"), number != nullptr && number->flag});
      blank = blank && made.cells.back().text.empty();
    }
    if (!blank) grid.rows.push_back(std::move(made));
  }
  return grid;
}

void write_row(JsonWriter& json, const FittingRequest& request) {
  json.begin_object();
  json.key("tag").text(request.tag);
  json.key("kind").text(request.kind);
  if (request.count != 1) json.key("count").text(std::to_string(request.count));
  for (const auto& [key, value] : request.values.all())
    if (value.given) json.key(key).text(value.written);
  json.end_object();
}

void write_column(JsonWriter& json, const ReadColumn& column) {
  json.begin_object();
  json.key("head").text(column.head);
  json.key("meaning").text(column.meaning);
  json.key("unit").text(column.unit);
  json.key("how").text(column.how);
  json.key("filled").integer(static_cast<long>(column.filled));
  json.end_object();
}

}  // namespace

std::string sheet_in_answer(const JsonValue& question) {
  const std::string& name = text_in(question, "name");
  const ReadAnswers answers = answers_in(question);
  const JsonValue* text = question.find("text");
  const Grid grid =
      text != nullptr ? grid_of_text(text->text, name, answers, job_schema()) : grid_in(question, name);
  const ReadSheet sheet = read_grid(grid, job_schema(), answers);
  const Job job = read_job_text(sheet.job_text, "job.toml", job_schema());
  JsonWriter json;
  json.begin_object();
  json.key("told").text(sheet.told);
  json.key("job_text").text(sheet.job_text);
  json.key("columns").begin_array();
  for (const ReadColumn& column : sheet.columns) write_column(json, column);
  json.end_array();
  json.key("fittings").begin_array();
  for (const FittingRequest& request : job.fittings) write_row(json, request);
  json.end_array();
  for (const auto& [key, lines] :
       {std::pair<const char*, const std::vector<std::string>*>{"left", &sheet.left},
        {"assumed", &sheet.assumed},
        {"told_by_job", &sheet.told_by_job}}) {
    json.key(key);
    write_texts(json, *lines);
  }
  std::vector<std::string> problems;
  for (const Problem& problem : job.problems) problems.push_back(one_line(problem));
  json.key("problems");
  write_texts(json, problems);
  json.end_object();
  return json.str();
}

}  // namespace linerwright
