# Writes OUT: a C++ source that holds the engine's files ENGINE (engine.js, engine.wasm and the sum of what they were made of),
# packed by gzip, as base64; empty texts where there are none, or where they were made of other sources.
cmake_minimum_required(VERSION 3.20)
set(ENGINE_SUM_ALONE ON)
include(${CMAKE_CURRENT_LIST_DIR}/engine_sources.cmake)
set(texts "" "")
set(why "it was built without the engine; run scripts/wasm, then build again")
if(ENGINE)
  list(GET ENGINE 0 code)
  list(GET ENGINE 1 bytes)
  list(GET ENGINE 2 sources)
  file(STRINGS ${sources} made_of LIMIT_COUNT 1)
  if(made_of STREQUAL engine_sum)
    set(why "")
    foreach(name code bytes)
      execute_process(COMMAND gzip -9 -n -c ${${name}} COMMAND base64 -w 0 OUTPUT_VARIABLE packed_${name} RESULTS_VARIABLE codes)
      if(NOT codes STREQUAL "0;0")
        message(FATAL_ERROR "gzip and base64 are needed")
      endif()
    endforeach()
  else()
    set(why "the engine it was built with was made of other sources; run scripts/wasm, then build again")
  endif()
endif()
file(WRITE ${OUT} "// Made by embed_engine.cmake.\n#include \"bench_engine.hpp\"\n\nnamespace linerwright {\n\n"
  "const std::string_view k_engine_code = R\"~web~(${packed_code})~web~\";\n"
  "const std::string_view k_engine_bytes = R\"~web~(${packed_bytes})~web~\";\n"
  "const std::string_view k_no_engine = R\"~web~(${why})~web~\";\n\n}  // namespace linerwright\n")
