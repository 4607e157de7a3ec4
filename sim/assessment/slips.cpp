// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/slips.hpp"

#include <algorithm>
#include <optional>
#include <string>

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress::assessment {

namespace {

using elementary::magnitude;
using findings::Evidence;
using findings::WrittenFinding;

// Of a practitioner of ability 0 at one station (judgement).
constexpr double kHabitOfFault = 0.30;
constexpr double kQuestionNotAsked = 0.20;
constexpr double kDoesNotLook = 0.20;
constexpr double kNoReversal = 0.25;
constexpr double kWrongClass = 0.10;
constexpr double kWrongDirection = 0.02;
constexpr double kNoRecoveryWritten = 0.20;
constexpr double kDistanceNotWritten = 0.10;
constexpr double kImpressionShort = 0.15;
constexpr double kUrgencySlow = 0.12;
constexpr double kUrgencyFast = 0.08;
constexpr double kNoPlan = 0.08;
constexpr double kFewestLookMs = 1000.0;

// Above 10 a reading spreads by this share of the size: 2.1 at 15 and 3.7 at 30 for the
// experienced (PEDIG 2009), over their 1.1 below.
constexpr double kShareAbove10 = 0.13;
constexpr double kExperiencedSpread = 1.1;
constexpr double kByEyeSpread = 1.5;     // judgement: an estimate against a reading with prism
constexpr double kVerticalSpread = 0.5;  // judgement: the vertical bar's steps are half as wide

double whole(double x) {
  return static_cast<double>(static_cast<long>(x + (x < 0.0 ? -0.5 : 0.5)));
}

// Evidence that began after the end is not there; what goes on then, ends.
template <class Span>
bool cut_spans(std::vector<Span>& spans, Tick end) {
  const std::size_t before = spans.size();
  spans.erase(
      std::remove_if(spans.begin(), spans.end(), [end](const Span& s) { return s.to_ms > end; }),
      spans.end());
  return spans.size() != before;
}
template <class Event>
bool cut_events(std::vector<Event>& events, Tick end) {
  const std::size_t before = events.size();
  events.erase(
      std::remove_if(events.begin(), events.end(), [end](const Event& e) { return e.at_ms > end; }),
      events.end());
  return events.size() != before;
}

bool was_tested(const Evidence& evidence, const Finding& finding) {
  if (!finding.distance_m) return true;
  const auto here = [&](const findings::Setting& s) {
    return findings::is_same_distance(s.distance_m, *finding.distance_m);
  };
  if (finding.test == FindingTest::cover_test) {
    return std::any_of(evidence.covers.begin(), evidence.covers.end(),
                       [&](const auto& span) { return here(span.setting); });
  }
  if (finding.test == FindingTest::prism_cover) {
    return std::any_of(evidence.prisms.begin(), evidence.prisms.end(),
                       [&](const auto& step) { return here(step.setting); });
  }
  return true;
}

std::string name_of(const Finding& finding) {
  if (!finding.kind || *finding.kind == FindingKind::none) return "no abnormality found";
  const double horizontal = finding.horizontal_pd.value_or(0.0);
  const double vertical = finding.vertical_pd.value_or(0.0);
  const bool latent = *finding.kind == FindingKind::phoria;
  std::string side;
  if (!latent && finding.eye == FindingEye::right) side = "right ";
  if (!latent && finding.eye == FindingEye::left) side = "left ";
  if (magnitude(vertical) > magnitude(horizontal)) {
    return side + (latent ? "hyperphoria" : "hypertropia");
  }
  return side + (horizontal > 0.0 ? "eso" : "exo") + (latent ? "phoria" : "tropia");
}

}  // namespace

Slips::Slips(std::uint64_t seed, std::size_t station, const Practitioner& practitioner)
    : seed_(seed), event_(practitioner.number * 64 + station), practitioner_(practitioner) {}

double Slips::uniform() { return random_uniform(seed_, Stream::examiner, event_, part_++); }
double Slips::normal() { return random_normal(seed_, Stream::examiner, event_, part_++); }

bool Slips::slip(double rate) {
  const double odds = rate / (1.0 - rate) * elementary::exponential(-practitioner_.ability);
  return uniform() < odds / (1.0 + odds);
}

std::size_t Slips::choose_run(std::size_t runs) {
  const bool fault = slip(kHabitOfFault);
  const auto which = static_cast<std::size_t>(uniform() * static_cast<double>(runs - 1));
  return fault ? 1 + std::min(which, runs - 2) : 0;
}

bool Slips::hurry(Evidence& evidence, Tick in_time_ms) {
  if (evidence.end_ms <= in_time_ms) return true;
  // The pen takes as long as it takes the reference examiner, at the end.
  const Tick writing = evidence.notes.empty() ? 0 : evidence.end_ms - evidence.notes.front().at_ms;
  const Tick end = std::max(in_time_ms - writing, Tick{0});
  bool lost = cut_spans(evidence.covers, end);
  lost = cut_spans(evidence.prisms, end) || lost;
  lost = cut_events(evidence.four_dioptre, end) || lost;
  lost = cut_events(evidence.questions, end) || lost;
  lost = cut_events(evidence.requests, end) || lost;
  const std::size_t notes = evidence.notes.size();
  evidence.notes.erase(std::remove_if(evidence.notes.begin(), evidence.notes.end(),
                                      [&](const WrittenFinding& note) {
                                        return !was_tested(evidence, note.finding);
                                      }),
                       evidence.notes.end());
  if (evidence.first_cover_ms && *evidence.first_cover_ms > end) evidence.first_cover_ms.reset();
  return !lost && evidence.notes.size() == notes;
}

double Slips::read(double size_pd, bool vertical, bool by_eye) {
  const Skill& skill = kSkills[practitioner_.skill];
  const double size = magnitude(size_pd);
  double spread = skill.spread_pd * std::max(1.0, kShareAbove10 * size / kExperiencedSpread);
  double bias = skill.bias_pd;
  if (by_eye) spread *= kByEyeSpread;
  if (vertical) {
    spread *= kVerticalSpread;
    bias *= kVerticalSpread;
  }
  const double seen = size - std::min(bias, size) + spread * normal();
  const double threshold = vertical ? kVerticalSpread * skill.threshold_pd : skill.threshold_pd;
  // Not seen: decided on what is there, not on what would be read of it.
  if (size + 0.5 * normal() < threshold) return 0.0;
  const double sign = size_pd < 0.0 ? -1.0 : 1.0;
  return sign * std::max(whole(seen), 1.0);
}

// One entry with sizes. Its class and direction may be taken wrongly as well.
void Slips::misread(Finding& finding) {
  const bool by_eye = finding.method == SizeMethod::estimated ||
                      (!finding.method && finding.test == FindingTest::cover_test);
  bool any = false;
  if (finding.horizontal_pd && *finding.horizontal_pd != 0.0) {
    finding.horizontal_pd = read(*finding.horizontal_pd, false, by_eye);
    if (slip(kWrongDirection)) {
      finding.horizontal_pd = -*finding.horizontal_pd;
      misled_ = true;
    }
    any = any || *finding.horizontal_pd != 0.0;
  }
  if (finding.vertical_pd && *finding.vertical_pd != 0.0) {
    finding.vertical_pd = read(*finding.vertical_pd, true, by_eye);
    any = any || *finding.vertical_pd != 0.0;
  }
  if (finding.test != FindingTest::cover_test || !finding.kind) return;
  if (*finding.kind == FindingKind::none) return;
  if (!any) {
    finding.kind = FindingKind::none;
    finding.constancy.reset();
    finding.eye.reset();
    finding.recovery.reset();
    finding.horizontal_pd.reset();
    finding.vertical_pd.reset();
    misled_ = true;
  } else if (slip(kWrongClass)) {
    finding.kind = *finding.kind == FindingKind::phoria ? FindingKind::tropia : FindingKind::phoria;
    finding.constancy =
        *finding.kind == FindingKind::tropia ? std::optional(Constancy::constant) : std::nullopt;
    finding.eye =
        *finding.kind == FindingKind::tropia ? std::optional(FindingEye::right) : std::nullopt;
    misled_ = true;
  }
  if (slip(kNoRecoveryWritten)) finding.recovery.reset();
  if (own_impression_.empty()) own_impression_ = name_of(finding);
}

void Slips::conclude(Evidence& evidence) {
  const bool falls_short = slip(kImpressionShort);
  const bool slow = slip(kUrgencySlow);
  const bool fast = slip(kUrgencyFast);
  const bool none = slip(kNoPlan);
  for (WrittenFinding& note : evidence.notes) {
    Finding& f = note.finding;
    if (f.test == FindingTest::impression && (misled_ || falls_short)) {
      f.diagnosis = misled_ && !own_impression_.empty() ? own_impression_ : "see the findings";
    }
    if (f.urgency && (slow || fast)) {
      const int step = static_cast<int>(*f.urgency) + (slow ? 1 : -1);
      f.urgency = static_cast<Urgency>(std::clamp(step, 0, 3));
    }
  }
  if (none) {
    evidence.notes.erase(std::remove_if(evidence.notes.begin(), evidence.notes.end(),
                                        [](const WrittenFinding& note) {
                                          return note.finding.test == FindingTest::plan;
                                        }),
                         evidence.notes.end());
  }
}

void Slips::alter(Evidence& evidence) {
  std::vector<findings::Question> asked;
  for (const findings::Question& question : evidence.questions) {
    if (!slip(kQuestionNotAsked)) asked.push_back(question);
  }
  evidence.questions = std::move(asked);
  if (slip(kDoesNotLook)) {
    evidence.looked_ms = std::min(evidence.looked_ms, static_cast<Tick>(kFewestLookMs));
  }
  if (slip(kNoReversal) && !evidence.prisms.empty()) {
    // The last prism of each setting was the one that overshoots.
    std::vector<findings::PrismStep> kept;
    for (std::size_t i = 0; i + 1 < evidence.prisms.size(); ++i) {
      const findings::PrismStep& here = evidence.prisms[i];
      const findings::PrismStep& next = evidence.prisms[i + 1];
      if (findings::is_same_distance(here.setting.distance_m, next.setting.distance_m)) {
        kept.push_back(here);
      }
    }
    evidence.prisms = std::move(kept);
  }
  for (WrittenFinding& note : evidence.notes) {
    misread(note.finding);
    if (note.finding.distance_m && slip(kDistanceNotWritten)) note.finding.distance_m.reset();
  }
  conclude(evidence);
}

}  // namespace redress::assessment
