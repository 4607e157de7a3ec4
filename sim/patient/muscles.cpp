// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/muscles.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/patient/listing.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::kRadiansPerDegree;
using elementary::magnitude;

namespace {

constexpr double kTickS = 0.001;
constexpr double kLagS = 0.1;
constexpr double kPulseS = 0.2;
constexpr double kCounterRollDrive = 2.1;

// Of what the weak muscle is not told; fitted: a saccade of 20 degrees passes the target, as all of
// those recorded did, though it is sent a little short of it as other saccades are.
constexpr double kPulseMadeUp = 0.4;
constexpr double kPulseFadesS = 0.1;

constexpr double kTiringS = 60.0;
constexpr double kRecoveringS = 100.0;  // seven tenths in two minutes
constexpr double kTiringUpDeg = 15.0;
constexpr double kDroop = 0.2;  // of the opening, about 2 mm

constexpr double kSkewRoll = -1.2;

constexpr double kRetractionMm = 6.0;
constexpr double kMostRetractionMm = 4.0;
constexpr double kNarrowingPerMm = 0.08;

// What the eye was told, in the frame of its muscles.
struct Told {
  Direction3 command;
  double vergence = 0.0;  ///< this eye's part, nasal below 0
};

// The dip of a blink is no command: the lids press the eye.
Told calc_told(const Parameters& p, const State& s, Eye eye) {
  const double side = side_of(eye);
  const double drive = s.counter_roll_deg * (kCounterRollDrive * p.muscles.tilt_gain);
  Told told{
      to_muscle_frame(eye, {s.version.horizontal - side * (0.5 * s.vergence_deg),
                            s.version.vertical + side * (0.5 * s.vertical_vergence_deg), drive}),
      -0.5 * s.vergence_deg};
  told.command.torsion += calc_listing_turn(told.command, s.vergence_deg);
  return told;
}

// The command with the pulse that its speed needs.
Told with_pulse(Told told, const Angles& before) {
  constexpr double kGain = kPulseS / kTickS;
  told.command.horizontal += kGain * (told.command.horizontal - before.horizontal);
  told.command.vertical += kGain * (told.command.vertical - before.vertical);
  return told;
}

void follow(MuscleValues& value, const TableValue& goal) {
  for (std::size_t k = 0; k < value.size(); ++k) {
    value[k] += (goal[k] - value[k]) * (kTickS / kLagS);
    if (magnitude(value[k]) < 1e-9) value[k] = 0.0;
  }
}

const EyePlant* pointer_to_plant(const std::optional<EyePlant>& plant) {
  return plant ? &*plant : nullptr;
}

// The eye's plant at this state of fatigue.
struct PlantNow {
  const EyePlant* fresh;
  const EyePlant* tired;
  double fatigue;

  PlantNow(const Parameters& p, const State& s, Eye eye)
      : fresh(pointer_to_plant(p.muscles.plant[eye])),
        tired(pointer_to_plant(p.muscles.tired[eye])),
        fatigue(s.muscles.fatigue) {}

  [[nodiscard]] bool lags() const { return tired != nullptr || fresh->lags; }
  [[nodiscard]] bool mechanical() const { return fresh != nullptr && fresh->mechanical; }

  [[nodiscard]] TableValue whole(const Told& told) const {
    return mixed(
        [&](const EyePlant& plant) { return plant.whole.at(told.command, told.vergence); });
  }
  [[nodiscard]] TableValue innervation(const Told& told) const {
    return mixed([&](const EyePlant& plant) {
      if (!plant.lags) return TableValue{};
      const PlantTable& table = plant.innervated ? *plant.innervated : plant.whole;
      return table.at(told.command, told.vergence);
    });
  }

 private:
  template <class Read>
  [[nodiscard]] TableValue mixed(Read read) const {
    TableValue value = fresh != nullptr ? read(*fresh) : TableValue{};
    if (tired == nullptr || fatigue <= 0.0) return value;
    const TableValue end = read(*tired);
    for (std::size_t k = 0; k < value.size(); ++k) value[k] += fatigue * (end[k] - value[k]);
    return value;
  }
};

MuscleValues calc_departure(const PlantNow& plant, const Told& told, bool at_rest, Angles before,
                            MuscleValues& lagging) {
  if (plant.lags()) {
    const TableValue goal = plant.innervation(at_rest ? told : with_pulse(told, before));
    if (at_rest) {
      lagging = goal;
    } else {
      follow(lagging, goal);
    }
    if (!plant.mechanical()) return lagging;
  }
  MuscleValues departure = plant.whole(told);
  if (plant.lags() && !at_rest) {
    const TableValue settled = plant.innervation(told);
    for (std::size_t k = 0; k < departure.size(); ++k) departure[k] += lagging[k] - settled[k];
  }
  return departure;
}

void place_eye(const Parameters& p, bool at_rest, Eye eye, State& s) {
  MuscleState& m = s.muscles;
  const PlantNow plant(p, s, eye);
  const Told told = calc_told(p, s, eye);
  const MuscleValues departure = calc_departure(plant, told, at_rest, m.told[eye], m.lagging[eye]);
  m.told[eye] = {told.command.horizontal, told.command.vertical};
  m.departure[eye] = departure;
  // Beyond the reach of ductions a command is taken for the last one within it.
  const auto beyond = [](double command) {
    return clamp(command, -kGreatestCommand, kGreatestCommand) - command;
  };
  const double across = beyond(told.command.horizontal) + departure[0];
  const double up = beyond(told.command.vertical) + departure[1];
  // Torsion is told against Listing's orientation for the line on which the eye came to rest; so
  // near the line that it was sent to, that turns with the height alone.
  const double listing_change = 0.25 * kListingShare * s.vergence_deg * kRadiansPerDegree * up;
  const Direction3 turn = to_head_frame(eye, {across, up, departure[2] - listing_change});
  s.gaze[eye].horizontal += turn.horizontal;
  s.gaze[eye].vertical += turn.vertical;
  s.torsion_deg[eye] += turn.torsion;
}

void place_eyes(const Parameters& p, bool at_rest, State& s) {
  const double skew = p.muscles.skew_deg;
  for (const Eye eye : kBothEyes) {
    if (is_hampered(p, eye)) place_eye(p, at_rest, eye, s);
    if (skew == 0.0) continue;
    s.gaze[eye].vertical += side_of(eye) * (0.5 * skew);
    s.torsion_deg[eye] += kSkewRoll * skew;
  }
}

// The weak muscle gets of the pulse what it gets of any version.
void fade_pulse(const Parameters& p, State& s) {
  double& phasic = s.muscles.phasic_deg;
  if (phasic == 0.0) return;
  phasic -= phasic * (kTickS / kPulseFadesS);
  if (magnitude(phasic) < 1e-9) phasic = 0.0;
  const Eye adducting = phasic > 0.0 ? Eye::left : Eye::right;
  for (const Eye eye : kBothEyes) {
    const auto& plant = p.muscles.plant[eye];
    const bool weak = eye == adducting && plant.has_value();
    s.gaze[eye].horizontal += weak ? plant->muscles.version_gain * phasic : phasic;
  }
}

void tire(const Parameters& p, State& s) {
  if (!p.muscles.tired.right && !p.muscles.tired.left) return;
  double& f = s.muscles.fatigue;
  if (s.version.vertical > kTiringUpDeg) {
    f = clamp(f + kTickS / kTiringS, 0.0, 1.0);
  } else {
    f -= f * (kTickS / kRecoveringS);
    if (f < 1e-9) f = 0.0;
  }
}

}  // namespace

void step_muscles(const Parameters& p, State& s) {
  if (!s.muscles.in_force) return;
  tire(p, s);
  fade_pulse(p, s);
  place_eyes(p, false, s);
}

void raise_pulse(const Parameters& p, double made_deg, State& s) {
  const auto& plant = p.muscles.plant[made_deg > 0.0 ? Eye::left : Eye::right];  // that adducts
  if (!plant) return;
  const double missing = 1.0 - plant->muscles.version_gain;
  if (missing > 0.0) s.muscles.phasic_deg += kPulseMadeUp * missing * made_deg;
}

void settle_muscles(const Parameters& p, State& s) {
  if (s.muscles.in_force) place_eyes(p, true, s);
}

double calc_retraction_mm(const State& s, Eye eye) {
  return clamp(kRetractionMm * s.muscles.departure[eye][3], 0.0, kMostRetractionMm);
}

double calc_lid_share(const State& s, Eye eye) {
  return (1.0 - kNarrowingPerMm * calc_retraction_mm(s, eye)) * (1.0 - kDroop * s.muscles.fatigue);
}

}  // namespace redress::patient
