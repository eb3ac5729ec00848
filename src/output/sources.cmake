# Writes OUT with the check sum of the library's sources (src without the command line and the pages of text, and include), so that
# results of another state of the program are told apart. Names are taken relative to ROOT: the same sources
# give the same sum on every machine.
cmake_policy(SET CMP0009 NEW)
file(GLOB_RECURSE files LIST_DIRECTORIES false RELATIVE ${ROOT} ${ROOT}/src/* ${ROOT}/include/*)
list(FILTER files EXCLUDE REGEX "^src/cli/|\\.md$")
list(SORT files COMPARE STRING)
set(sums "")
foreach(file IN LISTS files)
  file(SHA256 ${ROOT}/${file} sum)
  string(APPEND sums "${sum}  ${file}\n")
endforeach()
string(SHA256 sum "${sums}")
set(text "#include \"options.hpp\"\n\nnamespace linerwright {\nconst char* const k_sources = \"${sum}\";\n}\n")
file(WRITE ${OUT} "${text}")
