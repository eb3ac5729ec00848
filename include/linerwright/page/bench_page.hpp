// The bench: one page in which a job is written, seen and cut, with the engine inside it.
#pragma once

#include <string>

namespace linerwright {

// The page as HTML, UTF-8. Throws std::runtime_error where the program was built without its engine.
std::string bench_page();

}  // namespace linerwright
