// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The program with its window.
#include "render/app/command_line.hpp"
#include "sim/program/command_line.hpp"

int main(int argc, char** argv) {
  return redress::program::run_command_line(argc, argv, redress::app::add_window);
}
