// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The program with a window: which screen is up, what goes from one to the next, what is kept.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "render/app/shell.hpp"

namespace redress::app {

struct ApplicationOptions {
  std::string cases_folder;     ///< empty: where they usually are
  std::string case_path;        ///< begin with this patient
  std::string debrief_path;     ///< begin with this released debrief
  std::string own_folder;       ///< preferences and records; empty: the user's own
  std::string program_folder;   ///< where the program lies
  std::optional<double> scale;  ///< instead of the preferred one
  std::string theme;            ///< "light" or "dim" on every screen; empty: as it should be
  std::string screen;  ///< "parts", "first-run", "calibrate", "cases", "examine", "progress",
                       ///< "train", "editor", "supply", "assessment", "compose", "results"; empty:
                       ///< as due
  bool card_open = true;
  std::optional<std::uint64_t> seed;  ///< chance of an examination; none: drawn from the clock
  /// Begin as a workstation of this sealed circuit.
  struct Sit {
    std::string sealed_path;
    std::string candidate;
    std::string workstation;  ///< empty: the computer's name
    std::string kept_folder;  ///< empty: stations/ in the user's own folder
    bool resume = false;
  } sit;
  std::string script_path;  ///< read by the command line into shell.script
  ShellOptions shell;
};

/// Runs until the user leaves. 0: well; 1: no window, no OpenGL 3.3, a script that cannot be read;
/// the reason is on standard error.
int run_application(const ApplicationOptions& options);

}  // namespace redress::app
