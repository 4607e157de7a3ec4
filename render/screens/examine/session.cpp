// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/session.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/basics/vector.hpp"
#include "sim/optics/sight.hpp"

namespace redress::screens::examine {

namespace {

// The picture's scale holds in the plane of the entrance pupils.
constexpr double kPupilPlane = -(optics::kPupilToCentreMm);
constexpr double kHeadDistance = 500.0;  // of the examiner, mm
constexpr double kLeanPerPixel = 0.4;    // mm
constexpr Tick kLeanEveryMs = 16;
constexpr double kTriggerHolds = 0.2;
constexpr double kTriggerLets = 0.1;
constexpr double kStickReachX = 45.0;  // mm at full deflection
constexpr double kStickReachY = 55.0;

std::string to_clock(Tick at) {
  const Tick seconds = at / 1000;
  const Tick rest = seconds % 60;
  return std::to_string(seconds / 60) + ":" + (rest < 10 ? "0" : "") + std::to_string(rest);
}

}  // namespace

Session::Session(const Case& the_case, nlohmann::json written, Draw draw,
                 std::unique_ptr<std::ostream> out, SessionSettings settings)
    : case_(the_case),
      settings_(std::move(settings)),
      live_(the_case, std::move(written), draw, std::move(out)) {}

ShownView Session::view() const {
  return calc_view(frame_, closeness_, view_eye_, case_.patient.interpupillary_distance.value);
}

void Session::feed(const Input& input) { waiting_.push_back(input); }

void Session::advance_to(Tick until) {
  std::stable_sort(waiting_.begin(), waiting_.end(),
                   [](const Input& a, const Input& b) { return a.at_ms < b.at_ms; });
  std::size_t next = 0;
  while (live_.now() < until && !live_.has_ended()) {
    const Tick now = live_.now();
    for (; next < waiting_.size() && waiting_[next].at_ms <= now; ++next) handle(waiting_[next]);
    tick();
    live_.finish_tick();
    if (live_.now() == now) break;  // the day is over
    tell_replies();
    if (live_.now() >= until - 1) live_.keep_moment();
  }
  // What came in the tick that runs now is in this picture, not in the next.
  const auto has_come = [&] {
    return next < waiting_.size() && waiting_[next].at_ms <= live_.now() && !live_.has_ended();
  };
  for (; has_come(); ++next) handle(waiting_[next]);
  if (live_.fault() && !told_of_fault_) {
    told_of_fault_ = true;
    messages_.say(
        {live_.now(), Voice::fault, true, "The examination has stopped.",
         "The simulation " + to_text(*live_.fault()) + ". The record is kept up to there."});
  }
  waiting_.erase(waiting_.begin(), waiting_.begin() + static_cast<std::ptrdiff_t>(next));
}

void Session::tell_replies() {
  for (const Reply& reply : live_.take_replies()) {
    const auto phrase = std::find_if(kPhrases.begin(), kPhrases.end(), [&](const Phrase& p) {
      return !p.what.empty() && p.what == reply.to;
    });
    if (reply.to == "work") work_known_ = true;
    messages_.answer(reply.at_ms, std::string(phrase == kPhrases.end() ? "" : phrase->words),
                     reply.text);
  }
}

void Session::act(const ActContent& content) {
  if (const auto problem = live_.perform(content)) {
    messages_.say({live_.now(), Voice::caution, false, {}, problem->message});
  }
}

void Session::act_all(std::vector<ActContent>& contents) {
  for (const ActContent& content : contents) act(content);
  contents.clear();
}

void Session::tick() {
  const Tick now = live_.now();
  if (const auto content = hand_.step(now, live_.room().occluder)) {
    // A pose does not say which occluder: taking up the other one is a cover that has hardly begun.
    if (std::holds_alternative<act::MoveOccluder>(*content) &&
        live_.room().occluder.kind != kind_) {
      act(act::Cover{Eye::right, kind_, Side::below, 60'000});
    }
    act(*content);
  }
  std::vector<ActContent> due;
  prisms_.step(now, due);
  act_all(due);
  if (lean_untold_ && now - leaned_at_ >= kLeanEveryMs) {
    act(act::MoveViewpoint{-lean_right_, lean_up_, -kHeadDistance});
    lean_untold_ = false;
    leaned_at_ = now;
  }
  if (near_point_runs_ && live_.room().target.motion.travel_ms == 0) near_point_runs_ = false;
  if (settings_.cautions) {
    const Millimetres apart = live_.room_parameters().interpupillary;
    if (auto words = cautions_.step(now, live_.room(), apart)) {
      messages_.say({now, Voice::caution, false, {}, std::move(*words)});
    }
  }
  messages_.step(now, occluder_is_moving());

  if (!live_.record_problem() || told_of_record_) return;
  told_of_record_ = true;
  const bool full = live_.record_problem()->message.find("No space") != std::string::npos;
  messages_.say({now, Voice::fault, true, full ? "Disk full." : "The record cannot be written.",
                 "It is safe up to " + to_clock(live_.recorded_until()) +
                     ". The rest is kept in memory: save it elsewhere."});
}

bool Session::occluder_is_moving() const {
  return hand_.is_moving() || live_.room().occluder.motion.travel_ms > 0;
}

std::vector<Order> Session::take_orders() { return std::exchange(orders_, {}); }

// ------------------------------------------------------------------------------------------ inputs

void Session::point(Tick at) {
  const ShownView v = view();
  PointerRay ray;
  ray.from = {-lean_right_, lean_up_, -kHeadDistance};
  ray.through = {v.x_mm - (pointer_x_px_ - v.centre_x_px) / v.pixels_per_mm,
                 v.y_mm - (pointer_y_px_ - v.centre_y_px) / v.pixels_per_mm, kPupilPlane};
  const HeadState& head = live_.room().head.now;
  const Rotation to_head = transposed(head_rotation(head.roll, head.turn, head.chin));
  hand_.point(at, {to_head * ray.from, to_head * ray.through});
}

void Session::lose(std::string_view words) {
  hand_.leave_there();
  controller_holds_ = false;
  leaning_ = false;
  messages_.say({live_.now(), Voice::caution, true, {}, std::string(words)});
}

void Session::move_controller(const ControllerMoved& moved, Tick at) {
  if (controller_holds_ || moved.right_trigger > kTriggerHolds) {
    PointerRay ray;
    ray.through = {-moved.right_x * kStickReachX, moved.right_y * kStickReachY, kPupilPlane};
    ray.from = {ray.through.x, ray.through.y, -kHeadDistance};
    hand_.point(at, ray);
  }
  if (moved.right_trigger > kTriggerHolds && !controller_holds_ &&
      settings_.instruments.has(kind_)) {
    hand_.press(live_.room().occluder);
    controller_holds_ = true;
  } else if (moved.right_trigger < kTriggerLets && controller_holds_) {
    hand_.release(at);
    controller_holds_ = false;
  }
  // Trigger depth is nearness: 30 mm just held, 15 mm pulled through.
  if (controller_holds_) {
    const double depth = std::clamp((moved.right_trigger - kTriggerHolds) / 0.8, 0.0, 1.0);
    hand_.set_distance(30.0 - 15.0 * depth);
  }
  if (moved.left_x != stick_.left_x || moved.left_y != stick_.left_y) {
    order({Command::lean, moved.left_x * 100 - lean_right_, moved.left_y * 80 - lean_up_}, false);
  }
  if (moved.left_trigger > kTriggerHolds && stick_.left_trigger <= kTriggerHolds) {
    order({Command::prism_take}, false);
  }
  stick_ = moved;
}

namespace {
template <class... F>
struct Overload : F... {
  using F::operator()...;
};
template <class... F>
Overload(F...) -> Overload<F...>;

bool is_repeatable(Command command) {
  return command == Command::move_occluder || command == Command::occluder_distance ||
         command == Command::occluder_roll || command == Command::lean;
}
bool is_for_drawer(Scancode key) {
  return key == hid::kReturn || key == hid::kSpace || (key >= hid::kRight && key <= hid::kUp);
}
}  // namespace

void Session::handle(const Input& input) {
  const Tick at = input.at_ms;
  std::visit(
      Overload{
          [&](const PointerMoved& moved) {
            if (leaning_) {
              order({Command::lean, (moved.x_px - pointer_x_px_) * kLeanPerPixel,
                     -(moved.y_px - pointer_y_px_) * kLeanPerPixel},
                    false);
            }
            pointer_x_px_ = moved.x_px;
            pointer_y_px_ = moved.y_px;
            if (!leaning_) point(at);
          },
          [&](const PointerPressed& pressed) {
            if (pressed.button == Button::left) {
              point(at);
              if (settings_.instruments.has(kind_)) {
                hand_.press(live_.room().occluder);
              } else {
                note("No occluder at this station.");
              }
            } else if (pressed.button == Button::right) {
              hand_.leave_there();
            } else {
              leaning_ = true;
            }
          },
          [&](const PointerReleased& released) {
            if (released.button == Button::left) hand_.release(at);
            if (released.button == Button::middle) leaning_ = false;
          },
          [&](const PointerWheel& wheel) {
            if (wheel.shift) {
              order({Command::occluder_roll, wheel.notches * 5.0}, false);
            } else {
              order({Command::occluder_distance, -wheel.notches * hand_values::kNotch}, false);
            }
          },
          [&](const KeyPressed& pressed) {
            if (drawer_ != Drawer::none && is_for_drawer(pressed.key)) return;
            if (drawer_ == Drawer::say && pressed.key >= hid::kDigit1 &&
                pressed.key < hid::kDigit1 + static_cast<int>(kPhrasesOnDigits)) {
              say(static_cast<std::size_t>(pressed.key - hid::kDigit1));
              drawer_ = Drawer::none;
              return;
            }
            const auto found = settings_.captions.keys.find_order({pressed.key, pressed.modifiers});
            if (!found || (pressed.repeated && !is_repeatable(found->command))) return;
            order(*found, pressed.modifiers.shift);
          },
          [&](const ControllerMoved& moved) { move_controller(moved, at); },
          [&](const ControllerPressed& pressed) {
            if (const auto found = find_order(pressed.button)) order(*found, false);
          },
          [&](const Chosen& chosen) { order(chosen.order, false); },
          [&](const FocusLost&) {
            lose("You left the window. The occluder stays where it is; the clock runs on.");
          },
          [&](const ControllerUnplugged&) {
            lose("Controller unplugged. The occluder stays where it is. Mouse and keys work.");
          },
      },
      input.content);
}

}  // namespace redress::screens::examine
