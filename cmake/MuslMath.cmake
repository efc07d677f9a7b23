# The target pappus_musl_math: the mathematical functions of musl (Debian package musl-dev) under the prefix
# pappus_musl_, so that the native program and WebAssembly, whose C library is musl, give the same bytes.
find_program(PAPPUS_OBJCOPY NAMES objcopy llvm-objcopy-14 REQUIRED)
execute_process(COMMAND ${CMAKE_C_COMPILER} -dumpmachine OUTPUT_VARIABLE triplet OUTPUT_STRIP_TRAILING_WHITESPACE)
string(REGEX REPLACE "^([^-]+)-.*" "\\1" machine ${triplet})
find_file(PAPPUS_MUSL_ARCHIVE libc.a PATHS /usr/lib/${machine}-linux-musl NO_DEFAULT_PATH)
if(NOT PAPPUS_MUSL_ARCHIVE)
  message(FATAL_ERROR "musl's libc.a was not found in /usr/lib/${machine}-linux-musl: install the package musl-dev")
endif()

set(musl_dir ${CMAKE_BINARY_DIR}/musl_math)
set(musl_out ${musl_dir}/libpappus_musl_math.a)
if(NOT EXISTS ${musl_out})
  file(MAKE_DIRECTORY ${musl_dir}/objects)
  set(members exp log pow cbrt sin cos tan asin acos atan atan2 hypot fmod fabs sqrt scalbn floor
    exp_data log_data pow_data __sin __cos __tan __rem_pio2 __rem_pio2_large
    __math_oflow __math_uflow __math_xflow __math_divzero __math_invalid)
  list(TRANSFORM members APPEND ".lo" OUTPUT_VARIABLE objects)
  execute_process(COMMAND ${CMAKE_AR} x ${PAPPUS_MUSL_ARCHIVE} ${objects} WORKING_DIRECTORY ${musl_dir}/objects
    RESULT_VARIABLE failed ERROR_VARIABLE why)
  if(failed)
    message(FATAL_ERROR "could not take the functions out of ${PAPPUS_MUSL_ARCHIVE}: ${why}")
  endif()
  foreach(object IN LISTS objects)
    execute_process(COMMAND ${PAPPUS_OBJCOPY} --prefix-symbols=pappus_musl_ ${object}
      WORKING_DIRECTORY ${musl_dir}/objects RESULT_VARIABLE failed)
    if(failed)
      message(FATAL_ERROR "objcopy failed on ${object}")
    endif()
    # The stack guard is the host's own.
    execute_process(COMMAND ${PAPPUS_OBJCOPY} --redefine-sym pappus_musl___stack_chk_fail=__stack_chk_fail ${object}
      WORKING_DIRECTORY ${musl_dir}/objects)
  endforeach()
  execute_process(COMMAND ${CMAKE_AR} rcs ${musl_out} ${objects} WORKING_DIRECTORY ${musl_dir}/objects)
endif()
add_library(pappus_musl_math STATIC IMPORTED GLOBAL)
set_target_properties(pappus_musl_math PROPERTIES IMPORTED_LOCATION ${musl_out}
  INTERFACE_COMPILE_DEFINITIONS PAPPUS_PREFIXED_MATH)
