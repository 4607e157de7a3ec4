// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/editing.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "render/screens/examine/scene.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/made_muscles.hpp"
#include "sim/cases/pack.hpp"
#include "sim/program/explain_case.hpp"
#include "sim/program/spread.hpp"
#include "sim/truth/truth_parts.hpp"

namespace redress::app {

namespace ed = screens::editor;
namespace ex = screens::examine;

namespace {

constexpr double kLookAtDiskMs = 2000;
constexpr double kLongestStepMs = 50;  // of the live patient, after a pause of the window

/// One eye alone twice, then two transfers: what a teacher wants to see first. Lengths: common
/// practice, no source.
ed::StandardTraces trace_standard(const ExaminationSetup& setup) {
  struct Cover {
    Tick from, to;
    Eye eye;
  };
  constexpr Cover kCovers[] = {{1000, 4000, Eye::right},
                               {6500, 9500, Eye::left},
                               {12000, 13500, Eye::right},
                               {13500, 15000, Eye::left}};
  constexpr Tick kEnd = 17500;
  constexpr auto kStep = static_cast<Tick>(ed::StandardTraces::kStepMs);
  ed::StandardTraces traces;
  for (const Cover& cover : kCovers) {
    auto& covered = cover.eye == Eye::right ? traces.right_covered : traces.left_covered;
    covered.push_back({static_cast<double>(cover.from), static_cast<double>(cover.to)});
  }
  Examination exam(setup, Chance{1, 0.0, false});
  // Where the eyes would point if both looked at the target.
  const double half_mm = setup.room.interpupillary.value / 2;
  constexpr double kTargetMm = 6000;
  const double vergence_deg = std::atan(half_mm / kTargetMm) * 57.29577951308232;
  const auto to_pd = [](double degrees) {
    return static_cast<float>(100 * std::tan(degrees / 57.29577951308232));
  };
  for (Tick t = 0; t <= kEnd; ++t) {
    for (const Cover& cover : kCovers) {
      if (t == cover.from) exam.apply(act::Cover{.eye = cover.eye, .travel_ms = 0});
      const bool goes_on = cover.to == 13500 && cover.eye == Eye::right;  // a transfer
      if (t == cover.to && !goes_on) exam.apply(act::Uncover{.travel_ms = 0});
    }
    if (t % kStep == 0) {
      const Observation seen = exam.observe();
      traces.right_pd.push_back(to_pd(seen.eye.right.horizontal_deg + vergence_deg));
      traces.left_pd.push_back(to_pd(seen.eye.left.horizontal_deg - vergence_deg));
    }
    exam.step();
  }
  return traces;
}

/// Small letters, digits and "_": what a file may be called everywhere.
std::string write_file_name(std::string_view title) {
  std::string name;
  for (const char c : title) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    const bool capital = c >= 'A' && c <= 'Z';
    if (letter) name += c;
    if (capital) name += static_cast<char>(c - 'A' + 'a');
    if (!letter && !capital && !name.empty() && name.back() != '_') name += '_';
    if (name.size() >= 60) break;
  }
  while (!name.empty() && name.back() == '_') name.pop_back();
  return name.empty() ? "case" : name;
}

/// Files of different folders may have one name.
std::string write_kept_name(const std::string& from) {
  if (from.empty()) return "new";
  std::error_code error;
  const std::string whole = std::filesystem::absolute(from, error).string();
  return std::filesystem::path(from).stem().string() + "-" + calc_checksum(whole).substr(0, 8);
}

}  // namespace

/// The deviations are left in `first` while the rest is computed; the rest of `before` stands
/// beside them.
Editing::Found Editing::find_out(const Case& the_case, std::size_t revision, const Found& before,
                                 FirstFound& first) {
  const truth::Distances distances{the_case.patient.screen_distance.value,
                                   the_case.patient.near_working_distance.value};
  const truth::Spread on_all = [](std::size_t count, const auto& work) {
    program::spread(count, 0, work);
  };
  Found found = before;
  // Of the tables of weak muscles, which take longest, only what is looked at.
  const patient::Muscles made =
      before.setup != nullptr ? before.setup->patient.muscles : patient::Muscles{};
  found.setup = std::make_shared<const ExaminationSetup>(set_up_draft(the_case, made));
  ed::Study& study = found.study;
  study.revision = revision;
  const std::string called = study.truth.diagnosis;
  study.truth = truth::calc_deviations(*found.setup, distances, {}, on_all);
  study.truth.diagnosis = called;
  {
    const std::lock_guard lock(first.mutex);
    first.found = found;
  }
  auto traces = std::async(std::launch::async, [&] { return trace_standard(*found.setup); });
  truth::add_procedures(*found.setup, {}, on_all, study.truth);
  study.traces = traces.get();
  study.disagreements = program::find_disagreements(the_case, study.truth);
  Problems warnings;
  (void)check_meaning(the_case, &warnings, found.setup->patient.muscles);
  const bool proximal_is_told =
      std::any_of(study.disagreements.begin(), study.disagreements.end(),
                  [](const std::string& line) { return line.find("proximal") != line.npos; });
  study.warnings.clear();
  for (const Problem& warning : warnings) {
    if (proximal_is_told && warning.place == "/deviation") continue;  // in better words
    study.warnings.push_back(warning.place + " " + warning.message);
  }
  study.rest_revision = revision;
  return found;
}

void Editing::take_found(Found found) {
  study_ = std::move(found.study);
  setup_ = std::move(found.setup);
}

Result<std::unique_ptr<Editing>> Editing::open(const std::string& path,
                                               const std::string& new_folder,
                                               const std::string& kept_folder, bool copy) {
  if (path.empty()) {
    return std::unique_ptr<Editing>(
        new Editing(CaseDraft::begin("A new case"), path, "", new_folder, kept_folder));
  }
  auto text = read_file(path);
  if (!text.ok()) return text.problems();
  auto draft = CaseDraft::read(text.value());
  if (!draft.ok()) return draft.problems();
  std::unique_ptr<Editing> editing(
      new Editing(std::move(draft).value(), copy ? "" : path, path, new_folder, kept_folder));
  editing->saved_words_ = copy ? "A copy, not saved yet" : "As on disk";
  if (!copy) editing->on_disk_ = text.value();
  return editing;
}

Editing::Editing(CaseDraft draft, std::string path, const std::string& from, std::string new_folder,
                 std::string kept_folder)
    : draft_(std::move(draft)),
      path_(std::move(path)),
      name_(std::filesystem::path(from).stem().string()),
      kept_name_(write_kept_name(from)),
      new_folder_(std::move(new_folder)),
      kept_folder_(std::move(kept_folder)) {
  const auto kept =
      kept_folder_.empty() ? Result<std::string>(Problems{{"", ""}}) : read_file(kept_path());
  if (kept.ok()) {
    if (auto before = CaseDraft::read(kept.value());
        before.ok() && before.value().document() != draft_.document()) {
      draft_.take(before.value().document(), "what was not saved");
      trouble_ = "What was not saved last time was kept, and stands here. Undo leads back.";
    }
  }
  kept_revision_ = draft_.revision();
}

Editing::~Editing() {
  for (const Judging& each : judging_) *each.wanted = false;
  keep();
}

std::string Editing::kept_path() const { return kept_folder_ + "/" + kept_name_ + ".json"; }

void Editing::keep() {
  if (kept_folder_.empty() || kept_revision_ == draft_.revision()) return;
  kept_revision_ = draft_.revision();
  if (!draft_.is_changed()) return forget_kept();
  std::error_code error;
  std::filesystem::create_directories(kept_folder_, error);
  const auto problem = write_whole_file(kept_path(), draft_.text());
  if (problem) {
    trouble_ = "Your edit is kept in memory alone: " + problem->message + ". Save it elsewhere.";
  }
}

void Editing::forget_kept() {
  if (kept_folder_.empty()) return;
  std::error_code error;
  std::filesystem::remove(kept_path(), error);
}

bool Editing::is_other_on_disk() {
  if (path_.empty() || on_disk_.empty()) return false;
  const auto now = read_file(path_);
  return now.ok() && now.value() != on_disk_;
}

void Editing::advance(double now_ms) {
  if (studying_.valid() &&
      studying_.wait_for(std::chrono::seconds{0}) == std::future_status::ready) {
    take_found(studying_.get());
    first_.reset();  // the whole has overtaken it
  } else if (first_) {
    const std::lock_guard lock(first_->mutex);
    if (first_->found) take_found(std::move(*first_->found));
    first_->found.reset();
  }
  const bool old = !study_ || study_->revision != draft_.revision();
  if (old && !studying_.valid() && draft_.content().ok()) {
    first_ = std::make_shared<FirstFound>();
    const Found before{study_.value_or(ed::Study{}), setup_};
    studying_ = std::async(
        std::launch::async,
        [first = first_, before, the_case = draft_.content().value(),
         revision = draft_.revision()] { return find_out(the_case, revision, before, *first); });
  }
  judge(now_ms);
  keep();
  if (now_ms - looked_ms_ > kLookAtDiskMs) {
    looked_ms_ = now_ms;
    if (!asks_whose_ && !overwrites_ && is_other_on_disk()) {
      asks_whose_ = true;
      trouble_ = "The file changed on disk since you opened it.";
    }
  }
  pose();
  const double passed = std::min(now_ms - last_ms_, kLongestStepMs);
  last_ms_ = now_ms;
  for (double t = 0; patient_ && t + 1 <= passed; t += 1) patient_->step();
}

void Editing::wait() {
  while (draft_.content().ok() &&
         (!study_ || study_->revision != draft_.revision() || !study_->is_whole())) {
    if (studying_.valid()) studying_.wait();
    advance(last_ms_);
  }
}

void Editing::wait_for_deviations() {
  while (draft_.content().ok() && (!study_ || study_->revision != draft_.revision())) {
    if (studying_.valid()) studying_.wait_for(std::chrono::milliseconds{1});
    advance(last_ms_);
  }
}

/// When the findings stand and the hand rests: the findings are what an author waits for.
void Editing::judge(double now_ms) {
  constexpr double kRestMs = 700;
  if (seen_revision_ != draft_.revision()) {
    seen_revision_ = draft_.revision();
    changed_ms_ = now_ms;
    for (const Judging& each : judging_) *each.wanted = false;
  }
  for (Judging& each : judging_) {
    if (each.found.wait_for(std::chrono::seconds{0}) != std::future_status::ready) continue;
    std::optional<assessment::Difficulty> found = each.found.get();
    if (!found) continue;
    difficulty_ = std::move(found);
    difficulty_revision_ = each.revision;
  }
  std::erase_if(judging_, [](const Judging& each) { return !each.found.valid(); });
  const bool known = difficulty_ && difficulty_revision_ == draft_.revision();
  const bool stands = study_ && study_->revision == draft_.revision() && study_->is_whole() &&
                      draft_.content().ok();
  if (known || !stands || !judging_.empty() || now_ms - changed_ms_ < kRestMs) return;
  auto wanted = std::make_shared<std::atomic<bool>>(true);
  judging_.push_back({draft_.revision(), wanted,
                      std::async(std::launch::async, [the_case = draft_.content().value(), wanted] {
                        return assessment::calc_difficulty(the_case, kPeopleOfEachSkill, 1,
                                                           [&] { return wanted->load(); });
                      })});
}

void Editing::wait_for_difficulty() {
  wait();
  constexpr double kLong = 1e4;
  while (draft_.content().ok() && (!difficulty_ || difficulty_revision_ != draft_.revision())) {
    for (Judging& each : judging_) each.found.wait();
    advance(last_ms_ + kLong);
  }
}

void Editing::pose() {
  if (posed_revision_ != draft_.revision() && draft_.content().ok()) {
    posed_revision_ = draft_.revision();
    appearance_ = ex::make_appearance(draft_.content().value());
  }
  // Setting up takes too long for the thread that draws.
  if (posed_setup_ == setup_ || !draft_.content().ok()) return;
  posed_setup_ = setup_;
  patient_.emplace(*setup_, Chance{draft_.content().value().seed, 1.0, true});
}

void Editing::draw_patient(Stage& stage, const screens::WindowSize& window) {
  const ed::EditorLayout layout = ed::make_editor_layout(window);
  if (layout.picture.empty() || !patient_) return;
  stage.call(appearance_);
  const gl::PixelBox box = to_box(layout.picture, window.scale, window.height_px);
  ex::SceneChoice choice;
  choice.width_px = box.width;
  choice.height_px = box.height;
  constexpr double kAcrossMm = 130;
  choice.view = {box.width * 0.5, box.height * 0.45, 0, 0, box.width / kAcrossMm};
  stage.draw(ex::make_scene(patient_->observe(), patient_->room(), patient_->setup().room, choice),
             box);
}

void Editing::save(const std::string& clock) {
  if (!overwrites_ && is_other_on_disk()) {
    asks_whose_ = true;
    trouble_ = "The file changed on disk since you opened it.";
    return;
  }
  std::error_code error;
  std::string target = path_;
  if (target.empty()) {
    std::filesystem::create_directories(new_folder_, error);
    const nlohmann::ordered_json* title = draft_.find("/title");
    const std::string name = !name_.empty() ? name_
                                            : write_file_name(title != nullptr && title->is_string()
                                                                  ? title->get<std::string>()
                                                                  : "");
    target = new_folder_ + "/" + name + ".json";
    for (int i = 2; std::filesystem::exists(target, error); ++i) {
      target = new_folder_ + "/" + name + "_" + std::to_string(i) + ".json";
    }
  }
  const std::string text = draft_.text();
  if (!on_disk_.empty() && on_disk_ != text) {
    if (const auto problem = write_whole_file(target + ".before", on_disk_)) {
      trouble_ = "Not saved, your edit is kept: " + problem->message;
      return;
    }
  }
  if (const auto problem = write_whole_file(target, text)) {
    trouble_ = "Not saved, your edit is kept: " + problem->message;
    return;
  }
  forget_kept();
  path_ = target;
  name_ = std::filesystem::path(target).stem().string();
  kept_name_ = write_kept_name(target);
  on_disk_ = text;
  overwrites_ = false;
  draft_.mark_saved();
  kept_revision_ = draft_.revision();
  saved_words_ = clock.empty() ? "Saved" : "Saved " + clock;
  trouble_.clear();
}

void Editing::keep_mine(const std::string& clock) {
  asks_whose_ = false;
  overwrites_ = true;
  if (const auto theirs = read_file(path_); theirs.ok()) on_disk_ = theirs.value();
  save(clock);
}

void Editing::take_theirs() {
  asks_whose_ = false;
  const auto theirs = read_file(path_);
  if (!theirs.ok()) {
    trouble_ = theirs.problems().front().message;
    return;
  }
  auto read = CaseDraft::read(theirs.value());
  if (!read.ok()) {
    trouble_ = read.problems().front().place + " " + read.problems().front().message;
    return;
  }
  on_disk_ = theirs.value();
  draft_.take(read.value().document(), "the file on disk");
  draft_.mark_saved();
  trouble_.clear();
}

void Editing::take_computed() {
  if (!study_ || !study_->is_whole()) return;
  draft_.settle();
  draft_.set("/expected/diagnosis", study_->truth.diagnosis, "take the computed");
  draft_.settle();
}

EditingOutcome Editing::draw(screens::Ui& ui, const screens::WindowSize& window,
                             const std::string& clock) {
  ed::EditorModel model(draft_);
  model.file = name_.empty() ? "" : name_ + ".json";
  model.saved = saved_words_;
  model.changed = draft_.is_changed();
  model.trouble = trouble_;
  model.asks_whose = asks_whose_;
  model.study = study_ ? &*study_ : nullptr;
  model.computing = studying_.valid();
  model.difficulty = difficulty_ ? &*difficulty_ : nullptr;
  model.difficulty_revision = difficulty_revision_;
  model.judging = !judging_.empty() && judging_.back().revision == draft_.revision();
  EditingOutcome outcome;
  const auto order = ed::draw_editor(ui, ed::make_editor_layout(window), model, state_);
  if (!order) return outcome;
  switch (*order) {
    case ed::EditorOrder::leave: outcome.leave = true; break;
    case ed::EditorOrder::save: save(clock); break;
    case ed::EditorOrder::examine: outcome.examine = draft_.content().ok(); break;
    case ed::EditorOrder::keep_mine: keep_mine(clock); break;
    case ed::EditorOrder::take_theirs: take_theirs(); break;
    case ed::EditorOrder::take_computed: take_computed(); break;
  }
  return outcome;
}

}  // namespace redress::app
