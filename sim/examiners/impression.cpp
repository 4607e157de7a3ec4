// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/impression.hpp"

#include <algorithm>
#include <string_view>

#include "sim/basics/elementary.hpp"

namespace redress::examiners {

using elementary::magnitude;

namespace {

bool names(const Impression& i, std::string_view word) {
  return i.diagnosis.find(word) != std::string::npos;
}

}  // namespace

Shown measured(const DistanceFinding& d) {
  Shown s = d.cover.kind == FindingKind::none ? Shown{} : d.cover.alternating;
  if (d.prism && d.prism->horizontal_pd) s.horizontal_pd = *d.prism->horizontal_pd;
  if (d.prism && d.prism->vertical_pd) s.vertical_pd = *d.prism->vertical_pd;
  return s;
}

std::optional<Impression> call_by_glasses(const WholeFinding& e) {
  constexpr double kAccommodativePd = 10.0;  // more eso without: of accommodation
  constexpr double kLessHeldPd = 4.0;
  if (!e.owns_glasses || !e.far || e.far->cover.kind == FindingKind::tropia) return std::nullopt;
  const double held = measured(*e.far).horizontal_pd;
  const double bare = e.without ? measured(*e.without).horizontal_pd : held;
  const bool turns = e.without && e.without->cover.kind == FindingKind::tropia;
  const bool near_turns = e.near && e.near->cover.kind == FindingKind::tropia;
  if (e.wore_glasses && turns && !near_turns && bare - held >= kAccommodativePd) {
    return Impression{"accommodative esotropia", "Glasses with the full plus; review.",
                      Urgency::routine};
  }
  if (e.wore_glasses || e.presbyope) return std::nullopt;
  if (magnitude(e.sphere_d.right - e.sphere_d.left) >= 1.0) {
    return Impression{"uncorrected anisometropia", "Glasses or contact lenses; review.",
                      Urgency::routine};
  }
  if (e.plus && bare - held >= kLessHeldPd) {
    return Impression{"uncorrected hypermetropia", "Glasses; review.", Urgency::soon};
  }
  if (std::min(e.sphere_d.right, e.sphere_d.left) <= -0.5) {
    return Impression{"uncorrected myopia", "Glasses; review.", Urgency::soon};
  }
  return std::nullopt;
}

std::optional<Impression> call_by_lenses(const WholeFinding& e) {
  constexpr double kHighPd = 1.0;
  constexpr double kUnequalD = 1.0;
  if (!e.far || !e.near || !e.near->lowered) return std::nullopt;
  const double read = measured(*e.near).vertical_pd;
  if (magnitude(e.sphere_d.right - e.sphere_d.left) < kUnequalD || magnitude(read) < kHighPd ||
      magnitude(measured(*e.far).vertical_pd) >= kHighPd) {
    return std::nullopt;
  }
  return Impression{
      std::string{read > 0.0 ? "right" : "left"} + " hyperphoria in down gaze from unequal lenses",
      "Contact lenses, or a slab-off; explained.", Urgency::routine};
}

// Of a bar 19 base out and 13 base in are usual at near (practice, A17, from memory).
Impression call_by_reserves(const WholeFinding& e, const Impression& found) {
  constexpr double kSmallOut = 14.0;
  constexpr double kSmallIn = 10.0;
  const bool small = e.base_out && e.base_in && e.base_out->break_pd && e.base_in->break_pd &&
                     *e.base_out->break_pd <= kSmallOut && *e.base_in->break_pd <= kSmallIn;
  if (!small || !names(found, "no abnormality")) return found;
  return {"fusional vergence dysfunction", "Exercises; review.", found.urgency};
}

std::optional<Impression> call_by_story(const WholeFinding& e, const Impression& found) {
  if (e.sore_temple) {
    return Impression{"suspected giant cell arteritis",
                      "Emergency department; blood tests for it before sight is lost.",
                      Urgency::same_day};
  }
  if (e.reels && e.new_and_sudden && names(found, "hyper")) {
    return Impression{"skew deviation", "Emergency department; stroke team.", Urgency::same_day};
  }
  if (e.double_with_one_eye) {
    return Impression{"monocular diplopia", "Ophthalmology, for the lens.", Urgency::soon};
  }
  if (e.beats && e.lifelong) {
    return Impression{"infantile nystagmus", "Explained; refraction; review.", Urgency::routine};
  }
  if (e.reads_more && names(found, "no abnormality")) {
    return Impression{"functional visual loss", "Reassured; tests repeated; review.",
                      Urgency::soon};
  }
  if (names(found, "esotropia") && sees_two(e) && (e.new_and_sudden || e.new_in_weeks)) {
    return Impression{"acute esotropia", found.advice, found.urgency};
  }
  return std::nullopt;
}

bool sees_two(const WholeFinding& e) {
  return e.sees_double && !e.double_with_one_eye && !e.sore_temple;
}

Impression hasten(const WholeFinding& e, Impression i) {
  if (e.thyroid && sees_two(e)) i.advice += " Blood tests.";
  if (!sees_two(e)) return i;
  if (e.new_in_weeks) {
    i.urgency = std::min(i.urgency, Urgency::urgent);
    i.advice += " Seen by an eye department within the week.";
  }
  if (e.new_and_sudden || e.fixed_pupil || (e.new_in_weeks && e.pressure)) {
    i.urgency = Urgency::same_day;
    i.advice += " Emergency department today.";
  }
  return i;
}

}  // namespace redress::examiners
