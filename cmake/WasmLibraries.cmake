# Included after project() in the WebAssembly tree: the libraries and the shape of its programs.
#
# Header-only libraries are shown to em++ through a folder of symbolic links: with /usr/include itself it would take the
# host's C headers ("bits/libc-header-start.h file not found").
set(PAPPUS_WASM_HEADERS ${CMAKE_BINARY_DIR}/wasm_headers)
file(MAKE_DIRECTORY ${PAPPUS_WASM_HEADERS})
foreach(library IN ITEMS tl toml++ nlohmann)
  if(NOT EXISTS /usr/include/${library})
    message(FATAL_ERROR "the headers /usr/include/${library} are missing: run tools/setup run")
  endif()
  file(CREATE_LINK /usr/include/${library} ${PAPPUS_WASM_HEADERS}/${library} SYMBOLIC)
endforeach()

# GoogleTest has no binary for this target; its sources (package googletest) are built here.
set(PAPPUS_GTEST_SOURCE /usr/src/googletest/googletest)
if(PAPPUS_TESTS AND NOT EXISTS ${PAPPUS_GTEST_SOURCE}/src/gtest-all.cc)
  message(FATAL_ERROR "GoogleTest's sources are missing (${PAPPUS_GTEST_SOURCE}): install the package googletest")
endif()

# Programs are modules that need no JavaScript of Emscripten's: tests/wasm/run.mjs starts them.
set(CMAKE_EXECUTABLE_SUFFIX .wasm)
add_link_options(-sSTANDALONE_WASM -sALLOW_MEMORY_GROWTH=1)
