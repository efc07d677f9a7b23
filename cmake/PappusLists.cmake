# What the tools outside CMake need to know of a tree, written at configure time:
#   modules.txt   name folder layer portable depends,on    for tools/layers
#   programs.txt  kind name path                           for tools/run_tests.py; kind is gtest, fuzz, bench or agreement

function(pappus_list_program kind target)
  set_property(GLOBAL APPEND PROPERTY PAPPUS_PROGRAMS "${kind} ${target} $<TARGET_FILE:${target}>")
endfunction()

function(pappus_write_lists)
  get_property(modules GLOBAL PROPERTY PAPPUS_MODULES)
  list(JOIN modules "\n" text)
  file(CONFIGURE OUTPUT ${CMAKE_BINARY_DIR}/modules.txt CONTENT "${text}\n" @ONLY)
  get_property(programs GLOBAL PROPERTY PAPPUS_PROGRAMS)
  list(JOIN programs "\n" text)
  file(GENERATE OUTPUT ${CMAKE_BINARY_DIR}/programs.txt CONTENT "${text}\n")
endfunction()
