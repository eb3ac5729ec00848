#include "document.hpp"

#include <algorithm>
#include <set>

#include "linerwright/job/job_sources.hpp"
#include "linerwright/units/error.hpp"
#include "state.hpp"

namespace linerwright {

namespace {

const KindSchema* kind_named(const std::string& name) {
  for (const KindSchema& kind : job_schema().kinds)
    if (kind.kind == name) return &kind;
  return nullptr;
}

const KindSchema* kind_of(const Section& section) {
  for (const Entry& entry : section.entries)
    if (entry.key == "kind") return kind_named(entry.text);
  return nullptr;
}

const KeySpec* among(const std::vector<KeySpec>& keys, const std::string& name) {
  const auto found =
      std::find_if(keys.begin(), keys.end(), [&](const KeySpec& spec) { return spec.name == name; });
  return found == keys.end() ? nullptr : &*found;
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
  if (kind != nullptr)
    if (const KeySpec* spec = among(kind->keys, key)) return spec;
  return among(job_schema().liner_keys, key);
}

// The same of another table.
const KeySpec* spec_in_table(const std::string& table, const std::string& key) {
  if (table == "job") return among(job_keys(), key);
  if (table == "liner") return among(job_schema().liner_keys, key);
  for (const auto* all : {&job_schema().tables, &job_schema().lists})
    if (const auto found = all->find(table); found != all->end()) return among(found->second, key);
  return nullptr;
}

using Written = std::vector<std::pair<std::string, std::string>>;

// The values that say something.
Written values_in(const JsonValue& change) {
  const JsonValue* values = change.find("values");
  if (values == nullptr || !values->is_object()) refuse_question("has no values to add");
  Written written;
  for (std::size_t i = 0; i < values->keys.size(); ++i) {
    if (!values->items[i].is_text()) refuse_question("adds a value that is no text");
    if (!values->items[i].text.empty()) written.emplace_back(values->keys[i], values->items[i].text);
  }
  return written;
}

void add(JobText& text, const Written& values) {
  const auto kind =
      std::find_if(values.begin(), values.end(), [](const auto& value) { return value.first == "kind"; });
  const KindSchema* schema = kind == values.end() ? nullptr : kind_named(kind->second);
  std::vector<const KeySpec*> specs;
  for (const auto& [key, written] : values) specs.push_back(spec_of(schema, key));
  text.add(values, specs);
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

const TextFile& main_of(const std::vector<TextFile>& files) {
  const TextFile* found = nullptr;
  const auto refuse = [](const TextFile& file, const std::string& reason) {
    throw InputError({{file.name, 0, "", "", "", "", reason}});
  };
  for (const TextFile& file : files) {
    if (!without_csv(file.name).empty()) continue;
    if (found != nullptr)
      refuse(file,
             "is a second job file beside " + found->name + ": open one, with the schedules that it names");
    found = &file;
  }
  if (found != nullptr) return *found;
  if (files.empty()) refuse_question("opens no file");
  if (files.size() > 1) refuse(files[1], "is a second schedule: open the job file that names them as well");
  return files.front();
}

// The path of a schedule that a job names: found from the job file's folder.
std::string beside(const std::string& job, std::string written) {
  while (written.compare(0, 2, "./") == 0) written.erase(0, 2);
  const std::size_t folder = job.rfind('/');
  return folder == std::string::npos ? written : job.substr(0, folder + 1) + written;
}

// The file of that path among those given. Of files that were handed over one by one, without their folders,
// it is the one with the path's last name.
std::vector<TextFile>::const_iterator file_at(const std::vector<TextFile>& files, const std::string& path) {
  const auto named = [&](const std::string& name) {
    return std::find_if(files.begin(), files.end(), [&](const TextFile& file) { return file.name == name; });
  };
  const auto found = named(path);
  const bool loose = std::none_of(files.begin(), files.end(), [](const TextFile& file) {
    return file.name.find('/') != std::string::npos;
  });
  return found == files.end() && loose ? named(path.substr(path.rfind('/') + 1)) : found;
}

}  // namespace

const std::string& Document::File::text() const {
  if (const auto* job = std::get_if<JobText>(&content)) return job->text();
  if (const auto* schedule = std::get_if<ScheduleText>(&content)) return schedule->text();
  return std::get<std::string>(content);
}

Document::Document(const std::vector<TextFile>& files) {
  const TextFile& main = main_of(files);
  std::set<std::string> used{main.name};
  if (without_csv(main.name).empty())
    files_.push_back({main.name, JobText(main.text, main.name)});
  else
    files_.push_back({main.name, ScheduleText(main.text, main.name, job_schema())});
  for (const Section& table : tables()) {
    if (table.name != "schedule") continue;
    for (const Entry& entry : table.entries) {
      const std::string path = beside(main.name, entry.text);
      const auto given = file_at(files, path);
      const bool known =
          std::any_of(files_.begin(), files_.end(), [&](const File& file) { return file.name == path; });
      if (entry.key != "file" || given == files.end() || known) continue;
      used.insert(given->name);
      try {
        files_.push_back({path, ScheduleText(given->text, path, job_schema())});
      } catch (const InputError&) {
        files_.push_back({path, given->text});
      }
    }
  }
  for (const TextFile& file : files)
    if (used.count(file.name) == 0) unused_.push_back(file.name);
  find_rows();
}

void Document::find_rows() {
  rows_.clear();
  for (std::size_t f = 0; f < files_.size(); ++f) {
    std::size_t count = 0;
    if (const auto* job = std::get_if<JobText>(&files_[f].content)) count = job->fittings().size();
    if (const auto* schedule = std::get_if<ScheduleText>(&files_[f].content)) count = schedule->rows().size();
    for (std::size_t at = 0; at < count; ++at) rows_.push_back({f, at});
  }
}

std::vector<TextFile> Document::texts() const {
  std::vector<TextFile> all;
  for (const File& file : files_) all.push_back({file.name, file.text()});
  return all;
}

const std::string& Document::text_of(const std::string& name) const {
  for (const File& file : files_)
    if (beside({}, file.name) == beside({}, name)) return file.text();
  throw InputError({{name, 0, "", "", "", "", "there is no such file among those that were opened"}});
}

const Section& Document::section(std::size_t row) const {
  const auto [file, at] = rows_.at(row);
  if (const auto* job = std::get_if<JobText>(&files_[file].content)) return job->fittings()[at];
  return std::get<ScheduleText>(files_[file].content).rows()[at];
}

const std::vector<Section>& Document::tables() const {
  static const std::vector<Section> none;
  const auto* job = std::get_if<JobText>(&files_.front().content);
  return job == nullptr ? none : job->tables();
}

void Document::change_table(const JsonValue& change, const std::string& what) {
  auto* job = std::get_if<JobText>(&files_.front().content);
  const std::string& table = text_in(change, "table");
  if (job == nullptr)
    throw InputError(
        {{name(), 0, "", table, "", "", "a schedule has no tables: make a job file of it first"}});
  const bool listed = job_schema().lists.count(table) != 0 || table == "default" || table == "schedule";
  if (what == "add_table") {
    const Written values = values_in(change);
    std::vector<const KeySpec*> specs;
    for (const auto& [key, written] : values) specs.push_back(spec_in_table(table, key));
    return job->add_table(table, listed, values, specs);
  }
  // by its place among the tables of that name
  const std::size_t wanted = row_in(change, "index");
  std::size_t place = 0, met = 0;
  for (; place < tables().size(); ++place)
    if (tables()[place].name == table && met++ == wanted) break;
  const bool there = place < tables().size();
  if (what == "remove_table") {
    if (!there) refuse_question("names a table that the job does not have");
    return job->remove_table(place);
  }
  const std::string& key = text_in(change, "key");
  const std::string& value = text_in(change, "value");
  const KeySpec* spec = spec_in_table(table, key);
  if (there) return job->set_in_table(place, key, value, spec);
  if (!value.empty()) job->add_table(table, listed, {{key, value}}, {spec});
}

void Document::apply(const JsonValue& change) {
  const std::string& what = text_in(change, "do");
  auto* main = std::get_if<JobText>(&files_.front().content);
  if (what == "add") {
    const Written values = values_in(change);
    if (main != nullptr)
      add(*main, values);
    else
      std::get<ScheduleText>(files_.front().content).add(values);
  } else if (what == "set_table" || what == "add_table" || what == "remove_table") {
    change_table(change, what);
  } else {
    const std::size_t row = row_in(change, "fitting");
    if (row >= rows_.size()) refuse_question("names a fitting that the job does not have");
    const std::size_t file = rows_[row].file, at = rows_[row].at;
    const auto on = [&](auto& text, const KindSchema* kind) {
      if (what == "copy") return text.copy(at, text_in(change, "tag"));
      if (what == "remove") return text.remove(at);
      if (what != "set") refuse_question("changes in a way that is not known: " + what);
      const std::string& key = text_in(change, "key");
      if constexpr (std::is_same_v<std::decay_t<decltype(text)>, JobText>)
        text.set(at, key, text_in(change, "value"), spec_of(kind, key));
      else
        text.set(at, key, text_in(change, "value"));
    };
    if (auto* job = std::get_if<JobText>(&files_[file].content))
      on(*job, kind_of(job->fittings()[at]));
    else
      on(std::get<ScheduleText>(files_[file].content), nullptr);
  }
  find_rows();
}

TextFile as_job_file(const TextFile& schedule) {
  const std::string stem = without_csv(schedule.name);
  if (stem.empty()) return schedule;
  const Job job = read_job_text(schedule.text, schedule.name, job_schema());
  if (!job.problems.empty()) throw InputError(job.problems);
  const std::string name = stem + ".toml";
  const char* units = job.units == Units::inch ? "in" : "mm";
  JobText text("[job]\nunits = \"" + std::string(units) + "\"\n", name);
  for (const FittingRequest& request : job.fittings) {
    Written values{{"tag", request.tag}, {"kind", request.kind}};
    if (request.count != 1) values.emplace_back("count", std::to_string(request.count));
    for (const Values* each : {&request.values, &request.joining})
      for (const auto& [key, value] : each->all())
        if (value.given) values.emplace_back(key, value.written);
    add(text, values);
  }
  return {name, text.text()};
}

}  // namespace linerwright
