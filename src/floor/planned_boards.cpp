#include "linerwright/planned_boards.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "linerwright/error.hpp"
#include "linerwright/parallel.hpp"
#include "linerwright/request_state.hpp"
#include "linerwright/toml_file.hpp"

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
bool less(const FloorPlan& a, const FloorPlan& b) {
  if (a.problems.size() != b.problems.size()) return a.problems.size() < b.problems.size();
  return floor_cost(a) < floor_cost(b) * (1.0 - 1e-9);
}

// Whether the pieces' area alone needs as many boards, however they are divided.
bool fills_its_boards(const FloorPlan& plan) {
  if (plan.boards.empty()) return true;
  if (plan.stock.size() != 1) return plan.boards.size() == 1 && !plan.stock[plan.boards.front().stock].roll;
  if (plan.stock.front().roll) return false;  // every length that is saved counts
  if (plan.boards.size() == 1) return true;
  const FloorStock& stock = plan.stock.front();
  const double room = stock.room().x * stock.room().y;
  return plan.piece_area > room * static_cast<double>(plan.boards.size() - 1);
}

// Blanks give way to their pieces.
std::vector<FloorPart> scattered(const std::vector<FloorPart>& parts) {
  std::vector<FloorPart> all;
  for (const FloorPart& part : parts) {
    if (part.apart.empty())
      all.push_back(part);
    else
      std::copy(part.apart.begin(), part.apart.end(), std::back_inserter(all));
  }
  return all;
}

// The fittings divided as stated. Of a division whose seams find no place in the end the fitting stays as it
// is.
std::map<std::size_t, Shaped> shaped_as(const std::vector<FittingRequest>& requests,
                                        const std::map<std::size_t, std::string>& texts, int threads) {
  std::vector<std::pair<std::size_t, std::optional<Shaped>>> all;
  for (const auto& [i, text] : texts) all.emplace_back(i, std::nullopt);
  in_parallel(all.size(), threads, [&](std::size_t k) {
    const std::size_t i = all[k].first;
    try {
      Fitting fitting = make_fitting(divided_as(requests[i], texts.at(i)));
      std::vector<Pattern> patterns = make_patterns(fitting);
      all[k].second = Shaped{std::move(fitting), std::move(patterns)};
    } catch (const InputError&) {
      // what is left divided evenly is on the boards, too
    }
  });
  std::map<std::size_t, Shaped> shapes;
  for (auto& [i, shape] : all)
    if (shape) shapes.emplace(i, std::move(*shape));
  return shapes;
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
                                         const std::vector<FloorPart>& parts, const DrawnFloor& even,
                                         const JobFloor& floor, const PieceRules& rules, Units units,
                                         const DxfOptions& dxf) {
  const FloorPlan& now = even.plan;
  if (now.problems.empty() && fills_its_boards(now)) return std::nullopt;
  const auto drawn = [&](const std::vector<FloorPart>& these) {
    return draw_floor(these, floor.stock, floor.knife, floor.options, units, dxf);
  };
  PlannedBoards best;
  const auto better = [&](const DrawnFloor& other) {
    return less(other.plan, best.drawn.files.empty() ? now : best.drawn.plan);
  };

  const std::map<std::size_t, std::string> texts =
      plan_divisions(requests, parts, floor.stock, rules.division, floor.options);
  std::vector<std::size_t> changed;
  std::vector<Shaped> shapes;
  for (auto& [i, shape] : shaped_as(requests, texts, floor.options.threads)) {
    changed.push_back(i);
    shapes.push_back(std::move(shape));
  }
  std::vector<FloorPart> others = parts;
  for (const Shaped& shape : shapes) {
    others.erase(std::remove_if(others.begin(), others.end(),
                                [&](const FloorPart& part) { return part.tag == shape.fitting.tag; }),
                 others.end());
    for (FloorPart& part : floor_parts(shape.fitting, shape.patterns, rules.scatter))
      others.push_back(std::move(part));
  }
  if (!changed.empty()) {
    DrawnFloor divided = drawn(others);
    if (better(divided)) {
      best.drawn = std::move(divided);
      for (std::size_t k = 0; k < changed.size(); ++k) best.divided.emplace(changed[k], std::move(shapes[k]));
    }
  }
  std::string apart;
  const std::vector<FloorPart>& kept = best.divided.empty() ? parts : others;
  if (std::any_of(kept.begin(), kept.end(), [](const FloorPart& part) { return !part.apart.empty(); })) {
    DrawnFloor one_by_one = drawn(scattered(kept));
    if (better(one_by_one)) {
      best.drawn = std::move(one_by_one);
      apart = "pieces of blanks one by one";
    }
  }
  if (best.drawn.files.empty()) return std::nullopt;
  std::string how = apart;
  if (!best.divided.empty())
    how +=
        fmt::format("{}other rings and panels than even ones of {}, which make then takes too",
                    how.empty() ? "" : ", and ",
                    best.divided.size() == 1 ? "1 fitting" : fmt::format("{} fittings", best.divided.size()));
  best.note =
      fmt::format("{} instead of {}: {}", boards_of(best.drawn.plan.boards.size()), now.boards.size(), how);
  return best;
}

}  // namespace linerwright
