#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "default_values.hpp"
#include "fitting_check.hpp"
#include "linerwright/job/choice.hpp"
#include "linerwright/job/job.hpp"
#include "linerwright/job/job_sources.hpp"
#include "linerwright/job/toml_file.hpp"
#include "listed_parts.hpp"
#include "names.hpp"
#include "schedule.hpp"
#include "text_file.hpp"
#include "units_said.hpp"
#include "written.hpp"

namespace linerwright {

namespace {

bool is_schedule(const std::filesystem::path& file) {
  return key_form(file.extension().string()) == ".csv";
}

std::vector<KeySpec> schedule_keys() {
  KeySpec file;
  file.name = "file";
  file.type = ValueType::text;
  file.help = "the schedule, a .csv file";
  return {file};
}

// Everything while a job is put together.
struct Reading {
  const JobSchema& schema;
  const JobDefaults& defaults;
  std::filesystem::path file;
  Job job;
  std::optional<Units> units;
  std::vector<Problem> outer;  // mistakes outside fittings
  std::optional<Problem> unit_needed;
  std::vector<Section> fittings;
  FileReader schedules = read_text_file;

  Checker checker() { return {file.string(), "", units, &outer, &unit_needed}; }
};

std::vector<std::string> table_names(const JobSchema& schema) {
  std::vector<std::string> names = {"job", "liner"};
  for (const auto& [name, keys] : schema.tables) names.push_back(name);
  for (const auto& [name, keys] : schema.lists) names.push_back(name);
  names.insert(names.end(), {"default", "schedule", "fitting"});
  return names;
}

bool is_list(const std::string& name, const JobSchema& schema) {
  return name == "fitting" || name == "schedule" || name == "default" || schema.lists.count(name) != 0;
}

// [name] for a table, [[name]] for a list of tables.
std::string head(const std::string& name, bool list) {
  return list ? "[[" + name + "]]" : "[" + name + "]";
}

// Tables of unknown name, keys outside tables, tables written twice.
void check_layout(const std::vector<Section>& sections, Reading& reading) {
  const std::vector<std::string> known = table_names(reading.schema);
  std::vector<std::string> heads;
  for (const std::string& name : known) heads.push_back(head(name, is_list(name, reading.schema)));
  const Checker checker = reading.checker();
  for (const Section& section : sections) {
    if (section.name.empty()) {
      for (const Entry& entry : section.entries) {
        const bool table = std::find(known.begin(), known.end(), entry.key) != known.end();
        checker.note(entry, "",
                     table ? "is a table: write " + head(entry.key, is_list(entry.key, reading.schema))
                           : "stands outside any table: it belongs under " + joined(heads));
      }
    } else if (std::find(known.begin(), known.end(), section.name) == known.end()) {
      reading.outer.push_back({checker.file, section.line, "", head(section.name, section.listed), "",
                               joined(heads), unknown("table", section.name, known)});
    } else if (section.listed && !is_list(section.name, reading.schema)) {
      reading.outer.push_back({checker.file, section.line, "", head(section.name, true), "", "",
                               "is one table: write " + head(section.name, false) + " once"});
    }
  }
}

const Section* find(const std::vector<Section>& sections, const std::string& name) {
  const auto found = std::find_if(sections.begin(), sections.end(), [&](const Section& section) {
    return section.name == name && !section.listed;
  });
  return found == sections.end() ? nullptr : &*found;
}

// The section's values against `keys`; `written` receives the keys met.
Values checked(const Section& section, const std::vector<const KeySpec*>& keys,
               std::set<std::string>& written, Reading& reading) {
  return reading.checker().values(section.entries, keys, written, [&](const std::string& key) {
    return unknown("key of " + head(section.name, is_list(section.name, reading.schema)), key,
                   names_of(keys));
  });
}

void read_job_table(const std::vector<Section>& sections, Reading& reading, FittingRules& rules) {
  reading.units = reading.defaults.units;
  if (const Section* section = find(sections, "job")) {
    std::set<std::string> written;
    const Values values = checked(*section, pointers(job_keys()), written, reading);
    if (values.has("name")) reading.job.name = values.text("name");
    if (values.has("units")) reading.units = chosen(values, "units", k_units_choices);
    if (values.has("size_is")) rules.size_is = values.text("size_is");
    // Units written wrongly are one mistake, not one for each bare number.
    if (written.count("units") != 0 && !values.has("units")) reading.units = Units::metric;
    reading.job.tables["job"] = values;
  }
}

// [liner]: what it says, unless a flag says it; the rest of its keys stay open to each fitting.
void read_liner(const std::vector<Section>& sections, Reading& reading, FittingRules& rules) {
  const std::vector<const KeySpec*> keys = pointers(reading.schema.liner_keys);
  if (const Section* section = find(sections, "liner")) {
    rules.liner = checked(*section, keys, rules.liner_written, reading);
  }
  std::vector<Entry> flags;
  for (const auto& [key, written] : reading.defaults.liner) {
    Entry entry;
    entry.key = key_form(key);
    entry.written = entry.text = written;
    flags.push_back(entry);
  }
  Checker checker = reading.checker();
  checker.file.clear();
  if (reading.defaults.units) checker.units = reading.defaults.units;
  const Values from_flags = checker.values(flags, keys, rules.liner_flags, [&](const std::string& key) {
    return unknown("liner flag", key, names_of(keys));
  });
  rules.liner_written.insert(rules.liner_flags.begin(), rules.liner_flags.end());
  for (const auto& [key, value] : from_flags.all()) rules.liner.set(key, value);
  for (const KeySpec* key : keys) {
    if (key->default_value && rules.liner_written.count(key->name) == 0) {
      rules.liner.set(key->name, default_of(*key, reading.job.units));
    }
  }
  reading.job.tables["liner"] = rules.liner;
}

void read_tables(const std::vector<Section>& sections, Reading& reading) {
  for (const auto& [name, specs] : reading.schema.tables) {
    const std::vector<const KeySpec*> keys = pointers(specs);
    std::set<std::string> written;
    Values values;
    if (const Section* section = find(sections, name)) {
      values = checked(*section, keys, written, reading);
      reading.checker().complete(values, keys, written, section->line);
    } else {
      // A table that is not written holds its defaults; its required keys are required once it is.
      for (const KeySpec* key : keys) {
        if (key->default_value) values.set(key->name, default_of(*key, reading.job.units));
      }
    }
    reading.job.tables[name] = std::move(values);
  }
}

// One Values for each [[name]].
std::vector<Values> read_list(const std::vector<Section>& sections, const std::string& name,
                              const std::vector<KeySpec>& specs, Reading& reading) {
  const std::vector<const KeySpec*> keys = pointers(specs);
  std::vector<Values> list;
  for (const Section& section : sections) {
    if (section.name != name) continue;
    std::set<std::string> written;
    Values values = checked(section, keys, written, reading);
    reading.checker().complete(values, keys, written, section.line);
    list.push_back(std::move(values));
  }
  return list;
}

// The rows of a schedule; returns the units it declares.
std::optional<Units> add_schedule(std::string_view text, const std::string& file, Reading& reading) {
  Schedule schedule = read_schedule(text, file, reading.schema);
  reading.outer.insert(reading.outer.end(), schedule.problems.begin(), schedule.problems.end());
  std::move(schedule.rows.begin(), schedule.rows.end(), std::back_inserter(reading.fittings));
  return schedule.units;
}

// [[schedule]]: the rows of other files. A file that cannot be read is a mistake of the job.
void read_schedules(const std::vector<Section>& sections, Reading& reading) {
  constexpr std::size_t k_most_schedules = 100;
  std::size_t schedules = 0;
  for (const Values& values : read_list(sections, "schedule", schedule_keys(), reading)) {
    const Value* written = values.find("file");
    if (written == nullptr) continue;
    const std::filesystem::path path = reading.file.parent_path() / std::filesystem::u8path(written->written);
    if (!is_schedule(path)) {
      reading.outer.push_back({reading.file.string(), written->line, "", "file", written->written,
                               "a file that ends in .csv", "is not a schedule"});
      continue;
    }
    if (++schedules > k_most_schedules || reading.fittings.size() > k_most_fittings) {
      reading.outer.push_back({reading.file.string(), written->line, "", "file", written->written, "",
                               fmt::format("is too much for one job: over {} schedules or {} fittings",
                                           k_most_schedules, k_most_fittings)});
      return;
    }
    try {
      const std::string name = path.string();
      const std::string text = reading.schedules(name);
      add_schedule(checked_utf8(text, name), name, reading);
    } catch (const InputError& error) {
      reading.outer.insert(reading.outer.end(), error.problems().begin(), error.problems().end());
    }
  }
}

// The main file's problems first, each file's in the order of its lines.
void sort_problems(std::vector<Problem>& problems, const std::string& main_file) {
  std::stable_sort(problems.begin(), problems.end(), [&](const Problem& a, const Problem& b) {
    const bool a_other = a.file != main_file;
    const bool b_other = b.file != main_file;
    if (a_other != b_other) return b_other;
    return a.file != b.file ? a.file < b.file : a.line < b.line;
  });
}

// Units that nobody states are those of the lengths, where all name the same.
void settle_units(Reading& reading) {
  const bool stated =
      reading.units || std::any_of(reading.fittings.begin(), reading.fittings.end(),
                                   [](const Section& section) { return section.units.has_value(); });
  if (stated || !all_in_inches(reading.job)) return;
  reading.job.units = Units::inch;
  for (FittingRequest& fitting : reading.job.fittings) fitting.units = Units::inch;
}

Job finished(Reading& reading, FittingRules& rules, DefaultsOfKinds defaults) {
  for (Section& section : reading.fittings) {
    defaults.fill_in(section, reading.units);
    Checker checker{section.file, "", section.units ? section.units : reading.units, &reading.job.problems,
                    &reading.unit_needed};
    join_listed_parts(section, checker.units);
    if (auto request = check_fitting(section, rules, checker)) {
      reading.job.fittings.push_back(std::move(*request));
    }
  }
  settle_units(reading);
  reading.job.notes = defaults.notes();
  for (const auto& [size_is, tags] : rules.converted)
    reading.job.notes.push_back(
        fmt::format("sizes of {} are {}", told_tags(tags),
                    size_is == "clear" ? "stated clear: the metal is larger by twice the liner"
                                       : "the metal's outside: its inside is smaller by twice the gauge"));
  if (reading.unit_needed) {
    reading.unit_needed->reason = "a number without unit: say ";
    reading.unit_needed->reason += is_schedule(reading.unit_needed->file)
                                       ? "# units = in or # units = mm above the head line"
                                       : "units = \"in\" or units = \"mm\" in [job]";
    reading.outer.push_back(*reading.unit_needed);
  }
  const std::string name = reading.file.string();
  if (reading.fittings.empty() && reading.outer.empty()) {
    reading.outer.push_back({name, 0, "", "", "", "",
                             is_schedule(reading.file)
                                 ? "holds no fittings: no row stands under the head line"
                                 : "holds no fittings: add a [[fitting]] table"});
  }
  if (!reading.outer.empty()) {
    std::vector<Problem> all = std::move(reading.outer);
    all.insert(all.end(), reading.job.problems.begin(), reading.job.problems.end());
    sort_problems(all, name);
    throw InputError(std::move(all));
  }
  sort_problems(reading.job.problems, name);
  return std::move(reading.job);
}

Job read_with(Reading& reading, std::string_view text) {
  const std::filesystem::path& file = reading.file;
  const JobSchema& schema = reading.schema;
  const std::string name = file.string();
  FittingRules rules{&schema, {}, {}, {}, {}};
  const std::string ending = key_form(file.extension().string());
  if (ending == ".xlsx" || ending == ".xlsm" || ending == ".tsv" || text.substr(0, 4) == "PK\x03\x04")
    throw InputError({{name, 0, "", "", "", "linerwright read " + name + " --out job.toml",
                       "is a spreadsheet, not a job file"}});
  const std::string_view content = checked_utf8(text, name);
  std::vector<Section> sections;
  if (!is_schedule(file)) sections = read_toml(content, name);
  check_layout(sections, reading);
  read_job_table(sections, reading, rules);
  if (is_schedule(file)) {
    if (const auto units = add_schedule(content, name, reading)) reading.units = units;
  }
  reading.job.units = reading.units.value_or(Units::metric);
  read_liner(sections, reading, rules);
  read_tables(sections, reading);
  for (const auto& [list, keys] : schema.lists)
    reading.job.lists[list] = read_list(sections, list, keys, reading);
  for (const Section& section : sections) {
    if (section.name == "fitting") reading.fittings.push_back(section);
  }
  read_schedules(sections, reading);
  return finished(reading, rules, DefaultsOfKinds(sections, schema, reading.checker()));
}

}  // namespace

Job read_job_text(std::string_view text, const std::filesystem::path& file, const JobSchema& schema,
                  const JobDefaults& defaults) {
  Reading reading{schema, defaults, file, {}, {}, {}, {}, {}};
  return read_with(reading, text);
}

Job read_job_from(std::string_view text, const std::string& file, const JobSchema& schema,
                  const FileReader& schedules) {
  const JobDefaults none;
  Reading reading{schema, none, file, {}, {}, {}, {}, {}, schedules};
  return read_with(reading, text);
}

std::string job_file_bytes(const std::filesystem::path& file) {
  return read_text_file(file);
}

Job read_job(const std::filesystem::path& file, const JobSchema& schema, const JobDefaults& defaults) {
  return read_job_text(read_text_file(file), file, schema, defaults);
}

Values table_from_flags(const std::vector<KeySpec>& specs, const std::map<std::string, std::string>& flags,
                        std::optional<Units> units) {
  const std::vector<const KeySpec*> keys = pointers(specs);
  std::vector<Entry> entries;
  for (const auto& [key, written] : flags) {
    Entry entry;
    entry.key = key_form(key);
    entry.written = entry.text = written;
    entries.push_back(entry);
  }
  std::vector<Problem> problems;
  std::optional<Problem> unit_needed;
  const Checker checker{"", "", units, &problems, &unit_needed};
  std::set<std::string> written;
  Values values = checker.values(
      entries, keys, written, [&](const std::string& key) { return unknown("flag", key, names_of(keys)); });
  checker.complete(values, keys, written, 0);
  if (unit_needed) {
    unit_needed->reason = "a number without unit: write 48in or 1220mm, or add --units in or --units mm";
    problems.push_back(*unit_needed);
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return values;
}

FittingRequest request_from_flags(const std::string& kind, const std::map<std::string, std::string>& flags,
                                  Units units, const JobSchema& schema) {
  Section section;
  section.name = "fitting";
  for (const auto& [key, written] : flags) {
    Entry entry;
    entry.key = key_form(key);
    entry.written = entry.text = written;
    section.entries.push_back(entry);
  }
  const auto add = [&](const std::string& key) {
    Entry entry;
    entry.key = key;
    entry.written = entry.text = kind_named(kind, schema).kind;
    section.entries.push_back(entry);
  };
  const bool has_tag = flags.count("tag") != 0;
  if (!has_tag) add("tag");
  add("kind");
  FittingRules rules{&schema, {}, {}, {}, {}};
  std::vector<Problem> problems;
  std::optional<Problem> unit_needed;
  auto request = check_fitting(section, rules, {"", "", units, &problems, &unit_needed});
  if (!request) {
    // A tag that nobody wrote tells nobody anything.
    for (Problem& problem : problems) problem.tag = has_tag ? problem.tag : "";
    throw InputError(std::move(problems));
  }
  return *request;
}

}  // namespace linerwright
