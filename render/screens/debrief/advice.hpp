// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What to do otherwise next time: one sentence for each item of the rubric, as a teacher would say
// it. They follow from what the rubric asks for; the wording is this program's.
#pragma once

#include <string_view>

#include "sim/scoring/rubric.hpp"

namespace redress::screens::debrief {

constexpr std::string_view advice_for(scoring::Item item) {
  using scoring::Item;
  switch (item) {
    case Item::a1: return "Ask first: since when, and is it ever double?";
    case Item::a2: return "Look what they should be wearing, and test with it on.";
    case Item::a3: return "Choose a letter that the poorer eye reads, at 6 m and near.";
    case Item::a4: return "Look at both eyes for three seconds, then say where to look.";
    case Item::b1: return "One eye alone first, both eyes, then alternate.";
    case Item::b2: return "Hold each cover until nothing more comes: count to five.";
    case Item::b3: return "Leave both eyes open for two seconds before the next cover.";
    case Item::b4: return "Keep the eye that answers in view as the cover comes and goes.";
    case Item::c1: return "Cross straight over, and stay at least a second on each eye.";
    case Item::c2: return "Base the way the eye comes back: in for exo, out for eso.";
    case Item::c3: return "Go past neutral until it moves the other way, then come back.";
    case Item::c4: return "Hold the prism square, and split a strong one between the eyes.";
    case Item::c5: return "Measure again wherever the angle may differ.";
    case Item::d1: return "Say for each distance whether it was there before you covered.";
    case Item::d2: return "Watch which way it comes back: outwards is eso, inwards exo.";
    case Item::d3: return "Judge size against the 2Δ of the letter line.";
    case Item::d4: return "Write which eye it was, and whether it is the same in all gazes.";
    case Item::d5: return "Watch the recovery to its end, and write how quick it was.";
    case Item::e: return "Do what this kind of patient calls for after the cover test.";
    case Item::f: return "Write distance, correction, method and size with each finding.";
    case Item::g1: return "Let the impression follow from what you found.";
    case Item::g2: return "Write a plan, with what you would tell them.";
    case Item::g3: return "Ask yourself who must see them, and how soon.";
  }
  return {};
}

}  // namespace redress::screens::debrief
