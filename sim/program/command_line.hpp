// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The command line, with a place where a window can add its own verbs without this room knowing it.
#pragma once

#include <functional>

namespace CLI {
class App;
}

namespace redress::program {

/// Adds verbs and options to the command line (they set the exit code given); returns what to do
/// when no verb was named. The second argument is the program's own path.
using Extension = std::function<std::function<int()>(CLI::App&, const char*, int&)>;

/// Exit code: 0 done, 1 the input is wrong or a check failed, 2 wrong usage.
int run_command_line(int argc, char** argv, const Extension& window = {});

}  // namespace redress::program
