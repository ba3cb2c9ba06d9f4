# SPDX-License-Identifier: Apache-2.0
# Run at install time, before anything is copied: append to made_folders each folder that installing will make (with
# the prefix and what lies above it), so that uninstall removes these and no others.
foreach(destination IN LISTS destinations)
  cmake_path(ABSOLUTE_PATH destination BASE_DIRECTORY "${CMAKE_INSTALL_PREFIX}" NORMALIZE OUTPUT_VARIABLE folder)
  set(folder "$ENV{DESTDIR}${folder}")
  while(NOT EXISTS "${folder}")
    file(APPEND "${made_folders}" "${folder}\n")
    cmake_path(GET folder PARENT_PATH folder)
  endwhile()
endforeach()
