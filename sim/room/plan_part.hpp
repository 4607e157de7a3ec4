// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a plan can hold, one value for each thing done or advised. The same list for every patient;
// most of it is common practice, no source. What each is called and how it is read from free words:
// sim/findings/plan_words.hpp. New values go to the end of their group; records keep the words.
#pragma once

#include <cstdint>

namespace redress {

enum class PlanPart : std::uint8_t {
  // Correction.
  no_treatment,    ///< explained, nothing to be done
  refraction,      ///< full refraction first
  cycloplegia,     ///< cycloplegic refraction
  glasses,         ///< prescribe or change
  full_plus,       ///< the whole of the plus that is found
  near_add,        ///< plus for near
  extra_minus,     ///< more minus than needed, to lean on accommodation
  contact_lenses,  ///< or slab-off, where unequal lenses are the trouble
  // Treatment.
  prism,
  exercises,
  amblyopia_treatment,  ///< patch or drops
  cover_one_eye,        ///< for double vision, until it is controlled
  // Watching.
  monitor,       ///< seen again; how soon is written beside it
  repeat_tests,  ///< measured again before anything is decided
  photographs,   ///< old ones asked for
  // Referral; how soon is the plan's urgency.
  refer_orthoptist,
  refer_ophthalmology,
  refer_surgical_opinion,
  refer_neurology,
  refer_emergency,
  refer_family_doctor,
  imaging,      ///< asked for through the referral
  blood_tests,  ///< asked for through the referral
  // Advice.
  information,      ///< what was found was explained
  safety_net,       ///< what to come back for at once
  driving,          ///< in a record the key `driving` says it as well
  working_distance  ///< breaks, light, distance of the work
};
inline constexpr int kPlanParts = 27;

}  // namespace redress
