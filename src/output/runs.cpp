#include "runs.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <memory>

#include <fmt/format.h>

#include "contents.hpp"
#include "folder.hpp"
#include "linerwright/making/run_air.hpp"
#include "linerwright/report/bore_run.hpp"
#include "linerwright/run/run.hpp"
#include "linerwright/run/run_json.hpp"
#include "linerwright/units/digest.hpp"
#include "linerwright/units/error.hpp"
#include "options.hpp"
#include "run_files.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// What became of the runs.
struct MadeRuns {
  std::vector<std::string> notes;     // what a person should know of joints, a line each
  std::vector<std::string> problems;  // why a run was not made, a line each
  int exit_code = 0;
  std::vector<PageRun> made;  // for the page of the job
};

class RunMaker {
 public:
  RunMaker(const Job& whole, const JobList& list, const WriteOptions& options, const OutFolder& out)
      : whole_(whole), options_(options), out_(out) {
    for (const FittingRequest& request : whole.fittings) requests_[request.tag] = &request;
    for (const ListedFitting& fitting : list.fittings)
      if (fitting.failure.empty() && !fitting.made.empty() && fitting.made == fitting.asked)
        made_[fitting.tag] = nullptr;
  }

  MadeRuns all() {
    std::vector<Problem> problems;
    RunAir laid_in_air(
        whole_, [this](const std::string& tag) { return fitting(tag); }, problems);
    const std::vector<LaidRun>& laid = laid_in_air.laid();
    for (const Problem& problem : problems) result_.problems.push_back(one_line(problem));
    if (!problems.empty()) result_.exit_code = 2;
    if (laid.empty()) return std::move(result_);
    const OutFolder shelf(out_.path() / k_runs_folder, options_.sync, Shelf::runs);
    const std::vector<BoreRun>& losses = laid_in_air.runs();
    for (std::size_t i = 0; i < laid.size(); ++i) guarded(laid[i], losses[i], tree_of(laid, i), shelf);
    return std::move(result_);
  }

 private:
  const Job& whole_;
  const WriteOptions& options_;
  const OutFolder& out_;
  std::map<std::string, const FittingRequest*> requests_;
  std::map<std::string, std::shared_ptr<const Fitting>> made_;  // null until somebody asks
  MadeRuns result_;

  std::shared_ptr<const Fitting> fitting(const std::string& tag) {
    const auto found = made_.find(tag);
    if (found == made_.end()) return nullptr;
    if (!found->second) found->second = std::make_shared<const Fitting>(make_fitting(*requests_.at(tag)));
    return found->second;
  }

  const Values* air() const {
    const auto table = whole_.tables.find("air");
    return table == whole_.tables.end() ? nullptr : &table->second;
  }

  using Tree = std::vector<const LaidRun*>;

  // A run that starts from no other, and all that start from it and from those; runs follow what they start
  // from.
  static Tree tree_of(const std::vector<LaidRun>& laid, std::size_t root) {
    Tree tree;
    if (laid[root].run.from) return tree;
    for (std::size_t i = root; i < laid.size(); ++i) {
      const auto starts_from = [&](const LaidRun* run) {
        return std::any_of(run->branches.begin(), run->branches.end(),
                           [&](const auto& each) { return each.first == laid[i].run.name; });
      };
      if (i == root || std::any_of(tree.begin(), tree.end(), starts_from)) tree.push_back(&laid[i]);
    }
    return tree;
  }

  void guarded(const LaidRun& run, const BoreRun& losses, const Tree& tree, const OutFolder& shelf) {
    const auto failed = [&](const std::string& why, int code) {
      result_.problems.push_back(fmt::format("run {}: {}", run.run.name, why));
      result_.exit_code = std::max(result_.exit_code, code);
    };
    try {
      write(run, losses, tree, shelf);
      result_.made.push_back(row_of(run));
      for (const RunNote& note : run.notes)
        result_.notes.push_back(fmt::format("run {}: {}", run.run.name, note.text));
    } catch (const WriteError& error) {
      failed(error.what(), 3);
    } catch (const std::exception& error) {
      failed(error.what(), 1);
    }
  }

  PageRun row_of(const LaidRun& run) const {
    const std::string stem = file_stem(run.run.name);
    const std::string beside = fmt::format("{}/{}/{}", k_runs_folder, stem, stem);
    const bool picture = options_.output.pages && !options_.output.patterns_only;
    return {run.run.name,
            fmt::format("{}, {} fittings", format_quantity(Quantity::length, run.length, run.run.units, 1),
                        run.fittings.size()),
            options_.output.pages ? beside + ".html" : "", picture ? beside + ".svg" : ""};
  }

  // A check sum of all that the run's files are made from.
  std::string made_from_of(const LaidRun& run, const BoreRun& losses, const Tree& tree) const {
    JsonWriter json;
    json.begin_object();
    write_run(json, run);
    write_run_losses(json, losses);
    json.end_object();
    std::string all = json.str();
    for (const LaidRun* other : tree)
      if (other != &run) all += made_from_of(*other, {}, {});
    if (air() != nullptr)
      for (const auto& [key, value] : air()->all()) all += key + " = " + value.written + "\n";
    for (const Placed& placed : run.fittings)
      all += made_from(*requests_.at(placed.part.tag), options_.output, true) + "\n";
    return digest(all);
  }

  std::string list_of(const LaidRun& run, const BoreRun& losses, const std::string& from,
                      const RunContents& made, std::vector<std::string> files,
                      const Contents& digests) const {
    files.emplace_back("run.json");
    JsonWriter json;
    json.begin_object();
    json.key("format").integer(k_json_format);
    write_run(json, run);
    json.key("loss").begin_object();
    write_run_losses(json, losses);
    json.end_object();
    made.write(json);
    json.key("made_from").text(from);
    json.key("options").begin_object();
    write_options(json, options_.output);
    json.end_object();
    write_contents(json, files, digests);
    write_seal(json);
    json.end_object();
    return sealed(json.str());
  }

  // The earlier result was made from the same, and is still there.
  bool is_same(const fs::path& folder, const std::string& stem, const std::string& from) const {
    if (options_.output.force) return false;
    const std::optional<Contents> there = contents_of(folder, stem, Shelf::runs);
    if (!there) return false;
    const std::string text = bytes_of_file(folder / "run.json");
    if (text.find(fmt::format("\"made_from\": \"{}\"", from)) == std::string::npos || !seal_holds(text))
      return false;
    std::error_code error;
    for (const auto& [name, sum] : *there)
      if (!fs::is_regular_file(folder / name, error) ||
          (!sum.empty() && digest_of_file(folder / name) != sum))
        return false;
    return true;
  }

  void write(const LaidRun& run, const BoreRun& losses, const Tree& tree, const OutFolder& shelf) {
    const std::string stem = file_stem(run.run.name);
    const std::string from = made_from_of(run, losses, tree);
    if (is_same(shelf.path() / stem, stem, from)) return;
    NewFolder folder(shelf.path(), stem, Shelf::runs);
    const RunContents made = write_run_files(folder, stem, run, losses, options_.output, tree);
    const std::vector<std::string> files = folder.files();
    folder.write("run.json", list_of(run, losses, from, made, files, folder.digests()));
    folder.carry();
    shelf.sync();
    folder.place();
    for (const auto& [name, kept] : folder.kept())
      result_.notes.push_back(
          fmt::format("{}/{}/{}: was changed since it was written: that one is now called {}", k_runs_folder,
                      stem, name, kept));
  }
};

}  // namespace

namespace {

// Folders of runs that this job did not make now.
void note_older(const fs::path& shelf, const std::vector<PageRun>& made, std::vector<std::string>& notes) {
  std::error_code error;
  std::vector<std::string> older;
  for (const auto& entry : fs::directory_iterator(shelf, error)) {
    const std::string stem = entry.path().filename().string();
    if (stem.front() == '.' || !fs::exists(entry.path() / "run.json", error)) continue;
    if (std::none_of(made.begin(), made.end(),
                     [&](const PageRun& run) { return file_stem(run.name) == stem; }))
      older.push_back(stem);
  }
  std::sort(older.begin(), older.end());
  for (const std::string& stem : older)
    notes.push_back(fmt::format("{}/{}: is of an older state of the job, or of another one; its folder stays",
                                k_runs_folder, stem));
}

}  // namespace

std::vector<PageRun> add_runs(const Job& whole, JobList& list, const WriteOptions& options,
                              const OutFolder& out, JobResult& result) {
  const fs::path shelf = out.path() / k_runs_folder;
  list.runs.clear();
  if (!RunAir::asked_for(whole)) {
    note_older(shelf, {}, result.notes);
    return {};
  }
  if (options.share.n > 1) {
    result.notes.emplace_back("a share makes no runs: make the whole job for them");
    return {};
  }
  MadeRuns runs = RunMaker(whole, list, options, out).all();
  for (const PageRun& run : runs.made) list.runs.push_back(file_stem(run.name));
  note_older(shelf, runs.made, runs.notes);
  std::move(runs.notes.begin(), runs.notes.end(), std::back_inserter(result.notes));
  std::move(runs.problems.begin(), runs.problems.end(), std::back_inserter(result.problems));
  result.exit_code = std::max(result.exit_code, runs.exit_code);
  return std::move(runs.made);
}

}  // namespace linerwright
