// Where all pieces lie, overlaps allowed, and how deep they overlap.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "pair_table.hpp"
#include "random.hpp"

namespace linerwright::nesting {

// One copy of a part.
struct Item {
  std::size_t part = 0;
  int copy = 0;
  std::size_t shape = 0;
  bool may_turn = true;
};

// Where an item's centre lies.
struct Pose {
  std::optional<std::size_t> sheet;  // none: not placed
  Vec2 at{};
  bool turned = false;
};
using Poses = std::vector<Pose>;

// One board in use, less its trim.
struct Sheet {
  std::size_t stock = 0;
  Box usable{};
};

// How much an overlap of two items counts; grows where the search gets stuck.
class Weights {
 public:
  explicit Weights(std::size_t items) : items_(items), values_(items * items, 1.0F) {}
  float get(std::size_t i, std::size_t j) const { return values_[i * items_ + j]; }
  void multiply(std::size_t i, std::size_t j, float factor) {
    values_[i * items_ + j] *= factor;
    values_[j * items_ + i] = values_[i * items_ + j];
  }
  // All weights a little closer to 1, never below.
  void fade(float factor);

 private:
  std::size_t items_;
  std::vector<float> values_;
};

class Layout {
 public:
  Layout(const Shapes& shapes, const PairTable& table, std::vector<Item> items, std::vector<Sheet> sheets);

  const std::vector<Item>& items() const { return items_; }
  const std::vector<Sheet>& sheets() const { return sheets_; }
  const Poses& poses() const { return poses_; }
  const Shape& shape_of(std::size_t item) const { return shapes_.shapes[items_[item].shape]; }
  const PairTable& table() const { return table_; }
  // Pose queries and measured depths so far.
  std::uint64_t steps() const { return steps_; }

  void set_sheets(std::vector<Sheet> sheets, const Poses& poses);
  void set_poses(const Poses& poses);
  void move(std::size_t item, const Pose& pose);
  // The items on a sheet.
  std::vector<std::size_t> on_sheet(std::size_t sheet) const;

  // Where the item's centre may lie on a sheet; nothing when it is too large for it.
  std::optional<Box> room(std::size_t item, std::size_t sheet) const;
  // Sum over the other items of weight times depth times how large both are, were the item at `pose`; any
  // value >= `enough` once that is reached. Large items count more: to part them takes the others along.
  double cost(std::size_t item, const Pose& pose, const Weights* weights, double enough) const;
  // The weighted sum of the shortest ways out at `pose`, and the way out of the worst overlap.
  struct Push {
    Vec2 worst{};
    Vec2 sum{};
  };
  Push push(std::size_t item, const Pose& pose, const Weights& weights) const;

  struct Overlap {
    std::size_t i = 0, j = 0;
    double depth = 0.0;  // times how large both are
  };
  // All overlapping pairs, i < j.
  std::vector<Overlap> overlaps() const;
  // The largest x any item on the sheet reaches, mm; the sheet's lower edge when it is empty.
  double used_to(std::size_t sheet) const;

 private:
  struct Slot {
    Vec2 at, reach;
    std::size_t item;
    std::size_t shape;
    bool turned;
  };
  const Shapes& shapes_;
  const PairTable& table_;
  std::vector<Item> items_;
  std::vector<Sheet> sheets_;
  Poses poses_;
  std::vector<std::vector<Slot>> slots_;  // by sheet, from left to right
  double widest_reach_ = 0.0;             // of all shapes along x
  std::vector<double> bigness_;  // by shape: the fourth root of its area, over the mean of all of them
  mutable std::uint64_t steps_ = 0;

  Slot make_slot(std::size_t item) const;
  static std::vector<Slot>::const_iterator first_from(const std::vector<Slot>& slots, double x);
  // Calls visit(slot, pair field, shift) for every item whose box meets the item's at `pose`, until it
  // returns false.
  template <class Visit>
  void visit_near(std::size_t item, const Pose& pose, Visit visit) const;
};

}  // namespace linerwright::nesting
