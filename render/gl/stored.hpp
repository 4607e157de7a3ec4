// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pictures of ours are stored encoded to sRGB, and reading them decodes every texel. Where bytes
// will do until one colour has been mixed of many, they are read as they are stored.
#pragma once

#include "render/gl/api.hpp"

namespace redress::gl {

/// From now on this texture's encoded colours are not decoded when they are read
/// (EXT_texture_sRGB_decode). False: this driver always decodes; nothing is changed.
bool read_as_stored(GLuint texture);

}  // namespace redress::gl
