// Tasks in processes of their own: a broken file may crash the kernel that reads it, or keep it busy without
// end, and neither may end the program.
#pragma once

#include <cstddef>
#include <functional>
#include <string>

namespace linerwright {

// What a task came to: its words, or why there are none.
struct Outcome {
  std::string words;
  std::string fault;
};

// Runs task(i) for each i below count, as many at once as there are cores, each under limits of memory and of
// processor time (10 s), and hands over the outcomes in order. Call before the program has threads.
void run_apart(std::size_t count, const std::function<std::string(std::size_t)>& task,
               const std::function<void(std::size_t, const Outcome&)>& done);

// In a task: the processor time that it may take in all, in the place of the usual.
void allow_processor_time(unsigned seconds);

}  // namespace linerwright
