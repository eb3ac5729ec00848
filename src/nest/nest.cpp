#include "linerwright/nest/nest.hpp"

#include <algorithm>
#include <cmath>

#include "boards.hpp"
#include "bound.hpp"
#include "linerwright/units/error.hpp"
#include "offcut.hpp"
#include "stacks.hpp"
#include "validate.hpp"

namespace linerwright {
namespace {

using nesting::Item;
using nesting::Layout;
using nesting::Shapes;

// Search steps of each lane for one unit of effort.
constexpr double k_steps_per_effort = 1.0e7;

bool fits_some_board(const NestJob& job, const nesting::Shape& shape) {
  return std::any_of(job.boards.begin(), job.boards.end(), [&](const NestBoard& board) {
    const double slack = 0.5 * k_nest_rounding;
    const Vec2 room = board.room();
    return 2.0 * shape.half.x <= room.x + slack && 2.0 * shape.half.y <= room.y + slack;
  });
}

std::vector<Item> items_of(const NestJob& job, const Shapes& shapes, NestResult& result) {
  std::vector<Item> items;
  for (std::size_t part = 0; part < job.parts.size(); ++part) {
    const std::size_t shape = shapes.of_part[part];
    if (!fits_some_board(job, shapes.shapes[shape])) {
      result.unplaced.push_back({part, job.parts[part].count, Unplaced::too_large});
      continue;
    }
    for (int copy = 0; copy < job.parts[part].count; ++copy) {
      items.push_back({part, copy, shape, job.parts[part].may_turn});
    }
  }
  return items;
}

// Improves the layout in place; returns the steps spent.
std::uint64_t search(const NestJob& job, Layout& layout, const nesting::Told& told) {
  const NestOptions& options = job.options;
  nesting::Search run{options.seed, options.threads,
                      static_cast<std::uint64_t>(options.effort * k_steps_per_effort), told};
  if (run.steps == 0 || layout.sheets().empty()) return 0;
  std::uint64_t left = run.steps;
  std::uint64_t spent = nesting::improve_boards(job, layout, run, left);
  const double begun = 1.0 - static_cast<double>(left) / static_cast<double>(run.steps);
  run.steps = left;
  if (told) run.told = [&](const Layout& now, double done) { told(now, begun + (1.0 - begun) * done); };
  spent += nesting::shorten(layout, nesting::last_sheet(job, layout), run);
  return spent;
}

std::uint64_t place_all(const NestJob& job, Layout& layout, const nesting::Told& told) {
  nesting::open_boards(job, layout, told);
  return search(job, layout, told);
}

// Whether the items could lie on fewer boards, as far as their area says.
bool may_be_cheaper(const NestJob& job, const Layout& layout, const Shapes& shapes) {
  if (nesting::left_over(layout) > 0) return true;
  double area = 0.0;
  for (const Item& item : layout.items()) area += shapes.taken_of_part[item.part];
  double room = 0.0;
  for (std::size_t s = 0; s < layout.sheets().size(); ++s) {
    if (job.boards[layout.sheets()[s].stock].roll) return true;
    const Vec2 size = layout.sheets()[s].usable.high - layout.sheets()[s].usable.low;
    room += size.x * size.y;
  }
  const double boards = static_cast<double>(layout.sheets().size());
  return job.boards.size() > 1 || (boards > 1.0 && area <= room * (boards - 1.0) / boards);
}

bool is_better(const NestJob& job, const Layout& a, const Layout& b) {
  const std::size_t first = nesting::left_over(a);
  const std::size_t second = nesting::left_over(b);
  if (first != second) return first < second;
  return nesting::layout_cost(job, a) < nesting::layout_cost(job, b) * (1.0 - 1e-9);
}

void write_boards(const NestJob& job, const Layout& layout, const Shapes& shapes, NestResult& result) {
  double stock_area = 0.0;
  double part_area = 0.0;
  const std::size_t last = layout.sheets().empty() ? 0 : nesting::last_sheet(job, layout);
  std::vector<std::size_t> sheets;
  for (std::size_t s = 0; s < layout.sheets().size(); ++s) {
    if (s != last && !layout.on_sheet(s).empty()) sheets.push_back(s);
  }
  if (!layout.sheets().empty() && !layout.on_sheet(last).empty()) sheets.push_back(last);
  for (std::size_t s : sheets) {
    const std::size_t stock = layout.sheets()[s].stock;
    const NestBoard& board = job.boards[stock];
    NestedBoard nested;
    nested.stock = stock;
    nested.used_length = layout.used_to(s);
    nested.length = board.roll ? std::min(board.length, nested.used_length + board.trim.end) : board.length;
    std::vector<Box> taken;
    for (std::size_t i : layout.on_sheet(s)) {
      const Item& item = layout.items()[i];
      const nesting::Pose& pose = layout.poses()[i];
      const Vec2 centre = shapes.centre_of_part[item.part];
      const Vec2 origin = pose.turned ? pose.at + centre : pose.at - centre;
      result.placements.push_back(
          {item.part, item.copy, result.boards.size(), origin.x, origin.y, pose.turned});
      nested.part_area += shapes.area_of_part[item.part];
      taken.push_back({pose.at - layout.shape_of(i).half, pose.at + layout.shape_of(i).half});
    }
    nested.yield = nested.part_area / (board.width * nested.length);
    const Box usable{board.trim.low(), {nested.length - board.trim.end, board.width - board.trim.above}};
    nested.offcuts = nesting::offcuts(usable, std::move(taken), job.options.min_offcut);
    stock_area += board.width * nested.length;
    part_area += nested.part_area;
    result.cost += nesting::sheet_cost(job, layout, s);
    result.boards.push_back(std::move(nested));
  }
  if (stock_area > 0.0) result.yield = part_area / stock_area;
  std::sort(result.placements.begin(), result.placements.end(),
            [](const NestedPiece& a, const NestedPiece& b) {
              return a.part != b.part ? a.part < b.part : a.copy < b.copy;
            });
}

void write_bound(const NestJob& job, const Shapes& shapes, NestResult& result) {
  std::vector<int> counts(job.parts.size(), 0);
  double area = 0.0;
  for (const NestedPiece& piece : result.placements) ++counts[piece.part];
  for (const NestedBoard& board : result.boards) area += board.part_area;
  const nesting::Bound bound = nesting::bound_of(job, shapes, counts);
  result.least_boards = bound.boards;
  if (bound.stock_area > 0.0) result.bound = area / bound.stock_area;
}

void count_left_over(const Layout& layout, NestResult& result) {
  for (std::size_t i = 0; i < layout.items().size(); ++i) {
    if (layout.poses()[i].sheet) continue;
    const std::size_t part = layout.items()[i].part;
    if (result.unplaced.empty() || result.unplaced.back().part != part) {
      result.unplaced.push_back({part, 0, Unplaced::stock_used_up});
    }
    ++result.unplaced.back().copies;
  }
  std::stable_sort(result.unplaced.begin(), result.unplaced.end(),
                   [](const UnplacedPart& a, const UnplacedPart& b) { return a.part < b.part; });
}

}  // namespace

std::optional<double> effort_named(std::string_view word) {
  if (word == "fill") return k_effort_fill;
  if (word == "quick") return k_effort_quick;
  if (word == "thorough") return k_effort_thorough;
  return std::nullopt;
}

std::vector<Vec2> placed(const std::vector<Vec2>& points, const NestedPiece& placement) {
  std::vector<Vec2> result;
  const Vec2 origin{placement.x, placement.y};
  for (Vec2 p : points) result.push_back(placement.turned ? origin - p : origin + p);
  return result;
}

NestResult nest(const NestJob& job) {
  nesting::validate(job);
  const Shapes shapes = nesting::prepare_shapes(job);
  const nesting::PairTable table(shapes);
  NestResult result;
  const std::vector<Item> items = items_of(job, shapes, result);
  Layout layout(shapes, table, items, {});
  const auto told = [&](double from, double to) -> nesting::Told {
    if (!job.options.watch) return {};
    return [&, from, to](const Layout& now, double done) {
      NestResult seen;
      write_boards(job, now, shapes, seen);
      job.options.watch(from + (to - from) * done, seen);
    };
  };
  constexpr double k_first = 0.6;  // of the work, where another start is tried as well
  result.steps = place_all(job, layout, told(0.0, k_first));
  if (may_be_cheaper(job, layout, shapes)) {
    const std::optional<Layout> other = nesting::stacked(job, shapes, table, items, [&](Layout& rest) {
      result.steps += place_all(job, rest, told(k_first, 1.0));
    });
    if (other && is_better(job, *other, layout)) layout.set_sheets(other->sheets(), other->poses());
  }
  write_boards(job, layout, shapes, result);
  write_bound(job, shapes, result);
  count_left_over(layout, result);
  const auto faults = nest_faults(job, result);
  if (!faults.empty()) {
    std::string message = "nesting: the finished nest does not pass its check";
    for (const std::string& fault : faults) message += "; " + fault;
    throw GeometryError(message);
  }
  return result;
}

}  // namespace linerwright
