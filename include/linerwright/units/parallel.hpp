// The same work on many things, by several threads.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <system_error>
#include <thread>
#include <vector>

namespace linerwright {

// Calls work(i) for every i below `count`, by at most `threads` at a time, fewer where the system gives no
// more. Rethrows what the work with the lowest i threw, once all others are done.
template <class Work>
void in_parallel(std::size_t count, int threads, const Work& work) {
  std::vector<std::exception_ptr> errors(count);
  std::atomic<std::size_t> next{0};
  const auto run = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        errors[i] = std::current_exception();
      }
    }
  };
  std::vector<std::thread> pool;
  const int helpers = std::min(threads, static_cast<int>(std::min<std::size_t>(count, 256))) - 1;
  try {
    for (int t = 0; t < helpers; ++t) pool.emplace_back(run);
  } catch (const std::system_error&) {
    // no more threads are to be had: those that there are do the work
  }
  run();
  for (std::thread& thread : pool) thread.join();
  for (const std::exception_ptr& error : errors)
    if (error) std::rethrow_exception(error);
}

}  // namespace linerwright
