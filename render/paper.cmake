# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# Reports on paper: a module that is loaded when a PDF is asked for (sim/program/paper.cpp), so that
# no start of the program pays for Cairo and Pango. Debian packages: libcairo2-dev libpango1.0-dev.
pkg_check_modules(pangocairo REQUIRED IMPORTED_TARGET pangocairo cairo-pdf)

add_library(redress_paper MODULE
  ${PROJECT_SOURCE_DIR}/render/paper/draw_pdf.cpp ${PROJECT_SOURCE_DIR}/render/paper/sheet.cpp
  ${PROJECT_SOURCE_DIR}/render/paper/sheet.hpp)
target_link_libraries(redress_paper PRIVATE redress_options redress_warnings PkgConfig::pangocairo)
set_target_properties(redress_paper PROPERTIES
  PREFIX "" LIBRARY_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR} CXX_VISIBILITY_PRESET hidden)
if(TARGET redress)
  add_dependencies(redress redress_paper)
endif()
