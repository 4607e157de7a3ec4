// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/examine.hpp"

namespace redress::examiners {

namespace {

constexpr Tick kIdleMs = 60'000;
constexpr Tick kAfterLastActMs = 1000;

// Whoever has written this for every patient has tested none.
void guess(Consulting& room, const Habits& habits) {
  room.wait(1000);
  for (const double distance_m : {6.0, habits.near_m}) {
    Finding f;
    f.test = FindingTest::cover_test;
    f.distance_m = distance_m;
    f.spectacles = room.sees_spectacles();
    f.kind = FindingKind::phoria;
    f.horizontal_pd = -4.0;
    f.vertical_pd = 0.0;
    f.method = SizeMethod::estimated;
    f.recovery = RecoveryGrade::rapid;
    room.act(act::Note{f});
    room.wait(1000);
  }
  Finding impression;
  impression.test = FindingTest::impression;
  impression.diagnosis = "exophoria";
  room.act(act::Note{impression});
  Finding plan;
  plan.test = FindingTest::plan;
  plan.advice = "Review at the usual interval.";
  plan.urgency = Urgency::routine;
  room.act(act::Note{plan});
}

}  // namespace

Examined examine(Examination& exam, const Habits& habits) {
  Consulting room(exam);
  switch (habits.kind) {
    case Kind::reference: examine_by_the_book(room, habits); break;
    case Kind::random: examine_at_random(room, habits); break;
    case Kind::idle: room.wait(kIdleMs); break;
    case Kind::guessing: guess(room, habits); break;
  }
  room.wait(kAfterLastActMs);
  return {room.acts(), room.now(), room.replies()};
}

}  // namespace redress::examiners
