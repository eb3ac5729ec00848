#include "read_jobs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>

#include "linerwright/fitting/fitting.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace {

// What a file says of its own bare numbers: its fittings know it already.
bool of_its_file(const std::string& table, const std::string& key) {
  return table == "job" && (key == "units" || key == "size_is");
}

// What `more` states in its tables, into `all`; both may state the same, but not two things.
void add_tables(Job& all, const Job& more, std::vector<Problem>& problems) {
  for (const auto& [name, table] : more.tables) {
    if (name == "liner") continue;  // each file's own, and in its fittings already
    for (const auto& [key, value] : table.all()) {
      if (!value.given || of_its_file(name, key)) continue;
      const Value* other = all.tables[name].find(key);
      if (other != nullptr && other->given && other->data != value.data)
        problems.push_back({value.file, value.line, "", key, value.written, "",
                            fmt::format("[{}] says {} in {}:{}, and both are of one job", name,
                                        other->written, other->file, other->line)});
      all.tables[name].set(key, value);
    }
  }
  for (const auto& [name, list] : more.lists) {
    auto& mine = all.lists[name];
    mine.insert(mine.end(), list.begin(), list.end());
  }
}

}  // namespace

Job read_jobs(const std::vector<std::string>& files, const JobDefaults& defaults) {
  if (files.empty()) return {};
  Job all;
  std::vector<Problem> problems;
  std::map<std::string, std::string> tags;  // tag -> where it stands
  for (std::size_t i = 0; i < files.size(); ++i) {
    Job job;
    try {
      job = read_job(files[i], job_schema(), defaults);
    } catch (const InputError& error) {
      problems.insert(problems.end(), error.problems().begin(), error.problems().end());
      continue;
    }
    for (const FittingRequest& fitting : job.fittings) {
      const std::string where = fmt::format("{}:{}", fitting.file, fitting.line);
      const auto [first, is_new] = tags.emplace(fitting.tag, where);
      if (!is_new)
        problems.push_back(
            {fitting.file, fitting.line, "", "tag", fitting.tag, "", "repeats the tag of " + first->second});
    }
    if (i == 0) {
      all = std::move(job);
      continue;
    }
    if (!job.name.empty() && job.name != all.name) all.name += (all.name.empty() ? "" : " + ") + job.name;
    if (job.units != all.units)
      all.notes.push_back(fmt::format("{} is in {}; what is printed is in {}, as {} is", files[i],
                                      job.units == Units::inch ? "inches" : "mm",
                                      all.units == Units::inch ? "inches" : "mm", files.front()));
    add_tables(all, job, problems);
    std::move(job.fittings.begin(), job.fittings.end(), std::back_inserter(all.fittings));
    std::move(job.problems.begin(), job.problems.end(), std::back_inserter(all.problems));
    std::move(job.notes.begin(), job.notes.end(), std::back_inserter(all.notes));
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  return all;
}

}  // namespace linerwright
