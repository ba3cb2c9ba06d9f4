# SPDX-License-Identifier: Apache-2.0
# Headers, libraries, CMake package, pkg-config files, and an uninstall target that leaves nothing behind.
include(CMakePackageConfigHelpers)

set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/flowcomp)
set(pkgconfig_dir ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
set(header_dir ${CMAKE_INSTALL_INCLUDEDIR}/flowcomp)

# First of all the install rules: note which folders are not there yet, so that uninstall can take away exactly those.
set(made_folders ${CMAKE_BINARY_DIR}/installed_folders.txt)
set(schema_dir ${CMAKE_INSTALL_DATADIR}/flowcomp/schema)
set(destinations ${header_dir} ${package_dir} ${pkgconfig_dir} ${CMAKE_INSTALL_DOCDIR})
if(FLOWCOMP_RECORDS)
  list(APPEND destinations ${schema_dir})
endif()
install(CODE "set(destinations \"${destinations}\")\nset(made_folders \"${made_folders}\")")
install(SCRIPT ${CMAKE_CURRENT_LIST_DIR}/note_folders.cmake)

# install_library(<component> <description> <shared target> <what a static link needs besides>...): the library in its
# shared and, where it was built, its static form, the CMake exports and the pkg-config file.
function(install_library component pc_description shared)
  install(TARGETS ${shared} EXPORT ${component}_shared LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR})
  install(EXPORT ${component}_shared NAMESPACE flowcomp:: DESTINATION ${package_dir} FILE ${component}-shared.cmake)
  if(FLOWCOMP_STATIC AND TARGET ${shared}_static)
    install(TARGETS ${shared}_static EXPORT ${component}_static ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
    install(EXPORT ${component}_static NAMESPACE flowcomp:: DESTINATION ${package_dir} FILE ${component}-static.cmake)
  endif()

  # The pkg-config file finds its prefix from where it lies, so an installed tree can be moved.
  get_target_property(pc_name ${shared} OUTPUT_NAME)
  list(JOIN ARGN " " pc_private)
  set(pc_requires)
  if(NOT component STREQUAL flowcomp)
    set(pc_requires "flowcomp = ${PROJECT_VERSION}")
  endif()
  cmake_path(RELATIVE_PATH CMAKE_INSTALL_PREFIX BASE_DIRECTORY ${CMAKE_INSTALL_FULL_LIBDIR}/pkgconfig
             OUTPUT_VARIABLE pc_up)
  cmake_path(ABSOLUTE_PATH CMAKE_INSTALL_LIBDIR BASE_DIRECTORY "\${prefix}" OUTPUT_VARIABLE pc_libdir)
  cmake_path(ABSOLUTE_PATH CMAKE_INSTALL_INCLUDEDIR BASE_DIRECTORY "\${prefix}" OUTPUT_VARIABLE pc_includedir)
  configure_file(${CMAKE_CURRENT_FUNCTION_LIST_DIR}/flowcomp.pc.in ${pc_name}.pc @ONLY)
  install(FILES ${CMAKE_CURRENT_BINARY_DIR}/${pc_name}.pc DESTINATION ${pkgconfig_dir})
endfunction()

set(absent_headers)
install_library(flowcomp "the run-time library" flowcomp)
if(FLOWCOMP_ANALYSIS)
  set(gsl_private)
  if(NOT flowcomp_gsl_is_static)
    set(gsl_private ${FLOWCOMP_GSL_STATIC_LDFLAGS})
  endif()
  install_library(analysis "fits and statistics, with GSL inside (the binary is GPL-3.0-or-later)" flowcomp_analysis
    ${gsl_private} -lm)
else()
  list(APPEND absent_headers PATTERN "analysis*.h" EXCLUDE)
endif()
if(FLOWCOMP_RECORDS)
  install_library(records "meter files, tickets, hashes and signatures" flowcomp_records
    ${JANSSON_STATIC_LDFLAGS} ${SODIUM_STATIC_LDFLAGS})
  install(DIRECTORY schema/ DESTINATION ${schema_dir} FILES_MATCHING PATTERN "*.schema.json" PATTERN "*.md")
else()
  list(APPEND absent_headers PATTERN "records*.h" EXCLUDE)
endif()

install(DIRECTORY include/flowcomp/ DESTINATION ${header_dir} FILES_MATCHING PATTERN "*.h" ${absent_headers})
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR})

configure_package_config_file(${CMAKE_CURRENT_LIST_DIR}/flowcomp-config.cmake.in flowcomp-config.cmake
  INSTALL_DESTINATION ${package_dir})
write_basic_package_version_file(flowcomp-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/flowcomp-config.cmake
  ${CMAKE_CURRENT_BINARY_DIR}/flowcomp-config-version.cmake DESTINATION ${package_dir})

add_custom_target(uninstall
  COMMAND ${CMAKE_COMMAND} -D manifest=${CMAKE_BINARY_DIR}/install_manifest.txt -D made_folders=${made_folders}
    -P ${CMAKE_CURRENT_LIST_DIR}/uninstall.cmake
  COMMENT "Removing what was installed" VERBATIM)
