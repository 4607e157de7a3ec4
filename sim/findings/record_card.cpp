// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/record_card.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/findings/plan_words.hpp"
#include "sim/findings/shorthand.hpp"
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

bool same_angle(std::optional<double> a, std::optional<double> b) {
  constexpr double kSameDeg = 5.0;
  return magnitude(a.value_or(0.0) - b.value_or(0.0)) <= kSameDeg;
}

}  // namespace

bool is_same_thing(const Finding& a, const Finding& b) {
  if (a.test != b.test || !same_place(a, b)) return false;
  if (a.test == FindingTest::gaze) {
    return a.fixing == b.fixing && same_angle(a.gaze_horizontal_deg, b.gaze_horizontal_deg) &&
           same_angle(a.gaze_vertical_deg, b.gaze_vertical_deg) &&
           same_angle(a.head_roll_deg, b.head_roll_deg);
  }
  // Prism and cover at once measures something else; so does a prism that centres the reflexes.
  const bool apart =
      (a.method == SizeMethod::simultaneous) != (b.method == SizeMethod::simultaneous) ||
      (a.test == FindingTest::reflexes && a.method != b.method);
  if (apart) return false;
  return !has_eye_key(a.test) || (a.eye == b.eye && a.base == b.base);
}

namespace {

bool opposite(std::optional<double> a, std::optional<double> b, double from) {
  return a && b && magnitude(*a) >= from && magnitude(*b) >= from && (*a > 0.0) != (*b > 0.0);
}

void find_inside(const WrittenFinding& entry, std::vector<Contradiction>& found) {
  const Finding& f = entry.finding;
  const auto say = [&](const char* what) { found.push_back({entry.at_ms, what}); };
  const bool sized = magnitude(f.horizontal_pd.value_or(0.0)) >= 2.0 ||
                     magnitude(f.vertical_pd.value_or(0.0)) >= 1.0;
  if (f.kind == FindingKind::none && sized) say("No movement is written beside a size.");
  if (f.kind == FindingKind::none && f.recovery) say("No movement is written, and a recovery.");
  if (f.kind == FindingKind::phoria && f.constancy) {
    say("A phoria is written as constant or intermittent.");
  }
  if (f.kind == FindingKind::tropia && !f.eye) {
    say("A tropia is written without the eye that deviates.");
  }
}

// An eye that comes out to fix was in. What the eyes did has to go with what it is called.
void find_in_movements(const WrittenFinding& entry, std::vector<Contradiction>& found) {
  const Finding& f = entry.finding;
  const auto say = [&](const char* what) { found.push_back({entry.at_ms, what}); };
  const auto moved = [](const std::optional<SeenWay>& way) { return way && *way != SeenWay::none; };
  const bool on_cover = moved(f.on_cover.right) || moved(f.on_cover.left);
  if (f.kind == FindingKind::phoria && on_cover) {
    say("A phoria is written, and that an eye moved when the other was covered.");
  }
  const bool still = f.on_cover.right == SeenWay::none && f.on_cover.left == SeenWay::none;
  const bool constant = f.constancy == Constancy::constant;
  if (f.kind == FindingKind::tropia && constant && still) {
    say("A constant tropia is written, and that neither eye moved when the other was covered.");
  }
  const double h = f.horizontal_pd.value_or(0.0);
  for (const auto& way :
       {f.on_cover.right, f.on_cover.left, f.on_uncover.right, f.on_uncover.left}) {
    const bool against = (way == SeenWay::out && h < 0.0) || (way == SeenWay::in && h > 0.0);
    if (!against) continue;
    say("The way an eye moved and the direction written do not go together.");
    break;
  }
}

void find_in_numbers(const WrittenFinding& entry, std::vector<Contradiction>& found) {
  const Finding& f = entry.finding;
  const auto say = [&](const char* what) { found.push_back({entry.at_ms, what}); };
  if (!f.not_done.empty() && (f.kind || f.horizontal_pd || f.vertical_pd || f.break_value)) {
    say("It is written that this could not be tested, and what it showed.");
  }
  if (!f.break_value || !f.recovery_value) return;
  if (f.test == FindingTest::near_point && *f.recovery_value < *f.break_value) {
    say("The near point's recovery is written nearer than its break.");
  }
  if (f.test == FindingTest::reserves && *f.recovery_value > *f.break_value) {
    say("A reserve's recovery is written above its break.");
  }
}

// Of the plan, alone.
void find_in_plan(const WrittenFinding& entry, std::vector<Contradiction>& found) {
  const Finding& f = entry.finding;
  if (f.test != FindingTest::plan) return;
  const auto say = [&](const char* what) { found.push_back({entry.at_ms, what}); };
  const auto refers = [&] {
    for (const PlanTerm& term : plan_terms()) {
      if (term.group == PlanGroup::referral && has_part(f, term.part)) return true;
    }
    return false;
  };
  if (has_part(f, PlanPart::no_treatment) && (f.urgency == Urgency::same_day || refers())) {
    say("The plan says that no treatment is needed, and sends the patient on.");
  }
  constexpr double kWeeksOfUrgent = 2.0;
  const bool hurried = f.urgency == Urgency::same_day || f.urgency == Urgency::urgent;
  if (hurried && f.next_weeks.value_or(0.0) > kWeeksOfUrgent && !refers()) {
    say("The plan is urgent, and the next visit is weeks away with nobody seeing the patient "
        "before.");
  }
}

// Between entries of other tests.
void find_across(const WrittenFinding& a, const WrittenFinding& b,
                 std::vector<Contradiction>& found) {
  const auto say = [&](const char* what) { found.push_back({std::max(a.at_ms, b.at_ms), what}); };
  const auto is_pair = [&](const auto& one, const auto& other) {
    return (one(a.finding) && other(b.finding)) || (one(b.finding) && other(a.finding));
  };
  constexpr std::int32_t kManifestControl = 3;  // 3 to 5: manifest before any cover
  const auto loose = [](const Finding& f) {
    return f.test == FindingTest::control && f.control.value_or(0) >= kManifestControl;
  };
  const auto latent = [](const Finding& f) {
    return f.test == FindingTest::cover_test && f.kind == FindingKind::phoria;
  };
  const bool same =
      a.finding.distance_m && b.finding.distance_m && same_place(a.finding, b.finding);
  if (same && is_pair(loose, latent)) {
    say("A control of 3 or more is one of a deviation that was manifest; a phoria is written.");
  }
  if (is_pair([](const Finding& f) { return f.double_vision.value_or(false); },
              [](const Finding& f) { return f.driving == Driving::no_bar; })) {
    say("Double vision is written, and that nothing speaks against driving.");
  }
}

void find_between(const WrittenFinding& a, const WrittenFinding& b,
                  std::vector<Contradiction>& found) {
  const auto of_covers = [](FindingTest t) {
    return t == FindingTest::cover_test || t == FindingTest::prism_cover;
  };
  if (!of_covers(a.finding.test) || !of_covers(b.finding.test)) return;
  if (!same_place(a.finding, b.finding)) return;
  const auto say = [&](const char* what) { found.push_back({std::max(a.at_ms, b.at_ms), what}); };
  if (opposite(a.finding.horizontal_pd, b.finding.horizontal_pd, 2.0)) {
    say("The deviation is written as eso and as exo.");
  }
  if (opposite(a.finding.vertical_pd, b.finding.vertical_pd, 1.0)) {
    say("Either eye is written as the higher.");
  }
  if (a.finding.kind && b.finding.kind && *a.finding.kind != *b.finding.kind) {
    say("Two kinds of deviation are written.");
  }
}

}  // namespace

namespace {

// "6 m sc: no movement is written, and a recovery."
void say_where(const Finding& f, std::vector<Contradiction>& found, std::size_t from) {
  if (!f.distance_m) return;
  std::string place = write_distance(*f.distance_m);
  if (f.spectacles) place += *f.spectacles ? " cc" : " sc";
  for (std::size_t i = from; i < found.size(); ++i) {
    std::string& what = found[i].what;
    if (what[0] >= 'A' && what[0] <= 'Z') what[0] = static_cast<char>(what[0] - 'A' + 'a');
    what = place + ": " + what;
  }
}

// "Comitant" beside sizes that differ from gaze to gaze, and the other way round.
void find_in_gazes(RecordCard& card) {
  constexpr double kIncomitantPd = 5.0;  // contract, truth: from here on incomitant
  constexpr std::size_t kFewest = 5;     // straight on and to the four sides
  std::optional<bool> comitant;
  Tick at_ms = 0;
  double least[2] = {};
  double most[2] = {};
  std::size_t count = 0;
  for (const WrittenFinding& entry : card.entries) {
    const Finding& f = entry.finding;
    if (f.comitant) comitant = f.comitant;
    if (f.comitant || f.test == FindingTest::gaze) at_ms = std::max(at_ms, entry.at_ms);
    if (f.test != FindingTest::gaze || f.head_roll_deg.value_or(0.0) != 0.0) continue;
    const double sizes[2] = {f.horizontal_pd.value_or(0.0), f.vertical_pd.value_or(0.0)};
    for (std::size_t axis = 0; axis < 2; ++axis) {
      least[axis] = count == 0 ? sizes[axis] : std::min(least[axis], sizes[axis]);
      most[axis] = count == 0 ? sizes[axis] : std::max(most[axis], sizes[axis]);
    }
    ++count;
  }
  if (!comitant || count < 2) return;
  const double spread = std::max(most[0] - least[0], most[1] - least[1]);
  if (*comitant && spread >= kIncomitantPd) {
    card.contradictions.push_back({at_ms,
                                   "Comitant is written, and sizes that differ by 5Δ or "
                                   "more from one gaze to another."});
  }
  if (!*comitant && count >= kFewest && spread < kIncomitantPd) {
    card.contradictions.push_back({at_ms,
                                   "Incomitant is written, and sizes that are within 5Δ in "
                                   "every gaze."});
  }
}

}  // namespace

RecordCard make_card(std::span<const WrittenFinding> notes) {
  RecordCard card;
  for (const WrittenFinding& note : notes) {
    std::erase_if(card.entries, [&](const WrittenFinding& earlier) {
      return is_same_thing(earlier.finding, note.finding);
    });
    card.entries.push_back(note);
  }
  for (std::size_t i = 0; i < card.entries.size(); ++i) {
    const std::size_t before = card.contradictions.size();
    find_inside(card.entries[i], card.contradictions);
    find_in_movements(card.entries[i], card.contradictions);
    find_in_numbers(card.entries[i], card.contradictions);
    find_in_plan(card.entries[i], card.contradictions);
    say_where(card.entries[i].finding, card.contradictions, before);
    for (std::size_t k = 0; k < i; ++k) {
      const std::size_t from = card.contradictions.size();
      find_between(card.entries[k], card.entries[i], card.contradictions);
      say_where(card.entries[i].finding, card.contradictions, from);
      find_across(card.entries[k], card.entries[i], card.contradictions);
    }
  }
  find_in_gazes(card);
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
    // What is manifest only stands in for the whole where nothing else was measured.
    if (f.method == SizeMethod::simultaneous && found != nullptr) continue;
    if (eye && f.eye != eye && f.eye != FindingEye::both) continue;
    found = &entry;
  }
  return found;
}

bool is_by_prism(const Finding& f) {
  if (!f.method) return f.test == FindingTest::prism_cover;
  return *f.method == SizeMethod::measured || *f.method == SizeMethod::simultaneous ||
         *f.method == SizeMethod::krimsky;
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
