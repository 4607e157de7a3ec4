// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/application.hpp"

#include <fmt/format.h>
#include <malloc.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>

#include "render/app/application_screens.hpp"
#include "render/app/departments.hpp"
#include "render/app/event_turns.hpp"
#include "render/app/printed_keys.hpp"
#include "render/app/results.hpp"
#include "render/face/people.hpp"
#include "render/screens/examine/scene.hpp"

namespace redress::app {

using screens::Theme;

namespace {

/// The scale is known before the window is: its fonts are made meanwhile.
ShellOptions to_shell_options(const ApplicationOptions& options) {
  ShellOptions shell = options.shell;
  const std::string folder = options.own_folder.empty() ? find_config_folder() : options.own_folder;
  shell.scale =
      static_cast<float>(options.scale.value_or(load_preferences(folder).preferences.text_scale));
  return shell;
}

}  // namespace

Application::Application(const ApplicationOptions& options)
    : options_(options), shell_(to_shell_options(options)) {
  const bool own = !options_.own_folder.empty();
  config_folder_ = own ? options_.own_folder : find_config_folder();
  data_folder_ = own ? options_.own_folder : find_data_folder();
  LoadedPreferences loaded = load_preferences(config_folder_);
  preferences_ = std::move(loaded.preferences);
  preferences_writable_ = loaded.writable;
  trouble_ = std::move(loaded.trouble);
  if (trouble_.empty()) trouble_ = shell_.font_trouble();
  done_ = load_results(data_folder_);
  // In a test nothing depends on when they come.
  if (shell_.is_played() || shell_.wants_picture() || options_.screen == "examine") {
    take_cases(begin_reading_cases().get());
  }

  screen_ = preferences_.first_run_done ? Screen::cases : Screen::first_run;
  if (options_.screen == "parts") screen_ = Screen::parts;
  if (options_.screen == "first-run") screen_ = Screen::first_run;
  if (options_.screen == "calibrate") screen_ = Screen::calibrate;
  if (options_.screen == "cases") screen_ = Screen::cases;
  if (options_.screen == "progress") go_to(screens::StudyTab::progress);
  if (options_.screen == "train") go_to(screens::StudyTab::train);
  first_run_.name = preferences_.name;
  first_run_.role = static_cast<std::size_t>(preferences_.role);
  first_run_.hand = static_cast<std::size_t>(preferences_.mouse_hand);
  first_run_.shorthand = static_cast<std::size_t>(preferences_.shorthand);
  first_run_.room = preferences_.room_is_dim ? 0 : 1;
  const window::Screen screen = shell_.window().screen();
  calibrate_.screen_width_px = std::max(1, screen.width_px);
  calibrate_.eye_distance_cm = preferences_.eye_distance_cm;
  if (const auto known = find_pixels_per_mm()) calibrate_.pixels_per_mm = *known;

  if (!options_.debrief_path.empty()) {
    show_released(options_.debrief_path);
  } else if (!options_.sit.sealed_path.empty() || options_.screen == "assessment") {
    sit();
  } else if (options_.screen == "compose") {
    compose();
  } else if (options_.screen == "results") {
    mark();
  } else if (options_.screen == "supply") {
    supply();
  } else if (options_.screen == "editor") {
    edit(options_.case_path);
  } else if (!options_.case_path.empty()) {
    const Result<ShelvedCase> read = read_shelved_case(options_.case_path);
    if (!read.ok()) {
      throw std::runtime_error(options_.case_path + ": " + read.problems().front().place + " " +
                               read.problems().front().message);
    }
    begin(read.value());
  } else if (options_.screen == "examine" && !shelf_.cases.empty()) {
    if (const auto read = read_from_shelf(0)) begin(*read);
  }
}

std::optional<double> Application::find_pixels_per_mm() {
  const window::Screen screen = shell_.window().screen();
  const Calibration* known =
      preferences_.find_calibration(screen.name, screen.width_px, screen.height_px);
  if (known == nullptr) return std::nullopt;
  return known->pixels_per_mm;
}

void Application::keep_preferences() {
  if (!preferences_writable_) return;
  const std::string problem = save_preferences(config_folder_, preferences_);
  if (!problem.empty()) trouble_ = problem;
}

void Application::fill_cases() {
  cases_.rows = make_case_rows(shelf_, done_);
  if (cases_.chosen && *cases_.chosen >= cases_.rows.size()) cases_.chosen.reset();
}

std::optional<scene::PatientAppearance> find_portrait(const std::string& path) {
  const Result<ShelvedCase> read = read_shelved_case(path);
  if (!read.ok()) return std::nullopt;
  return screens::examine::make_appearance(read.value().content);
}

Theme Application::theme_now() const {
  if (options_.theme == "light") return Theme::light;
  if (options_.theme == "dim") return Theme::dim;
  const bool room = (screen_ == Screen::examine && room_ && !room_->shows_whole_card()) ||
                    (screen_ == Screen::sitting && sitting_->shows_patient()) ||
                    screen_ == Screen::train;
  return room && preferences_.room_is_dim ? Theme::dim : Theme::light;
}

RoomOptions Application::make_room_options() {
  RoomOptions room;
  room.card_open = options_.card_open;
  room.settings.motion_ms = preferences_.motion_ms;
  room.hand_help = {preferences_.one_key_at_a_time, preferences_.click_holds};
  room.mode = preferences_.mode;
  screens::examine::KeyCaptions& captions = room.settings.captions;
  captions.printed = read_printed_keys(shell_.window());
  captions.keys.set_mirrored(preferences_.mouse_hand == MouseHand::left);
  // They were checked when they were read or chosen.
  (void)captions.keys.use(preferences_.keys);
  room.tradition = static_cast<findings::Tradition>(preferences_.shorthand);
  room.departments = read_departments(options_.program_folder, config_folder_);
  room.department = preferences_.department;
  return room;
}

void Application::begin(const ShelvedCase& shelved) {
  RoomOptions room = make_room_options();
  const auto clock = std::chrono::system_clock::now().time_since_epoch().count();
  // Positive and within what a record holds.
  room.seed = options_.seed.value_or(static_cast<std::uint64_t>(clock) % 1'000'000'000U);
  if (!data_folder_.empty()) {
    const std::string folder = data_folder_ + "/records";
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    // The moment alone: the case's name would tell what the patient has.
    room.record_path = folder + "/" + find_moment() + ".redress";
    for (int i = 2; std::filesystem::exists(room.record_path, error); ++i) {
      room.record_path = folder + "/" + find_moment() + "-" + std::to_string(i) + ".redress";
    }
  }
  if (shell_.is_played()) room.begin_ms = shell_.now_ms();
  room_ = std::make_unique<Room>(shelved, room);
  stage_.call(room_->appearance());
  shell_.window().set_title(shelved.content.patient.name + " – Redress");
  shell_.ui().go_to(screens::Place::room);
  screen_ = Screen::examine;
}

void Application::go_to_cases() {
  room_.reset();
  review_.reset();
  stage_.send_away();
  shell_.window().show_pointer(true);
  if (editing_) {  // it was tried out
    shell_.window().set_title("Redress");
    screen_ = Screen::editor;
    return;
  }
  fill_cases();
  shell_.window().set_title("Redress");
  shell_.window().show_pointer(true);
  screen_ = Screen::cases;
  shell_.draw_again();
}

void Application::draw_first_picture() {
  const screens::FirstRunLayout layout = screens::make_first_run_layout(shell_.size());
  if (layout.picture.empty() || face::people().empty()) return;
  stage_.call(face::people().front().look);
  const screens::WindowSize window = shell_.size();
  const gl::PixelBox box = to_box(layout.picture, window.scale, window.height_px);
  scene::Scene scene;
  constexpr double kAcrossMm = 62;
  scene.view.pixels_per_mm = box.width / kAcrossMm;
  scene.view.centre_x_mm = 25;
  scene.view.centre_y_mm = 2;
  stage_.draw(scene, box);
}

void Application::frame() {
  screens::Ui& ui_before = shell_.ui();
  const bool sits = screen_ == Screen::sitting;
  if (sits) {
    if (sitting_->patient()) stage_.call(*sitting_->patient());
    shell_.put_back(sitting_->advance(shell_.events(), shell_.now_ms(), stage_.is_ready(),
                                      ui_before, shell_.size(), find_pixels_per_mm()));
    shell_.window().show_pointer(!sitting_->hides_pointer(shell_.now_ms()));
  } else if (room_) {
    shell_.put_back(room_->advance(shell_.events(), shell_.now_ms(), stage_.is_ready(), ui_before,
                                   shell_.size()));
    shell_.window().show_pointer(!room_->hides_pointer(shell_.now_ms()));
  }
  if (!room_ && !sits) {
    shell_.put_back(find_turn_end(shell_.events()));
    take_study_events();
  }
  const bool behind_head = screen_ == Screen::first_run || (sits && sitting_->shows_patient()) ||
                           (screen_ == Screen::examine && !room_->shows_whole_card());
  shell_.clear(theme_now(), behind_head ? screens::Token::surround : screens::Token::page);
  stage_.hold_with_left(preferences_.mouse_hand == MouseHand::left);
  if (screen_ == Screen::debrief) review_->draw_patient(stage_, shell_.size());
  if (screen_ == Screen::train) training_->draw_patient(stage_, shell_.size());
  if (screen_ == Screen::examine) {
    room_->draw_patient(stage_, shell_.size());
    if (room_->blinks()) shell_.mark_blink();
  }
  if (sits) {
    sitting_->draw_patient(stage_, shell_.size());
    if (sitting_->blinks()) shell_.mark_blink();
  }
  if (screen_ == Screen::first_run) draw_first_picture();
  if (screen_ == Screen::composing) composing_->advance();
  if (screen_ == Screen::marking) marking_->advance(shell_.now_ms());
  if (screen_ == Screen::editor) {
    editing_->advance(shell_.now_ms());
    editing_->draw_patient(stage_, shell_.size());
  }
  screens::Ui& ui = shell_.begin_ui(theme_now());
  switch (screen_) {
    case Screen::parts: {
      if (!gallery_) gallery_ = std::make_unique<screens::GalleryModel>(screens::make_gallery());
      screens::draw_gallery(ui, {0, 0, ui.size().x, ui.size().y}, *gallery_);
      break;
    }
    case Screen::first_run: draw_first_run(ui); break;
    case Screen::calibrate: draw_calibrate(ui); break;
    case Screen::cases: draw_cases(ui); break;
    case Screen::examine: draw_examine(ui); break;
    case Screen::debrief: draw_debrief(ui); break;
    case Screen::progress: draw_progress(ui); break;
    case Screen::train: draw_training(ui); break;
    case Screen::editor: draw_editor(ui); break;
    case Screen::sitting: draw_sitting(ui); break;
    case Screen::composing: draw_composing(ui); break;
    case Screen::marking: draw_marking(ui); break;
    case Screen::supply: draw_supply(ui); break;
  }
  shell_.end_ui();
  if (shell_.close_asked()) shell_.leave();
  shell_.show();
}

/// Nobody has to begin again because a driver did: patient, clock and record are not in the
/// context.
void Application::recover() {
  stage_.forget_graphics();
  thumbnails_.forget_graphics();
  if (room_) room_->forget_graphics();
  shell_.renew_graphics();
  stage_.wait();
  if (room_) room_->tell_of_new_graphics();
  if (sitting_) sitting_->tell_of_new_graphics();
}

void Application::run() {
  if (!shell_.is_played()) stage_.follow_speed();
  while (!shell_.leaving()) {
    // In a test the patient does not depend on how fast the machine is.
    if (shell_.is_played()) stage_.wait();
    if (shell_.is_played() && review_) review_->wait();
    if (shell_.is_played() && editing_) editing_->wait();
    if (shell_.is_played() && supplying_) supplying_->wait();
    if (shell_.wants_picture() && screen_ == Screen::editor) {
      editing_->wait_for_difficulty();
      stage_.wait();
    }
    // The first frames have the machine to themselves.
    constexpr int kFramesAlone = 3;
    if (screen_ == Screen::cases && shell_.frames_shown() >= kFramesAlone) {
      if (thumbnails_.work()) shell_.draw_again();
      while (shell_.wants_picture() && !thumbnails_.done()) {
        thumbnails_.wait();
        thumbnails_.work();
      }
    }
    if (shell_.frames_shown() > 0) catch_up_after_first_frame();
    const bool awaits = screen_ == Screen::first_run || screen_ == Screen::train;
    if (awaits && !stage_.is_ready()) shell_.draw_again();
    if (!shell_.wait_for_frame(is_live())) continue;
    frame();
    if (shell_.graphics_are_lost()) recover();
  }
  shell_.report_timings();
}

int run_application(const ApplicationOptions& options) {
#ifdef __GLIBC__
  // Large blocks go back when they are freed, from whichever thread: a face is made of them.
  constexpr int kLargeBytes = 256 * 1024;
  mallopt(M_MMAP_THRESHOLD, kLargeBytes);
  mallopt(M_TRIM_THRESHOLD, kLargeBytes);
  mallopt(M_ARENA_MAX, 2);
#endif
  try {
    Application application(options);
    application.run();
    return 0;
  } catch (const std::exception& error) {
    fmt::print(stderr, "redress: {}\n", error.what());
    return 1;
  }
}

}  // namespace redress::app
