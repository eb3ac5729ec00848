#include <algorithm>
#include <filesystem>
#include <memory>

#include <fmt/format.h>

#include "commands.hpp"
#include "linerwright/check.hpp"
#include "linerwright/error.hpp"
#include "linerwright/produce.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

struct CheckArguments {
  std::vector<std::string> targets;
  std::string out = "models-out";
};

// Folders with a fitting.json: the folder itself or those right below it.
void add_folders(const fs::path& folder, std::vector<fs::path>& found) {
  if (fs::exists(folder / "fitting.json")) {
    found.push_back(folder);
    return;
  }
  std::vector<fs::path> below;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().filename().string().front() != '.' && fs::exists(entry.path() / "fitting.json"))
      below.push_back(entry.path());
  std::sort(below.begin(), below.end());
  found.insert(found.end(), below.begin(), below.end());
}

// A folder, a job file (its fittings' folders below --out) or a tag below --out.
std::vector<fs::path> folders_of(const CheckArguments& arguments) {
  std::vector<fs::path> found;
  std::vector<Problem> missing;
  const auto need = [&](const std::string& tag, const std::string& target) {
    const fs::path folder = fs::path(arguments.out) / file_stem(tag);
    if (fs::exists(folder / "fitting.json"))
      found.push_back(folder);
    else
      missing.push_back({{},
                         0,
                         tag,
                         {},
                         target,
                         {},
                         "nothing was made of it in " + arguments.out + "; run linerwright make first"});
  };
  for (const std::string& target : arguments.targets) {
    if (fs::is_directory(target)) {
      const std::size_t before = found.size();
      add_folders(target, found);
      if (found.size() == before) missing.push_back({target, 0, {}, {}, {}, {}, "holds no fitting"});
    } else if (fs::is_regular_file(target)) {
      const Job job = read_job(target, job_schema());
      for (const FittingRequest& request : job.fittings) need(request.tag, target);
    } else {
      need(target, target);
    }
  }
  if (!missing.empty()) throw InputError(missing);
  return found;
}

int run(const CheckArguments& arguments) {
  int failed = 0;
  int passed = 0;
  int notes = 0;
  for (const fs::path& folder : folders_of(arguments)) {
    ProduceOptions options;
    const FittingRequest request = request_from_json(folder / "fitting.json", &options);
    fmt::print("{}\n", request.tag);
    for (const CheckResult& result :
         check_fitting(make_fitting(request), {folder, file_stem(request.tag)}, options.dxf, options.mesh)) {
      fmt::print("  {}\n", one_line(result));
      ++(result.note ? notes : result.pass ? passed : failed);
    }
  }
  fmt::print("{} checks passed, {} failed{}\n", passed, failed,
             notes == 0   ? ""
             : notes == 1 ? ", 1 note"
                          : fmt::format(", {} notes", notes));
  return failed > 0 ? 1 : 0;
}

}  // namespace

void add_check(CLI::App& program, Action& action) {
  CLI::App* command = program.add_subcommand("check", "prove from the files on disk that what was made fits");
  auto arguments = std::make_shared<CheckArguments>();
  command->add_option("WHAT", arguments->targets, "folders, job files or tags")->required();
  command->add_option("--out", arguments->out, "folder that holds the results [models-out]");
  command->callback([&action, arguments] { action = [arguments] { return run(*arguments); }; });
}

}  // namespace linerwright
