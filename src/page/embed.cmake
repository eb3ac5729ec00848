# Writes OUT: a C++ source that holds the files TEXTS of FOLDER, found by name with web_text(). NAME.gz64 is the file NAME packed
# by gzip, as base64.
set(source "// Made from src/page/web by embed.cmake.\n#include \"web_text.hpp\"\n\n#include <stdexcept>\n\n")
string(APPEND source "namespace linerwright {\n\nnamespace {\n\n")
set(choice "")
set(number 0)
foreach(text IN LISTS TEXTS)
  if(text MATCHES "^(.*)\\.gz64$")
    execute_process(COMMAND gzip -9 -n -c ${FOLDER}/${CMAKE_MATCH_1} COMMAND base64 -w 0 OUTPUT_VARIABLE content
                    RESULTS_VARIABLE codes)
    if(NOT codes STREQUAL "0;0")
      message(FATAL_ERROR "${text}: gzip and base64 are needed")
    endif()
  else()
    file(READ ${FOLDER}/${text} content)
  endif()
  string(APPEND source "constexpr char k_text_${number}[] = R\"~web~(${content})~web~\";\n")
  string(APPEND choice "  if (name == \"${text}\") return {k_text_${number}, sizeof k_text_${number} - 1};\n")
  math(EXPR number "${number} + 1")
endforeach()
string(APPEND source "\n}  // namespace\n\nstd::string_view web_text(std::string_view name) {\n${choice}"
  "  throw std::logic_error(\"no such web text\");\n}\n\n}  // namespace linerwright\n")
file(WRITE ${OUT} "${source}")
