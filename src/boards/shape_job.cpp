#include "linerwright/boards/shape_job.hpp"

#include <exception>

#include "linerwright/units/error.hpp"
#include "linerwright/units/parallel.hpp"

namespace linerwright {

MakingFailed why_not_made(const std::string& tag) {
  MakingFailed why;
  try {
    throw;
  } catch (const InputError& error) {
    why.exit_code = 2;
    for (const Problem& problem : error.problems()) why.lines.push_back(one_line(problem));
  } catch (const std::exception& error) {
    why.lines.push_back(tag + ": " + error.what());
  } catch (...) {
    why.lines.push_back(tag + ": failed for a reason that is not known");
  }
  return why;
}

void shape_all(const std::vector<FittingRequest>& requests, int threads, Shaping& shaping) {
  in_parallel(requests.size(), threads, [&](std::size_t i) {
    shaping.begins(i);
    try {
      Fitting fitting = make_fitting(requests[i]);
      std::vector<Pattern> patterns = make_patterns(fitting);
      shaping.shaped(i, {std::move(fitting), std::move(patterns)});
    } catch (...) {
      shaping.failed(i, why_not_made(requests[i].tag));
    }
  });
}

PlannedBoards boards_of_job(std::vector<FittingRequest>& requests, const std::vector<BoardPart>& parts,
                            const JobStock& setup, const PieceRules* rules, Units units,
                            const DxfOptions& dxf) {
  PlannedBoards boards;
  boards.drawn = draw_boards(parts, setup.stock, setup.knife, setup.options, units, dxf);
  if (rules == nullptr) return boards;
  if (auto other = plan_boards(requests, parts, boards.drawn, setup, *rules, units, dxf))
    boards = std::move(*other);
  for (const auto& [i, shaped] : boards.divided) requests[i] = shaped.fitting.request;
  return boards;
}

}  // namespace linerwright
