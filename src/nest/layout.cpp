#include "layout.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace linerwright::nesting {
namespace {

// A piece may be this much longer than the board is, mm.
constexpr double k_board_slack = 2e-4;

}  // namespace

void Weights::fade(float factor) {
  for (float& value : values_) value = std::max(1.0F, value * factor);
}

Layout::Layout(const Shapes& shapes, const PairTable& table, std::vector<Item> items,
               std::vector<Sheet> sheets)
    : shapes_(shapes), table_(table), items_(std::move(items)), sheets_(std::move(sheets)) {
  double sum = 0.0;
  for (const Shape& shape : shapes.shapes) {
    bigness_.push_back(std::sqrt(std::sqrt(shape.area)));
    sum += bigness_.back();
    widest_reach_ = std::max(widest_reach_, shape.reach.x);
  }
  for (double& bigness : bigness_) bigness *= static_cast<double>(bigness_.size()) / sum;
  set_poses(Poses(items_.size()));
}

void Layout::set_sheets(std::vector<Sheet> sheets, const Poses& poses) {
  sheets_ = std::move(sheets);
  set_poses(poses);
}

Layout::Slot Layout::make_slot(std::size_t item) const {
  return {poses_[item].at, shape_of(item).reach, item, items_[item].shape, poses_[item].turned};
}

void Layout::set_poses(const Poses& poses) {
  poses_ = poses;
  slots_.assign(sheets_.size(), {});
  for (std::size_t i = 0; i < poses_.size(); ++i) {
    if (poses_[i].sheet) slots_[*poses_[i].sheet].push_back(make_slot(i));
  }
  for (auto& slots : slots_)
    std::stable_sort(slots.begin(), slots.end(),
                     [](const Slot& a, const Slot& b) { return a.at.x < b.at.x; });
}

std::vector<Layout::Slot>::const_iterator Layout::first_from(const std::vector<Slot>& slots, double x) {
  return std::lower_bound(slots.begin(), slots.end(), x,
                          [](const Slot& slot, double least) { return slot.at.x < least; });
}

void Layout::move(std::size_t item, const Pose& pose) {
  if (poses_[item].sheet) {
    auto& slots = slots_[*poses_[item].sheet];
    slots.erase(
        std::find_if(slots.begin(), slots.end(), [&](const Slot& slot) { return slot.item == item; }));
  }
  poses_[item] = pose;
  if (!pose.sheet) return;
  auto& slots = slots_[*pose.sheet];
  slots.insert(first_from(slots, pose.at.x), make_slot(item));
}

std::vector<std::size_t> Layout::on_sheet(std::size_t sheet) const {
  std::vector<std::size_t> result;
  for (const Slot& slot : slots_[sheet]) result.push_back(slot.item);
  std::sort(result.begin(), result.end());
  return result;
}

std::optional<Box> Layout::room(std::size_t item, std::size_t sheet) const {
  const Vec2 half = shape_of(item).half;
  const Box& usable = sheets_[sheet].usable;
  Box box{usable.low + half, usable.high - half};
  const auto settle = [](double& low, double& high) {
    if (high >= low) return true;
    if (high < low - k_board_slack) return false;
    low = high = 0.5 * (low + high);
    return true;
  };
  if (!settle(box.low.x, box.high.x) || !settle(box.low.y, box.high.y)) return std::nullopt;
  return box;
}

template <class Visit>
void Layout::visit_near(std::size_t item, const Pose& pose, Visit visit) const {
  const auto& slots = slots_[*pose.sheet];
  const std::size_t shape = items_[item].shape;
  const Vec2 reach = shapes_.shapes[shape].reach;
  ++steps_;
  const double last = pose.at.x + reach.x + widest_reach_;
  for (auto at = first_from(slots, pose.at.x - reach.x - widest_reach_); at != slots.end() && at->at.x < last;
       ++at) {
    const Slot& slot = *at;
    const Vec2 shift = pose.at - slot.at;
    if (std::fabs(shift.x) >= reach.x + slot.reach.x || std::fabs(shift.y) >= reach.y + slot.reach.y)
      continue;
    if (slot.item == item) continue;
    const PairField pair = table_.get(shape, pose.turned, slot.shape, slot.turned);
    if (!visit(slot, pair, shift)) return;
  }
}

// Most poses that are asked about are worse than what is known: what the depths are at least, which a look
// into a cell tells, mostly shows that, and spares the exact ones.
double Layout::cost(std::size_t item, const Pose& pose, const Weights* weights, double enough) const {
  struct Near {
    PairField pair;
    Vec2 shift;
    double weight, least;
  };
  static constexpr std::size_t k_most_at_once = 12;
  std::array<Near, k_most_at_once> near;
  std::size_t count = 0;
  double sum = 0.0;    // of those that were measured
  double bound = 0.0;  // what the others add at least
  const std::size_t shape = items_[item].shape;
  const auto measure_all = [&] {
    for (std::size_t i = 0; i < count; ++i) {
      if (sum + bound >= enough) return;
      ++steps_;
      bound -= near[i].least;
      sum += near[i].weight * near[i].pair.field->depth(near[i].pair.sign * near[i].shift);
    }
    count = 0;
    bound = 0.0;
  };
  visit_near(item, pose, [&](const Slot& slot, const PairField& pair, Vec2 shift) {
    const auto least = pair.field->least_depth(pair.sign * shift);
    if (!least) return true;
    const double weight = bigness_[shape] * bigness_[slot.shape] *
                          (weights ? static_cast<double>(weights->get(item, slot.item)) : 1.0);
    near[count] = {pair, shift, weight, weight * *least};
    bound += near[count++].least;
    if (count == k_most_at_once && sum + bound < enough) measure_all();
    return sum + bound < enough;
  });
  if (sum + bound < enough) measure_all();
  return sum + bound;
}

Layout::Push Layout::push(std::size_t item, const Pose& pose, const Weights& weights) const {
  Push result;
  double worst = 0.0;
  const std::size_t shape = items_[item].shape;
  visit_near(item, pose, [&](const Slot& slot, const PairField& pair, Vec2 shift) {
    const Vec2 way = pair.sign * pair.field->way_out(pair.sign * shift);
    const double weight =
        bigness_[shape] * bigness_[slot.shape] * static_cast<double>(weights.get(item, slot.item));
    result.sum = result.sum + way;
    if (weight * norm(way) > worst) {
      worst = weight * norm(way);
      result.worst = way;
    }
    return true;
  });
  return result;
}

std::vector<Layout::Overlap> Layout::overlaps() const {
  std::vector<Overlap> result;
  for (std::size_t i = 0; i < items_.size(); ++i) {
    if (!poses_[i].sheet) continue;
    visit_near(i, poses_[i], [&](const Slot& slot, const PairField& pair, Vec2 shift) {
      if (slot.item <= i) return true;
      const double depth = pair.field->depth(pair.sign * shift);
      if (depth > 0.0)
        result.push_back({i, slot.item, depth * bigness_[items_[i].shape] * bigness_[slot.shape]});
      return true;
    });
  }
  return result;
}

double Layout::used_to(std::size_t sheet) const {
  double right = sheets_[sheet].usable.low.x;
  for (const Slot& slot : slots_[sheet]) right = std::max(right, slot.at.x + shape_of(slot.item).half.x);
  return right;
}

}  // namespace linerwright::nesting
