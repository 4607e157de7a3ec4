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
#include "render/screens/debrief/reviewed.hpp"
#include "render/screens/debrief/watched.hpp"
#include "sim/findings/shorthand.hpp"

namespace redress::screens::debrief {

namespace {

constexpr std::size_t kAdvices = 3;
constexpr double kLeastLost = 0.05;
constexpr double kLeastScalePd = 6.0;

std::vector<findings::CoveredInterval> find_covers(const findings::Evidence& evidence) {
  std::vector<findings::CoveredInterval> covers;
  for (const findings::CoverSpan& span : evidence.covers) {
    covers.push_back({span.eye, span.from_ms, span.to_ms, span.ended, span.regained_ms});
  }
  return covers;
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

Result<DebriefModel> make_debrief(std::string_view record_text, const CountedBy& counted) {
  DebriefModel model;
  const Result<std::shared_ptr<const Reviewed>> reviewed =
      review_record(record_text, &model.playback);
  if (!reviewed) return reviewed.problems();
  model.reviewed = reviewed.value();
  const auto& [the_case, setup, chance, acts, last, truth, as_done] = *model.reviewed;
  const findings::Evidence& evidence = as_done.evidence;
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
  model.phases = find_phases(evidence, acts);
  for (const findings::WrittenFinding& note : evidence.notes) {
    const std::string words = findings::write_shorthand_bare(note.finding, findings::Tradition::uk);
    if (!words.empty()) model.notes.push_back({note.at_ms, words});
  }
  const scoring::Examined examined(the_case, setup, evidence, truth);
  scoring::ScoreSheet sheet = scoring::calc_score(examined, counted.column);
  if (counted.then) sheet = counted.then(std::move(sheet));
  add_marks(sheet, model);
  model.rows = compare(examined, sheet);
  model.largest_pd = find_largest(model.playback);
  return model;
}

}  // namespace redress::screens::debrief
