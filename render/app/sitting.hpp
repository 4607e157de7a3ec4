// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A workstation on the day: the assessor opens a sealed circuit, one candidate after another sits
// it. From the practice minute to the end; reading, stations and rests by the clock; what is kept,
// what is resumed after an interruption, and what an invigilator may do. Marks and truth are never
// computed here.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "render/app/circuit_opening.hpp"
#include "render/app/room.hpp"
#include "render/app/stage.hpp"
#include "render/app/station_keeper.hpp"
#include "render/screens/assessment/desk_pages.hpp"
#include "render/screens/assessment/invigilator_page.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/assessment/sitting.hpp"

namespace redress::app {

struct SittingOptions {
  std::string sealed_path;            ///< empty: asked for
  std::vector<std::string> found;     ///< sealed circuits to choose from
  std::vector<std::string> debriefs;  ///< released ones to choose from
  std::string kept_folder;            ///< where stations are kept
  std::string workstation;            ///< name
  std::string candidate;              ///< empty: typed
  bool resume = false;                ///< what was cut short goes on as soon as the circuit is open
  RoomOptions room;                   ///< keys, hands, tradition
  double eye_distance_cm = 60;
  bool is_played = false;  ///< tests: no frame passes while a passphrase is tried
  /// `now_ms` is the frame's. Empty: the machine's clocks, or, if played, the frame's alone.
  std::function<assessment::ClockReading(double now_ms)> read_clocks;
};

struct SittingOutcome {
  bool leave = false;                  ///< back to the cases
  bool calibrate = false;              ///< the assessor measures the screen
  std::optional<std::size_t> tab;      ///< another of the assessment's pages
  std::optional<std::string> debrief;  ///< a released one is to be shown: its file
  std::optional<float> text_scale;
  bool acted = false;  ///< another page, or the same with something else on it, comes next
};

class Sitting {
 public:
  explicit Sitting(SittingOptions options);
  ~Sitting();
  Sitting(const Sitting&) = delete;
  Sitting& operator=(const Sitting&) = delete;

  /// As Room::advance. `screen_pixels_per_mm`: of this screen, if it is known.
  std::size_t advance(const std::vector<window::InputEvent>& events, double now_ms,
                      bool patient_is_there, screens::Ui& ui, const screens::WindowSize& window,
                      std::optional<double> screen_pixels_per_mm);
  /// Who is to be drawn now or next.
  [[nodiscard]] const std::optional<scene::PatientAppearance>& patient() const { return patient_; }
  void draw_patient(Stage& stage, const screens::WindowSize& window);
  SittingOutcome draw(screens::Ui& ui, const screens::WindowSize& window);

  /// The patient is there, in the room's theme.
  [[nodiscard]] bool shows_patient() const;
  [[nodiscard]] bool hides_pointer(double now_ms) const;
  [[nodiscard]] bool blinks() const { return room_ && shows_patient() && room_->blinks(); }
  [[nodiscard]] std::string title() const;
  /// Something is shown that changes by itself.
  [[nodiscard]] bool is_live() const;
  void tell_of_new_graphics();
  /// Why a released debrief cannot be shown.
  void tell_debrief_trouble(std::string path, std::string words) {
    opening_model_.debrief = std::move(path);
    opening_model_.debrief_trouble = std::move(words);
  }
  void set_text_size(std::size_t index, float largest_scale, std::string size_on_screen);
  [[nodiscard]] double eye_distance_cm() const { return candidate_model_.eye_distance_cm; }

 private:
  enum class Step : std::uint8_t {
    opening,
    setup,
    candidate,
    practice,
    before,
    reading,
    station,
    rest,
    after,
    done
  };

  // --- the day ---
  void take_circuit(assessment::OpenedCircuit opened);
  void look_for_interrupted();
  bool begin_candidate();
  void begin_practice();
  /// The next station that this candidate has not handed in; the end if there is none.
  void go_to_next(std::size_t from);
  void begin_reading();
  void begin_station();
  void begin_rest();
  bool resume(const std::string& candidate, std::size_t station);
  void end_station(const std::string& title);
  /// Writes down that the clock here is behind the one where the station began; what to tell.
  std::string compare_clocks(const assessment::StationVerdict& verdict);
  void close_station();
  void log(const std::string& what, nlohmann::json detail);
  /// Whoever sits here, now or as soon as there is a page to say it on.
  void tell(const std::string& strong, const std::string& words);
  [[nodiscard]] bool sits() const { return step_ >= Step::before && step_ != Step::done; }

  // --- time ---
  /// What the clocks say now; what was set is written down.
  void look_at_clocks(double now_ms);
  /// Of reading and rest.
  void pass_time();
  /// A station's time runs on while nothing is drawn: the machine slept, or was held.
  void charge_standing_still(bool patient_is_there);
  [[nodiscard]] Tick station_tick() const;
  [[nodiscard]] const assessment::Station& station() const {
    return circuit_->circuit.stations[number_];
  }
  [[nodiscard]] const assessment::Form& form() const;

  // --- what comes in ---
  void take_window_focus(const window::input::WindowFocus& focus, double at_ms);
  void open_invigilator();
  void obey(screens::assessment::InvigilatorAct act);
  void watch_disk();

  // --- what is shown ---
  SittingOutcome draw_page(screens::Ui& ui, const screens::WindowSize& window);
  void draw_step(screens::Ui& ui, const screens::StudyLayout& layout, SittingOutcome& outcome);
  void draw_room(screens::Ui& ui);
  screens::assessment::DeskBar make_bar() const;
  [[nodiscard]] std::string where() const;
  [[nodiscard]] RoomOptions make_room_options() const;
  [[nodiscard]] std::string describe_circuit() const;
  [[nodiscard]] std::string describe_station() const;

  SittingOptions options_;
  Step step_ = Step::opening;
  double now_ms_ = 0;
  assessment::ClockReading clocks_;
  std::int64_t passed_ms_ = 0;  // since the frame before, by the steady clock
  bool knows_clocks_ = false;
  /// When the steady clock and the station's were last of one mind.
  struct Agreed {
    std::int64_t steady_ms = 0;
    Tick at_ms = 0;
  };
  std::optional<Agreed> agreed_;
  std::optional<double> screen_pixels_per_mm_;
  screens::WindowSize window_;

  CircuitOpening opening_;
  std::optional<assessment::OpenedCircuit> circuit_;
  std::optional<assessment::WorkstationKey> key_;

  std::string candidate_;
  assessment::TimeTerms terms_;
  std::size_t number_ = 0;  // of the station
  double used_ms_ = 0;      // of reading, rest
  double told_ms_ = 0;      // of reading, as it stands in the file
  std::shared_ptr<StationFile> file_;
  record::Record so_far_;
  std::string focus_;             // a field of the page that has just come
  bool goes_on_reading_ = false;  // after an interruption
  std::unique_ptr<Room> room_;
  std::optional<scene::PatientAppearance> patient_;
  Tick ended_at_ = 0;
  bool disk_trouble_ = false;
  std::vector<std::string> happened_;  // at this station, for the invigilator
  std::string notice_;                 // for the candidate, where no patient is there
  std::optional<double> away_since_ms_;
  // What happened between stations: it goes into the next one's file.
  std::vector<std::pair<std::string, nlohmann::json>> untold_;

  bool invigilating_ = false;
  bool paused_ = false;
  CircuitOpening invigilator_opening_;

  screens::assessment::OpeningModel opening_model_;
  screens::assessment::SetupModel setup_model_;
  screens::assessment::CandidateModel candidate_model_;
  screens::assessment::BeforeModel before_model_;
  screens::assessment::ReadingModel reading_model_;
  screens::assessment::AfterModel after_model_;
  screens::assessment::InvigilatorModel invigilator_model_;
  screens::assessment::PageState page_;
};

}  // namespace redress::app
