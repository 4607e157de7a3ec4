// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/record_card.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/record/act_json.hpp"

namespace redress::findings {

namespace {

using elementary::magnitude;

bool has_eye_key(FindingTest test) {
  return test == FindingTest::four_dioptre || test == FindingTest::reserves;
}

bool is_placed(FindingTest test) {
  return test != FindingTest::impression && test != FindingTest::plan;
}

bool same_place(const Finding& a, const Finding& b) {
  if (!is_placed(a.test)) return true;
  if (a.spectacles != b.spectacles) return false;
  if (!a.distance_m || !b.distance_m) return a.distance_m == b.distance_m;
  return is_same_distance(*a.distance_m, *b.distance_m);
}

bool same_thing(const Finding& a, const Finding& b) {
  if (a.test != b.test || !same_place(a, b)) return false;
  return !has_eye_key(a.test) || (a.eye == b.eye && a.base == b.base);
}

bool opposite(std::optional<double> a, std::optional<double> b, double from) {
  return a && b && magnitude(*a) >= from && magnitude(*b) >= from && (*a > 0.0) != (*b > 0.0);
}

void find_inside(const WrittenFinding& entry, std::vector<Contradiction>& found) {
  const Finding& f = entry.finding;
  const auto say = [&](const char* what) { found.push_back({entry.at_ms, what}); };
  const bool sized = magnitude(f.horizontal_pd.value_or(0.0)) >= 2.0 ||
                     magnitude(f.vertical_pd.value_or(0.0)) >= 1.0;
  if (f.kind == FindingKind::none && sized) say("No movement is written beside a size.");
  if (f.kind == FindingKind::phoria && f.constancy) {
    say("A phoria is written as constant or intermittent.");
  }
  if (f.kind == FindingKind::tropia && !f.eye) {
    say("A tropia is written without the eye that deviates.");
  }
}

void find_between(const WrittenFinding& a, const WrittenFinding& b,
                  std::vector<Contradiction>& found) {
  const auto of_covers = [](FindingTest t) {
    return t == FindingTest::cover_test || t == FindingTest::prism_cover;
  };
  if (!of_covers(a.finding.test) || !of_covers(b.finding.test)) return;
  if (!same_place(a.finding, b.finding)) return;
  const auto say = [&](const char* what) {
    found.push_back({std::max(a.at_ms, b.at_ms), what});
  };
  if (opposite(a.finding.horizontal_pd, b.finding.horizontal_pd, 2.0)) {
    say("At one distance the deviation is written as eso and as exo.");
  }
  if (opposite(a.finding.vertical_pd, b.finding.vertical_pd, 1.0)) {
    say("At one distance either eye is written as the higher.");
  }
  if (a.finding.kind && b.finding.kind && *a.finding.kind != *b.finding.kind) {
    say("At one distance two kinds of deviation are written.");
  }
}

}  // namespace

RecordCard make_card(std::span<const WrittenFinding> notes) {
  RecordCard card;
  for (const WrittenFinding& note : notes) {
    std::erase_if(card.entries, [&](const WrittenFinding& earlier) {
      return same_thing(earlier.finding, note.finding);
    });
    card.entries.push_back(note);
  }
  for (std::size_t i = 0; i < card.entries.size(); ++i) {
    find_inside(card.entries[i], card.contradictions);
    for (std::size_t k = 0; k < i; ++k) {
      find_between(card.entries[k], card.entries[i], card.contradictions);
    }
  }
  return card;
}

RecordCard make_card(std::span<const Act> acts) {
  std::vector<WrittenFinding> notes;
  for (const Act& a : acts) {
    if (const auto* note = std::get_if<act::Note>(&a.content)) {
      notes.push_back({a.at_ms, note->finding});
    }
  }
  return make_card(notes);
}

const WrittenFinding* find_entry(const RecordCard& card, FindingTest test, double distance_m,
                                 bool spectacles, std::optional<FindingEye> eye) {
  const WrittenFinding* found = nullptr;
  for (const WrittenFinding& entry : card.entries) {
    const Finding& f = entry.finding;
    if (f.test != test || !f.distance_m || !is_same_distance(*f.distance_m, distance_m)) continue;
    if (f.spectacles.value_or(spectacles) != spectacles) continue;
    if (eye && f.eye != eye && f.eye != FindingEye::both) continue;
    found = &entry;
  }
  return found;
}

nlohmann::json to_json(const RecordCard& card) {
  nlohmann::json entries = nlohmann::json::array();
  for (const WrittenFinding& entry : card.entries) {
    const nlohmann::json act = record::to_json(Act{entry.at_ms, act::Note{entry.finding}});
    entries.push_back({{"at_ms", entry.at_ms}, {"finding", act.at("finding")}});
  }
  nlohmann::json contradictions = nlohmann::json::array();
  for (const Contradiction& c : card.contradictions) {
    contradictions.push_back({{"at_ms", c.at_ms}, {"what", c.what}});
  }
  return {{"entries", std::move(entries)}, {"contradictions", std::move(contradictions)}};
}

}  // namespace redress::findings
