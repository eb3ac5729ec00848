// The no-fit polygons of all pairs of shapes, each worked out once, when first asked for.
#pragma once

#include <atomic>
#include <memory>
#include <vector>

#include "depth_field.hpp"
#include "shape.hpp"

namespace linerwright::nesting {

// A no-fit polygon as seen from one of the two: ask it about sign * (own centre - the other's centre).
struct PairField {
  const DepthField* field = nullptr;
  double sign = 1.0;
};

// Safe to ask from several threads; what it answers does not depend on who asks first.
class PairTable {
 public:
  explicit PairTable(const Shapes& shapes);
  ~PairTable();
  PairTable(const PairTable&) = delete;
  PairTable& operator=(const PairTable&) = delete;

  // Shape `own` against `other`, each turned or not.
  PairField get(std::size_t own, bool own_turned, std::size_t other, bool other_turned) const {
    const bool swapped = own < other;
    const std::size_t a = swapped ? own : other;
    const std::size_t b = swapped ? other : own;
    const bool a_turned = swapped ? own_turned : other_turned;
    const std::size_t index = (b * (b + 1) / 2 + a) * 2 + (own_turned != other_turned ? 1 : 0);
    const DepthField* field = fields_[index].load(std::memory_order_acquire);
    if (field == nullptr) field = make(index, a, b, own_turned != other_turned);
    return {field, swapped != a_turned ? -1.0 : 1.0};
  }

 private:
  const Shapes& shapes_;
  mutable std::vector<std::atomic<const DepthField*>> fields_;  // b relative to an unturned a, a <= b

  const DepthField* make(std::size_t index, std::size_t a, std::size_t b, bool b_turned) const;
};

}  // namespace linerwright::nesting
