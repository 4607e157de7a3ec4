// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/misses.hpp"

#include <algorithm>

namespace redress::evidence {

namespace {

constexpr Miss kMisses[] = {
    {"P.A6",
     "The formula knows no slant of the line of sight; the squinting eye meets the solid "
     "prism obliquely."},
    {"B05.plus", "The rule is of first order; traced through the lens, +20 D leaves 1.97 to one."},
    {"B.side",
     "Prentice's rule counts slopes: 25 degrees down, a slope of 3.8 in a hundred is an "
     "angle of 3.0 prism dioptres, and a frontal prism gives more there."},
    {"E01.one",
     "The rule of 22 Δ/mm is a mean of persons; the schematic eye used here gives 21.5."},
    {"E01.half", "The rule is linear; the reflex moves with the sine of the angle."},
    {"D10",
     "AC/A is kept in degrees, and 25 Δ is a tangent: four dioptres make a little more "
     "than 24 Δ there."},
    {"S.asymptote",
     "The waveform is set to the six rows of Hopf et al., which flatten out lower than "
     "Collewijn's coil recordings."},
    {"S.duration.10",
     "The waveform has long tails; against Baloh's intercept of 37 ms it would be short."},
    {"S.skew.50", "The waveform is symmetric by construction; large saccades are not."},
    {"S.divergence",
     "Both eyes get one and the same version; the abducting eye is not faster here."},
    {"S.centripetal", "The waveform does not know where in the orbit it starts."},
    {"S.latency",
     "The median of 205 ms counts to the start of the waveform; the eye is seen to move "
     "about 15 ms later, and latencies were set for alternated covers."},
    {"S.latency.14",
     "The published adult of this source is quicker than the one to whom latencies were "
     "set here (alternated covers, Shinomiya)."},
    {"V.vertical.recovery",
     "A choice of default: a case may write its vertical reserves; the recovery of 1.5 Δ "
     "each way that it has otherwise is too low for the published total."},
    {"V.vertical.time",
     "First order with 1.2 s; a step is complete somewhat sooner than recorded."},
    {"V.vertical.slower",
     "The delay and the rate limit make the horizontal step slower than its time "
     "constant."},
    {"V.sessions",
     "A choice of default: a case writes session_spread_pd, which is none unless written "
     "(0.58 is usual); what is left is the slow wander of vergence."},
    {"R.near_point.adult",
     "The default reserves at 40 cm bring the near point to 7 cm; the cut-off of adults "
     "is stricter than Morgan's reserves."},
    {"R.near_point.recovery", "Follows from the near point, see there."},
    {"AM.65",
     "The response is gone at 60, as a -3.00 D lens that changes nothing at that age "
     "asks; the half dioptre that is measured is depth of focus."},
    {"AM.child", "Hofstetter's formula gives too much in childhood, and the engine uses it."},
    {"FX.tenth",
     "Drift is set to its excursion in a second, and spontaneous microsaccades are "
     "counted with it: two a second are more than these trained observers made."},
    {"FX.second",
     "Drift and microsaccades together carry the eye further than these trained "
     "observers; untrained ones move much more (Cherici et al. 2012)."},
    {"FX.area",
     "Microsaccades are there; what is missing is a slow wander of version, and the "
     "noise of a recorder."},
    {"FX.amblyopic",
     "What is added to the healthy eye is the published difference; the healthy eye "
     "stands stiller than the recorded ones, see FX.area."},
    {"M.LR.near",
     "The muscles alone leave 84 % at near; the rest must be written as a near "
     "exodeviation."},
    {"M.LR.vertical.up", "The palsy has too much vertical off the primary position."},
    {"M.SO.torsion.tilt", "Torsion follows head tilt more than in patients."},
    {"M.SO.monkey.torsion", "A tenth of a degree beyond the larger of two monkeys."},
    {"M.Brown.pattern", "A taut superior oblique gives no divergence in up gaze here."},
    {"M.Duane.shared",
     "Co-innervation alone leaves too large an angle; it takes a tight lateral rectus as "
     "well."},
    {"M.none.superior_rectus",
     "Without any force it is a third of a prism dioptre too much; from a strength of 0.15 on it "
     "is "
     "within, see M.one."},
    {"M.worse.superior_rectus",
     "A weak superior rectus is nearly comitant to the side here: its path keeps nearly all of its "
     "pull vertical in every gaze."},
    {"M.better.superior_rectus", "As on the worse side."},
    {"M.none.inferior_rectus",
     "Without any force it is too much; from a strength of 0.15 on it is within, see M.one."},
    {"M.worse.inferior_rectus",
     "A weak inferior rectus is nearly comitant to the side here: its path keeps nearly all of its "
     "pull vertical in every gaze."},
    {"M.better.inferior_rectus", "As on the worse side."},
    {"M.worse.inferior_oblique",
     "The side gazes of a weak inferior oblique differ less here than in the collection, whose "
     "numbers are from memory."},
    {"M.better.inferior_oblique", "As on the worse side."},
    {"M.III.whole",
     "The superior oblique, left alone, depresses the eye too little; with some force left in the "
     "inferior rectus it is within, see M.III.vertical."},
    {"M.LR.tilt",
     "The palsied eye goes down on tilt to its side here; in the series it went up, by little."},
    {"M.Duane.shoot",
     "A tight lateral rectus does not slip over the globe here: its path turns by half with the "
     "eye, whatever its tension."},
    {"PS.latency",
     "Pursuit begins 100 ms after the target here; from then on the eye gathers speed with a time "
     "constant of 70 ms, and has not yet gone a tenth of a degree."},
    {"P12.left",
     "With 0.45 a fresh paresis is too small here, 12.6; no one strength gives the pair, for right "
     "over left is 1.50 where the page has 1.33. With the changes of months it does, see "
     "P12.changed."},
    {"P12.right", "With 0.45 it is a little too small here, 18.9; see the left eye fixing."},
    {"PH.posture",
     "The muscles as fitted to this patient leave more with the head to the left than "
     "the practice page asks for."},
    {"P14.blink",
     "A choice of default: a case writes blink_on_uncovering, which is none unless "
     "written; the patient of this row has none."}};

}  // namespace

std::span<const Miss> known_misses() { return kMisses; }

std::string_view find_reason(std::string_view id) {
  const auto* const found = std::find_if(std::begin(kMisses), std::end(kMisses),
                                         [&](const Miss& miss) { return miss.id == id; });
  return found == std::end(kMisses) ? std::string_view{} : found->why;
}

}  // namespace redress::evidence
