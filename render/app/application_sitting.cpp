// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The screens behind the door "Assessment": a workstation of a sealed circuit, composing one,
// results.
#include <unistd.h>

#include <algorithm>
#include <array>
#include <filesystem>

#include "render/app/application_screens.hpp"
#include "render/screens/examine/scene.hpp"
#include "sim/assessment/released_debrief.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/record/record_file.hpp"

namespace redress::app {

namespace {

namespace fs = std::filesystem;

std::string find_computer_name() {
  std::array<char, 256> name{};
  if (::gethostname(name.data(), name.size() - 1) != 0) return "";
  return name.data();
}

/// A saccade of 4Δ lasts 40 ms: with fewer pictures a second it would be two of them.
std::string describe_refresh(double hz) {
  constexpr double kLeast = 59;  // 59.94 is called 60
  const auto whole = static_cast<int>(hz + 0.5);
  return ", " + std::to_string(whole) + " Hz" +
         (hz < kLeast ? ": too slow to sit on, 60 at the least" : "");
}

std::vector<std::string> find_files(const std::string& folder, const char* extension) {
  std::vector<std::string> found;
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
    if (entry.path().extension() == extension) found.push_back(entry.path().string());
  }
  std::sort(found.begin(), found.end());  // paths differ
  return found;
}

}  // namespace

void Application::sit() {
  SittingOptions sitting;
  const std::string own = data_folder_.empty() ? "." : data_folder_;
  sitting.sealed_path = options_.sit.sealed_path;
  sitting.found = find_files(own + "/circuits", ".sealed");
  sitting.debriefs = find_files(own + "/debriefs", ".debrief");
  sitting.kept_folder =
      options_.sit.kept_folder.empty() ? own + "/stations" : options_.sit.kept_folder;
  sitting.workstation =
      options_.sit.workstation.empty() ? find_computer_name() : options_.sit.workstation;
  sitting.candidate = options_.sit.candidate;
  sitting.resume = options_.sit.resume;
  sitting.room = make_room_options();
  sitting.eye_distance_cm = preferences_.eye_distance_cm;
  sitting.is_played = shell_.is_played();
  sitting_ = std::make_unique<Sitting>(std::move(sitting));
  screen_ = Screen::sitting;
  shell_.draw_again();
}

void Application::compose() {
  ComposingOptions composing;
  const std::string own = data_folder_.empty() ? "." : data_folder_;
  composing.own_folder = own + "/circuits";
  composing.sealed_folder = own + "/circuits";
  composing.found = find_files(composing.own_folder, ".json");
  const std::string shipped =
      find_cases_folder(options_.cases_folder, options_.program_folder) + "/circuits";
  for (std::string& path : find_files(shipped, ".json")) composing.found.push_back(std::move(path));
  composing.is_played = shell_.is_played();
  composing_ = std::make_unique<Composing>(std::move(composing));
  if (shell_.is_played()) composing_->wait();
  screen_ = Screen::composing;
  shell_.draw_again();
}

void Application::mark() {
  MarkingOptions marking;
  const std::string own = data_folder_.empty() ? "." : data_folder_;
  const std::vector<std::string> sealed = find_files(own + "/circuits", ".sealed");
  marking.sealed_path = !options_.sit.sealed_path.empty() ? options_.sit.sealed_path
                        : sealed.empty()                  ? ""
                                                          : sealed.back();
  marking.store = own + "/results.sqlite";
  marking.assessor = preferences_.name;
  marking.marks_folder = own + "/marks";
  const std::string kept =
      options_.sit.kept_folder.empty() ? own + "/stations" : options_.sit.kept_folder;
  std::error_code none;
  if (std::filesystem::is_directory(kept, none)) marking.kept_folder = kept;
  marking.is_played = shell_.is_played();
  marking_ = std::make_unique<Marking>(std::move(marking));
  screen_ = Screen::marking;
  shell_.draw_again();
}

void Application::open_assessment(screens::assessment::AssessmentTab tab) {
  sitting_.reset();
  composing_.reset();
  marking_.reset();
  switch (tab) {
    case screens::assessment::AssessmentTab::sit: sit(); return;
    case screens::assessment::AssessmentTab::compose: compose(); return;
    case screens::assessment::AssessmentTab::results: mark(); return;
  }
}

void Application::leave_assessment() {
  sitting_.reset();
  composing_.reset();
  marking_.reset();
  // What was for a candidate does not stay.
  if (!options_.scale) shell_.set_scale_later(static_cast<float>(preferences_.text_scale));
  go_to_cases();
}

void Application::draw_sitting(screens::Ui& ui) {
  std::size_t size = 0;
  for (std::size_t i = 0; i < std::size(screens::kTextScales); ++i) {
    if (screens::kTextScales[i] == shell_.text_scale()) size = i;
  }
  sitting_->set_text_size(size, shell_.find_largest_scale(),
                          describe_calibration() + describe_refresh(shell_.window().refresh_hz()));
  shell_.window().set_title(sitting_->title());
  const SittingOutcome outcome = sitting_->draw(ui, shell_.size());
  if (outcome.text_scale && !options_.scale) shell_.set_scale_later(*outcome.text_scale);
  if (outcome.calibrate) screen_ = Screen::calibrate;
  if (outcome.leave) leave_assessment();
  if (outcome.debrief) {
    show_released(*outcome.debrief);
    return;
  }
  if (outcome.tab) open_assessment(static_cast<screens::assessment::AssessmentTab>(*outcome.tab));
  // Until a field that was given the keys has them.
  if (outcome.acted || !ui.keys_are_settled()) shell_.draw_again();
}

void Application::draw_composing(screens::Ui& ui) {
  const ComposingOutcome outcome = composing_->draw(ui, shell_.size());
  if (outcome.acted) shell_.draw_again();
  if (outcome.leave) {
    leave_assessment();
  } else if (outcome.tab) {
    open_assessment(static_cast<screens::assessment::AssessmentTab>(*outcome.tab));
  }
}

void Application::draw_marking(screens::Ui& ui) {
  MarkingOutcome outcome = marking_->draw(ui, shell_.size());
  if (outcome.acted) shell_.draw_again();
  if (outcome.leave) {
    leave_assessment();
  } else if (outcome.tab) {
    open_assessment(static_cast<screens::assessment::AssessmentTab>(*outcome.tab));
  } else if (outcome.watch) {
    watch(*outcome.watch);
  }
}

/// One station's record in the debrief; its marks are hidden until it is rated.
void Application::watch(const Watched& watched) {
  stage_.call(screens::examine::make_appearance(watched.shelved.content));
  review_ = std::make_unique<Review>(watched.shelved, watched.record, "", "", watched.counted);
  review_->show_to_assessor(watched.blind);
  screen_ = Screen::debrief;
}

void Application::show_released(const std::string& path) {
  namespace as = assessment;
  const Result<std::string> text = read_file(path);
  const auto released =
      text ? as::read_released(text.value()) : Result<as::ReleasedDebrief>(text.problems());
  const auto record = released ? record::read_record(released.value().record)
                               : Result<record::Record>(released.problems());
  auto content =
      record ? parse_case(record.value().header.the_case) : Result<Case>(record.problems());
  if (!content) {
    const Problem& first = content.problems().front();
    if (!sitting_) sit();
    sitting_->tell_debrief_trouble(
        path, "“" + path + "” cannot be shown: " + (first.place.empty() ? "" : first.place + " ") +
                  first.message + ". It was left untouched.");
    return;
  }
  ShelvedCase shelved;
  shelved.path = path;
  shelved.key = std::filesystem::path(path).stem().string();
  shelved.content = std::move(content).value();
  shelved.written = record.value().header.the_case;
  const as::ReleasedDebrief& r = released.value();
  sitting_.reset();
  stage_.call(screens::examine::make_appearance(shelved.content));
  review_ = std::make_unique<Review>(
      shelved, r.record, "", "station " + std::to_string(r.station + 1),
      screens::debrief::CountedBy{r.marking.column,
                                  [marking = r.marking](scoring::ScoreSheet sheet) {
                                    return marking.apply(std::move(sheet));
                                  }});
  released_ = true;
  screen_ = Screen::debrief;
  shell_.draw_again();
}

}  // namespace redress::app
