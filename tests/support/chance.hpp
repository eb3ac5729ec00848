// Random numbers that are the same on every machine.
#pragma once

#include <cmath>
#include <cstddef>
#include <initializer_list>
#include <random>
#include <string>

#include "linerwright/units/units.hpp"
#include "support/cases.hpp"

namespace linerwright::support {

class Chance {
 public:
  explicit Chance(unsigned seed) : engine_(seed) {}
  // At least 0 and below 1.
  double share() { return static_cast<double>(engine_()) / 4294967296.0; }
  double between(double low, double high) { return low + (high - low) * share(); }
  // Evenly by its logarithm.
  double log_between(double low, double high) { return low * std::pow(high / low, share()); }
  int whole(int low, int high) { return low + static_cast<int>(between(0.0, high - low + 1 - 1e-9)); }
  bool one_in(int n) { return between(0.0, n) < 1.0; }
  bool likely(double probability) { return share() < probability; }
  template <class T>
  T pick(std::initializer_list<T> all) {
    return *(all.begin() + whole(0, static_cast<int>(all.size()) - 1));
  }
  std::string number(double low, double high) { return fixed(between(low, high), 3); }

 private:
  std::mt19937 engine_;
};

}  // namespace linerwright::support
