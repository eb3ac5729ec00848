// The files of src/page/web as they were when the library was built.
#pragma once

#include <string_view>

namespace linerwright {

// The text of web/<name>. Throws std::logic_error if there is none.
std::string_view web_text(std::string_view name);

}  // namespace linerwright
