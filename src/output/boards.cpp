// The folder of boards on the disk.
#include "boards.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "contents.hpp"
#include "folder.hpp"
#include "linerwright/output/job_list.hpp"
#include "linerwright/output/remnants.hpp"
#include "linerwright/report/board_folder.hpp"
#include "linerwright/units/error.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

// Returns the files that somebody had changed and under which names they were kept.
std::map<std::string, std::string> write_folder(const BoardFolder& boards, const OutFolder& out) {
  if (holds_these(out.path() / k_boards_folder, k_boards_folder, Shelf::fittings, boards.digests,
                  boards.list))
    return {};
  NewFolder folder(out.path(), k_boards_folder);
  for (const auto& [name, bytes] : boards.files) folder.write(name, bytes);
  folder.write(k_board_list, boards.list);
  folder.carry();
  out.sync();
  folder.place();
  return folder.kept();
}

}  // namespace

std::vector<std::string> write_all_boards(const Job& job, const JobResult& result,
                                          const WriteOptions& options, const OutFolder& out) {
  const BoardPlan& plan = result.boards.plan;
  const std::string& key = options.boards->options.job;
  const BoardFolder boards = board_folder_of(job, result, options.board_files.stickers, options.version);
  take_remnants(options.board_files.remnants, plan, key, options.sync);
  std::vector<std::string> notes;
  for (const auto& [name, kept] : write_folder(boards, out))
    notes.push_back(fmt::format("{}/{}: was changed since it was written: that one is now called {}",
                                k_boards_folder, name, kept));
  for (std::string& note : write_remnants(options.out / k_boards_folder, plan, key, options.sync))
    notes.push_back(std::move(note));
  return notes;
}

void require_own_boards(const Job& job, const Job& whole, const WriteOptions& options,
                        const std::string& list_name) {
  const bool part = job.fittings.size() != whole.fittings.size() || !options.pieces.empty();
  if (!part || options.file.empty()) return;
  const std::optional<JobList> list = read_job_list(options.out / list_name);
  std::error_code error;
  if (!list || !list->boards || !fs::exists(options.out / k_boards_folder, error)) return;
  for (const auto& [tag, state] : list->boards->of) {
    const bool here = options.pieces.empty() &&
                      std::any_of(job.fittings.begin(), job.fittings.end(),
                                  [&, &name = tag](const FittingRequest& f) { return f.tag == name; });
    if (!here)
      throw InputError({Problem{
          {},
          0,
          {},
          "--only",
          job.fittings.front().tag,
          "another folder, with --out",
          fmt::format(
              "{} holds boards of more fittings than these: boards of a part of the job need a folder "
              "of their own",
              (options.out / k_boards_folder).string())}});
  }
}

}  // namespace linerwright
