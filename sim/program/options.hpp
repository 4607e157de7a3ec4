// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What options of the command line are checked with.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace redress::program {

/// A number from least to most. CLI::Range alone lets through what compares with nothing, and an
/// empty word for 0. `name`: of an option that is not in the help, which is told without one.
inline CLI::Validator number_between(double least, double most, const std::string& name = {}) {
  const std::string allowed =
      "a number from " + CLI::detail::to_string(least) + " to " + CLI::detail::to_string(most);
  return {[=](std::string& text) {
            std::size_t read = 0;
            double value = 0;
            try {
              value = std::stod(text, &read);
            } catch (const std::exception&) {
              read = 0;
            }
            const bool well = read > 0 && read == text.size() && value >= least && value <= most;
            const std::string whose = name.empty() ? name : name + ": ";
            return well ? std::string{} : whose + "“" + text + "”; allowed: " + allowed;
          },
          allowed};
}

}  // namespace redress::program
