// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is drawn of a running session: both hands with what they hold, then the scene.
#pragma once

#include "render/scene/scene.hpp"
#include "render/screens/examine/scene.hpp"
#include "render/screens/examine/session.hpp"

namespace redress::app {

/// For a picture of so many pixels; `share` 0 ... 1 of the tick that runs.
scene::Scene make_room_scene(const screens::examine::Session& session, int width_px, int height_px,
                             double share);

}  // namespace redress::app
