// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A head that goes back to where the patient holds it when nobody says otherwise.
#include "sim/basics/random.hpp"
#include "sim/room/room.hpp"

namespace redress {

namespace {

constexpr std::int32_t kReturnMs = 800;
constexpr double kSoonestMs = 1200.0;  // back within 2 to 5 s: judgement
constexpr double kLatestMs = 4200.0;
constexpr std::uint32_t kRelaxingPart = 4;  // beside those of sim/patient/step_behaviour.cpp

}  // namespace

Tick draw_relaxing_ms(const patient::Chance& chance, Tick now) {
  const double u = chance.noise > 0.0
                       ? random_uniform(chance.seed, Stream::behaviour,
                                        static_cast<std::uint64_t>(now), kRelaxingPart)
                       : 0.5;
  return static_cast<Tick>(kSoonestMs + (kLatestMs - kSoonestMs) * u);
}

void take_own_posture(const RoomParameters& parameters, Tick now, RoomState& room) {
  HeadMotion& h = room.head;
  h.from = h.now;
  h.to = parameters.own_posture;
  h.to.turn.value += room.withdrawn_deg;
  h.motion = {now, kReturnMs};
  h.speed_deg_s = {};
  room.relaxes_at = -1;
}

}  // namespace redress
