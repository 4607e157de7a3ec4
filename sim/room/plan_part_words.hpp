// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The parts of a plan as words of the file formats: records write them, cases ask for them.
#pragma once

#include <iterator>

#include "sim/basics/json_reader.hpp"
#include "sim/room/plan_part.hpp"

namespace redress {

/// In the order of PlanPart.
inline constexpr NamedValue<PlanPart> kPlanPartWords[] = {
    {"no_treatment", PlanPart::no_treatment},
    {"refraction", PlanPart::refraction},
    {"cycloplegia", PlanPart::cycloplegia},
    {"glasses", PlanPart::glasses},
    {"full_plus", PlanPart::full_plus},
    {"near_add", PlanPart::near_add},
    {"extra_minus", PlanPart::extra_minus},
    {"contact_lenses", PlanPart::contact_lenses},
    {"prism", PlanPart::prism},
    {"exercises", PlanPart::exercises},
    {"amblyopia_treatment", PlanPart::amblyopia_treatment},
    {"cover_one_eye", PlanPart::cover_one_eye},
    {"monitor", PlanPart::monitor},
    {"repeat_tests", PlanPart::repeat_tests},
    {"photographs", PlanPart::photographs},
    {"refer_orthoptist", PlanPart::refer_orthoptist},
    {"refer_ophthalmology", PlanPart::refer_ophthalmology},
    {"refer_surgical_opinion", PlanPart::refer_surgical_opinion},
    {"refer_neurology", PlanPart::refer_neurology},
    {"refer_emergency", PlanPart::refer_emergency},
    {"refer_family_doctor", PlanPart::refer_family_doctor},
    {"imaging", PlanPart::imaging},
    {"blood_tests", PlanPart::blood_tests},
    {"information", PlanPart::information},
    {"safety_net", PlanPart::safety_net},
    {"driving", PlanPart::driving},
    {"working_distance", PlanPart::working_distance}};
static_assert(std::size(kPlanPartWords) == kPlanParts);

}  // namespace redress
