# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# Tests are found by name: tests/<room>/<topic>_test.cpp. Those of the window are added by
# render/render.cmake, because they link it; tests/bench prints figures and is not a test.
find_package(Catch2 2.13 REQUIRED)
find_package(rapidcheck REQUIRED)
# References to compare with: nothing outside tests/ may use them.
find_package(Eigen3 REQUIRED NO_MODULE)
find_package(Boost 1.74 REQUIRED)
include(Catch)

file(GLOB_RECURSE test_files CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/*_test.cpp)
list(FILTER test_files EXCLUDE REGEX "/tests/(render|bench)/")
# What several tests share: stories' helpers, the main().
file(GLOB test_support CONFIGURE_DEPENDS
  ${PROJECT_SOURCE_DIR}/tests/support/*.cpp ${PROJECT_SOURCE_DIR}/tests/support/*.hpp)

add_executable(redress_tests ${test_files} ${test_support})
target_link_libraries(redress_tests
  PRIVATE redress_program Catch2::Catch2 rapidcheck Eigen3::Eigen Boost::headers
  redress_warnings)
# Where the shipped cases are, and the program for tests that start it. One file alone knows: what
# is compiled without paths of one tree can be taken from a compiler's cache in another.
set_source_files_properties(${PROJECT_SOURCE_DIR}/tests/support/places.cpp PROPERTIES
  SKIP_PRECOMPILE_HEADERS ON COMPILE_DEFINITIONS
  "REDRESS_SOURCE_DIR=\"${PROJECT_SOURCE_DIR}\";REDRESS_PROGRAM=\"${PROJECT_BINARY_DIR}/redress\";REDRESS_SCREENS_DIR=\"${PROJECT_BINARY_DIR}/screens\"")
# Half of the time to compile a test is the two large headers, and a fifth is optimising what runs
# once (measured). The engine itself gets no such header: each of its files names what it uses.
target_precompile_headers(redress_tests PRIVATE <catch2/catch.hpp> <nlohmann/json.hpp>)
set_source_files_properties(${PROJECT_SOURCE_DIR}/tests/support/main.cpp PROPERTIES
  SKIP_PRECOMPILE_HEADERS ON)
target_compile_options(redress_tests PRIVATE -O0)
if(TARGET redress)
  add_dependencies(redress_tests redress)
endif()
# A name that matches no test case is a failure (-w NoTests); house: test_names guards the rest.
# RapidCheck draws the same examples each time, so that a red test is red for everybody.
catch_discover_tests(redress_tests
  WORKING_DIRECTORY ${PROJECT_SOURCE_DIR} EXTRA_ARGS -w NoTests
  PROPERTIES TIMEOUT 900 ENVIRONMENT "RC_PARAMS=seed=20260101")

# The rules of the house, kept by scripts: what includes what, what is banned, what is where.
function(add_house_test name)
  add_test(NAME "house: ${name}"
    COMMAND bash ${PROJECT_SOURCE_DIR}/tests/house/${name}.sh ${ARGN})
endfunction()
add_house_test(arrows ${PROJECT_SOURCE_DIR})
add_house_test(bans ${PROJECT_SOURCE_DIR})
add_house_test(nothing_scripted ${PROJECT_SOURCE_DIR})
add_house_test(source_files ${PROJECT_SOURCE_DIR})
add_house_test(top_level ${PROJECT_SOURCE_DIR})
add_house_test(no_libm $<TARGET_FILE:redress_sim>)
add_house_test(test_names $<TARGET_FILE:redress_tests>)
add_house_test(math_errno ${PROJECT_BINARY_DIR}/compile_commands.json)
add_house_test(checks_can_fail)

# The same bits from every compiler, level and instruction set.
add_executable(print_hashes ${PROJECT_SOURCE_DIR}/tests/determinism/print_hashes.cpp)
target_link_libraries(print_hashes PRIVATE redress_sim redress_warnings)
add_test(NAME "determinism: one hash from every build"
  COMMAND bash ${PROJECT_SOURCE_DIR}/tests/determinism/matrix.sh
    ${PROJECT_SOURCE_DIR} ${PROJECT_BINARY_DIR}/determinism
    $<TARGET_FILE:print_hashes>)
set_tests_properties("determinism: one hash from every build" PROPERTIES
  PROCESSORS 2 COST 10000 TIMEOUT 1500)

# Instructions a tick, counted: what a clock on a shared machine cannot tell.
add_executable(step_examination ${PROJECT_SOURCE_DIR}/tests/bench/step_examination.cpp)
target_link_libraries(step_examination PRIVATE redress_sim redress_warnings)
add_test(NAME "bench: instructions a tick"
  COMMAND bash ${PROJECT_SOURCE_DIR}/tests/bench/instructions.sh $<TARGET_FILE:step_examination>)

add_executable(price_examination ${PROJECT_SOURCE_DIR}/tests/bench/price_examination.cpp)
target_link_libraries(price_examination PRIVATE redress_sim redress_warnings)
add_test(NAME "bench: instructions to price every habit"
  COMMAND bash ${PROJECT_SOURCE_DIR}/tests/bench/pricing.sh $<TARGET_FILE:price_examination>)

add_executable(change_muscle ${PROJECT_SOURCE_DIR}/tests/bench/change_muscle.cpp)
target_link_libraries(change_muscle PRIVATE redress_sim redress_warnings)
add_test(NAME "bench: instructions for a changed muscle"
  COMMAND bash ${PROJECT_SOURCE_DIR}/tests/bench/change_muscle.sh $<TARGET_FILE:change_muscle>
    ${PROJECT_SOURCE_DIR}/scenarios)

# A day of assessment, by the clock: tests/bench/assessment.sh prints it. Not a test.
add_executable(assessment_bench EXCLUDE_FROM_ALL ${PROJECT_SOURCE_DIR}/tests/bench/assessment.cpp)
target_link_libraries(assessment_bench PRIVATE redress_program redress_warnings)
