# What .ci/run builds: by clang, which compiles what it does not optimise in half of g++'s time, and of the program the work alone optimised (rolling patterns back, too: a quarter of `check`),
# with little put in line: that takes a quarter less time to compile and none more to run.
set(CMAKE_CXX_COMPILER clang++ CACHE FILEPATH "")
set(CMAKE_CXX_FLAGS_RELEASE "-O1 -DNDEBUG -mllvm -inline-threshold=25 -mllvm -inlinehint-threshold=25 -Wno-unused-command-line-argument" CACHE STRING "")
set(LINERWRIGHT_WORDS run fitting paper page engine output making CACHE STRING "")
set(LINERWRIGHT_LESS -O0 CACHE STRING "")
include(${CMAKE_CURRENT_LIST_DIR}/release.cmake)
