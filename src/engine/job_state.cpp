// The job's files, read and changed.
#include <algorithm>

#include "linerwright/job/job_sources.hpp"
#include "linerwright/units/error.hpp"
#include "same_digits.hpp"
#include "state.hpp"

namespace linerwright {

void Engine::State::read_job() {
  job.reset();
  problems.clear();
  tried_row_.reset();
  try {
    const std::vector<TextFile> texts = document->texts();
    job = read_job_from(texts.front().text, texts.front().name, job_schema(),
                        [&](const std::string& path) { return document->text_of(path); });
    apply_stock(*job);
    problems = job->problems;
  } catch (const InputError& error) {
    job.reset();
    problems = error.problems();
  }
}

const FittingRequest* Engine::State::request(std::size_t row) const {
  if (!job || row >= document->rows().size()) return nullptr;
  const int line = document->section(row).line;
  const std::string& file = document->file_of(row);
  const auto found =
      std::find_if(job->fittings.begin(), job->fittings.end(),
                   [&](const FittingRequest& each) { return each.line == line && each.file == file; });
  return found == job->fittings.end() ? nullptr : &*found;
}

namespace {

// Whether a line belongs to a table: from its head to its last value.
bool holds(const Section& section, int line) {
  int last = section.line;
  const auto look = [&](const std::vector<Entry>& entries, const auto& again) -> void {
    for (const Entry& entry : entries) {
      last = std::max(last, entry.line);
      again(entry.inside, again);
    }
  };
  look(section.entries, look);
  return section.line <= line && line <= last;
}

}  // namespace

std::optional<std::size_t> Engine::State::row_of(const Problem& problem) const {
  for (std::size_t row = 0; row < document->rows().size(); ++row)
    if (document->file_of(row) == problem.file && holds(document->section(row), problem.line)) return row;
  return std::nullopt;
}

std::optional<std::size_t> Engine::State::table_of(const Problem& problem) const {
  const std::vector<Section>& tables = document->tables();
  for (std::size_t i = 0; i < tables.size(); ++i)
    if (problem.file == document->name() && holds(tables[i], problem.line)) return i;
  return std::nullopt;
}

const Tried& Engine::State::tried(std::size_t row) {
  if (!document || row >= document->rows().size())
    refuse_question("names a fitting that the job does not have");
  if (tried_row_ == row && (tried_carefully_ || !same_digits::careful())) return tried_;
  tried_carefully_ = same_digits::careful();
  tried_ = {};
  const FittingRequest* asked = request(row);
  if (asked == nullptr) {
    for (const Problem& problem : problems)
      if (const auto of = row_of(problem); !of || *of == row) tried_.problems.push_back(problem);
  } else {
    try {
      tried_.shaped = shape(*asked);
    } catch (...) {
      tried_.problems = why_not_made(*asked).problems;
    }
  }
  tried_row_ = row;
  return tried_;
}

const Shaped& Engine::State::made(std::size_t row) {
  const Tried& tried = this->tried(row);
  if (!tried.shaped) throw InputError(tried.problems);
  return *tried.shaped;
}

namespace {

std::vector<TextFile> files_in(const JsonValue& question) {
  const JsonValue* list = question.find("files");
  if (list == nullptr) return {{text_in(question, "name"), text_in(question, "text")}};
  if (!list->is_array()) refuse_question("has no list of files");
  std::vector<TextFile> files;
  for (const JsonValue& file : list->items) files.push_back({text_in(file, "name"), text_in(file, "text")});
  return files;
}

}  // namespace

void open_job(Engine::State& state, const JsonValue& question) {
  std::vector<TextFile> files = files_in(question);
  const JsonValue* as_job = question.find("as_job");
  if (as_job != nullptr && as_job->flag)
    for (TextFile& file : files) file = as_job_file(file);
  state.document = Document(files);
  state.read_job();
}

void change_job(Engine::State& state, const JsonValue& question) {
  const JsonValue* changes = question.find("changes");
  if (changes == nullptr || !changes->is_array()) refuse_question("has no list of changes");
  if (!state.document) refuse_question("changes a job before one is open");
  Document document = *state.document;
  for (const JsonValue& change : changes->items) document.apply(change);
  state.document = std::move(document);
  state.read_job();
}

}  // namespace linerwright
