// What commands say of a job that they make.
#pragma once

#include <cstddef>

#include "linerwright/making/make_job.hpp"

namespace linerwright {

// How many threads work at the same time where nothing else is asked for.
int all_cores();
// Prints notes and what went wrong, a line each on standard error; returns how many fittings could not be
// made.
std::size_t print_problems(const JobResult& result);
// Prints how many fittings were not made; nothing where all were.
void print_not_made(std::size_t count);

}  // namespace linerwright
