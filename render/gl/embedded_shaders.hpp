// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The files of assets/shaders as text inside the binary, so that it runs from any folder.
#pragma once

#include <span>
#include <string_view>

namespace redress::gl {

struct EmbeddedShader {
  std::string_view name;
  std::string_view text;
};

/// All of them; the definition is generated at build time.
std::span<const EmbeddedShader> embedded_shaders();

}  // namespace redress::gl
