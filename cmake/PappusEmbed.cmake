# pappus_embed(TARGET core_sky NAMESPACE pappus::sky::data HEADER sky_data.hpp FILES name=path ...)
#
# Puts text files into a program at build time: `std::string_view name` in the header generated/HEADER. Core reads no
# file at run time; what it needs is handed in or stands in it.
function(pappus_embed)
  cmake_parse_arguments(E "" "TARGET;NAMESPACE;HEADER" "FILES" ${ARGN})
  set(dir ${CMAKE_CURRENT_BINARY_DIR}/generated)
  string(REGEX REPLACE "\\.hpp$" ".cpp" source ${E_HEADER})
  set(inputs)
  foreach(pair IN LISTS E_FILES)
    string(REGEX REPLACE "^[^=]*=" "" path ${pair})
    list(APPEND inputs ${path})
  endforeach()
  string(REPLACE ";" "|" pairs "${E_FILES}")
  add_custom_command(OUTPUT ${dir}/${E_HEADER} ${dir}/${source}
    COMMAND ${CMAKE_COMMAND} -DPAIRS=${pairs} -DNAMESPACE=${E_NAMESPACE} -DHEADER=${dir}/${E_HEADER}
            -DSOURCE=${dir}/${source} -P ${PROJECT_SOURCE_DIR}/cmake/embed_files.cmake
    DEPENDS ${inputs} ${PROJECT_SOURCE_DIR}/cmake/embed_files.cmake VERBATIM)
  target_sources(${E_TARGET} PRIVATE ${dir}/${source})
  # The standard promises 65,536 characters in a literal; every compiler that builds this takes as many as there are.
  set_source_files_properties(${dir}/${source} PROPERTIES COMPILE_OPTIONS "-Wno-overlength-strings")
  # So that tools which only read the sources (clang-tidy) find the generated headers without a whole build.
  if(NOT TARGET embedded)
    add_custom_target(embedded)
  endif()
  add_custom_target(embedded_${E_TARGET} DEPENDS ${dir}/${E_HEADER} ${dir}/${source})
  add_dependencies(embedded embedded_${E_TARGET})
  add_dependencies(${E_TARGET} embedded_${E_TARGET})
  target_include_directories(${E_TARGET} PRIVATE ${dir})
endfunction()
