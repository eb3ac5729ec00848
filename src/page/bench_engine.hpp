// The engine as WebAssembly, packed by gzip, as base64.
#pragma once

#include <string_view>

namespace linerwright {

extern const std::string_view k_engine_code;   // JavaScript
extern const std::string_view k_engine_bytes;  // WebAssembly
extern const std::string_view k_no_engine;     // why there is none; empty: there is

}  // namespace linerwright
