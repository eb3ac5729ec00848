# clang with libc++, for the folders that do without Open CASCADE; see scripts/second-compiler
set(CMAKE_BUILD_TYPE Release CACHE STRING "")
set(CMAKE_CXX_COMPILER clang++ CACHE STRING "")
set(CMAKE_CXX_FLAGS "-stdlib=libc++" CACHE STRING "")
set(LINERWRIGHT_KERNEL OFF CACHE BOOL "")
set(CMAKE_CXX_FLAGS_RELEASE "-O1 -DNDEBUG" CACHE STRING "")
