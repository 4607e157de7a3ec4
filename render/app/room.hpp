// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One examination in the window: the session, the card, the patient's picture and the clock brought
// together. From the first look to the card that is handed in.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "render/app/case_shelf.hpp"
#include "render/app/frame_clock.hpp"
#include "render/app/gesture_pictures.hpp"
#include "render/app/mode.hpp"
#include "render/app/room_input.hpp"
#include "render/app/stage.hpp"
#include "render/app/station_keeper.hpp"
#include "render/screens/examine/help_page.hpp"
#include "render/screens/examine/screen.hpp"
#include "render/screens/examine/session.hpp"
#include "render/screens/record/record_card.hpp"

namespace redress::app {

/// What a circuit asks of the room. Without a file it is the practice minute: nothing is kept.
struct StationTerms {
  screens::examine::StationWords words;
  Tick time_ms = 0;  ///< the hard stop
  std::vector<std::string> tasks;
  screens::examine::Instruments instruments;
  std::optional<double> pixels_per_mm;  ///< of the picture, whatever the size of texts
  std::shared_ptr<StationFile> file;
  record::Record so_far;  ///< after an interruption
};

struct RoomOptions {
  std::uint64_t seed = 1;
  std::string record_path;  ///< empty: the record is kept in memory alone
  screens::examine::SessionSettings settings;
  HandHelp hand_help;
  findings::Tradition tradition = findings::Tradition::uk;
  std::vector<findings::Department> departments;
  std::string department;  ///< title of the one whose code the card shows
  bool card_open = true;
  Mode mode = Mode::guided;
  std::optional<double> begin_ms;  ///< when the clock begins; none: when the patient is seen
  std::optional<StationTerms> station;
};

struct RoomOutcome {
  bool left = false;         ///< without handing in
  bool finished = false;     ///< the card was handed in
  bool time_was_up = false;  ///< as it stood
};

class Room {
 public:
  Room(const ShelvedCase& shelved, const RoomOptions& options);
  /// Whatever happens, the record gets its last line.
  ~Room();
  Room(const Room&) = delete;
  Room& operator=(const Room&) = delete;

  [[nodiscard]] const scene::PatientAppearance& appearance() const { return appearance_; }
  /// Events, then everything up to now. The clock begins when the patient can be seen. Returns how
  /// many of the events had their turn: what is typed after one that moves the focus has it in the
  /// next frame (event_turns.hpp), and the patient's time waits for it.
  std::size_t advance(const std::vector<window::InputEvent>& events, double now_ms,
                      bool patient_is_there, screens::Ui& ui, const screens::WindowSize& window);
  void draw_patient(Stage& stage, const screens::WindowSize& window);
  RoomOutcome draw(screens::Ui& ui, const screens::WindowSize& window,
                   std::optional<double> screen_pixels_per_mm);

  /// Everything in the OpenGL context is let go.
  void forget_graphics() { gestures_.forget(); }
  // --- at a station ---
  /// The patient waits, and so does the clock.
  void pause(double now_ms) { clock_.pause(now_ms); }
  void resume(double now_ms) { clock_.resume(now_ms); }
  void give_time(Tick ms) { station_->time_ms += ms; }
  void say_kept(const std::string& words, bool all_kept);
  void tell(std::string_view strong, std::string_view words) { session_.tell(strong, words); }
  /// What is left of a station, or of an exam-like run.
  [[nodiscard]] Tick time_left() const;
  /// Ends it as it stands.
  void stop() { finish(); }

  /// Says that the graphics driver began anew.
  void tell_of_new_graphics();
  /// Lids moved from the last picture to this one.
  [[nodiscard]] bool blinks() const { return blinks_; }
  /// The whole card instead of the patient; in the study's theme.
  [[nodiscard]] bool shows_whole_card() const { return whole_card_; }
  /// Nothing shows the pointer: it is where the blade is, or it rests, or keys are used.
  [[nodiscard]] bool hides_pointer(double now_ms) const;
  /// The record as it stands, from memory.
  [[nodiscard]] std::string record_text() const;
  [[nodiscard]] const screens::examine::Session& session() const { return session_; }
  [[nodiscard]] const HandHelp& hand_help() const { return hand_help_; }
  [[nodiscard]] Mode mode() const { return mode_; }
  [[nodiscard]] const screens::examine::KeyMap& keys() const { return captions_.keys; }
  [[nodiscard]] const ShelvedCase& shelved() const { return shelved_; }
  [[nodiscard]] findings::Tradition tradition() const { return editor_.tradition(); }
  /// Title of the department whose code the card shows; empty: none.
  [[nodiscard]] std::string department() const {
    return card_state_.department ? card_state_.departments[*card_state_.department].title : "";
  }
  [[nodiscard]] const std::string& record_path() const { return record_path_; }
  [[nodiscard]] std::string who() const;

 private:
  /// True: it moves the focus.
  bool take(const window::InputEvent& event, screens::Ui& ui, const RoomInputPlace& place);
  /// The same where nobody acts on a patient: on the whole card and the page of keys.
  void take_on_page(const window::InputEvent& event, screens::Ui& ui, const RoomInputPlace& place);
  /// A controller on the card. True: the event was for it.
  bool steer_card(const window::InputEvent& event, screens::Ui& ui);
  /// The same among what stands around the patient.
  bool steer_around(const window::InputEvent& event, screens::Ui& ui);
  bool take_record_key(const window::InputEvent& event, screens::Ui& ui, bool hands_have_keys);
  /// What the key orders, as it lies for this person.
  [[nodiscard]] std::optional<screens::examine::Order> find_order(
      const window::InputEvent& event) const;
  void use(const screens::examine::KeyCaptions& captions);
  void follow_focus(const window::InputEvent& event, screens::Ui& ui, const RoomInputPlace& place);
  void obey(const screens::examine::Order& order, screens::Ui& ui);
  void note(const screens::record::RecordOutcome& outcome, RoomOutcome& answer);
  void draw_leaving(screens::Ui& ui, const screens::ExamineLayout& layout, RoomOutcome& answer);
  void draw_handing_in(screens::Ui& ui, RoomOutcome& answer);
  /// On pages that have no clock of their own: in the middle of their bar.
  void draw_station_clock(screens::Ui& ui);
  void draw_saving(screens::Ui& ui, const screens::ExamineLayout& layout);
  void draw_waiting(screens::Ui& ui, const screens::ExamineLayout& layout);
  [[nodiscard]] screens::ExamineLayout layout_for(const screens::WindowSize& window) const;
  [[nodiscard]] Tick tick_at(double at_ms) const;
  /// The keys are shown on a page of their own.
  [[nodiscard]] bool shows_help() const;
  /// Something is read where the patient was: the keys, or in compact the story or the tasks.
  [[nodiscard]] bool shows_page() const;
  /// A controller's pad moves among an open drawer's parts. True: the event had its turn.
  bool steer_drawer(const window::InputEvent& event, screens::Ui& ui);
  /// The record cannot be written where it should be, and was not saved elsewhere yet.
  [[nodiscard]] bool asks_where_to_save() const;
  /// Opens, or folds, the card in the layout that is in force.
  void show_card(bool shown);
  void settle_card();
  void finish();
  [[nodiscard]] std::string write_mode(bool brief) const;
  void draw_help(screens::Ui& ui, const screens::WindowSize& window);
  /// Between covers only: nobody reads while an eye is covered.
  [[nodiscard]] std::optional<screens::examine::CoachWords> ask_coach();

  ShelvedCase shelved_;
  scene::PatientAppearance appearance_;
  std::string record_path_;
  screens::examine::Session session_;
  screens::examine::ScreenState screen_state_;
  screens::examine::SessionSettings settings_;
  screens::examine::KeyCaptions captions_;
  screens::examine::HelpPageState help_state_;
  GesturePictures gestures_;
  std::string save_path_;     // where the record is to be saved instead
  std::string save_problem_;  // why that did not work
  Tick saved_until_ = -1;     // what was saved elsewhere; -1: nothing
  screens::record::CardEditor editor_;
  screens::record::RecordState card_state_;
  FrameClock clock_;
  RoomInput input_;
  HandHelp hand_help_;
  bool compact_ = false;              // the layout in force
  double share_ = 0;                  // of the tick that runs
  std::array<double, 2> lids_{1, 1};  // how far open, in the last picture
  bool blinks_ = false;
  bool patient_is_there_ = false;
  bool card_open_ = true;   // beside the patient
  bool card_page_ = false;  // compact: over the patient
  bool whole_card_ = false;
  bool asks_to_leave_ = false;
  bool asks_to_hand_in_ = false;  // exam-like: what is handed in is handed in
  bool ended_ = false;
  double pointer_moved_ms_ = 0;
  bool pointer_hidden_by_key_ = false;
  Mode mode_ = Mode::guided;
  std::optional<StationTerms> station_;
  Tick resumed_at_ = 0;  // the station's time when this clock began
  bool coach_shows_why_ = false;
  Tick hands_moved_at_ = -1000;  // or an eye was covered; long before the beginning
  std::string coach_said_;
  double last_record_key_ms_ = -10000;
};

}  // namespace redress::app
