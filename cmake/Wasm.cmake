# The toolchain of the WebAssembly tree: Debian's Emscripten, with what it needs of its surroundings.
#
# Emscripten's own scripts are run by node and look for the module acorn where Debian puts it. A node that is not
# Debian's does not look there by itself ("Cannot find module 'acorn'"), so that every compile and link command gets
# NODE_PATH, whoever starts ninja.
set(PAPPUS_NODE_PATH /usr/share/nodejs)
set(ENV{NODE_PATH} ${PAPPUS_NODE_PATH})
set(pappus_emscripten /usr/share/emscripten/cmake/Modules/Platform/Emscripten.cmake)
if(NOT EXISTS ${pappus_emscripten})
  message(FATAL_ERROR "Emscripten was not found (${pappus_emscripten}): install the package emscripten")
endif()
include(${pappus_emscripten})

find_program(PAPPUS_CCACHE ccache)
# ccache has to be told what em++ is, as it cannot guess it from the name.
set(pappus_launcher ${CMAKE_COMMAND} -E env NODE_PATH=${PAPPUS_NODE_PATH} CCACHE_COMPILERTYPE=clang)
set(CMAKE_C_LINKER_LAUNCHER ${pappus_launcher})
set(CMAKE_CXX_LINKER_LAUNCHER ${pappus_launcher})
if(PAPPUS_CCACHE)
  list(APPEND pappus_launcher ${PAPPUS_CCACHE})
endif()
set(CMAKE_C_COMPILER_LAUNCHER ${pappus_launcher})
set(CMAKE_CXX_COMPILER_LAUNCHER ${pappus_launcher})
