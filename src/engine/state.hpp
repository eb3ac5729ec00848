// What the engine knows of its job, and the fitting it was asked for last.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "document.hpp"
#include "linerwright/engine/engine.hpp"
#include "linerwright/engine/fitting_files.hpp"
#include "linerwright/making/shape_job.hpp"
#include "linerwright/units/json.hpp"
#include "linerwright/units/read_json.hpp"

namespace linerwright {

// A fitting with its patterns, or why there is none.
struct Tried {
  std::optional<Shaped> shaped;
  std::vector<Problem> problems;
};

struct Engine::State {
  std::optional<Document> document;
  std::optional<Job> job;                        // none where a mistake outside the fittings holds it up
  std::vector<Problem> problems;                 // of the job and its fittings
  std::function<void(const std::string&)> told;  // may be empty

  // Reads the job anew from its texts.
  void read_job();
  // The request of a row; null where it cannot be made of what is written.
  const FittingRequest* request(std::size_t row) const;
  // The row a problem belongs to.
  std::optional<std::size_t> row_of(const Problem& problem) const;
  // The table beside the fittings that it belongs to.
  std::optional<std::size_t> table_of(const Problem& problem) const;
  // Made once for as long as the job stays as it is. Throws InputError for a row that is not there.
  const Tried& tried(std::size_t row);
  // The same; throws InputError where there is no fitting.
  const Shaped& made(std::size_t row);

 private:
  std::optional<std::size_t> tried_row_;
  bool tried_carefully_ = false;
  Tried tried_;
};

// The answers; `question` is an object.
std::string schema_answer();
std::string job_answer(const Engine::State& state);
void open_job(Engine::State& state, const JsonValue& question);
void change_job(Engine::State& state, const JsonValue& question);
std::string fitting_answer(Engine::State& state, std::size_t row);
std::string scene_answer(Engine::State& state, std::size_t row);
std::string files_answer(Engine::State& state, const JsonValue& question);
// What a sheet with heads of its own becomes; needs no job.
std::string sheet_in_answer(const JsonValue& question);
std::string sketch_answer(Engine::State& state, const JsonValue& question);
std::string sheet_answer(Engine::State& state, const JsonValue& question);
// The job's totals and, where `boards` says so, its boards.
std::string whole_answer(Engine::State& state, const JsonValue& question);
// Files into a list, each with its name and text.
void write_files(JsonWriter& json, const std::vector<TextFile>& files);
// One of any bytes: as text where it is text, else in base64.
void write_file(JsonWriter& json, const std::string& name, const std::string& bytes);
void write_texts(JsonWriter& json, const std::vector<std::string>& texts);

// A question's members. Throw InputError where they are missing or of another kind.
const std::string& text_in(const JsonValue& question, const char* key);
std::size_t row_in(const JsonValue& question, const char* key = "fitting");
[[noreturn]] void refuse_question(const std::string& why);

}  // namespace linerwright
