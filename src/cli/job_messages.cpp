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
  for (const JobFitting& fitting : result.fittings) {
    for (const std::string& note : fitting.notes)
      fmt::print(stderr, "linerwright: {}: note: {}\n", fitting.tag, note);
    if (!fitting.failed) continue;
    ++failed;
    for (const std::string& line : fitting.failed->lines) fmt::print(stderr, "linerwright: {}\n", line);
  }
  for (const std::string& note : result.notes) fmt::print(stderr, "linerwright: note: {}\n", note);
  for (const std::string& problem : result.problems) fmt::print(stderr, "linerwright: {}\n", problem);
  return failed;
}

void print_not_made(std::size_t count) {
  if (count > 0) fmt::print(stderr, "linerwright: {} not made\n", count);
}

}  // namespace linerwright
