# WebAssembly by emscripten, for the folders that do without Open CASCADE; see scripts/wasm
set(CMAKE_BUILD_TYPE Release CACHE STRING "")
set(CMAKE_TOOLCHAIN_FILE /usr/share/emscripten/cmake/Modules/Platform/Emscripten.cmake CACHE FILEPATH "")
set(CMAKE_CXX_FLAGS "-fwasm-exceptions" CACHE STRING "")
set(CMAKE_CXX_FLAGS_RELEASE "-O2 -DNDEBUG" CACHE STRING "")
set(LINERWRIGHT_KERNEL OFF CACHE BOOL "")
set(LINERWRIGHT_TESTS OFF CACHE BOOL "")
set(LINERWRIGHT_TOGETHER ON CACHE BOOL "")
