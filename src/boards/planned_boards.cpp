#include "linerwright/boards/planned_boards.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "board_moves.hpp"
#include "linerwright/job/request_state.hpp"
#include "linerwright/job/toml_file.hpp"
#include "linerwright/units/parallel.hpp"

namespace linerwright {

namespace {

constexpr const char* k_key = "division";

// A planned division is no line of a file: a stated one is.
bool is_planned(const FittingRequest& request) {
  const Value* value = request.values.find(k_key);
  return value != nullptr && !value->given;
}

// The state of the fitting that its division is planned for: as it is without one.
std::string state_undivided(const FittingRequest& request) {
  FittingRequest whole = request;
  Values values;
  for (const auto& [key, value] : request.values.all())
    if (key != k_key) values.set(key, value);
  whole.values = std::move(values);
  return state_of(whole);
}

// Whether other boards leave fewer pieces over, or cost less.
bool less(const BoardPlan& a, const BoardPlan& b) {
  if (a.problems.size() != b.problems.size()) return a.problems.size() < b.problems.size();
  return plan_cost(a) < plan_cost(b) * (1.0 - 1e-9);
}

// Whether the pieces' area alone needs as many boards, however they are divided.
bool fills_its_boards(const BoardPlan& plan) {
  if (plan.boards.empty()) return true;
  if (plan.stock.size() != 1) return plan.boards.size() == 1 && !plan.stock[plan.boards.front().stock].roll;
  if (plan.stock.front().roll) return false;  // every length that is saved counts
  if (plan.boards.size() == 1) return true;
  const BoardStock& stock = plan.stock.front();
  const double room = stock.room().x * stock.room().y;
  return plan.piece_area > room * static_cast<double>(plan.boards.size() - 1);
}

// Blanks give way to their pieces.
void scatter(Cutting& cutting, const std::vector<FittingRequest>& requests) {
  for (std::size_t i = 0; i < requests.size(); ++i)
    if (!requests[i].tag.empty()) cutting.one_by_one[i] = requests[i].count;
}

// The fittings divided as planned beside what is stated already. Of a division whose seams find no place in
// the end the fitting stays as it was.
Cutting divided(Cutting cutting, const std::vector<FittingRequest>& requests, PlannedDivisions planned,
                int threads) {
  std::vector<std::pair<std::size_t, std::shared_ptr<const Shaped>>> all;
  for (auto& [i, divisions] : planned) {
    if (const auto before = cutting.divisions.find(i); before != cutting.divisions.end()) {
      for (const auto& [piece, rings] : before->second) divisions.emplace(piece, rings);
      if (divisions == before->second) continue;
    }
    all.emplace_back(i, nullptr);
  }
  in_parallel(all.size(), threads, [&](std::size_t k) {
    all[k].second = shaped_as(requests[all[k].first], planned.at(all[k].first));
  });
  for (auto& [i, shape] : all) {
    if (shape == nullptr) continue;
    cutting.divisions[i] = planned.at(i);
    cutting.shapes[i] = std::move(shape);
  }
  return cutting;
}

// The cutting without what a plan states.
Cutting without(Cutting cutting, const std::vector<FittingRequest>& requests, const PlannedDivisions& plan) {
  for (const auto& [i, pieces] : plan) {
    const auto found = cutting.divisions.find(i);
    if (found == cutting.divisions.end()) continue;
    for (const auto& [piece, rings] : pieces) found->second.erase(piece);
    std::shared_ptr<const Shaped> shape;
    if (!found->second.empty()) shape = shaped_as(requests[i], found->second);
    if (shape == nullptr) {
      cutting.divisions.erase(found);
      cutting.shapes.erase(i);
    } else {
      cutting.shapes[i] = std::move(shape);
    }
  }
  return cutting;
}

std::string boards_of(std::size_t count) {
  return fmt::format("{} {}", count, count == 1 ? "board" : "boards");
}

}  // namespace

FittingRequest divided_as(FittingRequest request, const std::string& division) {
  request.values.set(k_key, {division, division, false, 0, {}});
  return request;
}

std::string division_file(const std::vector<FittingRequest>& requests) {
  std::string text;
  for (const FittingRequest& request : requests)
    if (is_planned(request))
      text += fmt::format("\n[[fitting]]\ntag = {}\ndivision = {}\nof = {}\n", toml_text(request.tag),
                          toml_text(request.values.text(k_key)), toml_text(state_undivided(request)));
  if (text.empty()) return text;
  return "# How linerwright nest divided the pieces of this job, so that its boards are best used. make and "
         "check\n"
         "# read it; without this file pieces larger than their board are divided evenly.\n" +
         text;
}

std::optional<PlannedBoards> plan_boards(const std::vector<FittingRequest>& requests,
                                         const std::vector<BoardPart>& even_parts, const DrawnBoards& even,
                                         const JobStock& setup, const PieceRules& rules, Units units,
                                         const DxfOptions& dxf) {
  const BoardPlan& now = even.plan;
  if (now.problems.empty() && fills_its_boards(now)) return std::nullopt;
  std::optional<Cutting> best;
  DrawnBoards boards;
  std::vector<BoardPart> parts = even_parts;
  const auto take_if_less = [&](const Cutting& cutting) {
    std::vector<BoardPart> other = parts_of(cutting, requests, even_parts, rules.scatter);
    DrawnBoards drawn = draw_boards(other, setup.stock, setup.knife, setup.options, units, dxf);
    if (!less(drawn.plan, best ? boards.plan : now)) return;
    best = cutting;
    boards = std::move(drawn);
    parts = std::move(other);
  };
  const auto in_blanks = [&] {
    return std::any_of(parts.begin(), parts.end(), [](const BoardPart& part) { return !part.apart.empty(); });
  };
  const auto may_be_less = [&] { return !fills_its_boards(best ? boards.plan : now); };

  const auto replanned = [&](const Cutting& cutting) {
    return divided(cutting, requests,
                   plan_divisions(requests, parts_of(cutting, requests, even_parts, rules.scatter),
                                  setup.stock, rules.division, setup.options),
                   setup.options.threads);
  };
  const Cutting first = replanned({});
  if (!first.shapes.empty()) take_if_less(first);
  if (in_blanks()) {
    Cutting one_by_one = best.value_or(Cutting{});
    scatter(one_by_one, requests);
    take_if_less(one_by_one);
  }
  if (may_be_less()) {
    const Cutting before = best.value_or(Cutting{});
    const Cutting after = improved(before, requests, even_parts, setup, rules);
    if (!(after.divisions == before.divisions && after.one_by_one == before.one_by_one)) {
      take_if_less(after);
      const Cutting again = may_be_less() ? replanned(without(after, requests, first.divisions)) : after;
      if (again.divisions != after.divisions) take_if_less(again);
    }
  }
  if (!best) return std::nullopt;
  std::string how;
  if (!best->one_by_one.empty() && !in_blanks())
    how = "pieces of blanks one by one";
  else if (!best->one_by_one.empty())
    how = "pieces of some blanks one by one";
  if (!best->shapes.empty())
    how +=
        fmt::format("{}other rings and panels than even ones of {}, which make then takes too",
                    how.empty() ? "" : ", and ",
                    best->shapes.size() == 1 ? "1 fitting" : fmt::format("{} fittings", best->shapes.size()));
  PlannedBoards planned;
  planned.note =
      fmt::format("{} instead of {}: {}", boards_of(boards.plan.boards.size()), now.boards.size(), how);
  planned.drawn = std::move(boards);
  for (const auto& [i, shape] : best->shapes) planned.divided.emplace(i, *shape);
  return planned;
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
