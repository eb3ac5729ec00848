#include "job_messages.hpp"

#include <algorithm>
#include <string>
#include <thread>

#include <fmt/format.h>

namespace linerwright {

int all_cores() {
  return static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
}

std::size_t print_problems(const JobResult& result) {
  std::size_t failed = 0;
  for (const Made& made : result.made) {
    for (const std::string& warning : made.warnings)
      fmt::print(stderr, "linerwright: {}: note: {}\n", made.tag, warning);
    if (made.failure.empty()) continue;
    ++failed;
    // one line a problem, each with its own prefix
    for (std::size_t from = 0; from <= made.failure.size();) {
      const std::size_t to = std::min(made.failure.find('\n', from), made.failure.size());
      fmt::print(stderr, "linerwright: {}\n", made.failure.substr(from, to - from));
      from = to + 1;
    }
  }
  for (const std::string& note : result.notes) fmt::print(stderr, "linerwright: note: {}\n", note);
  for (const std::string& problem : result.problems) fmt::print(stderr, "linerwright: {}\n", problem);
  return failed;
}

void print_not_made(std::size_t count) {
  if (count > 0) fmt::print(stderr, "linerwright: {} not made\n", count);
}

}  // namespace linerwright
