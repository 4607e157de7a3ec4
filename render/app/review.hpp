// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The debrief in the window: computed from the record on another thread, then played back.
#pragma once

#include <future>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "render/app/case_shelf.hpp"
#include "render/app/stage.hpp"
#include "render/screens/debrief/debrief_screen.hpp"
#include "render/window/input.hpp"
#include "sim/progress/history.hpp"

namespace redress::app {

struct ReviewOutcome {
  bool leave = false;
  bool again = false;
  bool show_me = false;
  std::optional<std::size_t> rate;  ///< by an assessor, 0 fail ... 4 excellent
};

class Review {
 public:
  /// `record_path` is for the list of what was done; `when` for the title ("24 November").
  Review(const ShelvedCase& shelved, std::string record_text, std::string record_path,
         std::string when, screens::debrief::CountedBy counted = {});

  /// The reference examiner's, made here; never the learner's own.
  explicit Review(const ShelvedCase& shelved);

  /// `focused` is the part that has the keys, empty if none: a controller's lower button is its.
  void advance(const std::vector<window::InputEvent>& events, double now_ms, bool typing,
               const std::string& focused);
  /// The learner's habit of estimating, where drills have shown one.
  void use(const std::optional<progress::Agreement>& estimates) { state_.estimates = estimates; }
  [[nodiscard]] bool is_example() const { return example_; }
  /// A candidate's station: nothing is to be tried again. `blind`: no marks, but a rating.
  void show_to_assessor(bool blind) {
    state_.for_assessor = true;
    state_.blind = blind;
  }
  /// Said while it is being marked.
  void tell(std::string words) { told_ = std::move(words); }
  /// Every item that counts, once they are there.
  [[nodiscard]] std::vector<progress::ItemMark> marks() const;
  void draw_patient(Stage& stage, const screens::WindowSize& window);
  ReviewOutcome draw(screens::Ui& ui, const screens::WindowSize& window);

  /// Waits until the marks are there; for tests.
  void wait();
  /// The marks are there, said once: for the list of what was done.
  std::optional<double> take_total();
  /// Plays, or is still being computed.
  [[nodiscard]] bool is_live() const { return !model_ || state_.playing || pricing_.valid(); }
  [[nodiscard]] const ShelvedCase& shelved() const { return shelved_; }
  [[nodiscard]] const std::string& record_path() const { return record_path_; }

 private:
  void take_model();
  void take_what_if();
  void obey(screens::debrief::Command command);
  void take_pad(window::PadButton button, const std::string& focused);
  [[nodiscard]] const screens::debrief::PricedHabit* watched_habit() const;
  [[nodiscard]] bool wants_what_if() const;
  ReviewOutcome draw_waiting(screens::Ui& ui, const screens::WindowSize& window);

  ShelvedCase shelved_;
  std::string record_path_;
  std::string when_;
  std::string record_text_;
  scoring::Column column_ = scoring::Column::formative;
  struct Made {
    std::string record_text;
    Result<screens::debrief::DebriefModel> model;
  };
  std::future<Made> making_;
  bool example_ = false;
  std::optional<screens::debrief::DebriefModel> model_;
  // Begun when the page is opened for the first time.
  std::future<screens::debrief::WhatIfModel> pricing_;
  std::optional<screens::debrief::WhatIfModel> what_if_;
  std::string trouble_;
  std::string told_;
  screens::debrief::DebriefState state_;
  screens::debrief::DebriefOutcome shown_;
  std::optional<double> last_ms_;
  bool total_told_ = false;
};

}  // namespace redress::app
