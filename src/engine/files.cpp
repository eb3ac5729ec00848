// What leaves: a fitting's files, checked from their own text, and its sheet.
#include <fmt/format.h>

#include <algorithm>

#include "linerwright/boards/boards.hpp"
#include "linerwright/boards/planned_boards.hpp"
#include "linerwright/mesh/fitting_meshes.hpp"
#include "linerwright/page/live_view.hpp"
#include "linerwright/reroll/reroll.hpp"
#include "linerwright/units/bytes_as_text.hpp"
#include "linerwright/units/error.hpp"
#include "linerwright/units/utf8.hpp"
#include "same_digits.hpp"
#include "state.hpp"

namespace linerwright {

namespace {

// Every pattern's and template's file read back and rolled up.
std::vector<CheckResult> checks_of(const Shaped& shaped, const std::vector<TextFile>& files,
                                   const DxfOptions& options) {
  std::vector<Pattern> patterns = shaped.patterns;
  for (Pattern& pattern : site_templates(shaped.fitting)) patterns.push_back(std::move(pattern));
  const std::string stem = file_stem(shaped.fitting.tag);
  std::vector<CheckResult> checks;
  for (const Pattern& pattern : patterns) {
    const std::string name = fmt::format("{}-{}.dxf", stem, pattern.id);
    const auto file =
        std::find_if(files.begin(), files.end(), [&](const TextFile& each) { return each.name == name; });
    if (file == files.end()) {
      checks.push_back(undone("dxf " + pattern.id, name + " is not among the files"));
      continue;
    }
    for (CheckResult& check : prove_pattern_text(shaped.fitting, pattern, file->text, name, options))
      checks.push_back(std::move(check));
  }
  return checks;
}

void write_solids(JsonWriter& json, const Fitting& fitting) {
  const std::string stem = file_stem(fitting.tag);
  for (const auto& [name, bytes] : stl_files(fitting_meshes(fitting, {}, thinnest_layer(fitting))))
    write_file(json, fmt::format("{}-{}.stl", stem, name), bytes);
}

bool is_text(std::string_view bytes) {
  while (!bytes.empty()) {
    const CodePoint next = first_code_point(bytes);
    if (next.bytes == 0 || next.code == 0) return false;
    bytes.remove_prefix(next.bytes);
  }
  return true;
}

// The fitting of the row; with a text `division` divided as boards were planned with.
Shaped asked_for(Engine::State& state, const JsonValue& question) {
  const std::size_t row = row_in(question);
  if (question.find("division") == nullptr) return state.made(row);
  const FittingRequest* request = state.request(row);
  if (request == nullptr) return state.made(row);  // throws, and says why
  return shape(divided_as(*request, text_in(question, "division")));
}

}  // namespace

void write_files(JsonWriter& json, const std::vector<TextFile>& files) {
  for (const TextFile& file : files)
    json.begin_object().key("name").text(file.name).key("text").text(file.text).end_object();
}

void write_file(JsonWriter& json, const std::string& name, const std::string& bytes) {
  json.begin_object().key("name").text(name);
  is_text(bytes) ? json.key("text").text(bytes) : json.key("base64").text(base64(bytes));
  json.end_object();
}

std::string files_answer(Engine::State& state, const JsonValue& question) {
  const Shaped shaped = asked_for(state, question);
  const JsonValue* solids = question.find("solids");
  const DxfOptions options = job_dxf(*state.job, state.document->name());
  const std::vector<TextFile> files = fitting_files(shaped.fitting, shaped.patterns, options);
  same_digits::be_careful(false);  // the checks have tolerances
  const std::vector<CheckResult> checks = checks_of(shaped, files, options);
  same_digits::be_careful(true);
  std::vector<std::string> faults;
  for (const CheckResult& check : checks)
    if (!check.pass) faults.push_back(shaped.fitting.tag + ": " + one_line(check));
  JsonWriter json;
  json.begin_object();
  json.key("folder").text(file_stem(shaped.fitting.tag));
  json.key("files").begin_array();
  write_files(json, files);
  if (solids != nullptr && solids->flag) write_solids(json, shaped.fitting);
  json.end_array();
  json.key("checks").integer(static_cast<long>(checks.size()));
  json.key("faults");
  write_texts(json, faults);
  json.end_object();
  return json.str();
}

std::string sheet_answer(Engine::State& state, const JsonValue& question) {
  const Shaped shaped = asked_for(state, question);
  const SheetHead head = sheet_head(*state.job, LINERWRIGHT_VERSION);
  JsonWriter json;
  json.begin_object().key("html").text(live_sheet(shaped.fitting, shaped.patterns, head)).end_object();
  return json.str();
}

}  // namespace linerwright
