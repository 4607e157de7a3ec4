// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examiner that does anything that is allowed, each kind of act as often as any other, and
// writes anything that can be written: each key is there or not, each value any within its range.
#include <optional>
#include <string>

#include "sim/basics/random.hpp"
#include "sim/examiners/examine.hpp"

namespace redress::examiners {

namespace {

constexpr Tick kSessionMs = 180'000;
constexpr Tick kLongestPauseMs = 4000;

constexpr const char* kQuestions[] = {"onset",
                                      "double_vision",
                                      "headache",
                                      "health",
                                      "family",
                                      "variation",
                                      "work",
                                      "injury",
                                      "school",
                                      "tired_eyes",
                                      "previous_treatment",
                                      "bright_light",
                                      "clear",
                                      "jump",
                                      "which_eye_removes_it",
                                      "arrangement",
                                      "where_worst",
                                      "single_or_double"};
constexpr const char* kRequests[] = {"acuity", "pupils", "discs", "stereo", "refraction"};
constexpr const char* kDiagnoses[] = {
    "no abnormality found",  "exophoria",         "esophoria",      "convergence insufficiency",
    "convergence excess",    "right esotropia",   "left esotropia", "intermittent exotropia",
    "alternating exotropia", "right hyperphoria", "microtropia",    "left hypertropia"};
constexpr const char* kBases[] = {"in", "out", "up", "down"};

/// Draws in order from the examiner's stream.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : seed_(seed) {}
  double between(double low, double high) { return low + (high - low) * uniform(); }
  bool coin() { return uniform() < 0.5; }
  std::size_t below(std::size_t n) {
    const auto i = static_cast<std::size_t>(uniform() * static_cast<double>(n));
    return i < n ? i : n - 1;
  }
  template <class T, std::size_t N>
  const T& any_of(const T (&list)[N]) {
    return list[below(N)];
  }
  template <class Enum>
  Enum any(std::size_t count) {
    return static_cast<Enum>(below(count));
  }
  std::optional<double> maybe(double low, double high) {
    if (!coin()) return std::nullopt;
    return between(low, high);
  }
  template <class Enum>
  std::optional<Enum> maybe_any(std::size_t count) {
    if (!coin()) return std::nullopt;
    return any<Enum>(count);
  }

 private:
  double uniform() { return random_uniform(seed_, Stream::examiner, event_++); }

  std::uint64_t seed_;
  std::uint64_t event_ = 0;
};

std::int32_t draw_travel(Dice& dice) { return static_cast<std::int32_t>(dice.below(1000)); }

// A distance as likely in the nearer half of the vergences as in the farther.
double draw_distance(Dice& dice) { return 1.0 / dice.between(0.05, 4.0); }

act::Cover draw_cover(Dice& dice) {
  act::Cover a;
  a.eye = dice.any<Eye>(2);
  a.occluder = dice.any<OccluderKind>(2);
  a.from = dice.any<Side>(4);
  a.travel_ms = draw_travel(dice);
  return a;
}

act::MoveOccluder draw_move(Dice& dice) {
  act::MoveOccluder a;
  a.x_mm = dice.between(-80, 80);
  a.y_mm = dice.between(-80, 80);
  a.z_mm = dice.between(-60, -20);
  a.roll_deg = dice.between(-90, 90);
  a.travel_ms = draw_travel(dice);
  return a;
}

act::HoldPrism draw_prism(Dice& dice) {
  act::HoldPrism a;
  a.eye = dice.any<Eye>(2);
  a.power = PrismDioptres{dice.between(0.5, 45.0)};
  a.base = Degrees{90.0 * static_cast<double>(dice.below(4))};
  return a;
}

act::ShowTarget draw_target(Dice& dice) {
  act::ShowTarget a;
  a.kind = dice.any<TargetKind>(4);
  a.distance_m = draw_distance(dice);
  a.size_logmar = dice.between(-0.3, 1.5);
  a.horizontal_deg = dice.between(-20, 20);
  a.vertical_deg = dice.between(-20, 20);
  return a;
}

act::TiltHead draw_tilt(Dice& dice) {
  act::TiltHead a;
  a.roll_deg = dice.between(-30, 30);
  a.turn_deg = dice.between(-20, 20);
  a.chin_deg = dice.between(-20, 20);
  a.travel_ms = draw_travel(dice);
  return a;
}

Finding draw_finding(Dice& dice) {
  Finding f;
  f.test = dice.any<FindingTest>(8);
  if (dice.coin()) f.distance_m = draw_distance(dice);
  if (dice.coin()) f.spectacles = dice.coin();
  f.kind = dice.maybe_any<FindingKind>(3);
  f.constancy = dice.maybe_any<Constancy>(2);
  f.eye = dice.maybe_any<FindingEye>(4);
  f.horizontal_pd = dice.maybe(-40, 40);
  f.vertical_pd = dice.maybe(-20, 20);
  f.method = dice.maybe_any<SizeMethod>(2);
  f.recovery = dice.maybe_any<RecoveryGrade>(4);
  f.response = dice.maybe_any<FourDioptreResponse>(3);
  if (dice.coin()) f.comitant = dice.coin();
  f.break_value = dice.maybe(0, 40);
  f.recovery_value = dice.maybe(0, 40);
  f.blur_value = dice.maybe(0, 40);
  if (dice.coin()) f.base = dice.any_of(kBases);
  f.ac_a_pd_per_d = dice.maybe(0, 12);
  if (dice.coin()) f.diagnosis = dice.any_of(kDiagnoses);
  if (dice.coin()) f.advice = "Review.";
  f.urgency = dice.maybe_any<Urgency>(4);
  return f;
}

ActContent draw_act(Dice& dice) {
  switch (dice.below(17)) {
    case 0: return draw_cover(dice);
    case 1: return act::Uncover{dice.any<Side>(4), draw_travel(dice)};
    case 2: return draw_move(dice);
    case 3: return draw_prism(dice);
    case 4: return act::RemovePrism{dice.any<Eye>(2), std::nullopt};
    case 5: return draw_target(dice);
    case 6: return act::Spectacles{dice.coin()};
    case 7: return act::TrialLenses{{dice.between(-3, 3), dice.between(-3, 3)}};
    case 8: return draw_tilt(dice);
    case 9: return act::Penlight{dice.coin()};
    case 10: return act::Instruct{dice.any<Instruction>(6)};
    case 11: return act::Ask{dice.any_of(kQuestions)};
    case 12: return act::Request{dice.any_of(kRequests)};
    case 13:
      return act::MoveViewpoint{dice.between(-200, 200), dice.between(-200, 200),
                                dice.between(-700, -300)};
    case 14: return act::RoomLight{dice.any<LightLevel>(2)};
    case 15: return act::Magnify{dice.between(40, 120), dice.maybe_any<Eye>(2)};
    default: return act::Note{draw_finding(dice)};
  }
}

}  // namespace

void examine_at_random(Consulting& room, const Habits& habits) {
  Dice dice(habits.seed);
  while (room.now() < kSessionMs) {
    room.wait(1 + static_cast<Tick>(dice.below(static_cast<std::size_t>(kLongestPauseMs))));
    room.act(draw_act(dice));
  }
}

}  // namespace redress::examiners
