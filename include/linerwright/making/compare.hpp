// Two revisions of a job: what changed, and which pieces that changes.
#pragma once

#include <string>
#include <vector>

#include "linerwright/job/job.hpp"

namespace linerwright {

// One fitting, by its tag, that is not the same in both. Pieces are named TAG/PIECE.
struct FittingChange {
  enum class What { added, gone, changed };
  What what = What::changed;
  std::string tag;
  std::string kind;
  long count = 0;                  // now; of one that is gone, as it was
  long count_before = 0;           // of one that changed
  std::vector<std::string> keys;   // "diameter 600mm -> 550mm"
  std::vector<std::string> again;  // pieces to cut again
  std::vector<std::string> fit;    // pieces that fit as they were cut
  std::vector<std::string> spare;  // pieces that are no longer needed
  std::string failure;             // why the pieces cannot be compared
};

struct JobComparison {
  std::size_t same = 0;
  std::vector<FittingChange> changes;  // in the order of the newer job, then those that are gone
};

// Stock has been applied to both. Never throws for a fitting that cannot be made: its change says why.
JobComparison compare_jobs(const Job& older, const Job& newer);

}  // namespace linerwright
