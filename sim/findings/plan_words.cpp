// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/plan_words.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "sim/findings/phrases.hpp"
#include "sim/findings/shorthand.hpp"

namespace redress::findings {

namespace {

using enum PlanPart;
constexpr auto kCorrection = PlanGroup::correction;
constexpr auto kTreatment = PlanGroup::treatment;
constexpr auto kWatching = PlanGroup::watching;
constexpr auto kReferral = PlanGroup::referral;
constexpr auto kAdvice = PlanGroup::advice;

constexpr std::array<PlanTerm, kPlanParts> kTerms{{
    {no_treatment, kCorrection, "No treatment needed",
     "no treatment|nothing to be done|needs no treatment|reassur"},
    {refraction, kCorrection, "Full refraction first", "refraction|refract "},
    {cycloplegia, kCorrection, "Cycloplegic refraction", "cyclopleg|cyclo refraction"},
    {glasses, kCorrection, "New or changed glasses",
     "glasses|spectacle|change correction|new correction|prescribe|correct the"},
    {full_plus, kCorrection, "Full plus", "full plus|full hypermetropic|full correction of plus"},
    {near_add, kCorrection, "Plus for near", "plus for near|near add|bifocal|reading add"},
    {extra_minus, kCorrection, "Extra minus", "extra minus|over minus|more minus"},
    {contact_lenses, kCorrection, "Contact lenses or slab-off", "contact lens|slab off"},
    {PlanPart::prism, kTreatment, "Prism", "prism"},
    {exercises, kTreatment, "Exercises", "exercise|vision therapy|convergence training"},
    {amblyopia_treatment, kTreatment, "Amblyopia treatment",
     "patch|atropine|amblyopia treatment|occlusion"},
    {cover_one_eye, kTreatment, "Cover one eye (diplopia)",
     "cover one eye|occlude one eye|frosted lens"},
    {monitor, kWatching, "See again", "review|see again|seen again|monitor|usual interval|recall"},
    {repeat_tests, kWatching, "Repeat the measurements", "repeat|measure again|measured again"},
    {photographs, kWatching, "Old photographs", "photograph"},
    {refer_orthoptist, kReferral, "Orthoptist", "orthopti"},
    {refer_ophthalmology, kReferral, "Ophthalmology",
     "ophthalmolog|eye department|eye clinic|eye casualty|hospital eye|hes "},
    {refer_surgical_opinion, kReferral, "Surgical opinion", "surgical|surgeon|surgery"},
    {refer_neurology, kReferral, "Neurology or stroke team", "neurolog|stroke team|neuro "},
    {refer_emergency, kReferral, "Emergency department",
     "emergency|casualty|ambulance|accident and|a e |same day|today"},
    {refer_family_doctor, kReferral, "Family doctor",
     "family doctor|general practitioner| gp |physician"},
    {imaging, kReferral, "Imaging (by referral)", "imaging|scan| mri | ct "},
    {blood_tests, kReferral, "Blood tests (by referral)",
     "blood test|bloods| esr | crp |blood sugar|glucose|antibod"},
    {information, kAdvice, "Explain what was found", "explain|inform|leaflet|reassur|told what"},
    {safety_net, kAdvice, "When to come back at once",
     "come back|return if|return at once|safety net|at once if|if it gets worse|red flag"},
    {PlanPart::driving, kAdvice, "Driving", "driv"},
    {working_distance, kAdvice, "Breaks, light, distance",
     "breaks|working distance|lighting|screen height"},
}};

constexpr bool is_in_order() {
  for (std::size_t i = 0; i < kTerms.size(); ++i) {
    if (kTerms[i].part != static_cast<PlanPart>(i)) return false;
  }
  return true;
}
static_assert(is_in_order());

// A word that denies, among the three before.
bool is_denied(std::string_view words, std::size_t at) {
  constexpr std::string_view kNo[] = {"no", "not", "never", "without", "avoid", "nor"};
  std::size_t end = at;
  for (int count = 0; count < 4 && end > 0; ++count) {
    const std::size_t from = words.rfind(' ', end - 1);
    const std::string_view word = words.substr(from + 1, end - from - 1);
    if (std::find(std::begin(kNo), std::end(kNo), word) != std::end(kNo)) return true;
    if (from == std::string_view::npos) return false;
    end = from;
  }
  return false;
}

// `read` as in PlanTerm; `even_denied`: "not to drive" is the advice.
bool proposes(std::string_view words, std::string_view read, bool even_denied) {
  std::string_view left = read;
  while (!left.empty()) {
    const std::size_t bar = left.find('|');
    const std::string_view piece = left.substr(0, bar);
    left = bar == std::string_view::npos ? std::string_view{} : left.substr(bar + 1);
    // "No treatment" is denied by itself.
    const bool may_deny = even_denied || piece.starts_with("no ");
    for (std::size_t at = words.find(piece); at != std::string_view::npos;
         at = words.find(piece, at + 1)) {
      const bool begins = piece.front() == ' ' || (at > 0 && words[at - 1] == ' ');
      if (begins && (may_deny || !is_denied(words, at))) return true;
    }
  }
  return false;
}

bool proposes(std::string_view words, const PlanTerm& term) {
  return proposes(words, term.read, term.part == PlanPart::driving);
}

bool is_listed(const Finding& plan, PlanPart part) {
  return std::find(plan.parts.begin(), plan.parts.end(), part) != plan.parts.end();
}

const char* driving_words(Driving advice) {
  switch (advice) {
    case Driving::no_bar: return "nothing speaks against driving";
    case Driving::not_until_controlled: return "not to drive until it is controlled";
    case Driving::notify_authority: return "not to drive, and to tell the licensing authority";
  }
  return "";
}

}  // namespace

const std::array<PlanTerm, kPlanParts>& plan_terms() { return kTerms; }

const PlanTerm& term_of(PlanPart part) { return kTerms[static_cast<std::size_t>(part)]; }

std::vector<PlanPart> read_plan(std::string_view advice) {
  const std::string words = fold_words(advice);
  std::vector<PlanPart> found;
  for (const PlanTerm& term : kTerms) {
    if (proposes(words, term)) found.push_back(term.part);
  }
  return found;
}

bool has_part(const Finding& plan, PlanPart part) {
  if (is_listed(plan, part)) return true;
  if (part == PlanPart::driving && plan.driving) return true;
  if (part == monitor && plan.next_weeks) return true;
  return proposes(fold_words(plan.advice), term_of(part));
}

bool refers(const Finding& plan) {
  constexpr PlanPart kSomebody[] = {refer_orthoptist, refer_ophthalmology, refer_surgical_opinion,
                                    refer_neurology,  refer_emergency,     refer_family_doctor};
  // Free words may leave open to whom.
  constexpr std::string_view kSends = "refer|send|sent to|seen by";
  return std::any_of(std::begin(kSomebody), std::end(kSomebody),
                     [&](PlanPart part) { return has_part(plan, part); }) ||
         proposes(fold_words(plan.advice), kSends, false);
}

std::vector<PlanPart> parts_of(const Finding& plan) {
  std::vector<PlanPart> found;
  for (const PlanTerm& term : kTerms) {
    if (has_part(plan, term.part)) found.push_back(term.part);
  }
  return found;
}

std::string write_plan(const Finding& plan) {
  std::string text;
  const auto add = [&text](std::string_view part) {
    if (!text.empty()) text += "; ";
    text += part;
  };
  for (const PlanTerm& term : kTerms) {
    if (!is_listed(plan, term.part)) continue;
    if (term.part == PlanPart::driving && plan.driving) continue;
    std::string label(term.label);
    if (term.group == kReferral) label = "refer: " + label;
    if (term.part == monitor && plan.next_weeks) continue;
    add(label);
  }
  if (plan.next_weeks) add(fmt::format("See again in {} weeks", write_number(*plan.next_weeks)));
  if (plan.driving) add(driving_words(*plan.driving));
  if (!plan.advice.empty()) add(plan.advice);
  return text;
}

}  // namespace redress::findings
