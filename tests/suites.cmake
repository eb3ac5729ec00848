# Read by ctest. Where LINERWRIGHT_CASES is under 1, as in .ci/run, each suite of a test program is one test, run by one process: what a
# suite sets up is set up once, and the kernel's libraries are loaded once. Otherwise `singly`, a file of gtest_discover_tests, names each
# test by itself. `program`, `folder`: where the tests are and whose they are; `cost`: how soon they are begun, the longest first.
if("$ENV{LINERWRIGHT_CASES}" STREQUAL "" OR NOT "$ENV{LINERWRIGHT_CASES}" LESS 1)
  include("${singly}")
  return()
endif()
if(NOT EXISTS "${program}")
  add_test("${folder}_NOT_BUILT" "${program}")
  return()
endif()
execute_process(COMMAND "${program}" --gtest_list_tests OUTPUT_VARIABLE listed RESULT_VARIABLE status)
if(NOT status EQUAL 0)
  message(FATAL_ERROR "${program} does not list its tests")
endif()
# a suite's line begins at the margin and ends with a point, before a remark on its type
string(REGEX MATCHALL "(^|\n)[^ \n]+\\." suites "${listed}")
foreach(suite IN LISTS suites)
  string(STRIP "${suite}" suite)
  string(REGEX REPLACE "\\.$" "" name "${suite}")
  add_test("${folder}.${name}" "${program}" "--gtest_filter=${suite}*")
  set_tests_properties("${folder}.${name}" PROPERTIES TIMEOUT 900 COST "${cost}")
endforeach()
