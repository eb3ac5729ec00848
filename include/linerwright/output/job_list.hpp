// The list of what a job has made: <out>/made.json, or made-2-3.json of share 2 of 3. It remembers of every
// fitting of the job what lies in its folder, so that totals and page always speak of the whole job and a
// result that is older than the job can be told.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "linerwright/page/page.hpp"
#include "linerwright/report/totals.hpp"

namespace linerwright {

// A fitting of the job. The three states are check sums of the request, state_of().
struct ListedFitting {
  std::string tag;
  std::string kind;
  long count = 1;
  std::string asked;       // as the job says it now
  std::string made;        // what lies in its folder; empty: nothing was made
  std::string counted;     // what its figures for the totals are of; empty: there are none
  std::string failure;     // why it could not be made as asked; empty: it could, or nobody tried
  JobRow row;              // for the page, of what was made
  TotalsFigures each;      // the figures of one of them ...
  long counted_count = 1;  // ... and how many there were
};

// The boards as they were nested last.
struct ListedBoards {
  std::vector<std::pair<std::string, std::string>> of;  // tag and state of each fitting that was nested
  std::vector<TotalsStock> stock;
};

struct JobList {
  std::string job;   // its name; may be empty
  std::string file;  // of the job, without folders; empty: fittings that were asked for by flags
  std::vector<ListedFitting> fittings;  // in the job's order
  std::optional<ListedBoards> boards;
  std::vector<std::string> runs;  // folders of the runs that the job made last
  // Digests of the files beside the fittings, by name: what was to be written last, and what was there
  // before.
  std::map<std::string, std::vector<std::string>> beside;
};

// "made" of a whole job, "made-2-3" of share 2 of 3: the list's name without its ending.
std::string job_list_stem(std::size_t share, std::size_t of);
std::string job_list_json(const JobList& list);
// The list in `file`; nothing where there is none. Throws InputError where the file is no list of this
// program or was changed by somebody.
std::optional<JobList> read_job_list(const std::filesystem::path& file);

// What in an out folder is not of the job any more, or older than it, a line each, by the lists there; empty
// where there is no list. Lists that cannot be read are told, too.
std::vector<std::string> stale_results(const std::filesystem::path& out);

}  // namespace linerwright
