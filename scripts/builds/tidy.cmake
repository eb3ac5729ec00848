# each source by itself, for clang-tidy: scripts/tidy configures it and builds nothing
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_CLANG_TIDY clang-tidy CACHE STRING "")
set(CMAKE_EXPORT_COMPILE_COMMANDS ON CACHE BOOL "")
