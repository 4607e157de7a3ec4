// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Part G of the rubric: impression (its wording: sim/scoring/wording.hpp) and urgency. The plan:
// sim/scoring/planned.cpp.
#include <algorithm>
#include <array>
#include <string_view>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/phrases.hpp"
#include "sim/findings/plan_words.hpp"
#include "sim/scoring/cited.hpp"
#include "sim/scoring/items.hpp"
#include "sim/scoring/wording.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::WrittenFinding;

namespace {

bool has(std::string_view words, std::string_view part) {
  return words.find(part) != std::string_view::npos;
}

/// What kind of deviation a wording speaks of.
struct Family {
  bool eso = false, exo = false, vertical = false;
  bool latent = false, manifest = false, intermittent = false;
  bool denies = false;
  bool operator==(const Family&) const = default;
  [[nodiscard]] bool named() const { return eso || exo || vertical || latent || manifest; }
};

Family family_of(std::string_view text) {
  Family f;
  for (const std::string& word : naming_words(text)) {
    if (word.starts_with("ortho")) continue;
    f.eso = f.eso || has(word, "eso") || has(word, "convergen");
    f.exo = f.exo || has(word, "exo") || has(word, "divergen");
    f.vertical = f.vertical || has(word, "hyper") || has(word, "hypo");
    f.latent = f.latent || has(word, "phoria");
    f.manifest = f.manifest || has(word, "tropia") || word == "squint";
    f.intermittent = f.intermittent || word == "intermittent";
    f.denies = f.denies || denies(word);
  }
  return f;
}

bool is_within(const Family& a, const Family& b) {
  return a.eso <= b.eso && a.exo <= b.exo && a.vertical <= b.vertical && a.latent <= b.latent &&
         a.manifest <= b.manifest && a.intermittent <= b.intermittent && a.denies == b.denies;
}

// Something accepted stands in it, and nothing of another kind or that takes it back.
bool is_partly_accepted(const Examined& x, std::string_view written) {
  const Family said = family_of(written);
  const std::vector<std::string> accepted = accepted_wordings(x);
  return std::any_of(accepted.begin(), accepted.end(),
                     [&](const std::string& each) { return is_within(said, family_of(each)); });
}

bool is_right_family(const Examined& x, std::string_view text) {
  const Family written = family_of(text);
  if (!written.named()) return false;
  for (const std::string& accepted : accepted_wordings(x)) {
    Family family = family_of(accepted);
    family.intermittent = written.intermittent;
    if (family == written) return true;
  }
  return false;
}

// By common words of the trade.
bool says_nothing_is_wrong(std::string_view text) {
  constexpr std::array<std::string_view, 8> kWords{
      " no abnormal", " normal ",       " nothing ",   " orthophor",
      " straight ",   " no deviation ", " no squint ", " no strabismus "};
  const std::string words = findings::fold_words(text);
  return std::any_of(kWords.begin(), kWords.end(),
                     [&](std::string_view w) { return has(words, w); });
}

// Not the other eye than the one written beside the finding.
bool is_same_eye(std::string_view text, const std::optional<FindingEye>& eye) {
  if (eye != FindingEye::right && eye != FindingEye::left) return true;
  const std::vector<std::string> words = naming_words(text);
  const auto names = [&](const char* side) {
    return std::find(words.begin(), words.end(), side) != words.end();
  };
  const bool right = eye == FindingEye::right;
  return names(right ? "right" : "left") || !names(right ? "left" : "right");
}

// Follows from what was written, on evidence, at one of the places: an error made there is not
// charged a second time.
bool follows_from_findings(const Examined& x, std::string_view text) {
  const Family written = family_of(text);
  for (const Place& place : x.places) {
    const auto reading = find_reading(place);
    if (!reading || place.cover_entry == nullptr || !has_class_evidence(place)) continue;
    const Finding& f = place.cover_entry->finding;
    if (f.kind == FindingKind::none && !written.named() && says_nothing_is_wrong(text)) return true;
    if (written.denies || !is_same_eye(text, f.eye)) continue;
    const double h = reading->horizontal_pd.value_or(0.0);
    const double v = reading->vertical_pd.value_or(0.0);
    const bool kind = f.kind == FindingKind::phoria
                          ? written.latent && !written.manifest
                          : f.kind == FindingKind::tropia && written.manifest && !written.latent;
    const bool across =
        magnitude(h) > 0.0 && (h > 0.0 ? written.eso && !written.exo : written.exo && !written.eso);
    const bool high = magnitude(v) > 0.0 && written.vertical && !written.eso && !written.exo;
    if (kind && (across || high)) return true;
  }
  return false;
}

const char* describe(Urgency step) {
  switch (step) {
    case Urgency::same_day: return "the same day";
    case Urgency::urgent: return "within a week (urgent)";
    case Urgency::soon: return "within weeks (soon)";
    case Urgency::routine: break;
  }
  return "in the ordinary course (routine)";
}

int order_of(Urgency urgency) { return static_cast<int>(urgency); }  // same day 0 ... routine 3

}  // namespace

const WrittenFinding* find_last(const Examined& x, FindingTest test) {
  const WrittenFinding* found = nullptr;
  for (const WrittenFinding& entry : x.card.entries) {
    if (entry.finding.test == test) found = &entry;
  }
  return found;
}

std::optional<WrittenUrgency> find_urgency(const Examined& x) {
  std::optional<WrittenUrgency> found;
  for (const WrittenFinding& entry : x.card.entries) {
    if (entry.finding.urgency) found = {entry.at_ms, *entry.finding.urgency, true};
  }
  if (found) return found;
  const WrittenFinding* plan = find_last(x, FindingTest::plan);
  if (plan != nullptr && findings::has_part(plan->finding, PlanPart::refer_emergency)) {
    found = {plan->at_ms, Urgency::same_day, false};
  }
  return found;
}

const char* name_of(Urgency step) {
  switch (step) {
    case Urgency::same_day: return "same day";
    case Urgency::urgent: return "urgent";
    case Urgency::soon: return "soon";
    case Urgency::routine: break;
  }
  return "routine";
}

int steps_too_slow(Urgency written, Urgency expected) {
  return order_of(written) - order_of(expected);
}

bool may_reason(const Examined& x) {
  if (find_key_question(x)) return true;
  return std::any_of(x.places.begin(), x.places.end(), [](const Place& p) {
    return (p.cover_entry != nullptr || p.prism_entry != nullptr) && has_class_evidence(p);
  });
}

Mark mark_impression(const Examined& x) {
  const WrittenFinding* entry = find_last(x, FindingTest::impression);
  if (entry == nullptr || entry->finding.diagnosis.empty()) {
    return {0.0, false, "No impression was written.", {}};
  }
  const std::string& text = entry->finding.diagnosis;
  Mark mark;
  mark.evidence.push_back({entry->at_ms, "impression: " + text});
  const bool on_class = std::any_of(x.places.begin(), x.places.end(),
                                    [](const Place& p) { return has_class_evidence(p); });
  if (on_class) cite_class(x, x.places[x.main_place], mark);
  const Match match = match_impression(x, text);
  if (match == Match::whole) {
    // Rule 6: a squint is not diagnosed from the four-dioptre test or the history alone.
    const bool ground = on_class || !family_of(text).manifest || x.the_case.expected.red_flag;
    mark.share = ground ? 1.0 : 0.5;
    mark.why = ground ? "Among the accepted impressions."
                      : "Accepted, but no cover test could have shown it.";
  } else if (match == Match::side_missing) {
    mark.share = 0.5;
    mark.why = "Accepted but for the eye, which is not named.";
  } else if (match == Match::partly && is_partly_accepted(x, text)) {
    mark.share = 0.5;
    mark.why = "Accepted, but not what is named beside it.";
  } else if (follows_from_findings(x, text)) {
    mark.share = 0.5;
    mark.why = "Follows from what was found.";
  } else if (on_class && is_right_family(x, text)) {
    mark.share = 0.5;
    mark.why = "The right family.";
  } else {
    mark.why = "Neither accepted nor following from what was found.";
  }
  return mark;
}

Mark mark_urgency(const Examined& x) {
  if (!x.the_case.expected.urgency) return removed("The case does not say how urgent it is.");
  const auto written = find_urgency(x);
  if (!written) return {0.0, false, "No urgency was written.", {}};
  const Urgency there = *x.the_case.expected.urgency;
  const int slow = steps_too_slow(written->step, there);
  Mark mark;
  mark.evidence.push_back(
      {written->at_ms, fmt::format("urgency: {}{}", name_of(written->step),
                                   written->chosen ? "" : ", as the emergency department is")});
  mark.share = slow == 0 ? 1.0 : slow == -1 ? 0.5 : 0.0;
  const char* how = slow == -1 ? "One step too fast" : slow < 0 ? "Much too fast" : "Too slow";
  mark.why = slow == 0 ? "As urgent as it is."
                       : fmt::format("{}: it is to be seen {}.", how, describe(there));
  return mark;
}

}  // namespace redress::scoring
