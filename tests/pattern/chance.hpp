// Random numbers that are the same on every machine, and how many cases to try.
#pragma once

#include <initializer_list>
#include <random>
#include <string>

#include "linerwright/units.hpp"
#include "support/cases.hpp"

namespace linerwright::testing {

using support::cases;

class Chance {
 public:
  explicit Chance(unsigned seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0);
  }
  int whole(int low, int high) { return low + static_cast<int>(between(0.0, high - low + 1 - 1e-9)); }
  bool one_in(int n) { return whole(1, n) == 1; }
  template <class T>
  T pick(std::initializer_list<T> all) {
    return *(all.begin() + whole(0, static_cast<int>(all.size()) - 1));
  }

 private:
  std::mt19937 engine_;
};

inline std::string mm(double value) {
  return fixed(value, 3) + "mm";
}

}  // namespace linerwright::testing
