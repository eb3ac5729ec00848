// The job's text, read and changed.
#include <algorithm>

#include "linerwright/error.hpp"
#include "state.hpp"

namespace linerwright {

namespace {

const KindSchema* kind_of(const Section& section) {
  for (const Entry& entry : section.entries)
    if (entry.key == "kind")
      for (const KindSchema& kind : job_schema().kinds)
        if (kind.kind == entry.text) return &kind;
  return nullptr;
}

// How a key of a fitting is written; null: as a text.
const KeySpec* spec_of(const KindSchema* kind, const std::string& key) {
  static const KeySpec count = [] {
    KeySpec spec;
    spec.name = "count";
    spec.type = ValueType::integer;
    return spec;
  }();
  if (key == "count") return &count;
  const auto among = [&](const std::vector<KeySpec>& keys) -> const KeySpec* {
    const auto found =
        std::find_if(keys.begin(), keys.end(), [&](const KeySpec& spec) { return spec.name == key; });
    return found == keys.end() ? nullptr : &*found;
  };
  if (kind != nullptr)
    if (const KeySpec* spec = among(kind->keys)) return spec;
  return among(job_schema().liner_keys);
}

const KindSchema* kind_named(const std::string& name) {
  for (const KindSchema& kind : job_schema().kinds)
    if (kind.kind == name) return &kind;
  return nullptr;
}

void add(JobText& text, const JsonValue& values) {
  if (!values.is_object()) refuse_question("has no values to add");
  const JsonValue* kind = values.find("kind");
  const KindSchema* schema = kind != nullptr && kind->is_text() ? kind_named(kind->text) : nullptr;
  std::vector<std::pair<std::string, std::string>> written;
  std::vector<const KeySpec*> specs;
  for (std::size_t i = 0; i < values.keys.size(); ++i) {
    if (!values.items[i].is_text()) refuse_question("adds a value that is no text");
    if (values.items[i].text.empty()) continue;
    written.emplace_back(values.keys[i], values.items[i].text);
    specs.push_back(spec_of(schema, values.keys[i]));
  }
  text.add(written, specs);
}

void apply(JobText& text, const JsonValue& change) {
  const std::string& what = text_in(change, "do");
  if (what == "add") {
    const JsonValue* values = change.find("values");
    if (values == nullptr) refuse_question("has no values to add");
    return add(text, *values);
  }
  const std::size_t row = row_in(change);
  if (row >= text.fittings().size()) refuse_question("names a fitting that the job does not have");
  if (what == "set") {
    const std::string& key = text_in(change, "key");
    text.set(row, key, text_in(change, "value"), spec_of(kind_of(text.fittings()[row]), key));
  } else if (what == "copy") {
    text.copy(row, text_in(change, "tag"));
  } else if (what == "remove") {
    text.remove(row);
  } else {
    refuse_question("changes in a way that is not known: " + what);
  }
}

// "rows" of "rows.CSV"; empty for any other ending.
std::string without_csv(const std::string& name) {
  constexpr std::size_t k_ending = 4;
  if (name.size() <= k_ending) return {};
  std::string ending = name.substr(name.size() - k_ending);
  for (char& c : ending)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return ending == ".csv" ? name.substr(0, name.size() - k_ending) : "";
}

// A schedule as a job's text: the same fittings with what their rows say.
std::string as_job_text(const Job& job, const std::string& name) {
  const char* units = job.units == Units::inch ? "in" : "mm";
  JobText text("[job]\nunits = \"" + std::string(units) + "\"\n", name);
  for (const FittingRequest& request : job.fittings) {
    const KindSchema* kind = kind_named(request.kind);
    std::vector<std::pair<std::string, std::string>> values{{"tag", request.tag}, {"kind", request.kind}};
    if (request.count != 1) values.emplace_back("count", std::to_string(request.count));
    for (const Values* each : {&request.values, &request.joining})
      for (const auto& [key, value] : each->all())
        if (value.given) values.emplace_back(key, value.written);
    std::vector<const KeySpec*> specs;
    for (const auto& [key, written] : values) specs.push_back(spec_of(kind, key));
    text.add(values, specs);
  }
  return text.text();
}

}  // namespace

void Engine::State::read_job() {
  job.reset();
  problems.clear();
  tried_row_.reset();
  try {
    job = read_job_text(text->text(), name, job_schema());
    apply_stock(*job);
    problems = job->problems;
  } catch (const InputError& error) {
    job.reset();
    problems = error.problems();
  }
}

const FittingRequest* Engine::State::request(std::size_t row) const {
  if (!job || row >= text->fittings().size()) return nullptr;
  const int line = text->fittings()[row].line;
  const auto found =
      std::find_if(job->fittings.begin(), job->fittings.end(),
                   [&](const FittingRequest& each) { return each.line == line && each.file == name; });
  return found == job->fittings.end() ? nullptr : &*found;
}

std::optional<std::size_t> Engine::State::row_of(const Problem& problem) const {
  const std::vector<Section>& rows = text->fittings();
  if (problem.file != name || problem.line <= 0 || rows.empty() || problem.line < rows.front().line)
    return std::nullopt;
  const auto after = std::find_if(rows.begin(), rows.end(),
                                  [&](const Section& section) { return section.line > problem.line; });
  const Section& row = *(after - 1);
  int last = row.line;
  for (const Entry& entry : row.entries) last = std::max(last, entry.line);
  if (problem.line > last) return std::nullopt;
  return static_cast<std::size_t>(after - rows.begin()) - 1;
}

const Tried& Engine::State::tried(std::size_t row) {
  if (!text || row >= text->fittings().size()) refuse_question("names a fitting that the job does not have");
  if (tried_row_ == row) return tried_;
  tried_ = {};
  const FittingRequest* asked = request(row);
  if (asked == nullptr) {
    for (const Problem& problem : problems)
      if (const auto of = row_of(problem); !of || *of == row) tried_.problems.push_back(problem);
  } else {
    try {
      Fitting fitting = make_fitting(*asked);
      tried_.patterns = make_patterns(fitting);
      tried_.fitting = std::move(fitting);
    } catch (const InputError& error) {
      tried_.problems = error.problems();
    } catch (const GeometryError& error) {
      tried_.problems.push_back({name, asked->line, asked->tag, "", "", "", error.what()});
    }
  }
  tried_row_ = row;
  return tried_;
}

const Tried& Engine::State::made(std::size_t row) {
  const Tried& tried = this->tried(row);
  if (!tried.fitting) throw InputError(tried.problems);
  return tried;
}

void open_job(Engine::State& state, const JsonValue& question) {
  const std::string& name = text_in(question, "name");
  const std::string& bytes = text_in(question, "text");
  const std::string stem = without_csv(name);
  if (!stem.empty()) {
    const Job job = read_job_text(bytes, name, job_schema());
    if (!job.problems.empty()) throw InputError(job.problems);
    const std::string toml = stem + ".toml";
    state.text.emplace(as_job_text(job, toml), toml);
    state.name = toml;
  } else {
    JobText text(bytes, name);
    state.text = std::move(text);
    state.name = name;
  }
  state.read_job();
}

void change_job(Engine::State& state, const JsonValue& question) {
  const JsonValue* changes = question.find("changes");
  if (changes == nullptr || !changes->is_array()) refuse_question("has no list of changes");
  if (!state.text) refuse_question("changes a job before one is open");
  JobText text = *state.text;
  for (const JsonValue& change : changes->items) apply(text, change);
  state.text = std::move(text);
  state.read_job();
}

}  // namespace linerwright
