// What a nesting job may contain.
#pragma once

#include "linerwright/nest/nest.hpp"

namespace linerwright::nesting {

// Throws InputError with everything that is wrong with the job.
void validate(const NestJob& job);

}  // namespace linerwright::nesting
