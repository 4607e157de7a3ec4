// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/record/card_editor.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "sim/findings/shorthand_beside.hpp"

namespace redress::screens::record {

using findings::Contradiction;
using findings::WrittenFinding;

namespace {

constexpr double kUsualNearM = 0.33;
constexpr double kNearestM = 0.25;  // what counts as near, as in scoring
constexpr double kFarthestNearM = 0.55;
constexpr const char* kCovers = " covers";

bool is_same(const Contradiction& a, const Contradiction& b) {
  return a.at_ms == b.at_ms && a.what == b.what;
}

bool is_near(double distance_m) { return distance_m >= kNearestM && distance_m <= kFarthestNearM; }

bool is_reason(FindingTest test) {
  return test == FindingTest::impression || test == FindingTest::plan;
}

// Without the two that are written with check boxes.
bool is_line_entry(const Finding& f) { return !is_reason(f.test); }

}  // namespace

bool is_same_entry(const Finding& a, const Finding& b) {
  Finding row = a;
  // Simultaneous prism and cover is another measurement, not another way to write the same.
  if ((a.method == SizeMethod::simultaneous) == (b.method == SizeMethod::simultaneous)) {
    row.method = b.method;
  }
  return findings::is_same_thing(row, b);
}

bool is_empty(const Finding& f) {
  Finding beside = f;
  beside.fixing.reset();
  return !f.kind && !f.constancy && !f.horizontal_pd && !f.vertical_pd && !f.recovery &&
         !f.response && !f.comitant && !f.break_value && !f.recovery_value && !f.blur_value &&
         !f.ac_a_pd_per_d && !f.control && f.diagnosis.empty() && f.advice.empty() &&
         f.parts.empty() && !f.driving && !f.next_weeks && !f.urgency && f.remark.empty() &&
         !findings::has_shortfall(f) && findings::write_beside(beside).empty();
}

namespace {

// "V pattern" or "LE full" by itself adds to what is written there; it does not take its place.
Finding complete(const Finding& f, const findings::RecordCard& card) {
  const bool alone =
      f.test == FindingTest::motility || (f.test == FindingTest::cover_test && !f.kind &&
                                          !f.horizontal_pd && !f.vertical_pd && f.not_done.empty());
  if (!alone) return f;
  for (const WrittenFinding& entry : card.entries) {
    if (!is_same_entry(entry.finding, f)) continue;
    Finding whole = entry.finding;
    findings::add_said(whole, f);
    if (f.recovery) whole.recovery = f.recovery;
    if (f.comitant) whole.comitant = f.comitant;
    return whole;
  }
  return f;
}

}  // namespace

CardEditor::CardEditor(std::span<const WrittenFinding> notes)
    : conditions_{{6.0, true}, {kUsualNearM, true}, {6.0, false}, {kUsualNearM, false}},
      written_(notes.begin(), notes.end()) {
  impression_.test = FindingTest::impression;
  plan_.test = FindingTest::plan;
  for (const WrittenFinding& note : written_) {
    if (note.finding.test == FindingTest::impression) impression_ = note.finding;
    if (note.finding.test == FindingTest::plan) plan_ = note.finding;
  }
  update_card();
}

findings::ShorthandContext CardEditor::context() const {
  findings::ShorthandContext c;
  c.distance_m = condition().distance_m;
  c.spectacles = condition().spectacles;
  c.near_m = near_m();  // what a prime says
  return c;
}

double CardEditor::near_m() const {
  for (const Condition& each : conditions_) {
    if (is_near(each.distance_m)) return each.distance_m;
  }
  return kUsualNearM;
}

void CardEditor::use(findings::Tradition tradition) {
  tradition_ = tradition;
  rewrite_line();
}

void CardEditor::choose(const Condition& condition) {
  leave();
  followed_ = false;
  const auto found = std::find_if(conditions_.begin(), conditions_.end(), [&](const Condition& c) {
    return c.spectacles == condition.spectacles &&
           findings::is_same_distance(c.distance_m, condition.distance_m);
  });
  current_ = static_cast<std::size_t>(found - conditions_.begin());
  if (found == conditions_.end()) conditions_.push_back(condition);
  pending_across_ = pending_up_ = 0;
  if (!line_.empty()) type(line_);  // what is not read yet is read for the new place
}

bool CardEditor::is_written(const Condition& c) const {
  return std::any_of(card_.entries.begin(), card_.entries.end(), [&](const WrittenFinding& e) {
    const Finding& f = e.finding;
    return f.distance_m && f.spectacles.value_or(c.spectacles) == c.spectacles &&
           findings::is_same_distance(*f.distance_m, c.distance_m);
  });
}

void CardEditor::follow_room(double distance_m, bool spectacles) {
  if (!is_settled()) return;
  if (is_near(distance_m)) {
    // The near that is tested is the near of the card, until something is written there.
    for (Condition& c : conditions_) {
      if (is_near(c.distance_m) && !is_written(c)) c.distance_m = distance_m;
    }
  }
  if (!followed_ && is_written(condition())) followed_ = true;
  if (!followed_) return;
  const auto found = std::find_if(conditions_.begin(), conditions_.end(), [&](const Condition& c) {
    return c.spectacles == spectacles && findings::is_same_distance(c.distance_m, distance_m);
  });
  if (found == conditions_.end()) return;  // a chip is added by the user alone
  current_ = static_cast<std::size_t>(found - conditions_.begin());
}

// ------------------------------------------------------------------------------------------- line

void CardEditor::type(std::string line) {
  line_ = std::move(line);
  reading_ = findings::read_shorthand(line_, context());
  unsettled_.clear();
  for (const Finding& f : reading_.findings) unsettled_.push_back(complete(f, card_));
  pending_across_ = pending_up_ = 0;
  // The rows show where the line says, as soon as it does.
  Condition said{reading_.distance_m.value_or(condition().distance_m),
                 reading_.spectacles.value_or(condition().spectacles)};
  for (const Finding& f : unsettled_) {
    if (f.test == FindingTest::control) continue;  // 3/1 is of both distances, not of this one
    said.distance_m = f.distance_m.value_or(said.distance_m);
    said.spectacles = f.spectacles.value_or(said.spectacles);
  }
  for (std::size_t i = 0; i < conditions_.size(); ++i) {
    if (conditions_[i].spectacles == said.spectacles &&
        findings::is_same_distance(conditions_[i].distance_m, said.distance_m)) {
      current_ = i;
    }
  }
}

void CardEditor::rewrite_line() {
  if (!reading_.unread.empty()) return;  // never over what somebody is still typing
  line_.clear();
  for (const Finding& f : unsettled_) {
    if (!line_.empty()) line_ += ", ";
    line_ += findings::write_shorthand(f, tradition_);
  }
  reading_ = findings::read_shorthand(line_, context());
}

// ------------------------------------------------------------------------------------------- rows

Finding CardEditor::make_empty(FindingTest test) const {
  Finding f;
  f.test = test;
  f.distance_m = condition().distance_m;
  f.spectacles = condition().spectacles;
  return f;
}

Finding CardEditor::find(FindingTest test, std::optional<FindingEye> eye,
                         const std::string& base) const {
  Finding key = make_empty(test);
  key.eye = eye;
  key.base = base;
  return find(key);
}

Finding CardEditor::find(const Finding& key) const {
  for (const Finding& f : unsettled_) {
    if (is_same_entry(f, key)) return f;
  }
  for (const WrittenFinding& entry : card_.entries) {
    if (is_same_entry(entry.finding, key)) return entry.finding;
  }
  return key;
}

void CardEditor::edit(const Finding& finding) {
  const bool same = std::any_of(unsettled_.begin(), unsettled_.end(),
                                [&](const Finding& f) { return is_same_entry(f, finding); });
  if (!same && !unsettled_.empty()) leave();
  std::erase_if(unsettled_, [&](const Finding& f) { return is_same_entry(f, finding); });
  unsettled_.push_back(finding);
  if (is_empty(finding)) unsettled_.pop_back();
  rewrite_line();
}

int CardEditor::across() const {
  const Finding f = find(FindingTest::cover_test);
  if (f.horizontal_pd && *f.horizontal_pd != 0.0) return *f.horizontal_pd > 0.0 ? 1 : -1;
  return pending_across_;
}

int CardEditor::up() const {
  const Finding f = find(FindingTest::cover_test);
  if (f.vertical_pd && *f.vertical_pd != 0.0) return *f.vertical_pd > 0.0 ? 1 : -1;
  return pending_up_;
}

void CardEditor::set_direction(int across, int up) {
  Finding f = find(FindingTest::cover_test);
  const auto turn = [](std::optional<double>& size, int sign) {
    if (!size) return;
    if (sign == 0) {
      size.reset();
    } else {
      *size = std::abs(*size) * sign;
    }
  };
  turn(f.horizontal_pd, across);
  turn(f.vertical_pd, up);
  if (!f.kind) f.kind = FindingKind::phoria;
  edit(f);
  pending_across_ = across;
  pending_up_ = up;
}

std::optional<int> CardEditor::covers_seen() const {
  const std::string remark = find(FindingTest::cover_test).remark;
  int count = 0;
  const auto [end, error] = std::from_chars(remark.data(), remark.data() + remark.size(), count);
  if (error != std::errc{} || remark.compare(static_cast<std::size_t>(end - remark.data()),
                                             std::string::npos, kCovers) != 0) {
    return std::nullopt;
  }
  return count;
}

void CardEditor::set_covers_seen(int count) {
  Finding f = find(FindingTest::cover_test);
  f.remark = count > 0 ? std::to_string(count) + kCovers : "";
  edit(f);
}

void CardEditor::set_impression(Finding finding) {
  finding.test = FindingTest::impression;
  impression_ = std::move(finding);
  impression_changed_ = true;
}

void CardEditor::set_plan(Finding finding) {
  finding.test = FindingTest::plan;
  plan_ = std::move(finding);
  plan_changed_ = true;
}

// --------------------------------------------------------------------------------------- settling

bool CardEditor::settle() {
  if (std::exchange(impression_changed_, false)) settled_.push_back(impression_);
  if (std::exchange(plan_changed_, false)) settled_.push_back(plan_);
  if (!reading_.unread.empty()) return false;
  for (const Finding& f : unsettled_) {
    if (!is_empty(f) && is_line_entry(f)) settled_.push_back(f);
  }
  unsettled_.clear();
  line_.clear();
  reading_ = {};
  pending_across_ = pending_up_ = 0;
  return true;
}

void CardEditor::leave() {
  if (!reading_.unread.empty()) return;
  settle();
}

void CardEditor::settle_all() {
  if (!reading_.unread.empty()) {
    if (unsettled_.empty()) unsettled_.push_back(make_empty(FindingTest::cover_test));
    std::string& remark = unsettled_.front().remark;
    if (!remark.empty()) remark += ", ";
    remark += line_;
    reading_.unread.clear();
  }
  settle();
}

std::vector<Finding> CardEditor::take_settled(Tick now) {
  for (const Finding& f : settled_) {
    written_.push_back({now, f});
    if (!f.distance_m || !f.spectacles) continue;
    const bool has_chip =
        std::any_of(conditions_.begin(), conditions_.end(), [&](const Condition& c) {
          return c.spectacles == *f.spectacles &&
                 findings::is_same_distance(c.distance_m, *f.distance_m);
        });
    if (!has_chip) conditions_.push_back({*f.distance_m, *f.spectacles});
  }
  if (!settled_.empty()) update_card();
  return std::exchange(settled_, {});
}

// ------------------------------------------------------------------------------------------- card

void CardEditor::update_card() { card_ = findings::make_card(written_); }

std::string CardEditor::read_back(findings::Tradition tradition) const {
  return findings::write_shorthand(card_.entries, tradition);
}

std::vector<Contradiction> CardEditor::contradictions() const {
  std::vector<Contradiction> open;
  for (const Contradiction& c : card_.contradictions) {
    if (std::none_of(dismissed_.begin(), dismissed_.end(),
                     [&](const Contradiction& d) { return is_same(c, d); })) {
      open.push_back(c);
    }
  }
  return open;
}

void CardEditor::keep_both(const Contradiction& contradiction) {
  dismissed_.push_back(contradiction);
}

}  // namespace redress::screens::record
