// A whole job on the disk, from requests to folders, boards, runs, totals and pages: what `make` and `nest`
// write.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/making/make_job.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/report/board_sheets.hpp"

namespace linerwright {

// What the folder of boards needs beside the boards.
struct BoardFiles {
  StickerSheet stickers{};
  std::vector<std::filesystem::path> remnants{};  // lists of remnants, whose stock is used first
};

// One of n shares of a job: every n-th fitting, beginning with the i-th.
struct JobShare {
  std::size_t i = 1;
  std::size_t n = 1;
};
// The share's fittings; the job's problems stay with the first share.
Job share_of(Job job, JobShare share);

struct WriteOptions {
  std::filesystem::path out;
  std::string file;                 // the job's; empty: a fitting that was asked for by flags
  bool folders = true;              // false: no folders of fittings, boards and totals alone
  std::optional<JobBoards> boards;  // place all pieces on boards
  BoardFiles board_files;
  std::filesystem::path planned;  // results whose boards say how pieces are divided; empty: out
  NamedPieces pieces;             // that are placed on boards
  OutputOptions output;
  std::optional<Paper> sheet_paper;  // of sheets.pdf; none: A4, letter where the job is in inches
  std::optional<Units> sheet_units;  // that its sheets are in; none: the job's
  JobShare share;
  int threads = 1;
  bool sync = true;     // wait for the disk before an earlier result makes way
  std::string version;  // of the program
};

class FolderListener {
 public:
  virtual ~FolderListener() = default;
  // Called for each fitting when its folder is in place or has failed, one at a time, in any order.
  virtual void finished(const Made&) {}
};

struct WrittenJob : JobResult {
  std::vector<Made> made;  // in the order of the requests; without files and checks
  std::size_t unchanged = 0;
};

// Makes the requests of `job`, which are some or all of those of `whole`, and writes them. Nothing that one
// fitting does ends it: what fails is told in the result. Throws WriteError where <out> cannot be made or is
// held by another run.
WrittenJob write_job(const Job& job, const Job& whole, const WriteOptions& options, FolderListener& listener);

// How many sheets a fitting's templates take where they are many, a line each; nothing of fittings that
// cannot be made.
std::vector<std::string> template_advice(const Job& job, const OutputOptions& options, int threads);

// Writes the totals of shares that were made apart beside the results. Returns problems, a line each. Throws
// WriteError.
std::vector<std::string> write_joined(const JobTotals& totals, const std::filesystem::path& out);

}  // namespace linerwright
