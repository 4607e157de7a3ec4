// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What lies ready in the room. In practice everything; at a station what its circuit allows, and
// nothing else ever limits it.
#pragma once

#include <string>
#include <vector>

#include "render/screens/examine/keys.hpp"
#include "render/screens/examine/prism_hand.hpp"
#include "sim/room/act.hpp"

namespace redress::screens::examine {

struct Instruments {
  bool opaque_occluder = true;
  bool translucent_occluder = true;
  bool horizontal_bar = true;
  bool vertical_bar = true;
  bool loose_prisms = true;
  bool trial_lenses = true;
  bool spectacles = true;  ///< taken off and put on
  bool penlight = true;
  bool ruler = true;
  bool operator==(const Instruments&) const = default;

  [[nodiscard]] bool has(OccluderKind kind) const {
    return kind == OccluderKind::opaque ? opaque_occluder : translucent_occluder;
  }
};

/// Why this cannot be ordered here ("No penlight at this station."); empty: it can. Of prisms see
/// below.
std::string find_refusal(const Instruments& there, const Order& order, OccluderKind in_hand);
/// The same of what the hands would then hold.
std::string find_refusal(const Instruments& there, const PrismHand& hands);

}  // namespace redress::screens::examine
