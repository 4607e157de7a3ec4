// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The vocabulary of plans: what each part is called, in which group it stands, its word in records
// and cases ("parts": ["glasses", "monitor"]) and how it is read from advice in free words. The
// same for every patient. Terms: practice §2.13; else common practice, no source.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/room/finding.hpp"

namespace redress::findings {

enum class PlanGroup : std::uint8_t { correction, treatment, watching, referral, advice };

struct PlanTerm {
  PlanPart part;
  PlanGroup group;
  std::string_view label;  ///< "Refer: orthoptist"
  std::string_view read;   ///< pieces of free words that say it, apart by |, in lower case
};

/// In the order of PlanPart.
const std::array<PlanTerm, kPlanParts>& plan_terms();
const PlanTerm& term_of(PlanPart part);

/// What free words propose, in the order of PlanPart: "Refraction; not to drive" has refraction and
/// driving. What a "no" or "not" stands before is not proposed (driving excepted).
std::vector<PlanPart> read_plan(std::string_view advice);

/// Whether the plan holds this part: as a part, in its advice's free words, or by the key that says
/// it too (driving, weeks until the next visit).
bool has_part(const Finding& plan, PlanPart part);
/// The plan sends the patient to somebody: by a part, or by its free words ("Refer.").
bool refers(const Finding& plan);
/// All that it holds, in the order of PlanPart.
std::vector<PlanPart> parts_of(const Finding& plan);

/// "Prescribe or change glasses; exercises; seen again in 8 weeks; …": parts, then driving, then
/// the advice as it was written.
std::string write_plan(const Finding& plan);

}  // namespace redress::findings
