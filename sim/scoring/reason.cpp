// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Part G of the rubric: impression and urgency (the plan: sim/scoring/planned.cpp). Wording is
// compared word by word, in any case and with any punctuation.
#include <algorithm>
#include <array>
#include <string_view>

#include "sim/basics/elementary.hpp"
#include "sim/findings/phrases.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::fold_words;
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

Family family_of(std::string_view words) {
  Family f;
  f.eso =
      has(words, "eso") || has(words, "convergen") || has(words, " ret ") || has(words, " let ");
  f.exo = has(words, "exo") || has(words, "divergen") || has(words, " rxt ") ||
          has(words, " lxt ") || has(words, " ixt ");
  f.vertical = has(words, "hyper") || has(words, "hypo");
  f.latent = has(words, "phoria");
  f.manifest = has(words, "tropia") || has(words, "squint") || has(words, "strabism");
  f.intermittent = has(words, "intermittent");
  f.denies =
      has(words, " no ") || has(words, " not ") || has(words, " without ") || has(words, " never ");
  return f;
}

bool is_within(const Family& a, const Family& b) {
  return a.eso <= b.eso && a.exo <= b.exo && a.vertical <= b.vertical && a.latent <= b.latent &&
         a.manifest <= b.manifest && a.intermittent <= b.intermittent && a.denies == b.denies;
}

std::vector<std::string> accepted_words(const Examined& x) {
  std::vector<std::string> all;
  const CaseExpected& expected = x.the_case.expected;
  if (!expected.diagnosis.empty()) all.push_back(fold_words(expected.diagnosis));
  for (const std::string& text : expected.accepted_diagnoses) all.push_back(fold_words(text));
  if (all.empty()) all.push_back(fold_words(x.truth.diagnosis));
  return all;
}

// The same words; or an accepted wording with more around it that does not speak of anything else.
bool is_accepted(const Examined& x, const std::string& words) {
  const Family written = family_of(words);
  for (const std::string& accepted : accepted_words(x)) {
    if (words == accepted) return true;
    if (has(words, accepted) && is_within(written, family_of(accepted))) return true;
  }
  return false;
}

bool is_right_family(const Examined& x, const std::string& words) {
  const Family written = family_of(words);
  if (!written.named()) return false;
  for (const std::string& accepted : accepted_words(x)) {
    Family family = family_of(accepted);
    family.intermittent = written.intermittent;
    if (family == written) return true;
  }
  return false;
}

// By common words of the trade.
bool says_nothing_is_wrong(const std::string& words) {
  constexpr std::array<std::string_view, 8> kWords{"no abnormal", "normal",       "nothing",
                                                   "orthophor",   "straight",     "no deviation",
                                                   "no squint",   "no strabismus"};
  return std::any_of(kWords.begin(), kWords.end(),
                     [&](std::string_view w) { return words.find(w) != std::string::npos; });
}

// Follows from what was written, on evidence, at the main place: an error made there is not charged
// a second time.
bool follows_from_findings(const Examined& x, const std::string& words) {
  const Family written = family_of(words);
  for (const Place& place : x.places) {
    const auto reading = find_reading(place);
    if (!reading || place.cover_entry == nullptr || !has_class_evidence(place)) continue;
    const Finding& f = place.cover_entry->finding;
    const double h = reading->horizontal_pd.value_or(0.0);
    if (f.kind == FindingKind::none && !written.named() && says_nothing_is_wrong(words))
      return true;
    const bool kind = f.kind == FindingKind::phoria
                          ? written.latent && !written.manifest
                          : f.kind == FindingKind::tropia && written.manifest && !written.latent;
    const bool way =
        magnitude(h) > 0.0 && (h > 0.0 ? written.eso && !written.exo : written.exo && !written.eso);
    if (kind && way) return true;
  }
  return false;
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

const WrittenFinding* find_urgency(const Examined& x) {
  const WrittenFinding* found = nullptr;
  for (const WrittenFinding& entry : x.card.entries) {
    if (entry.finding.urgency) found = &entry;
  }
  return found;
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
  const std::string words = fold_words(entry->finding.diagnosis);
  Mark mark;
  mark.evidence.push_back({entry->at_ms, "impression: " + entry->finding.diagnosis});
  const bool on_class = std::any_of(x.places.begin(), x.places.end(),
                                    [](const Place& p) { return has_class_evidence(p); });
  if (is_accepted(x, words)) {
    // Rule 6: a squint is not diagnosed from the four-dioptre test or the history alone.
    const bool ground = on_class || !family_of(words).manifest || x.the_case.expected.red_flag;
    mark.share = ground ? 1.0 : 0.5;
    mark.why = ground ? "Among the accepted impressions."
                      : "Accepted, but no cover test could have shown it.";
  } else if (follows_from_findings(x, words)) {
    mark.share = 0.5;
    mark.why = "Follows from what was found.";
  } else if (on_class && is_right_family(x, words)) {
    mark.share = 0.5;
    mark.why = "The right family.";
  } else {
    mark.why = "Neither accepted nor following from what was found.";
  }
  return mark;
}

Mark mark_urgency(const Examined& x) {
  if (!x.the_case.expected.urgency) return removed("The case does not say how urgent it is.");
  const WrittenFinding* entry = find_urgency(x);
  if (entry == nullptr) return {0.0, false, "No urgency was written.", {}};
  const int slow = steps_too_slow(*entry->finding.urgency, *x.the_case.expected.urgency);
  Mark mark;
  mark.evidence.push_back({entry->at_ms, "urgency"});
  mark.share = slow == 0 ? 1.0 : slow == -1 ? 0.5 : 0.0;
  mark.why = slow == 0    ? "As urgent as it is."
             : slow == -1 ? "One step too fast."
             : slow < -1  ? "Much too fast."
                          : "Too slow.";
  return mark;
}

}  // namespace redress::scoring
