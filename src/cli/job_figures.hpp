// A job's figures without any file: what estimate and workbook speak of.
#pragma once

#include "board_flags.hpp"
#include "inputs.hpp"
#include "linerwright/making/make_job.hpp"

namespace linerwright {

// Totals, bore and, where there is stock, boards of the job, made as nest makes them; nothing is written.
JobResult figures_of(const Inputs& inputs, const BoardFlags& setup, Job& job);

// The job's [rates]; null where it states none.
const Values* stated_rates(const Job& job);

}  // namespace linerwright
