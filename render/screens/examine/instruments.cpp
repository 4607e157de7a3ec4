// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/instruments.hpp"

namespace redress::screens::examine {

namespace {

std::string no(std::string_view what) { return "No " + std::string(what) + " at this station."; }

}  // namespace

std::string find_refusal(const Instruments& there, const Order& order, OccluderKind in_hand) {
  switch (order.command) {
    case Command::cover_left_side:
    case Command::cover_right_side:
    case Command::transfer:
      if (there.has(in_hand)) return "";
      return no(in_hand == OccluderKind::opaque ? "opaque occluder" : "translucent occluder");
    case Command::other_occluder:
      if (in_hand == OccluderKind::opaque) {
        return there.translucent_occluder ? "" : no("translucent occluder");
      }
      return there.opaque_occluder ? "" : no("opaque occluder");
    case Command::near_point: return there.ruler ? "" : no("near-point rule");
    case Command::spectacles: return there.spectacles ? "" : "The correction stays as it is here.";
    case Command::trial_lens_right:
    case Command::trial_lens_left:
    case Command::trial_lenses: return there.trial_lenses ? "" : no("trial lenses");
    case Command::penlight: return there.penlight ? "" : no("penlight");
    default: return "";
  }
}

std::string find_refusal(const Instruments& there, const PrismHand& hands) {
  for (const HeldPiece& piece : hands.pieces()) {
    if (!piece.taken) continue;
    if (piece.form != PrismForm::bar) {
      if (!there.loose_prisms) return no("loose prisms");
    } else if (piece.base == Base::in || piece.base == Base::out) {
      if (!there.horizontal_bar) return no("horizontal prism bar");
    } else if (!there.vertical_bar) {
      return no("vertical prism bar");
    }
  }
  return "";
}

}  // namespace redress::screens::examine
