// A whole job, from requests to folders, boards, totals and page: what `make` and `nest` do.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "linerwright/boards/boards.hpp"
#include "linerwright/job/job.hpp"
#include "linerwright/output/output.hpp"
#include "linerwright/report/board_sheets.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/report/totals.hpp"

namespace linerwright {

// What boards need beside their parts.
struct BoardSetup : JobStock {
  PieceRules pieces{};  // their division counts for a nest of the job alone
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

struct JobOptions {
  std::filesystem::path out;
  std::string file;                 // the job's; empty: a fitting that was asked for by flags
  bool folders = true;              // false: no folders of fittings, boards and totals alone
  bool write = true;                // false: nothing is written, for figures alone
  std::optional<BoardSetup> setup;  // place all pieces on boards
  std::filesystem::path planned;    // results whose boards say how pieces are divided; empty: out
  // Of these fittings only the named pieces are placed on boards, each as often as it is named: tag ->
  // pieces.
  std::map<std::string, std::vector<std::string>> pieces;
  OutputOptions output;
  std::optional<Paper> sheet_paper;  // of sheets.pdf; none: A4, letter where the job is in inches
  std::optional<Units> sheet_units;  // that its sheets are in; none: the job's
  JobShare share;
  int threads = 1;
  bool sync = true;     // wait for the disk before an earlier result makes way
  std::string version;  // of the program
};

class Listener {
 public:
  virtual ~Listener() = default;
  // Called for each fitting when it is made or has failed, one at a time, in any order.
  virtual void finished(const Made&) {}
};

struct JobResult {
  std::vector<Made> made;  // in the order of the requests; without files and checks
  BoreReport bore;         // of those that were made
  JobTotals totals;        // of the whole job
  BoardPlan plan;
  std::size_t well = 0;  // made or unchanged
  std::size_t unchanged = 0;
  std::vector<std::string> notes;     // what a person should know, a line each
  std::vector<std::string> problems;  // what went wrong beside the fittings, a line each
  int exit_code = 0;                  // the worst of all
};

// Makes the requests of `job`, which are some or all of those of `whole`. Nothing that one fitting does ends
// it: what fails is told in the result. Throws WriteError where <out> cannot be made or is held by another
// run.
JobResult make_job(const Job& job, const Job& whole, const JobOptions& options, Listener& listener);

// Writes the totals of shares that were made apart beside the results. Returns problems, a line each. Throws
// WriteError.
std::vector<std::string> write_joined(const JobTotals& totals, const std::filesystem::path& out);

}  // namespace linerwright
