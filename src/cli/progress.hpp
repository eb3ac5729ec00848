// How far a long run has come, on a terminal; nothing where standard error is a pipe or a file.
#pragma once

#include <chrono>
#include <cstddef>
#include <string>

namespace linerwright {

// "312 of 500 fittings, 21.3 a second, 9 s left" after so many seconds.
std::string progress_text(std::size_t finished, std::size_t all, double seconds);

// One line that is written over until the run ends; for one thread at a time.
class Progress {
 public:
  explicit Progress(std::size_t all);
  ~Progress() { clear(); }
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void one_finished();
  // Takes the line away, so that another can be printed in its place.
  void clear();

 private:
  using Clock = std::chrono::steady_clock;
  std::size_t all_;
  std::size_t finished_ = 0;
  bool on_terminal_;
  bool shown_ = false;
  Clock::time_point start_ = Clock::now();
  Clock::time_point last_ = start_;
};

}  // namespace linerwright
