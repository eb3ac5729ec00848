#include "planned_boards.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "linerwright/board_sheets.hpp"
#include "linerwright/bore_files.hpp"
#include "linerwright/division_file.hpp"
#include "linerwright/error.hpp"
#include "linerwright/job_list.hpp"
#include "linerwright/parallel.hpp"
#include "linerwright/remnants.hpp"

namespace linerwright {

namespace fs = std::filesystem;

namespace {

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
    FittingRequest request = requests[all[k].first];
    const std::string& text = texts.at(all[k].first);
    request.values.set("division", {text, text, false, 0, {}});
    try {
      Fitting fitting = make_fitting(request);
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

std::optional<PlannedBoards> plan_boards(const std::vector<FittingRequest>& requests,
                                         const std::vector<FloorPart>& parts, const DrawnFloor& even,
                                         const FloorSetup& setup, Units units, const DxfOptions& dxf,
                                         int threads) {
  const FloorPlan& now = even.plan;
  if (now.problems.empty() && fills_its_boards(now)) return std::nullopt;
  const auto drawn = [&](const std::vector<FloorPart>& these) {
    return draw_floor(these, setup.stock, setup.knife, setup.options, units, dxf);
  };
  PlannedBoards best;
  const auto better = [&](const DrawnFloor& other) {
    return less(other.plan, best.drawn.files.empty() ? now : best.drawn.plan);
  };

  const std::map<std::size_t, std::string> texts =
      plan_divisions(requests, parts, setup.stock, setup.division, setup.options);
  std::vector<std::size_t> changed;
  std::vector<Shaped> shapes;
  for (auto& [i, shape] : shaped_as(requests, texts, threads)) {
    changed.push_back(i);
    shapes.push_back(std::move(shape));
  }
  std::vector<FloorPart> others = parts;
  for (const Shaped& shape : shapes) {
    others.erase(std::remove_if(others.begin(), others.end(),
                                [&](const FloorPart& part) { return part.tag == shape.fitting.tag; }),
                 others.end());
    for (FloorPart& part : floor_parts(shape.fitting, shape.patterns, setup.scatter))
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

std::vector<std::string> write_all_boards(const DrawnFloor& drawn,
                                          const std::vector<std::pair<std::string, std::string>>& of,
                                          const Job& job, const JobOptions& options, const OutFolder& out) {
  const FloorPlan& plan = drawn.plan;
  const FloorSetup& floor = *options.floor;
  const SheetHead head = sheet_head(job, options.version);
  std::vector<std::pair<std::string, std::string>> files{
      {"jobsheet.pdf", jobsheet_pdf(plan, head)},
      {"stickers.pdf", stickers_pdf(plan, options.floor->stickers, head)}};
  for (std::size_t b = 0; b < plan.boards.size(); ++b)
    files.emplace_back(board_pdf_file(plan, b), board_pdf(plan, b, head));
  std::string division = division_file(job.fittings);
  if (!division.empty()) files.emplace_back(k_division_file, std::move(division));
  take_remnants(floor.remnants, plan, floor.options.job, options.sync);
  std::vector<std::string> notes;
  for (const auto& [name, kept] : write_boards(drawn, of, files, out))
    notes.push_back(fmt::format("{}/{}: was changed since it was written: that one is now called {}",
                                k_boards_folder, name, kept));
  for (std::string& note :
       write_remnants(options.out / k_boards_folder, plan, floor.options.job, options.sync))
    notes.push_back(std::move(note));
  return notes;
}

void require_own_boards(const Job& job, const Job& whole, const JobOptions& options,
                        const std::string& list_name) {
  const bool part = job.fittings.size() != whole.fittings.size() || !options.pieces.empty();
  if (!part || options.file.empty()) return;
  const std::optional<JobList> list = read_job_list(options.out / list_name);
  std::error_code error;
  if (!list || !list->boards || !fs::exists(options.out / k_boards_folder, error)) return;
  for (const auto& [tag, state] : list->boards->of) {
    const bool here = options.pieces.empty() &&
                      std::any_of(job.fittings.begin(), job.fittings.end(),
                                  [&, &name = tag](const FittingRequest& f) { return f.tag == name; });
    if (!here)
      throw InputError({Problem{
          {},
          0,
          {},
          "--only",
          job.fittings.front().tag,
          "another folder, with --out",
          fmt::format(
              "{} holds boards of more fittings than these: boards of a part of the job need a folder "
              "of their own",
              (options.out / k_boards_folder).string())}});
  }
}

}  // namespace linerwright
