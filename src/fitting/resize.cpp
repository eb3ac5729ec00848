#include "linerwright/fitting/resize.hpp"

#include <stdexcept>

namespace linerwright {

// By the names that all kinds share: a fitting's first passage runs from `diameter` to `to_diameter`, where
// there is one; each further passage ends in the next of `branch_diameter` or `leg_diameter`, of which one
// value may serve all.
std::vector<EndDiameter> end_diameters(const Fitting& fitting, std::size_t passage) {
  const Values& values = fitting.request.values;
  std::vector<EndDiameter> ends;
  if (values.has("width") && values.has("height")) return ends;  // no circle says how wide its rectangle is
  const bool alone = joint_on_duct(fitting).has_value();         // a tap, whose first passage is its branch
  if (passage > 0 || alone) {
    for (const char* key : {"branch_diameter", "leg_diameter"}) {
      if (!values.has(key)) continue;
      const std::vector<double> all = values.list(key);
      const std::size_t index = all.size() == 1 ? 0 : passage - 1;
      if (index < all.size()) ends.push_back({key, index, !alone, all[index]});
    }
    return ends;
  }
  for (const char* key : {"diameter", "to_diameter"})
    if (const auto value = values.maybe(key)) ends.push_back({key, 0, !ends.empty(), *value});
  return ends;
}

FittingRequest resized(const FittingRequest& request, const std::vector<EndDiameter>& ends,
                       const std::vector<double>& diameters) {
  if (ends.size() != diameters.size()) throw std::invalid_argument("one diameter for each end");
  FittingRequest other = request;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const Value* now = other.values.find(ends[i].key);
    if (now == nullptr) throw std::out_of_range("the request has no " + ends[i].key);
    Value value = *now;
    std::vector<double> all = other.values.list(ends[i].key);
    all.at(ends[i].index) = diameters[i];
    if (std::holds_alternative<double>(value.data))
      value.data = all.front();
    else
      value.data = all;
    value.written.clear();
    for (const double diameter : all)
      value.written += (value.written.empty() ? "" : " & ") +
                       format_quantity(Quantity::length, diameter, request.units, 6);
    other.values.set(ends[i].key, value);
  }
  return other;
}

}  // namespace linerwright
