# A Debian package of the program with its manual page and completions: cpack in the build folder, or scripts/package.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME linerwright)
set(CPACK_PACKAGE_VENDOR Linerwright)
set(CPACK_PACKAGE_CONTACT "Linerwright maintainers <maintainers@linerwright.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "fibrous liner for round duct fittings")
set(CPACK_PACKAGE_DESCRIPTION
"Models round duct fittings (straight lengths, gored elbows, offsets, reducers, tees, taps, caps, wyes) and
their fibrous liner as solids, unrolls the liner into flat DXF patterns for a
knife table, writes STL and STEP to look at the fit, and says what the lining
costs in bore.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE
  WORLD_READ WORLD_EXECUTE)
set(CPACK_COMPONENTS_ALL program)
set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)  # what it links, as Debian names it
set(CPACK_OUTPUT_FILE_PREFIX ${CMAKE_BINARY_DIR})
include(CPack)
