// Random numbers that are the same on every machine.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

namespace linerwright::nesting {

// splitmix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014).
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
  }
  // From 0 to less than 1.
  double unit() { return static_cast<double>(next() >> 11) * 0x1p-53; }
  double between(double low, double high) { return low + (high - low) * unit(); }
  // From 0 to count - 1; count > 0.
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(next() % count); }
  bool flip() { return (next() >> 63) != 0; }
  template <class T>
  void shuffle(std::vector<T>& values) {
    for (std::size_t i = values.size(); i > 1; --i) std::swap(values[i - 1], values[below(i)]);
  }

 private:
  std::uint64_t state_;
};

}  // namespace linerwright::nesting
