// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/four_dioptre.hpp"

#include <algorithm>
#include <vector>

#include "sim/basics/units.hpp"
#include "sim/examiners/watching.hpp"

namespace redress::examiners {

namespace {

constexpr double kPowerPd = 4.0;
constexpr Tick kBeforeMs = 2500;
constexpr Tick kWatchMs = 3000;
constexpr Tick kVersionFromMs = 200;
constexpr Tick kVersionToMs = 900;
constexpr Tick kWindowMs = 50;
constexpr Tick kEndMs = 400;
constexpr double kVersionDeg = 0.9;  // of the 2.3 degrees by which the prism turns light
constexpr double kReturnDeg = 0.7;

FourDioptreResponse test_once(Consulting& room, Eye tested) {
  const Eye other = fellow(tested);
  room.act(act::Instruct{Instruction::look});
  room.wait(kBeforeMs);
  const Tick at = room.now();
  const auto before = find_place(room.glances(), other, at - kEndMs, at);
  act::HoldPrism prism;
  prism.eye = tested;
  prism.power = PrismDioptres{kPowerPd};
  prism.base = Degrees{tested == Eye::right ? 180.0 : 0.0};  // out, ISO 8429
  room.act(prism);
  room.wait(kWatchMs);
  // Towards the nose of the tested eye is +: both eyes follow its image there.
  const auto moved = [&](Tick from, Tick to) -> std::optional<double> {
    const auto place = find_place(room.glances(), other, from, to);
    if (!before || !place) return std::nullopt;
    return -side_of(tested) * (place->horizontal_deg - before->horizontal_deg);
  };
  double furthest = 0.0;
  for (Tick t = at + kVersionFromMs; t < at + kVersionToMs; t += kWindowMs) {
    furthest = std::max(furthest, moved(t, t + kWindowMs).value_or(0.0));
  }
  const double end = moved(room.now() - kEndMs, room.now()).value_or(furthest);
  room.act(act::RemovePrism{tested, std::nullopt});
  room.wait(kBeforeMs);
  if (furthest < kVersionDeg) return FourDioptreResponse::no_movement;
  return furthest - end >= kReturnDeg ? FourDioptreResponse::typical
                                      : FourDioptreResponse::version_without_return;
}

}  // namespace

PerEye<FourDioptreResponse> test_four_dioptres(Consulting& room, int times) {
  PerEye<std::vector<FourDioptreResponse>> answers;
  for (int i = 0; i < times; ++i) {
    for (const Eye eye : kBothEyes) answers[eye].push_back(test_once(room, eye));
  }
  PerEye<FourDioptreResponse> result;
  for (const Eye eye : kBothEyes) {
    const auto& a = answers[eye];
    const auto count = [&](FourDioptreResponse r) { return std::count(a.begin(), a.end(), r); };
    if (count(FourDioptreResponse::typical) > 0) {
      result[eye] = FourDioptreResponse::typical;
    } else {
      result[eye] = count(FourDioptreResponse::no_movement) * 2 >= static_cast<long>(a.size())
                        ? FourDioptreResponse::no_movement
                        : FourDioptreResponse::version_without_return;
    }
  }
  return result;
}

}  // namespace redress::examiners
