// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The practitioner's own head, kept out of the patient's line to the target.
#include <fmt/format.h>

#include "sim/room/practitioner.hpp"
#include "sim/scoring/mend_acts.hpp"

namespace redress::scoring {

std::optional<MendedActs> keep_head_low(const Examined& x, std::span<const Act> acts) {
  if (x.evidence.head_before_target_ms == 0) return std::nullopt;
  MendedActs mended;
  mended.acts.assign(acts.begin(), acts.end());
  bool rose = false;
  for (Act& act : mended.acts) {
    auto* head = std::get_if<act::MoveViewpoint>(&act.content);
    if (head == nullptr || head->y_mm <= kClearRiseMm) continue;
    head->y_mm = kClearRiseMm;
    if (!rose) mended.at_ms = act.at_ms;
    rose = true;
  }
  if (!rose) return std::nullopt;
  mended.done = fmt::format("Your head before the target for {}",
                            in_seconds(static_cast<double>(x.evidence.head_before_target_ms)));
  mended.instead = "kept below the line to it";
  return mended;
}

}  // namespace redress::scoring
