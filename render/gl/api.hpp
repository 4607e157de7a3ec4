// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The one place that names the OpenGL loader, and how the program hands it its functions.
#pragma once

#include <glad/gl.h>

#include <stdexcept>

namespace redress::gl {

/// OpenGL cannot do what the picture needs; the text is for the user.
class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

using ProcAddress = void (*(*)(const char*))();

/// Loads OpenGL 3.3 core for the context that is current; throws Error if it is older.
void load_functions(ProcAddress find);

/// Whether the driver has reset the current context; false where it cannot tell.
bool is_context_lost();

}  // namespace redress::gl
