// Proof of what stands beside a job's fittings: its boards, its totals and its bore report. Everything is
// held against the fittings made again from their own folders.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "linerwright/check/check.hpp"

namespace linerwright {

struct MadeAgain {
  Fitting fitting;
  std::vector<Pattern> patterns;
};
// The fitting of this tag as its folder says it was asked for; null where there is none.
using MakeAgain = std::function<std::shared_ptr<const MadeAgain>(const std::string& tag)>;

// A folder of boards: every board that boards.json names is there; its cuts, marks and labels are those of
// the pieces that it says lie there, each in its place, turned at most end for end and never mirrored, of the
// liner's thickness and the face that is up; every piece of every fitting is on a board as often as it is
// asked for; boards.csv and cutlist.csv say the same.
std::vector<CheckResult> check_boards(const std::filesystem::path& folder, const MakeAgain& again);

// Totals of a job (totals.json, and the table of the same name): each fitting's figures made again, the sums,
// and the table's cells. `tags` are the fittings that were made there.
std::vector<CheckResult> check_totals(const std::filesystem::path& json, const std::vector<std::string>& tags,
                                      const MakeAgain& again);

// The table of a job's bore report (bore.csv): every cell of the fittings that `again` makes, from what the
// table itself says of air, room and sizes, in the air that the job's runs bring (their folders).
std::vector<CheckResult> check_bore(const std::filesystem::path& csv, const MakeAgain& again,
                                    const std::vector<std::filesystem::path>& runs = {});

}  // namespace linerwright
