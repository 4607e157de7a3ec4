// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/room_scene.hpp"

#include <cstddef>

namespace redress::app {

namespace ex = screens::examine;

scene::Scene make_room_scene(const ex::Session& session, int width_px, int height_px,
                             double share) {
  ex::SceneChoice choice;
  choice.width_px = width_px;
  choice.height_px = height_px;
  choice.view = session.view();
  choice.fidgets = true;
  const ex::Moment moment = session.live().moment(share);
  if (!moment.room.occluder.before_face) {
    choice.waiting = session.hand().ready_pose();
    choice.waiting_kind = session.occluder_kind();
  }
  for (const ex::HeldPiece& piece : session.prisms().pieces()) {
    const auto slot = static_cast<std::size_t>(piece.slot - 1);
    if (!piece.there || slot >= optics::kMaximumPrisms) continue;
    const bool bar = piece.form == ex::PrismForm::bar;
    const double slide = bar ? ex::PrismHand::slide_mm(piece, session.now(), ex::kBarStepMm) : 0.0;
    choice.held[piece.eye][slot] = ex::HeldLook{bar, slide};
  }
  return ex::make_scene(moment.seen, moment.room, session.live().room_parameters(), choice);
}

}  // namespace redress::app
