// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the window adds to the command line: no verb opens it, `picture` draws without it, and some
// options for tests that the help does not show.
#pragma once

#include <functional>

#include <CLI/CLI.hpp>

namespace redress::app {

/// Adds the verb and the options to `app`, which must outlive what is returned; `code` receives
/// what the verb answers. Call what is returned when there was no verb: it opens the window, or
/// says that it can (--has-window); its value is the exit code.
std::function<int()> add_window(CLI::App& app, const char* program, int& code);

}  // namespace redress::app
