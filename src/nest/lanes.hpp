// Two independent searches side by side.
#pragma once

#include <array>
#include <exception>
#include <thread>

namespace linerwright::nesting {

constexpr std::size_t k_lanes = 2;

// Calls work(0) and work(1), at the same time when there are two threads. Nothing may depend on which is
// first. Throws what a lane threw.
template <class Work>
void in_lanes(int threads, Work work) {
  std::array<std::exception_ptr, k_lanes> failures;
  const auto guarded = [&](std::size_t lane) {
    try {
      work(lane);
    } catch (...) {
      failures[lane] = std::current_exception();
    }
  };
  if (threads > 1) {
    std::thread other(guarded, 1);
    guarded(0);
    other.join();
  } else {
    for (std::size_t lane = 0; lane < k_lanes; ++lane) guarded(lane);
  }
  for (const auto& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
}

}  // namespace linerwright::nesting
