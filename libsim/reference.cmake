# cmake -D ROOT=<source folder> -D OUT=<folder> -P reference.cmake
# Makes the reference of the headers with doxygen and stops at any warning: every public type, member, constant and function says
# what it is, in a comment above or behind it (doxygen.awk). Enumerators may leave that to the comment of their enumeration.
cmake_minimum_required(VERSION 3.22)
file(MAKE_DIRECTORY ${OUT})
file(REMOVE ${OUT}/warnings.log)
execute_process(COMMAND ${CMAKE_COMMAND} -E env LOWSPOT_REFERENCE=${OUT} doxygen libsim/Doxyfile
  WORKING_DIRECTORY ${ROOT} RESULT_VARIABLE code)
if(NOT code EQUAL 0)
  message(FATAL_ERROR "doxygen: exit ${code}")
endif()
file(STRINGS ${OUT}/warnings.log warnings)
if(warnings)
  list(JOIN warnings "\n  " text)
  message(FATAL_ERROR "The reference has gaps:\n  ${text}")
endif()
message(STATUS "reference: ${OUT}/index.html")
