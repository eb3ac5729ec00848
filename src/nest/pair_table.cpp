#include "pair_table.hpp"

#include "nofit.hpp"

namespace linerwright::nesting {

PairTable::PairTable(const Shapes& shapes)
    : shapes_(shapes), fields_(shapes.shapes.size() * (shapes.shapes.size() + 1)) {
  for (auto& field : fields_) field.store(nullptr, std::memory_order_relaxed);
}

PairTable::~PairTable() {
  for (auto& field : fields_) delete field.load();
}

const DepthField* PairTable::make(std::size_t index, std::size_t a, std::size_t b, bool b_turned) const {
  const ClipperLib::Paths& solid = shapes_.shapes[b].solid;
  auto field =
      std::make_unique<const DepthField>(no_fit(shapes_.shapes[a].solid, b_turned ? turned(solid) : solid));
  const DepthField* known = nullptr;
  if (fields_[index].compare_exchange_strong(known, field.get(), std::memory_order_acq_rel))
    return field.release();
  return known;  // another thread was first, with the same polygon
}

}  // namespace linerwright::nesting
