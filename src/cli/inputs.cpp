#include "inputs.hpp"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/units/error.hpp"
#include "read_jobs.hpp"

namespace linerwright {

namespace {

std::string flag_name(const std::string& key) {
  std::string flag =
      key == "thickness" ? "liner" : key;  // on the command line the liner's thickness is --liner
  std::replace(flag.begin(), flag.end(), '_', '-');
  return "--" + flag;
}

std::string help_of(const KeySpec& key) {
  std::string help = key.help;
  if (key.type == ValueType::choice) {
    help += " (";
    for (std::size_t i = 0; i < key.choices.size(); ++i) help += (i > 0 ? ", " : "") + key.choices[i];
    help += ")";
  }
  if (key.default_value && key.type != ValueType::flag) help += " [" + *key.default_value + "]";
  return help;
}

// What a flag takes, as --help shows it.
std::string type_of(const KeySpec& key) {
  if (key.type == ValueType::integer) return "COUNT";
  if (key.type != ValueType::quantity) return "WORD";
  switch (key.quantity) {
    case Quantity::length:
      return "LENGTH";
    case Quantity::angle:
      return "DEGREES";
    case Quantity::number:
      return "NUMBER";
    default:
      return "QUANTITY";
  }
}

// A bare length means nothing without a unit; the same text read in both systems then differs.
bool is_bare(const KeySpec& key, const std::string& text) {
  if (key.type != ValueType::quantity || key.quantity != Quantity::length) return false;
  try {
    const double metric = parse_quantity(Quantity::length, text, Units::metric);
    return metric != parse_quantity(Quantity::length, text, Units::inch);
  } catch (const std::invalid_argument&) {
    return false;  // the reader says what is wrong with it
  }
}

bool is_inch(const std::string& text) {
  return text.find_first_of("\"'") != std::string::npos || text.find("in") != std::string::npos ||
         text.find("ft") != std::string::npos;
}

Units named_units(const std::string& name) {
  return name == "in" ? Units::inch : Units::metric;
}

}  // namespace

// The keys of a kind, and those of the liner, as flags of its command.
void Inputs::add_keys(const KindSchema& schema, CLI::App& command) {
  const std::string kind = schema.kind;
  command.add_option("--tag", text_[kind]["tag"], "name of the fitting [" + kind + "]");
  command
      .add_option("--size-is", text_[kind]["size_is"],
                  "which diameter sizes state: metal (its inside), clear (what is left inside the liner) "
                  "or outside [metal]")
      ->group("The fitting");
  const auto add = [&](const KeySpec& key, const char* group) {
    CLI::Option* option = nullptr;
    if (key.type == ValueType::flag)
      option = command.add_flag(flag_name(key.name), flag_[kind][key.name], help_of(key));
    else if (key.many)
      option = command
                   .add_option(flag_name(key.name), many_[kind][key.name],
                               help_of(key) + "; repeat for several branches")
                   ->take_all();
    else
      option = command.add_option(flag_name(key.name), text_[kind][key.name], help_of(key));
    option->group(group);
    if (key.type != ValueType::flag) option->type_name(type_of(key));
  };
  for (const KeySpec& key : schema.keys) add(key, "The fitting");
  for (const KeySpec& key : job_schema().liner_keys) add(key, "The liner");
}

void Inputs::add_to(Program& program, CLI::App& command, const std::function<void()>& chosen,
                    const std::function<bool()>& excused) {
  command.add_option("JOB", files_, "job files (TOML) or schedules (CSV): several make one job");
  command.add_option("--units", units_, "what bare numbers mean, and what is printed: in or mm")
      ->check(CLI::IsMember({"in", "mm"}));
  command
      .add_option("--only", only_,
                  "only the fitting with this tag, or one piece of it as TAG/PIECE; may be repeated")
      ->take_all();
  command.add_option("--liner", liners_, "liner thickness of all fittings, in the place of the job's")
      ->expected(1)
      ->take_all();
  command.require_subcommand(0, 1);
  for (const KindSchema& schema : job_schema().kinds) {
    CLI::App* sub = command.add_subcommand(schema.kind, schema.summary);
    sub->fallthrough();
    program.when_named(*sub, [this, &schema, sub] { add_keys(schema, *sub); });
    sub->callback([this, kind = schema.kind, chosen] {
      kind_ = kind;
      chosen();
    });
  }
  command.callback([this, &command, chosen, excused] {
    if (!command.get_subcommands().empty()) return;
    if (files_.empty() && !(excused && excused()))
      throw CLI::RequiredError("a job file or a kind of fitting");
    chosen();
  });
}

std::optional<Units> Inputs::units() const {
  return units_.empty() ? std::nullopt : std::optional<Units>(named_units(units_));
}

Job Inputs::single() const {
  std::map<std::string, std::string> flags;
  for (const auto& [key, value] : text_.at(kind_))
    if (!value.empty()) flags[key] = value;
  if (const auto many = many_.find(kind_); many != many_.end())
    for (const auto& [key, values] : many->second) {
      std::string joined;
      for (const std::string& value : values) joined += (joined.empty() ? "" : " & ") + value;
      if (!joined.empty()) flags[key] = joined;
    }
  if (const auto flag = flag_.find(kind_); flag != flag_.end())
    for (const auto& [key, value] : flag->second)
      if (value) flags[key] = "true";
  if (flags.count("thickness") == 0 && !liners_.empty()) flags["thickness"] = liners_.front();

  Units units = named_units(units_);
  if (units_.empty()) {
    const auto find = [&](const std::string& name) -> const KeySpec* {
      for (const KindSchema& schema : job_schema().kinds)
        if (schema.kind == kind_)
          for (const KeySpec& key : schema.keys)
            if (key.name == name) return &key;
      for (const KeySpec& key : job_schema().liner_keys)
        if (key.name == name) return &key;
      return nullptr;
    };
    for (const auto& [name, value] : flags) {
      const KeySpec* key = find(name);
      if (key != nullptr && is_bare(*key, value))
        throw InputError({Problem{{},
                                  0,
                                  {},
                                  flag_name(name),
                                  value,
                                  "24in or 600mm, or add --units in or --units mm",
                                  "the number has no unit"}});
    }
    const auto diameter = flags.find("diameter");
    units = diameter != flags.end() && is_inch(diameter->second) ? Units::inch : Units::metric;
  }
  Job job;
  job.units = units;
  job.fittings.push_back(request_from_flags(kind_, flags, units, job_schema()));
  return job;
}

// Says where flags stand in the place of what the job says.
void Inputs::tell_overridden() const {
  if (liners_.empty()) return;
  JobDefaults defaults;
  defaults.units = units();
  std::size_t stated = 0;
  try {
    for (const FittingRequest& fitting : read_jobs(files_, defaults).fittings)
      stated += fitting.values.given("thickness") ? 1 : 0;
  } catch (const InputError&) {
    return;  // told when the job is read with its flags
  }
  if (stated > 0)
    fmt::print(
        stderr,
        "linerwright: note: --liner {} stands in the place of the thickness that the job states for {}\n",
        liners_.front(), stated == 1 ? "1 fitting" : fmt::format("{} fittings", stated));
}

Job Inputs::job(Job* whole) const {
  if (liners_.size() > 1)
    throw InputError({Problem{{},
                              0,
                              {},
                              "--liner",
                              liners_[1],
                              "one, or bore with a job file",
                              "is a second thickness: only a bore report sets several side by side"}});
  if (!kind_.empty()) {
    if (!only_.empty())
      throw InputError(
          {Problem{{}, 0, {}, "--only", only_.front(), {}, "picks fittings of a job file; there is none"}});
    Job job = single();
    if (whole != nullptr) *whole = job;
    return job;
  }
  JobDefaults defaults;
  defaults.units = units();
  if (!liners_.empty()) defaults.liner["thickness"] = liners_.front();
  Job job = read_jobs(files_, defaults);
  tell_overridden();
  apply_stock(job);
  if (whole != nullptr) *whole = job;
  return only_.empty() ? job : only_of(std::move(job));
}

// The fittings that --only names, in its order.
Job Inputs::only_of(Job job) const {
  std::vector<FittingRequest> kept;
  std::vector<Problem> missing;
  std::set<std::string> wanted;
  for (const std::string& named : only_) {
    const std::string tag = named.substr(0, named.find('/'));  // tags hold no slash
    if (!wanted.insert(tag).second) continue;
    const auto found = std::find_if(job.fittings.begin(), job.fittings.end(),
                                    [&](const FittingRequest& f) { return f.tag == tag; });
    const bool left_out =
        std::any_of(job.problems.begin(), job.problems.end(), [&](const Problem& p) { return p.tag == tag; });
    if (found != job.fittings.end()) {
      kept.push_back(*found);
    } else if (!left_out) {
      std::vector<std::string> tags;
      for (const FittingRequest& f : job.fittings) tags.push_back(f.tag);
      const std::string near = nearest_name(tag, tags);
      missing.push_back(
          {file(),
           0,
           {},
           "--only",
           named,
           {},
           "no fitting has this tag" + (near.empty() ? std::string() : "; did you mean " + near + "?")});
    }
  }
  if (!missing.empty()) throw InputError(missing);
  job.fittings = std::move(kept);
  job.problems.erase(std::remove_if(job.problems.begin(), job.problems.end(),
                                    [&](const Problem& p) { return wanted.count(p.tag) == 0; }),
                     job.problems.end());
  return job;
}

std::string Inputs::file() const {
  if (files_.size() < 2) return files_.empty() ? std::string() : files_.front();
  std::string names;
  for (const std::string& one : files_)
    names += (names.empty() ? "" : " + ") + std::filesystem::path(one).filename().string();
  return names;
}

std::map<std::string, std::vector<std::string>> Inputs::pieces() const {
  std::map<std::string, std::vector<std::string>> pieces;
  for (const std::string& named : only_)
    if (const std::size_t slash = named.find('/'); slash != std::string::npos)
      pieces[named.substr(0, slash)].push_back(named.substr(slash + 1));
  return pieces;
}

std::size_t report_left_out(const Job& job) {
  for (const std::string& note : job.notes) fmt::print(stderr, "linerwright: note: {}\n", note);
  std::set<std::pair<std::string, int>> fittings;  // by tag, or by line where there is none
  for (const std::string& line : lines_once(job.problems)) fmt::print(stderr, "linerwright: {}\n", line);
  for (const Problem& problem : job.problems) {
    fittings.insert({problem.file + "\n" + problem.tag, problem.tag.empty() ? problem.line : 0});
  }
  return fittings.size();
}

}  // namespace linerwright
