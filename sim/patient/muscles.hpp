// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What weak, tight or restricted muscles make of the command that both eyes get alike.
//
// Both eyes are sent the same version and equal and opposite vergence (Hering); a healthy eye goes
// there exactly and needs none of this. An eye with a plant goes to
//   gaze = command + departure(command),
// read from its table (sim/patient/plant_table.hpp). What is mechanical acts at once, so that a
// restricted eye moves at full speed and stops. What is innervation acts with the plant's lag:
//   lag d' = departure(command + pulse speed) - d
// The pulse that should carry a healthy eye is as weak as the rest of the innervation, so that the
// eye creeps (Robinson 1964: the pulse makes up for a viscous lag of 0.15 to 0.25 s; the lag on the
// departure, 0.06 to 0.15 s, is judgement). The loops that guide the eyes see where the fovea is:
// an eye that falls short has its command raised, and its fellow shows the excess.
//
// Counter-roll: the torsion that is seen is 0.12 of the head's tilt (Simonsz 1985); its innervation
// is that for 2.1 times as much (fitted: the drive of a healthy eye cannot be told from its gaze),
// and for `tilt_gain` times that in a patient who has had a weak muscle for years.
//
// Listing's orientation in convergence (sim/patient/listing.hpp) is part of what an eye is told.
//
// A medial rectus that is told less (version_gain): its owner has learnt to raise the pulse of
// saccades that need it, and by Hering's law the yoke muscle of the fellow eye gets the same. The
// abducting eye overshoots and comes back as the pulse fades, exponentially (Zee, Hain & Carl 1987,
// Ann Neurol 21:383; Baloh, Yee & Honrubia 1978, Arch Neurol; every patient of a series of 75
// overshot, the more the weaker the adduction). How much of what is missing is made up by the
// pulse, and how fast it fades, is judgement.
//
// Fatigue: looking up for a minute takes an eye from its fresh plant to its tired one (linear in
// time); it recovers by seven tenths in two minutes (both judgement).
// Skew: one eye stands higher whatever its muscles do, and both roll towards the lower one, 1.2
// degrees for a degree (ocular tilt reaction; the ratio from memory).
#pragma once

#include "sim/patient/parameters.hpp"
#include "sim/patient/state.hpp"

namespace redress::patient {

/// Puts each eye where its muscles take it: adds its departure to `gaze` and `torsion_deg`, which
/// hold the command. Does nothing when nothing is in force.
void step_muscles(const Parameters& parameters, State& state);
/// A saccade carried both eyes so far at this tick, to the right +: with it goes the pulse that has
/// been raised for a weak adduction. Nothing where none is weak in this way.
void raise_pulse(const Parameters& parameters, double made_deg, State& state);
/// The same without lag: where the eyes come to rest.
void settle_muscles(const Parameters& parameters, State& state);

/// Whether this eye's muscles may not get it to the target.
inline bool is_hampered(const Parameters& parameters, Eye eye) {
  return parameters.muscles.plant[eye].has_value() || parameters.muscles.tired[eye].has_value();
}

/// By how much muscles that pull against each other draw the eye back, mm: judgement, 6 mm for as
/// much pull again, at most 4 (retraction of 1 to 4 mm in co-contraction, from memory).
double calc_retraction_mm(const State& state, Eye eye);
/// What is left of the lid opening: narrower by 0.08 for a millimetre of retraction (from memory:
/// a fissure of 10 mm narrows by 1 to 3), and by lids that droop as they tire, 2 mm at most (from
/// memory: 1 to 3).
double calc_lid_share(const State& state, Eye eye);

}  // namespace redress::patient
