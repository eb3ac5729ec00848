// Makes a job from its file by the library's folders without the kernel alone, and writes what it says of the
// whole job into a folder: totals, the boards, the bore. tests/cli/test_alone.py holds it against the
// program's.
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>

#include "linerwright/making/make_job.hpp"

namespace {

using namespace linerwright;

void put(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

int make(const std::string& file, const std::filesystem::path& out) {
  Job job = read_job(file, job_schema(), {});
  apply_stock(job);
  JobOptions options;
  options.bore.emplace();
  options.boards.emplace();
  static_cast<JobStock&>(*options.boards) = job_stock(job, file, file);
  options.boards->options.effort = k_effort_fill;
  options.boards->pieces.division = division_rules(table_of(job, "boards"), {}, {});
  options.boards->divided_anew = true;
  options.dxf = job_dxf(job, file);
  options.threads = 2;
  options.version = LINERWRIGHT_VERSION;
  Listener nobody;
  const JobResult result = make_job(job, options, nobody);
  std::filesystem::create_directories(out);
  put(out / "totals.json", totals_json(result.totals));
  put(out / "totals.csv", totals_csv(result.totals));
  put(out / "bore.csv", bore_csv(result.bore));
  const BoardFolder boards = board_folder_of(
      job, result, sticker_sheet(table_of(job, "stickers"), job.units, file), options.version);
  std::filesystem::create_directories(out / "boards");
  for (const auto& [name, bytes] : boards.files) put(out / "boards" / name, bytes);
  put(out / "boards" / k_board_list, boards.list);
  for (const JobFitting& fitting : result.fittings)
    if (fitting.failed)
      for (const std::string& line : fitting.failed->lines) std::printf("linerwright: %s\n", line.c_str());
  return result.exit_code;
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) return 64;
  try {
    return make(words[1], words[2]);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 70;
  }
}
