#include "stacks.hpp"

#include <algorithm>

#include "boards.hpp"
#include "linerwright/nest/rectangles.hpp"
#include "offcut.hpp"

namespace linerwright::nesting {

namespace {

bool is_rectangle(const Shapes& shapes, const Item& item) {
  const Shape& shape = shapes.shapes[item.shape];
  return shapes.taken_of_part[item.part] >= k_nearly_rectangle * 4.0 * shape.half.x * shape.half.y;
}

// Every piece's box is as wide and as high again as the gap, and so is the room of a board.
std::vector<RectangleStock> rooms_of(const NestJob& job) {
  std::vector<RectangleStock> rooms;
  for (const NestBoard& board : job.boards) {
    rooms.push_back({board.room() + Vec2{job.options.gap, job.options.gap}, board.quantity,
                     board.cost.value_or(board.width * board.length * 1e-6), board.roll});
  }
  return rooms;
}

// What the items of a sheet leave free, measured from the corner of its usable room.
BegunBoard begun_board(const NestJob& job, const Layout& layout, std::size_t sheet, double least) {
  const double gap = job.options.gap;
  std::vector<Box> taken;
  for (const std::size_t i : layout.on_sheet(sheet)) {
    const Vec2 half = layout.shape_of(i).half + Vec2{gap, gap};
    taken.push_back({layout.poses()[i].at - half, layout.poses()[i].at + half});
  }
  const Box& usable = layout.sheets()[sheet].usable;
  BegunBoard board{layout.sheets()[sheet].stock, {}};
  for (const Box& box : offcuts(usable, std::move(taken), least))
    board.free.push_back({box.low - usable.low, box.high - usable.low + Vec2{gap, gap}});
  return board;
}

}  // namespace

double layout_cost(const NestJob& job, const Layout& layout) {
  double cost = 0.0;
  for (std::size_t s = 0; s < layout.sheets().size(); ++s)
    if (!layout.on_sheet(s).empty()) cost += sheet_cost(job, layout, s);
  return cost;
}

std::size_t left_over(const Layout& layout) {
  return static_cast<std::size_t>(std::count_if(layout.poses().begin(), layout.poses().end(),
                                                [](const Pose& pose) { return !pose.sheet; }));
}

std::optional<Layout> stacked(const NestJob& job, const Shapes& shapes, const PairTable& table,
                              const std::vector<Item>& items, const std::function<void(Layout&)>& nest_rest) {
  std::vector<Item> rest;
  std::vector<std::size_t> rectangles, others;
  for (std::size_t i = 0; i < items.size(); ++i) {
    (is_rectangle(shapes, items[i]) ? rectangles : others).push_back(i);
    if (others.size() > rest.size()) rest.push_back(items[i]);
  }
  if (rectangles.size() < 2) return std::nullopt;
  Layout beside(shapes, table, rest, {});
  if (!rest.empty()) nest_rest(beside);

  double least = 2.0 * shapes.shapes[items[rectangles.front()].shape].half.y;
  std::vector<Vec2> sizes;
  const Vec2 gap{job.options.gap, job.options.gap};
  for (const std::size_t i : rectangles) {
    const Vec2 half = shapes.shapes[items[i].shape].half;
    sizes.push_back(2.0 * half + gap);
    least = std::min({least, 2.0 * half.x, 2.0 * half.y});
  }
  std::vector<BegunBoard> begun;
  for (std::size_t s = 0; s < beside.sheets().size(); ++s)
    begun.push_back(begun_board(job, beside, s, least));
  const RectanglePacking packing = pack_rectangles(sizes, rooms_of(job), begun);

  std::vector<Sheet> sheets = beside.sheets();
  for (std::size_t b = sheets.size(); b < packing.stock.size(); ++b)
    sheets.push_back(fresh_sheet(job, packing.stock[b]));
  Poses poses(items.size());
  for (std::size_t i = 0; i < others.size(); ++i) poses[others[i]] = beside.poses()[i];
  for (std::size_t i = 0; i < rectangles.size(); ++i) {
    if (!packing.places[i]) continue;
    const auto& [board, low] = *packing.places[i];
    poses[rectangles[i]] = {board, sheets[board].usable.low + low + 0.5 * (sizes[i] - gap), false};
  }
  Layout layout(shapes, table, items, {});
  layout.set_sheets(std::move(sheets), poses);
  return layout;
}

}  // namespace linerwright::nesting
