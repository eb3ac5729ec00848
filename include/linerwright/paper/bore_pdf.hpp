// The bore report on paper.
#pragma once

#include <string>

#include "linerwright/report/bore_sheet.hpp"

namespace linerwright {

// A PDF on A4, or on letter where the job is in inches, of text that can be searched and copied. The same
// sheet gives the same bytes.
std::string bore_pdf(const BoreSheet& sheet);

}  // namespace linerwright
