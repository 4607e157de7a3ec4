// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/application_screens.hpp"

#include <algorithm>
#include <chrono>
#include <iterator>
#include <utility>

#include "render/app/steering.hpp"
#include "render/screens/examine/scene.hpp"

namespace redress::app {

namespace {

constexpr const char* kRoleWords[] = {"student", "teacher", "assessor"};

}  // namespace

void Application::review() {
  review_ = std::make_unique<Review>(room_->shelved(), room_->record_text(), room_->record_path(),
                                     write_day(find_today()));
  reviewed_mode_ = words_of(room_->mode()).name;
  review_->use(progress::find_habit(progress().read(preferences_.name).drills));
  room_.reset();
  shell_.window().show_pointer(true);
  screen_ = Screen::debrief;
}

void Application::draw_debrief(screens::Ui& ui) {
  if (marking_) {  // an assessor's, not the learner's
    const ReviewOutcome outcome = review_->draw(ui, shell_.size());
    if (outcome.rate) marking_->rate(*outcome.rate);
    if (outcome.rate || outcome.leave) {
      review_.reset();
      stage_.send_away();
      screen_ = Screen::marking;
    }
    return;
  }
  if (released_) {
    const ReviewOutcome outcome = review_->draw(ui, shell_.size());
    if (!outcome.again && !outcome.show_me && !outcome.leave) return;
    released_ = false;
    const ShelvedCase shelved = review_->shelved();
    review_.reset();
    stage_.send_away();
    if (outcome.leave) {
      go_to_cases();
    } else {
      outcome.again ? begin(shelved) : show_me(shelved);
    }
    return;
  }
  if (const auto total = review_->take_total()) {
    const DoneExamination done{review_->shelved().key, find_today(), *total,
                               review_->record_path()};
    done_.push_back(done);
    const std::string problem = add_result(data_folder_, done);
    if (!problem.empty()) trouble_ = problem;
    const std::string& key = review_->shelved().key;
    progress().enter({0, preferences_.name, key, review_->record_path(), reviewed_mode_,
                      progress().was_shown(preferences_.name, key), *total, review_->marks()});
  }
  const ReviewOutcome outcome = review_->draw(ui, shell_.size());
  if (outcome.again || outcome.show_me) {
    const ShelvedCase shelved = review_->shelved();
    review_.reset();
    outcome.again ? begin(shelved) : show_me(shelved);
  } else if (outcome.leave) {
    go_to_cases();
  }
}

void Application::show_me(const ShelvedCase& shelved) {
  progress().mark_shown(preferences_.name, shelved.key);
  stage_.call(screens::examine::make_appearance(shelved.content));
  review_ = std::make_unique<Review>(shelved);
  shell_.window().set_title(shelved.content.patient.name + " – Redress");
  screen_ = Screen::debrief;
}

void Application::go_to(screens::StudyTab tab) {
  training_.reset();
  switch (tab) {
    case screens::StudyTab::cases: go_to_cases(); return;
    case screens::StudyTab::assessment: sit(); break;
    case screens::StudyTab::train: {
      const auto seed = options_.seed.value_or(static_cast<std::uint64_t>(ProgressKeeper::now_s()));
      training_ = std::make_unique<Training>(seed);
      stage_.call(training_->appearance());
      screen_ = Screen::train;
      break;
    }
    case screens::StudyTab::progress: {
      const bool numbers = progress_model_.numbers;
      progress_model_ =
          screens::make_progress(progress().read(preferences_.name), ProgressKeeper::now_s());
      progress_model_.numbers = numbers;
      screen_ = Screen::progress;
      break;
    }
  }
  shell_.draw_again();
}

void Application::draw_progress(screens::Ui& ui) {
  progress_model_.user = preferences_.name;
  progress_model_.role = kRoleWords[static_cast<std::size_t>(preferences_.role)];
  progress_model_.trouble = progress().trouble();
  const screens::ProgressOutcome outcome =
      screens::draw_progress(ui, screens::make_study_layout(shell_.size()), progress_model_);
  if (outcome.tab) go_to(*outcome.tab);
  if (outcome.train) go_to(screens::StudyTab::train);
  if (outcome.change_user) screen_ = Screen::first_run;
}

void Application::draw_training(screens::Ui& ui) {
  if (auto done = training_->take_done()) {
    done->learner = preferences_.name;
    progress().enter(std::move(*done));
  }
  const screens::DrillOutcome outcome =
      training_->draw(ui, shell_.size(), find_pixels_per_mm(), progress().trouble());
  if (outcome.stop) {
    go_to(screens::StudyTab::cases);
  } else if (outcome.again) {
    go_to(screens::StudyTab::train);
  } else if (outcome.progress) {
    go_to(screens::StudyTab::progress);
  }
}

void Application::draw_first_run(screens::Ui& ui) {
  first_run_.trouble = trouble_;
  constexpr std::size_t kSizes = std::size(screens::kTextScales);
  for (std::size_t i = 0; i < kSizes; ++i) {
    if (screens::kTextScales[i] == shell_.text_scale()) first_run_.text_size = i;
  }
  const screens::FirstRunOutcome outcome =
      screens::draw_first_run(ui, screens::make_first_run_layout(shell_.size()), first_run_);
  if (outcome.text_size_changed) {
    preferences_.text_scale = static_cast<double>(screens::kTextScales[first_run_.text_size]);
    if (!options_.scale) shell_.set_scale_later(screens::kTextScales[first_run_.text_size]);
    shell_.draw_again();
  }
  if (!outcome.next) return;
  preferences_.name = first_run_.name;
  preferences_.role = static_cast<Role>(first_run_.role);
  preferences_.mouse_hand = static_cast<MouseHand>(first_run_.hand);
  preferences_.shorthand = static_cast<Tradition>(first_run_.shorthand);
  preferences_.room_is_dim = first_run_.room == 0;
  calibrated_from_cases_ = preferences_.first_run_done;
  keep_preferences();
  screen_ = Screen::calibrate;
}

void Application::draw_calibrate(screens::Ui& ui) {
  calibrate_.first_run = !preferences_.first_run_done;
  calibrate_.view_pixels_per_mm = screens::make_examine_layout(shell_.size(), true).pixels_per_mm;
  const screens::CalibrateOutcome outcome =
      screens::draw_calibrate(ui, screens::make_study_layout(shell_.size()), calibrate_);
  if (outcome.back) screen_ = preferences_.first_run_done ? Screen::cases : Screen::first_run;
  if (outcome.back && sitting_) screen_ = Screen::sitting;
  if (!outcome.done && !outcome.later) return;
  if (outcome.done) {
    const window::Screen screen = shell_.window().screen();
    preferences_.set_calibration(
        {screen.name, screen.width_px, screen.height_px, calibrate_.pixels_per_mm, find_today()});
  }
  preferences_.eye_distance_cm = calibrate_.eye_distance_cm;
  preferences_.first_run_done = true;
  keep_preferences();
  screen_ = sitting_ ? Screen::sitting : Screen::cases;
}

std::string Application::describe_calibration() {
  const window::Screen screen = shell_.window().screen();
  const Calibration* known =
      preferences_.find_calibration(screen.name, screen.width_px, screen.height_px);
  return known == nullptr ? "Size on this screen not known"
                          : "Calibrated " + write_day(known->measured_on);
}

void Application::draw_cases(screens::Ui& ui) {
  cases_.reading = !cases_are_read_;
  cases_.user = preferences_.name;
  cases_.role = kRoleWords[static_cast<std::size_t>(preferences_.role)];
  cases_.calibration = describe_calibration();
  cases_.trouble = trouble_.empty() && progress_ ? progress_->trouble() : trouble_;
  cases_.mode = static_cast<std::size_t>(preferences_.mode);
  cases_.writes = preferences_.role != Role::learning;
  std::vector<std::string> seen;
  cases_.find_picture = [&](const screens::CaseRow& row) {
    seen.push_back(row.file);
    return static_cast<std::uintptr_t>(thumbnails_.texture(row.file));
  };
  const screens::CasesOutcome outcome =
      screens::draw_cases(ui, screens::make_study_layout(shell_.size()), cases_);
  cases_.find_picture = nullptr;
  thumbnails_.want(std::move(seen));
  if (outcome.choose) cases_.chosen = outcome.choose;
  if (outcome.filter) cases_.filter = *outcome.filter;
  if (outcome.level) cases_.level = *outcome.level;
  if (outcome.step) cases_.step = *outcome.step;
  if (outcome.mode) {
    preferences_.mode = static_cast<Mode>(*outcome.mode);
    keep_preferences();
  }
  if (outcome.tab && *outcome.tab != screens::StudyTab::cases) go_to(*outcome.tab);
  if (outcome.show_me) {
    if (const auto read = read_from_shelf(*outcome.show_me)) show_me(*read);
  }
  if (outcome.change_user) screen_ = Screen::first_run;
  if (outcome.calibrate) screen_ = Screen::calibrate;
  if (outcome.create) edit("");
  if (outcome.supply) supply();
  if (outcome.edit && *outcome.edit < shelf_.cases.size()) edit(shelf_.cases[*outcome.edit].path);
  if (outcome.begin) {
    if (const auto read = read_from_shelf(*outcome.begin)) begin(*read);
  }
}

std::string Application::own_cases_folder() const {
  if (!preferences_.cases_folder.empty()) return preferences_.cases_folder;
  return data_folder_.empty() ? "" : data_folder_ + "/cases";
}

std::future<CaseShelf> Application::begin_reading_cases() const {
  return std::async(std::launch::async,
                    [folder = find_cases_folder(options_.cases_folder, options_.program_folder),
                     own = own_cases_folder()] {
                      CaseShelf shelf = read_case_shelf(folder);
                      add_own_cases(shelf, own);
                      return shelf;
                    });
}

void Application::take_cases(CaseShelf shelf) {
  shelf_ = std::move(shelf);
  cases_are_read_ = true;
  if (trouble_.empty()) trouble_ = shelf_.trouble;
  fill_cases();
  shell_.draw_again();
}

std::optional<ShelvedCase> Application::read_from_shelf(std::size_t which) {
  if (which >= shelf_.cases.size()) return std::nullopt;
  Result<ShelvedCase> read = read_shelved_case(shelf_.cases[which].path);
  if (read.ok()) return std::move(read).value();
  const Problem& first = read.problems().front();
  trouble_ = "This patient cannot be examined: " + first.place + " " + first.message;
  shell_.draw_again();
  return std::nullopt;
}

ProgressKeeper& Application::progress() {
  if (!progress_) progress_.emplace(data_folder_);
  return *progress_;
}

void Application::catch_up_after_first_frame() {
  if (cases_are_read_) return;
  if (!reading_cases_.valid()) {
    (void)progress();
    reading_cases_ = begin_reading_cases();
  }
  if (reading_cases_.wait_for(std::chrono::seconds{0}) == std::future_status::ready) {
    take_cases(reading_cases_.get());
  } else {
    shell_.draw_again();
  }
}

void Application::edit(const std::string& path) {
  const std::string own = own_cases_folder();
  // What was shipped stays as it is; what somebody keeps in a folder of their own is theirs.
  const bool is_own = !own.empty() && path.starts_with(own + "/");
  const bool shipped = options_.cases_folder.empty() && !path.empty() && !is_own;
  auto opened =
      Editing::open(path, own, data_folder_.empty() ? "" : data_folder_ + "/unsaved", shipped);
  if (!opened.ok()) {
    const Problem& first = opened.problems().front();
    trouble_ = "This case cannot be edited: " + first.place + " " + first.message;
    return;
  }
  editing_ = std::move(opened).value();
  screen_ = Screen::editor;
  shell_.draw_again();
}

void Application::supply() {
  std::vector<screens::CaseRow> shown;
  for (const std::size_t i : screens::find_shown(cases_)) shown.push_back(cases_.rows[i]);
  supplying_ = std::make_unique<Supplying>(own_cases_folder(), std::move(shown));
  screen_ = Screen::supply;
  shell_.draw_again();
}

void Application::draw_supply(screens::Ui& ui) {
  if (supplying_->advance()) shell_.draw_again();
  const SupplyingOutcome outcome = supplying_->draw(ui, shell_.size());
  if (outcome.folder) {
    preferences_.cases_folder = *outcome.folder;
    keep_preferences();
    cases_.filter = 3;  // what was opened is what is to be seen
  }
  if (!outcome.leave && !outcome.folder) return;
  supplying_.reset();
  take_cases(begin_reading_cases().get());
  go_to_cases();
}

void Application::draw_editor(screens::Ui& ui) {
  const EditingOutcome outcome = editing_->draw(ui, shell_.size(), find_clock());
  if (outcome.leave) {
    thumbnails_.forget(editing_->path());
    editing_.reset();
    take_cases(begin_reading_cases().get());
    go_to_cases();
  } else if (outcome.examine) {
    ShelvedCase tried;
    tried.key = "a case of my own";
    tried.content = editing_->draft().content().value();
    tried.written = nlohmann::json::parse(editing_->draft().document().dump());
    begin(tried);
  }
}

void Application::draw_examine(screens::Ui& ui) {
  const RoomOutcome outcome = room_->draw(ui, shell_.size(), find_pixels_per_mm());
  const auto shorthand = static_cast<Tradition>(room_->tradition());
  if (shorthand != preferences_.shorthand || room_->department() != preferences_.department) {
    preferences_.shorthand = shorthand;
    preferences_.department = room_->department();
    keep_preferences();
  }
  if (room_->mode() != preferences_.mode) {
    preferences_.mode = room_->mode();
    keep_preferences();
  }
  const HandHelp help{preferences_.one_key_at_a_time, preferences_.click_holds};
  std::vector<screens::examine::OwnKey> keys = room_->keys().own();
  if (room_->hand_help() != help || keys != preferences_.keys) {
    preferences_.one_key_at_a_time = room_->hand_help().one_key_at_a_time;
    preferences_.click_holds = room_->hand_help().click_holds;
    preferences_.keys = std::move(keys);
    keep_preferences();
  }
  if (outcome.finished) {
    review();
    if (outcome.time_was_up) {
      review_->tell("Time is up. Your card was handed in as it stands.");
    }
  } else if (outcome.left) {
    go_to_cases();
  }
}

void Application::take_study_events() {
  screens::Ui& ui = shell_.ui();
  const std::string focused = ui.focused();
  if (review_) review_->advance(shell_.events(), shell_.now_ms(), ui.typing(), focused);
  if (training_) {
    training_->advance(shell_.events(), shell_.now_ms(), stage_.is_ready(), focused);
  }
  // In the drill the pad answers.
  if (!training_ || training_->drill().done()) steer(shell_.events(), ui);
  if (screen_ != Screen::progress) return;
  for (const window::InputEvent& event : shell_.events()) {
    const auto* key = std::get_if<window::input::KeyChange>(&event.content);
    if (key != nullptr && key->down && key->key == window::Key::f10) {
      progress_model_.numbers = !progress_model_.numbers;
    }
  }
}

}  // namespace redress::app
