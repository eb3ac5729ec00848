// What lies in an out folder and is not what the job asks for now.
#include <rapidjson/document.h>

#include <algorithm>
#include <cstdio>
#include <set>

#include <fmt/format.h>

#include "contents.hpp"
#include "linerwright/output/job_list.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/units/error.hpp"
#include "stale.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// The state in a fitting.json; empty where there is none.
std::string state_in(const fs::path& folder) {
  std::error_code error;
  if (!fs::is_regular_file(folder / "fitting.json", error)) return {};
  rapidjson::Document json;
  const std::optional<std::string> text = json_text_of(folder / "fitting.json");
  if (!text) return {};
  json.Parse<rapidjson::kParseIterativeFlag>(text->c_str());
  if (json.HasParseError() || !json.IsObject() || !json.HasMember("state") || !json["state"].IsString())
    return {};
  return json["state"].GetString();
}

// made.json and the lists of shares.
std::vector<fs::path> lists_in(const fs::path& out) {
  std::vector<fs::path> lists;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(out, error)) {
    const std::string name = entry.path().filename().string();
    std::size_t share = 1;
    std::size_t of = 1;
    if (name == job_list_stem(1, 1) + ".json" ||
        (std::sscanf(name.c_str(), "made-%4zu-%4zu", &share, &of) == 2 &&
         name == job_list_stem(share, of) + ".json"))
      lists.push_back(entry.path());
  }
  std::sort(lists.begin(), lists.end());
  return lists;
}

std::string names_of(const std::vector<std::string>& names) {
  constexpr std::size_t k_shown = 8;
  std::string text;
  for (std::size_t i = 0; i < std::min(names.size(), k_shown); ++i) text += (i > 0 ? ", " : "") + names[i];
  if (names.size() > k_shown) text += fmt::format(" and {} more", names.size() - k_shown);
  return text;
}

void add_fitting(const fs::path& out, const ListedFitting& fitting, std::vector<std::string>& lines) {
  const fs::path folder = out / file_stem(fitting.tag);
  std::error_code error;
  if (!fs::exists(folder / "fitting.json", error)) {
    if (!fitting.made.empty()) lines.push_back(fitting.tag + ": its folder is gone; make it again");
  } else if (state_in(folder) != fitting.asked) {
    lines.push_back(
        fitting.tag +
        (fitting.failure.empty()
             ? ": its files are of an older state of the job; make it again"
             : ": its files are of an older state of the job: as it is now it could not be made"));
  }
}

}  // namespace

std::string older_boards(const ListedBoards& boards, const std::vector<ListedFitting>& fittings) {
  std::map<std::string, std::string> nested(boards.of.begin(), boards.of.end());
  std::vector<std::string> changed, missing, gone;
  for (const ListedFitting& fitting : fittings) {
    const auto found = nested.find(fitting.tag);
    if (found == nested.end()) {
      if (fitting.failure.empty()) missing.push_back(fitting.tag);
      continue;
    }
    if (found->second != fitting.asked) changed.push_back(fitting.tag);
    nested.erase(found);
  }
  for (const auto& [tag, state] : nested) gone.push_back(tag);
  std::string text;
  const auto add = [&](const char* what, const std::vector<std::string>& names) {
    if (!names.empty()) text += fmt::format("{}{}: {}", text.empty() ? "" : "; ", what, names_of(names));
  };
  add("changed since", changed);
  add("not on them", missing);
  add("not of the job any more", gone);
  return text;
}

std::vector<std::string> stale_results(const fs::path& out) {
  std::vector<std::string> lines;
  std::set<std::string> known;
  std::set<std::string> runs;
  const std::vector<fs::path> files = lists_in(out);
  if (files.empty()) return lines;
  for (const fs::path& file : files) {
    try {
      const std::optional<JobList> list = read_job_list(file);
      if (!list) continue;
      for (const ListedFitting& fitting : list->fittings) {
        known.insert(file_stem(fitting.tag));
        add_fitting(out, fitting, lines);
      }
      runs.insert(list->runs.begin(), list->runs.end());
      std::error_code error;
      if (!list->boards || !fs::exists(out / k_boards_folder, error)) continue;
      const std::string older = older_boards(*list->boards, list->fittings);
      if (!older.empty())
        lines.push_back(
            fmt::format("{}: of another state of the job ({}); nest again", k_boards_folder, older));
    } catch (const InputError& error) {
      lines.emplace_back(error.what());
    }
  }
  std::vector<std::string> others;
  for (const auto& entry : fs::directory_iterator(out)) {
    const std::string stem = entry.path().filename().string();
    if (stem.front() != '.' && stem != k_boards_folder && stem != k_runs_folder && stem != k_again_folder &&
        known.count(stem) == 0 && contents_of(entry.path(), stem))
      others.push_back(stem);
  }
  std::sort(others.begin(), others.end());
  for (const std::string& stem : others)
    lines.push_back(stem + ": is no fitting of the job that was made here last");
  others.clear();
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(out / k_runs_folder, error)) {
    const std::string stem = entry.path().filename().string();
    if (stem.front() != '.' && runs.count(stem) == 0 && fs::exists(entry.path() / "run.json", error))
      others.push_back(stem);
  }
  std::sort(others.begin(), others.end());
  for (const std::string& stem : others)
    lines.push_back(fmt::format("{}/{}: is no run of the job that was made here last", k_runs_folder, stem));
  return lines;
}

}  // namespace linerwright
