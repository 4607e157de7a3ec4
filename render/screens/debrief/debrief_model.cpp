// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/debrief_model.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "render/screens/debrief/advice.hpp"
#include "render/screens/debrief/comparison.hpp"
#include "render/screens/debrief/phases.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/findings/gatherer.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/run.hpp"
#include "sim/truth/truth.hpp"

namespace redress::screens::debrief {

namespace {

constexpr double kSeenPd = 1.0;        // a pixel of the wider view
constexpr double kSecondPartPd = 1.0;  // of the smaller component, to be told as well
constexpr double kSecondShare = 0.4;
constexpr std::size_t kAdvices = 3;
constexpr double kLeastLost = 0.05;
constexpr double kLeastScalePd = 6.0;

/// Watches for marking and for drawing at once.
struct Watcher {
  const Examination& exam;
  findings::Gatherer gatherer;
  Playback playback;

  void row(const Observation& seen) {
    gatherer.row(seen, exam.room());
    playback.row(seen, exam.room());
  }
  void act(const Act& act) {
    gatherer.act(act, exam.room());
    const ActContent& a = act.content;
    const bool elsewhere =
        std::holds_alternative<act::Cover>(a) || std::holds_alternative<act::Uncover>(a) ||
        std::holds_alternative<act::MoveOccluder>(a) || std::holds_alternative<act::Note>(a) ||
        std::holds_alternative<act::Ask>(a) || std::holds_alternative<act::Request>(a);
    if (!elsewhere) playback.keep_room(act.at_ms, exam.room());
  }
};

findings::Evidence watch(const record::Record& record, const ExaminationSetup& setup, Chance chance,
                         Playback& playback) {
  Examination exam(setup, chance, first_target(record.acts));
  Watcher watcher{exam, findings::Gatherer(setup), {}};
  const Tick last = record::calc_last_tick(record);
  std::size_t next = 0;
  for (;;) {
    record::observe_tick(exam, watcher);
    for (; next < record.acts.size() && record.acts[next].at_ms <= exam.now(); ++next) {
      record::perform(exam, record.acts[next], watcher);
    }
    if (exam.now() >= last) break;
    record::finish_tick(exam, watcher);
  }
  playback = std::move(watcher.playback);
  return watcher.gatherer.finish();
}

// Half prism dioptres up to 5, whole ones above: more is not seen.
std::string say_size(double pd) {
  const double rounded = pd < 5.0 ? std::round(2.0 * pd) / 2.0 : std::round(pd);
  return findings::write_number(rounded) + "Δ";
}

MovementTag make_tag(const findings::Movement& m) {
  const double across = std::abs(m.outward_pd);
  const double up = std::abs(m.upward_pd);
  const std::string h = say_size(across) + (m.outward_pd > 0.0 ? " out" : " in");
  const std::string v = say_size(up) + (m.upward_pd > 0.0 ? " up" : " down");
  const bool both = std::min(across, up) >= kSecondPartPd &&
                    std::min(across, up) >= kSecondShare * std::max(across, up);
  MovementTag tag;
  tag.movement = m;
  tag.words = both ? h + ", " + v : across >= up ? h : v;
  tag.unseen = std::max(across, up) < kSeenPd;
  return tag;
}

std::vector<findings::CoveredInterval> find_covers(const findings::Evidence& evidence) {
  std::vector<findings::CoveredInterval> covers;
  for (const findings::CoverSpan& span : evidence.covers) {
    covers.push_back({span.eye, span.from_ms, span.to_ms, span.ended, span.regained_ms});
  }
  return covers;
}

truth::Truth find_truth(const Case& the_case, const ExaminationSetup& setup,
                        const findings::RecordCard& card) {
  truth::Distances distances;
  distances.screen_m = the_case.patient.screen_distance.value;
  distances.near_working_m = the_case.patient.near_working_distance.value;
  truth::Extent extent;
  extent.reserves = extent.near_point = false;
  for (const findings::WrittenFinding& entry : card.entries) {
    if (entry.finding.test == FindingTest::reserves) extent.reserves = true;
    if (entry.finding.test == FindingTest::near_point) extent.near_point = true;
  }
  return truth::calc_truth(setup, distances, extent);
}

// Sentences, each with a capital: reasons begin with the place they speak of ("near: ...").
std::string tidy(std::string text) {
  while (!text.empty() && text.back() == ' ') text.pop_back();
  bool begins = true;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char& c = text[i];
    if (begins && c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    begins = i == 0 ? false : begins && c == ' ';
    if (c == '.' && i + 1 < text.size() && text[i + 1] == ' ') begins = true;
  }
  return text;
}

void replace_first(std::string& text, std::string_view what, std::string_view by) {
  if (const auto at = text.find(what); at != std::string::npos) text.replace(at, what.size(), by);
}

/// Why marks were lost, as short as a line beside them wants it: what holds for either eye is said
/// once, and so is how several begin; the rest stands with every mark.
std::string shorten(const std::string& why) {
  std::vector<std::string> said;
  for (std::size_t at = 0; at < why.size();) {
    const std::size_t stop = why.find(". ", at);
    std::string one = why.substr(at, stop == std::string::npos ? stop : stop + 1 - at);
    at = stop == std::string::npos ? why.size() : stop + 2;
    if (!said.empty()) {
      std::string& before = said.back();
      std::string mirrored = before;
      replace_first(mirrored, "the right eye", "the left eye");
      const std::size_t colon = before.find(": ");
      if (mirrored != before && mirrored == one &&
          before.find("the right eye was not") != std::string::npos) {
        replace_first(before, "the right eye was not", "neither eye was");
        continue;
      }
      const std::size_t place = one.find(": ");
      if (colon != std::string::npos && place != std::string::npos &&
          one.substr(place) == before.substr(colon)) {
        std::string where = one.substr(0, place);
        if (where == "Near") where = "near";
        before.insert(colon, " and " + where);
        continue;
      }
      if (colon != std::string::npos && one.starts_with(before.substr(0, colon + 2))) {
        before.pop_back();
        before += ", " + one.substr(colon + 2);
        continue;
      }
    }
    said.push_back(std::move(one));
  }
  constexpr std::size_t kMost = 2;
  std::string all;
  for (std::size_t i = 0; i < std::min(kMost, said.size()); ++i)
    all += (i > 0 ? " " : "") + said[i];
  if (said.size() > kMost) all += fmt::format(" And {} more.", said.size() - kMost);
  return all;
}

Judged judge(scoring::Grade grade) {
  return grade == scoring::Grade::full   ? Judged::full
         : grade == scoring::Grade::half ? Judged::part
                                         : Judged::none;
}

void add_marks(const scoring::ScoreSheet& sheet, DebriefModel& model) {
  model.total = sheet.total;
  model.unsafe = sheet.unsafe;
  for (const scoring::Cap& cap : sheet.caps) {
    model.limits.push_back(
        fmt::format("At most {}: {}", findings::write_number(cap.limit), cap.why));
  }
  for (const scoring::ItemScore& item : sheet.items) {
    if (item.grade == scoring::Grade::removed || item.max <= 0.0) continue;
    const scoring::RubricLine& line = scoring::kRubric[static_cast<std::size_t>(item.item)];
    const std::string why = tidy(item.why);
    model.marks.push_back(
        {line.name, line.title, why, item.marks, item.max, judge(item.grade), item.evidence});
    const double lost = item.max - item.marks;
    if (lost < kLeastLost) continue;
    LostMark mark{item.item, lost, why.empty() ? std::string(line.title) + "." : shorten(why), {}};
    for (const scoring::MarkEvidence& e : item.evidence) mark.at_ms.push_back(e.at_ms);
    model.lost.push_back(std::move(mark));
  }
  std::stable_sort(model.lost.begin(), model.lost.end(),
                   [](const LostMark& a, const LostMark& b) { return a.marks > b.marks; });
  for (const LostMark& mark : model.lost) {
    if (model.next_time.size() == kAdvices) break;
    model.next_time.emplace_back(advice_for(mark.item));
  }
}

// The lanes' scale: what holds all but blinks' edges and the jump to another target.
double find_largest(const Playback& playback) {
  std::vector<float> all;
  for (const Eye eye : kBothEyes) {
    for (const float pd : playback.horizontal_pd(eye)) {
      if (!std::isnan(pd)) all.push_back(std::abs(pd));
    }
  }
  if (all.empty()) return kLeastScalePd;
  const auto at = all.begin() + static_cast<std::ptrdiff_t>((all.size() - 1) * 998 / 1000);
  std::nth_element(all.begin(), at, all.end());
  return std::max(kLeastScalePd, static_cast<double>(*at));
}

}  // namespace

Result<DebriefModel> make_debrief(std::string_view record_text) {
  const Result<record::Record> loaded = record::read_record(record_text);
  if (!loaded) return loaded.problems();
  const record::Record& record = loaded.value();
  const Result<Case> parsed = parse_case(record.header.the_case);
  if (!parsed) return parsed.problems();
  const Case& the_case = parsed.value();
  const ExaminationSetup setup = setup_of(the_case);
  const Chance chance{record.header.seed, record.header.noise, true};

  DebriefModel model;
  findings::Evidence evidence = watch(record, setup, chance, model.playback);
  model.who = the_case.patient.name.empty() ? the_case.title : the_case.patient.name;
  model.who += fmt::format(", {:.0f}", std::floor(the_case.patient.age_years));
  model.interpupillary_mm = setup.room.interpupillary.value;
  model.covers = find_covers(evidence);
  for (const findings::Movement& m : evidence.movements) {
    if (!m.under_cover) model.movements.push_back(make_tag(m));
  }
  std::stable_sort(model.movements.begin(), model.movements.end(),
                   [](const MovementTag& a, const MovementTag& b) {
                     return a.movement.start_ms < b.movement.start_ms;
                   });
  model.phases = find_phases(evidence, record.acts);
  for (const findings::WrittenFinding& note : evidence.notes) {
    const std::string words = findings::write_shorthand_bare(note.finding, findings::Tradition::uk);
    if (!words.empty()) model.notes.push_back({note.at_ms, words});
  }
  const findings::RecordCard card = findings::make_card(evidence.notes);
  const truth::Truth truth = find_truth(the_case, setup, card);
  const scoring::ScoreSheet sheet =
      scoring::calc_score(the_case, setup, std::move(evidence), truth);
  add_marks(sheet, model);
  model.rows = compare(the_case, setup, truth, card, sheet);
  model.largest_pd = find_largest(model.playback);
  return model;
}

}  // namespace redress::screens::debrief
