// Strip packing of public sets and of two sets made by formula: how dense, and how long it takes.
//   speed_of_nest FOLDER [EFFORT] [SET ...]
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <string>
#include <vector>

#include "nest_sets.hpp"

namespace {

using namespace linerwright;

// Net of holes: material that leaves the table as pieces, over the strip used.
struct Outcome {
  double seconds = 0.0, cpu_seconds = 0.0, length = 0.0, density = 0.0;
  std::uint64_t steps = 0;
  std::size_t faults = 0;
};

Outcome run(const nest_sets::Set& set, double effort) {
  NestJob job;
  job.parts = set.parts;
  double area_sum = 0.0;
  for (const NestPart& part : set.parts) area_sum += part.count * area(Region{part.outline, part.holes});
  NestBoard strip{"strip", set.width, 3.0 * area_sum / set.width, 1, 0.0, std::nullopt, true};
  for (const NestPart& part : set.parts) {
    const Box box = *bounding_box(part.outline);
    strip.length = std::max(strip.length, 3.0 * (box.high.x - box.low.x));
  }
  job.boards = {strip};
  job.options.effort = effort;
  const auto start = std::chrono::steady_clock::now();
  const std::clock_t cpu_start = std::clock();
  const NestResult result = nest(job);
  const std::clock_t cpu_end = std::clock();
  const auto end = std::chrono::steady_clock::now();
  Outcome outcome;
  outcome.seconds = std::chrono::duration<double>(end - start).count();
  outcome.cpu_seconds = static_cast<double>(cpu_end - cpu_start) / CLOCKS_PER_SEC;
  outcome.length = result.boards.at(0).used_length;
  outcome.density = area_sum / (set.width * outcome.length);
  outcome.steps = result.steps;
  outcome.faults = nest_faults(job, result).size() + result.unplaced.size();
  return outcome;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "usage: speed_of_nest FOLDER [EFFORT] [SET ...]\n");
    return 2;
  }
  try {
    auto sets = nest_sets::public_sets(argv[1]);
    sets.push_back(nest_sets::gores_and_tees());
    sets.push_back(nest_sets::exact_tiling());
    const double effort = argc > 2 ? std::strtod(argv[2], nullptr) : k_effort_thorough;
    const std::vector<std::string> wanted(argv + std::min(argc, 3), argv + argc);
    fmt::print("effort {}\n{:10} {:>5} {:>7} {:>8} {:>7} {:>8} {:>9} {:>8} {:>7} {:>10} {:>6}\n", effort,
               "set", "parts", "width", "seconds", "cpu s", "Msteps", "length", "density", "goal",
               "best known", "faults");
    bool good = true;
    for (const nest_sets::Set& set : sets) {
      if (!wanted.empty() && std::find(wanted.begin(), wanted.end(), set.name) == wanted.end()) continue;
      const Outcome outcome = run(set, effort);
      int parts = 0;
      for (const NestPart& part : set.parts) parts += part.count;
      good = good && outcome.faults == 0 && outcome.density >= set.goal;
      fmt::print("{:10} {:5} {:7} {:8.1f} {:7.1f} {:8.0f} {:9.3f} {:6.2f} % {:5.0f} % {:>10} {:6}\n",
                 set.name, parts, set.width, outcome.seconds, outcome.cpu_seconds,
                 static_cast<double>(outcome.steps) * 1e-6, outcome.length, 100.0 * outcome.density,
                 100.0 * set.goal, set.best_known ? fmt::format("{:.2f} %", 100.0 * *set.best_known) : "-",
                 outcome.faults);
      std::fflush(stdout);
    }
    return good ? 0 : 1;
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return 1;
  }
}
