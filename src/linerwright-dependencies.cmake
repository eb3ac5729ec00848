# What our libraries link, found the same way when they are built and when another project uses them installed.
find_package(fmt REQUIRED)
find_package(OpenCASCADE REQUIRED)
find_package(Threads REQUIRED)
find_package(PkgConfig REQUIRED)
if(NOT TARGET PkgConfig::POLYCLIPPING)
  pkg_check_modules(POLYCLIPPING REQUIRED IMPORTED_TARGET polyclipping)
endif()
if(NOT TARGET PkgConfig::CAIRO)
  pkg_check_modules(CAIRO REQUIRED IMPORTED_TARGET cairo)
endif()
if(NOT TARGET PkgConfig::QRCODEGEN)
  pkg_check_modules(QRCODEGEN REQUIRED IMPORTED_TARGET qrcodegencpp)
endif()

# Debian's kernel targets ask for the development files of a threading library that only the kernel itself
# uses; its headers and link are not needed here.
foreach(toolkit IN LISTS OpenCASCADE_LIBRARIES)
  if(TARGET ${toolkit})
    get_target_property(links ${toolkit} INTERFACE_LINK_LIBRARIES)
    list(FILTER links EXCLUDE REGEX "/libtbb(malloc)?\\.so$")
    set_target_properties(${toolkit} PROPERTIES INTERFACE_LINK_LIBRARIES "${links}")
  endif()
endforeach()
