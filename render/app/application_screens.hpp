// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Which screen is up and what each of them needs; application.cpp begins, draws and ends,
// application_screens.cpp asks each screen and does what it answers.
#pragma once

#include <cstdint>
#include <future>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "render/app/application.hpp"
#include "render/app/case_shelf.hpp"
#include "render/app/composing.hpp"
#include "render/app/editing.hpp"
#include "render/app/marking.hpp"
#include "render/app/preferences.hpp"
#include "render/app/progress_keeper.hpp"
#include "render/app/results.hpp"
#include "render/app/review.hpp"
#include "render/app/room.hpp"
#include "render/app/sitting.hpp"
#include "render/app/stage.hpp"
#include "render/app/supplying.hpp"
#include "render/app/training.hpp"
#include "render/screens/cases/cases.hpp"
#include "render/screens/first_run/first_run.hpp"
#include "render/screens/gallery/gallery.hpp"
#include "render/screens/progress/progress.hpp"

namespace redress::app {

/// How the person of a case file looks; none: it is no case.
std::optional<scene::PatientAppearance> find_portrait(const std::string& path);

enum class Screen : std::uint8_t {
  parts,
  first_run,
  calibrate,
  cases,
  examine,
  debrief,
  progress,
  train,
  editor,
  sitting,
  composing,
  marking,
  supply
};

class Application {
 public:
  explicit Application(const ApplicationOptions& options);
  void run();

 private:
  void frame();
  void draw_first_run(screens::Ui& ui);
  void draw_calibrate(screens::Ui& ui);
  void draw_cases(screens::Ui& ui);
  void draw_examine(screens::Ui& ui);
  void draw_debrief(screens::Ui& ui);
  void draw_progress(screens::Ui& ui);
  void draw_training(screens::Ui& ui);
  void draw_editor(screens::Ui& ui);
  void draw_sitting(screens::Ui& ui);
  void draw_composing(screens::Ui& ui);
  void draw_marking(screens::Ui& ui);
  void draw_supply(screens::Ui& ui);
  /// Cases drawn, taken in and handed on.
  void supply();
  /// Empty: a new case.
  void edit(const std::string& path);
  [[nodiscard]] std::string own_cases_folder() const;
  /// Those of the folder and the user's own, as they stand on disk now.
  [[nodiscard]] std::future<CaseShelf> begin_reading_cases() const;
  void take_cases(CaseShelf shelf);
  /// One of the list with its document, as the file is now; none: it cannot be read any more, and
  /// trouble_ says why.
  [[nodiscard]] std::optional<ShelvedCase> read_from_shelf(std::size_t which);
  /// What no first frame waits for: the cases and what the learner did before.
  void catch_up_after_first_frame();
  [[nodiscard]] ProgressKeeper& progress();
  /// A workstation of a sealed circuit.
  void sit();
  void compose();
  void mark();
  void open_assessment(screens::assessment::AssessmentTab tab);
  void leave_assessment();
  void watch(const Watched& watched);
  /// A station's debrief that an assessor released to its candidate.
  void show_released(const std::string& path);
  [[nodiscard]] RoomOptions make_room_options();
  [[nodiscard]] std::string describe_calibration();
  void show_me(const ShelvedCase& shelved);
  void go_to(screens::StudyTab tab);
  void take_study_events();
  void draw_first_picture();
  void begin(const ShelvedCase& shelved);
  void review();
  void go_to_cases();
  void fill_cases();
  void keep_preferences();
  void recover();
  [[nodiscard]] screens::Theme theme_now() const;
  [[nodiscard]] std::optional<double> find_pixels_per_mm();
  [[nodiscard]] bool is_live() const {
    return screen_ == Screen::examine || (review_ && review_->is_live()) ||
           (training_ && training_->is_live()) || screen_ == Screen::editor ||
           (sitting_ && sitting_->is_live()) || (composing_ && composing_->is_live()) ||
           (marking_ && marking_->is_live()) || (supplying_ && supplying_->is_working());
  }

  ApplicationOptions options_;
  Shell shell_;
  std::string config_folder_;
  std::string data_folder_;
  Preferences preferences_;
  bool preferences_writable_ = true;
  std::string trouble_;
  CaseShelf shelf_;
  bool cases_are_read_ = false;
  std::future<CaseShelf> reading_cases_;  // while the first frames are shown
  std::vector<DoneExamination> done_;
  Screen screen_ = Screen::cases;
  bool calibrated_from_cases_ = false;

  screens::FirstRunModel first_run_;
  screens::CalibrateModel calibrate_;
  screens::CasesModel cases_;
  std::unique_ptr<screens::GalleryModel> gallery_;
  Stage stage_;
  Thumbnails thumbnails_{find_portrait};
  std::unique_ptr<Room> room_;
  std::unique_ptr<Review> review_;
  std::string reviewed_mode_;  // of the examination under review
  bool released_ = false;      // what is under review was sat, and is no practice
  std::optional<ProgressKeeper> progress_;
  screens::ProgressModel progress_model_;
  std::unique_ptr<Training> training_;
  std::unique_ptr<Sitting> sitting_;
  std::unique_ptr<Composing> composing_;
  std::unique_ptr<Marking> marking_;  // stays while a station is watched
  std::unique_ptr<Supplying> supplying_;
  std::unique_ptr<Editing> editing_;  // stays while the case is tried out
};

}  // namespace redress::app
