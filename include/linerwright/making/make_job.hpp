// A whole job made: its fittings, each guarded against the others, their bore in the air that the job's runs
// carry, totals and boards. It needs no geometry kernel, folder or clock. What does - solids, STEP, proofs,
// files - a program hands in as steps of a Listener.
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/boards/planned_boards.hpp"
#include "linerwright/job/job.hpp"
#include "linerwright/making/shape_job.hpp"
#include "linerwright/report/board_folder.hpp"
#include "linerwright/report/bore.hpp"
#include "linerwright/report/totals.hpp"

namespace linerwright {

// The stock that all pieces are placed on, and how pieces may lie there.
struct JobBoards : JobStock {
  PieceRules pieces{};
  bool divided_anew = false;  // other divisions of large pieces are taken where they need less
};

// Of these fittings only the named pieces are placed on boards, each as often as it is named: tag -> pieces.
using NamedPieces = std::map<std::string, std::vector<std::string>>;

struct JobOptions {
  const Job* whole = nullptr;  // the job that this is a part of, whose runs carry the air; null: it is whole
  bool patterns = true;        // false: the bore alone is told, without totals and boards
  std::optional<BoreOptions> bore;
  std::optional<JobBoards> boards;
  NamedPieces pieces;
  DxfOptions dxf;  // of the boards
  int threads = 1;
  std::string version;  // of the program
};

// What a job keeps of one of its fittings.
struct JobFitting {
  std::string tag;
  std::optional<MakingFailed> failed;  // none: it is made
  std::vector<std::string> notes;      // what a step found that a person should know, a line each
  BoreReport bore;                     // of it alone
  TotalsRow needs;
  std::optional<std::string> division;  // that the boards chose; none: as it was asked for
};

struct JobResult {
  std::vector<FittingRequest> requests;  // as they are cut: with the divisions that the boards chose
  std::vector<JobFitting> fittings;      // of each request
  BoreReport bore;                       // of those that are made, and along the runs
  std::vector<Problem> run_problems;     // what is wrong with the runs
  JobTotals totals;                      // of the whole job
  DrawnBoards boards;                    // none where nothing was placed
  std::string division_note;             // what other divisions than even ones save; empty: there are none
  std::vector<std::string> notes;        // what a person should know, a line each
  std::vector<std::string> problems;     // what went wrong beside the fittings, a line each
  int exit_code = 0;                     // the worst of all

  // How many fittings are made.
  std::size_t well() const;
  // Does a step; what fails in it is told here, and the rest goes on.
  void guarded(const std::function<void()>& step);
};

// Steps that a program adds. Calls for different fittings may come from different threads; what a step throws
// is the failure of its fitting, or of its step alone where it is of the whole job.
class Listener {
 public:
  virtual ~Listener() = default;
  // Requests of the same word are made one after the other by one thread, so that they may share what they
  // have in common. Empty: it shares nothing.
  virtual std::string alike(std::size_t) { return {}; }
  virtual void begins(std::size_t) {}
  // The fitting is made, and what the job needs of it is known. Without patterns where none are asked for.
  virtual void shaped(std::size_t, const Shaped&) {}
  virtual void failed(std::size_t, const MakingFailed&) {}
  // All fittings have been shaped or have failed: what is still under way is waited for, and a fitting whose
  // step failed since is marked.
  virtual void settle(std::vector<JobFitting>&) {}
  // Before pieces are placed, and when all are. What these throw leaves the job without boards.
  virtual void before_boards() {}
  virtual void placed(JobResult&) {}
};

// Makes the requests of `job`. Nothing that one fitting or one step does ends it: what fails is told in the
// result.
JobResult make_job(const Job& job, const JobOptions& options, Listener& listener);

// Every piece that was named is one of its fitting's; throws InputError where one is not.
void require_pieces(const NamedPieces& pieces, const Shaped& shaped);

// Totals of a job without a fitting yet: its name, units and rules, and how many fittings its reader left
// out.
JobTotals empty_totals(const Job& job, const std::string& version);

// Tag and state of each fitting that was placed on the job's boards.
std::vector<std::pair<std::string, std::string>> placed_fittings(const JobResult& result);
// The job's folder of boards.
BoardFolder board_folder_of(const Job& job, const JobResult& result, const StickerSheet& stickers,
                            const std::string& version);

}  // namespace linerwright
