// The bore report as a page for any browser, which prints on letter and A4.
#pragma once

#include <string>

#include "linerwright/report/bore_sheet.hpp"

namespace linerwright {

// HTML, UTF-8; it holds all it shows, and runs no script.
std::string bore_page(const BoreSheet& sheet);

}  // namespace linerwright
