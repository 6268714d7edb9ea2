# Breaks a copy of the tree in each way that check_layers.cmake must refuse, and expects it to refuse.
cmake_minimum_required(VERSION 3.22)
function(expect_refusal what path content words)
  file(REMOVE_RECURSE ${WORK})
  file(MAKE_DIRECTORY ${WORK})
  file(COPY ${ROOT}/libsim ${ROOT}/cli ${ROOT}/tests ${ROOT}/benchmarks DESTINATION ${WORK})
  file(WRITE ${WORK}/${path} "${content}")
  execute_process(COMMAND ${CMAKE_COMMAND} -D ROOT=${WORK} -P ${ROOT}/tests/check_layers.cmake
    RESULT_VARIABLE code OUTPUT_VARIABLE out ERROR_VARIABLE out)
  string(REGEX REPLACE "[ \n]+" " " flat "${out}")
  if(code EQUAL 0 OR NOT flat MATCHES "${words}")
    message(FATAL_ERROR "not refused: ${what}\n${out}")
  endif()
endfunction()
expect_refusal("an include of a layer that is not listed" libsim/soil/bad.hpp
  "#include <lowspot/drain/drain.hpp>\n" "'soil' may not include 'drain'")
expect_refusal("a quoted include" libsim/soil/bad.hpp "#include \"../drain/drain.hpp\"\n" "includes with quotes")
expect_refusal("a source without a test" libsim/soil/bad.cpp "int bad;\n" "has no tests/soil/bad_test.cpp")
expect_refusal("a header that leans on what its source includes before it" libsim/base/text.cpp
  "#include <string>\n#include <lowspot/base/text.hpp>\n" "text.cpp: does not include its own header first")
string(REPEAT "// line\n" 401 long)
expect_refusal("a long file" libsim/soil/bad.hpp "${long}" "401 lines")
file(REMOVE_RECURSE ${WORK})
