# What our libraries link, found the same way when they are built and when another project uses them installed.
# LINERWRIGHT_FOLDERS names the folders of src; LINERWRIGHT_LIBRARY_SOURCES is empty where Debian's libraries are linked.
if(NOT EMSCRIPTEN)
  find_package(fmt REQUIRED)
endif()
find_package(Threads REQUIRED)

# The target of a library that pkg-config knows, in a variable. Of one in C++ none with library sources, which CMakeLists.txt
# compiles; in C it is the same for every compiler.
macro(linerwright_system_library variable name language)
  if("${language}" STREQUAL "C" OR NOT LINERWRIGHT_LIBRARY_SOURCES)
    find_package(PkgConfig REQUIRED)
    if(NOT TARGET PkgConfig::${variable})
      pkg_check_modules(${variable} REQUIRED IMPORTED_TARGET ${name})
    endif()
    set(LINERWRIGHT_${variable} PkgConfig::${variable})
  endif()
endmacro()

if("intake" IN_LIST LINERWRIGHT_FOLDERS)
  linerwright_system_library(ZIP libzip C)
  linerwright_system_library(PUGIXML pugixml CXX)
endif()
if("draw" IN_LIST LINERWRIGHT_FOLDERS)
  linerwright_system_library(POLYCLIPPING polyclipping CXX)
endif()
if("boards" IN_LIST LINERWRIGHT_FOLDERS)
  linerwright_system_library(QRCODEGEN qrcodegencpp CXX)
endif()
if("report" IN_LIST LINERWRIGHT_FOLDERS AND NOT EMSCRIPTEN)
  linerwright_system_library(ZLIB zlib C)
endif()
if("paper" IN_LIST LINERWRIGHT_FOLDERS)
  linerwright_system_library(CAIRO cairo C)
  linerwright_system_library(XLSXWRITER xlsxwriter C)
endif()

if("solid" IN_LIST LINERWRIGHT_FOLDERS)
  find_package(OpenCASCADE REQUIRED)
  # Debian's kernel targets ask for the development files of a threading library that only the kernel itself
  # uses; its headers and link are not needed here.
  foreach(toolkit IN LISTS OpenCASCADE_LIBRARIES)
    if(TARGET ${toolkit})
      get_target_property(links ${toolkit} INTERFACE_LINK_LIBRARIES)
      list(FILTER links EXCLUDE REGEX "/libtbb(malloc)?\\.so$")
      set_target_properties(${toolkit} PROPERTIES INTERFACE_LINK_LIBRARIES "${links}")
    endif()
  endforeach()
endif()
