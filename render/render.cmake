# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# The window: redress_screens (parts, layouts and screens: Dear ImGui, no window, no OpenGL),
# redress_window (SDL2, OpenGL), redress_application (the loop), and their tests. Debian packages:
# libsdl2-dev libimgui-dev; to run: fonts-inter fonts-dejavu-core.
pkg_check_modules(imgui REQUIRED IMPORTED_TARGET imgui)
pkg_check_modules(sdl2 REQUIRED IMPORTED_TARGET sdl2)
pkg_check_modules(freetype IMPORTED_TARGET freetype2)

# Debian's archive of Dear ImGui holds a FreeType builder that is not used, but may be asked for.
add_library(redress_imgui INTERFACE)
target_include_directories(redress_imgui SYSTEM INTERFACE ${imgui_INCLUDE_DIRS})
target_link_libraries(redress_imgui INTERFACE PkgConfig::imgui)

file(GLOB_RECURSE screen_files CONFIGURE_DEPENDS
  ${PROJECT_SOURCE_DIR}/render/screens/*.cpp ${PROJECT_SOURCE_DIR}/render/screens/*.hpp)
add_library(redress_screens STATIC ${screen_files})
target_link_libraries(redress_screens
  PUBLIC redress_sim redress_picture redress_imgui PRIVATE redress_warnings)

file(GLOB_RECURSE window_files CONFIGURE_DEPENDS
  ${PROJECT_SOURCE_DIR}/render/window/*.cpp ${PROJECT_SOURCE_DIR}/render/window/*.hpp)
add_library(redress_window STATIC ${window_files})
target_link_libraries(redress_window
  PUBLIC redress_picture redress_imgui PRIVATE redress_options PkgConfig::sdl2 redress_warnings)

file(GLOB_RECURSE application_files CONFIGURE_DEPENDS
  ${PROJECT_SOURCE_DIR}/render/app/*.cpp ${PROJECT_SOURCE_DIR}/render/app/*.hpp)
list(REMOVE_ITEM application_files ${PROJECT_SOURCE_DIR}/render/app/main.cpp)
add_library(redress_application STATIC ${application_files})
target_link_libraries(redress_application
  PUBLIC redress_screens redress_window redress_picture redress_program
  PRIVATE redress_warnings)
# Where the shipped cases are when the program runs from its build folder. Two files alone know, for
# cases and for departments: see tests/tests.cmake.
set_source_files_properties(
  ${PROJECT_SOURCE_DIR}/render/app/case_shelf.cpp ${PROJECT_SOURCE_DIR}/render/app/departments.cpp
  PROPERTIES
  COMPILE_DEFINITIONS REDRESS_SCENARIOS="${PROJECT_SOURCE_DIR}/scenarios")

if(TARGET redress)
  # The same command line, entered where the window can add to it.
  set_target_properties(redress PROPERTIES SOURCES ${PROJECT_SOURCE_DIR}/render/app/main.cpp)
  target_link_libraries(redress PRIVATE redress_application)
endif()

# --- tests ------------------------------------------------------------------------------------
if(BUILD_TESTING)
  find_package(Catch2 2.13 REQUIRED)
  include(Catch)
  file(GLOB_RECURSE render_tests CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/render/*_test.cpp)
  file(GLOB render_test_support CONFIGURE_DEPENDS
    ${PROJECT_SOURCE_DIR}/tests/support/*.cpp ${PROJECT_SOURCE_DIR}/tests/render/screen_pixels.cpp)
  add_executable(redress_render_tests ${render_tests} ${render_test_support})
  target_link_libraries(redress_render_tests PRIVATE
    redress_application redress_screens redress_window PkgConfig::sdl2 Catch2::Catch2
    redress_warnings)
  target_compile_options(redress_render_tests PRIVATE -O0)
  if(TARGET redress)
    add_dependencies(redress_render_tests redress)
  endif()
  catch_discover_tests(redress_render_tests
    WORKING_DIRECTORY ${PROJECT_SOURCE_DIR}
    PROPERTIES TIMEOUT 300 ENVIRONMENT "RC_PARAMS=seed=20260101")
endif()

# The real window on a display that nobody sees, with a hand on its mouse and keys. In real time:
# alone on the machine, or the hand is not a hand any more.
if(BUILD_TESTING AND TARGET redress)
  find_package(Python3 REQUIRED COMPONENTS Interpreter)
  function(add_window_test name script)
    add_test(NAME "window: ${name}"
      COMMAND ${Python3_EXECUTABLE} ${PROJECT_SOURCE_DIR}/tests/window/${script}.py
        $<TARGET_FILE:redress> ${PROJECT_BINARY_DIR}/window ${ARGN})
    set_tests_properties("window: ${name}" PROPERTIES TIMEOUT 1200 PROCESSORS 2 COST 5000)
  endfunction()
  add_window_test("a whole examination by mouse alone" examine mouse)
  add_window_test("a whole examination by keys alone" examine keys)
  # By mouse and keys, as somebody who knows how: the test leads the time, others may work beside.
  foreach(story exophoria esophoria nothing_wrong esotropia intermittent_exotropia hypertropia)
    add_window_test("a whole examination, ${story}" stories ${story})
    set_tests_properties("window: a whole examination, ${story}" PROPERTIES PROCESSORS 1)
  endforeach()
  add_window_test("focus lost in mid-cover" interruptions focus)
  add_window_test("the record cannot grow any more" interruptions disk)
  add_window_test("killed in mid-examination" interruptions kill)
  add_window_test("a circuit of two stations, killed once" circuit)
  add_window_test("mouse in the left hand" interruptions left)
  add_window_test("everything is reached by Tab" interruptions tab)
  add_window_test("a new case from nothing to checked and saved" write_case)
endif()
