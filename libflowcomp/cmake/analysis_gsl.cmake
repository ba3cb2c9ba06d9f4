# SPDX-License-Identifier: Apache-2.0
# GSL without surprises: its archives go privately into libflowcomp-analysis together with a gsl_error and a
# cblas_xerbla of our own (src/analysis/gsl_errors.c), so the host's GSL and its error handler are never touched.

# Sets flowcomp_gsl_includes, flowcomp_gsl_libraries and flowcomp_gsl_is_static.
macro(flowcomp_find_gsl)
  find_package(PkgConfig REQUIRED)
  pkg_check_modules(FLOWCOMP_GSL REQUIRED gsl>=2.5)
  set(flowcomp_gsl_includes ${FLOWCOMP_GSL_INCLUDE_DIRS})
  pkg_get_variable(gsl_libdir gsl libdir)
  find_library(FLOWCOMP_GSL_ARCHIVE libgsl.a HINTS ${gsl_libdir})
  find_library(FLOWCOMP_GSLCBLAS_ARCHIVE libgslcblas.a HINTS ${gsl_libdir})
  mark_as_advanced(FLOWCOMP_GSL_ARCHIVE FLOWCOMP_GSLCBLAS_ARCHIVE)
  if(FLOWCOMP_GSL_ARCHIVE AND FLOWCOMP_GSLCBLAS_ARCHIVE)
    set(flowcomp_gsl_is_static ON)
    set(flowcomp_gsl_libraries ${FLOWCOMP_GSL_ARCHIVE} ${FLOWCOMP_GSLCBLAS_ARCHIVE})
  else()
    set(flowcomp_gsl_is_static OFF)
    set(flowcomp_gsl_libraries ${FLOWCOMP_GSL_LINK_LIBRARIES})
    message(STATUS "libgsl.a and libgslcblas.a were not found: libflowcomp-analysis links the shared GSL, whose error "
                   "handler belongs to the whole process. Inputs are checked before each call all the same.")
  endif()
endmacro()

# One relocatable object of our objects and the members of GSL they need, in which only flc_* is still global: a static
# archive with GSL inside would otherwise collide with the GSL of the program it is linked into.
function(flowcomp_combine_with_gsl objects variable)
  set(combined ${CMAKE_CURRENT_BINARY_DIR}/flowcomp-analysis-combined.o)
  add_custom_command(OUTPUT ${combined}
    COMMAND ${CMAKE_LINKER} -r -o ${combined} $<TARGET_OBJECTS:${objects}> ${flowcomp_gsl_libraries}
    COMMAND ${CMAKE_OBJCOPY} -w --keep-global-symbol=flc_* ${combined}
    DEPENDS $<TARGET_OBJECTS:${objects}> COMMAND_EXPAND_LISTS VERBATIM
    COMMENT "Joining libflowcomp-analysis and GSL into one object")
  set_source_files_properties(${combined} PROPERTIES EXTERNAL_OBJECT ON GENERATED ON)
  set(${variable} ${combined} PARENT_SCOPE)
endfunction()
