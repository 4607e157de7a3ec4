// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One person examining one patient: turns what they do, with its times, into acts, tick by tick.
// It holds the hands, the examination and what was said, and knows nothing of frames: fed the same
// inputs at any frame rate it makes the same record, byte for byte.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "render/screens/examine/captions.hpp"
#include "render/screens/examine/cautions.hpp"
#include "render/screens/examine/hand.hpp"
#include "render/screens/examine/input.hpp"
#include "render/screens/examine/instruments.hpp"
#include "render/screens/examine/live_examination.hpp"
#include "render/screens/examine/message.hpp"
#include "render/screens/examine/phrases.hpp"
#include "render/screens/examine/prism_hand.hpp"
#include "render/screens/examine/view.hpp"

namespace redress::screens::examine {

struct SessionSettings {
  std::int32_t motion_ms = 220;  ///< of a key's motion; 120 ... 800
  std::int32_t slow_motion_ms = 600;
  KeyCaptions captions{};   ///< where the keys lie, and what is printed on them
  bool view_fixed = false;  ///< an assessment fixes view and magnification
  std::string_view view_fixed_words = "Fixed for this circuit.";
  bool cautions = false;  ///< practice points out what own hands, head and eyes do
  Instruments instruments{};         ///< a circuit may leave some out
  std::vector<std::string> tasks{};  ///< of a station; empty: a whole examination
};

class Session {
 public:
  Session(const Case& the_case, nlohmann::json written, Draw draw,
          std::unique_ptr<std::ostream> out, SessionSettings settings = {});
  /// Kept by `keeper` (none: nowhere); goes on after `so_far` (sim/record/record_file.hpp) as it
  /// was, with empty hands.
  Session(const Case& the_case, nlohmann::json written, Draw draw,
          std::unique_ptr<RecordKeeper> keeper, const record::Record& so_far,
          SessionSettings settings);

  /// Where the patient is drawn; when the window changes. Not an input: it moves nothing.
  void set_frame(const ViewFrame& frame) { frame_ = frame; }
  void set_settings(const SessionSettings& settings) { settings_ = settings; }

  /// Inputs in any order of calls; each takes effect at its tick, or now if that has passed.
  void feed(const Input& input);
  /// Runs all ticks before `until`, inputs and acts at theirs. Then now() == until.
  void advance_to(Tick until);
  /// From other screens: a note, say. At now().
  std::optional<Problem> perform(const ActContent& content) { return live_.perform(content); }
  /// A word of the application's on the message line, now.
  void tell(std::string_view strong, std::string_view words) {
    messages_.say({now(), Voice::note, true, std::string(strong), std::string(words)});
  }
  /// The card is handed in, or the patient left: the record gets its last line.
  void end() { live_.end(); }

  /// Orders that are the application's (record, story, help, leave ...) since the last call.
  std::vector<Order> take_orders();

  [[nodiscard]] Tick now() const { return live_.now(); }
  [[nodiscard]] const LiveExamination& live() const { return live_; }
  [[nodiscard]] const Hand& hand() const { return hand_; }
  [[nodiscard]] const PrismHand& prisms() const { return prisms_; }
  [[nodiscard]] const MessageLine& messages() const { return messages_; }
  [[nodiscard]] Drawer drawer() const { return drawer_; }
  [[nodiscard]] Closeness closeness() const { return closeness_; }
  [[nodiscard]] Eye view_eye() const { return view_eye_; }
  [[nodiscard]] ShownView view() const;
  [[nodiscard]] const act::ShowTarget& target() const { return target_; }
  [[nodiscard]] std::optional<std::size_t> last_phrase() const { return last_phrase_; }
  [[nodiscard]] int times_said(std::size_t phrase) const { return said_.at(phrase); }
  [[nodiscard]] const PerEye<double>& trial_lenses_d() const { return lenses_d_; }
  [[nodiscard]] OccluderKind occluder_kind() const { return kind_; }
  [[nodiscard]] bool occluder_is_moving() const;
  /// The examiner's head against straight in front, mm to the picture's right and up.
  [[nodiscard]] double lean_right_mm() const { return lean_right_; }
  /// Index of kHeadPoses; none: the patient holds the head its own way, or another one.
  [[nodiscard]] std::optional<std::size_t> head_pose() const;
  [[nodiscard]] double lean_up_mm() const { return lean_up_; }
  [[nodiscard]] const Case& the_case() const { return case_; }
  [[nodiscard]] const SessionSettings& settings() const { return settings_; }
  [[nodiscard]] bool near_point_runs() const { return near_point_runs_; }
  /// The patient was asked about screen, reading and work: distances may carry their numbers.
  [[nodiscard]] bool work_is_known() const { return work_known_; }
  void tell_story() { work_known_ = true; }

 private:
  void take_up(const record::Record& so_far);
  void tell_replies();
  void handle(const Input& input);
  void order(const Order& order, bool slow);
  bool order_occluder(const Order& order, bool slow);
  bool order_prism(const Order& order);
  bool order_target(const Order& order);
  bool order_speech(const Order& order);
  bool order_view(const Order& order);
  void cover(Eye eye, std::int32_t travel_ms);
  void uncover(Side towards, std::int32_t travel_ms);
  void nudge(double dx, double dy, double dz, double roll);
  void show_target(std::int32_t travel_ms = 0);
  void stop_near_point();
  void say(std::size_t phrase);
  void point(Tick at);
  void move_controller(const ControllerMoved& moved, Tick at);
  void lose(std::string_view words);
  void note(std::string_view words);
  void tick();
  void act(const ActContent& content);
  void act_all(std::vector<ActContent>& contents);
  [[nodiscard]] std::optional<Eye> covered_eye() const;

  Case case_;
  SessionSettings settings_;
  LiveExamination live_;
  Hand hand_;
  PrismHand prisms_;
  MessageLine messages_;
  Cautions cautions_;
  ViewFrame frame_;
  std::vector<Input> waiting_;
  std::vector<Order> orders_;

  double pointer_x_px_ = 720;
  double pointer_y_px_ = 300;
  bool leaning_ = false;  // the wheel is pressed
  bool controller_holds_ = false;
  ControllerMoved stick_;
  double lean_right_ = 0;
  double lean_up_ = 0;
  bool lean_untold_ = false;
  Tick leaned_at_ = -1000;

  OccluderKind kind_ = OccluderKind::opaque;
  Eye last_covered_ = Eye::left;
  act::ShowTarget target_;
  bool near_point_runs_ = false;
  PerEye<double> lenses_d_{};
  std::array<int, kPhrases.size()> said_{};
  std::optional<std::size_t> last_phrase_;
  bool work_known_ = false;
  Drawer drawer_ = Drawer::none;
  Closeness closeness_ = Closeness::both;
  Eye view_eye_ = Eye::right;
  bool told_of_record_ = false;
  bool told_of_fault_ = false;
};

}  // namespace redress::screens::examine
