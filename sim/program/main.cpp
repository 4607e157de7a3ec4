// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The program without a window; render/app/main.cpp is the one with it.
#include "sim/program/command_line.hpp"

int main(int argc, char** argv) { return redress::program::run_command_line(argc, argv); }
