// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What each order does in the room.
#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "render/screens/examine/session.hpp"
#include "sim/optics/sight.hpp"
#include "sim/room/letter_line.hpp"

namespace redress::screens::examine {

namespace {
constexpr double kMostLeanRight = 150.0;
constexpr double kMostLeanUp = 100.0;
}  // namespace

void Session::order(const Order& order, bool slow) {
  if (const std::string refusal = find_refusal(settings_.instruments, order, kind_);
      !refusal.empty()) {
    note(refusal);
    return;
  }
  if (order_occluder(order, slow) || order_prism(order) || order_target(order) ||
      order_speech(order) || order_view(order)) {
    return;
  }
  orders_.push_back(order);
}

void Session::note(std::string_view words) {
  messages_.say({now(), Voice::note, false, {}, std::string(words)});
}

std::optional<Eye> Session::covered_eye() const {
  const OccluderState& o = live_.room().occluder;
  if (!o.before_face || o.leaving || hand_.grip() == Hand::Grip::withdrawing) return std::nullopt;
  const double x = o.motion.travel_ms > 0 ? o.to.x_mm : o.pose.x_mm;
  return x >= 0 ? Eye::right : Eye::left;
}

void Session::cover(Eye eye, std::int32_t travel_ms) {
  act(act::Cover{eye, kind_, Side::temporal, travel_ms});
  hand_.give_to_keys();
  hand_.set_distance(hand_values::kAtFirst);
  last_covered_ = eye;
}

void Session::uncover(Side towards, std::int32_t travel_ms) {
  if (!live_.room().occluder.before_face) {
    note("Nothing is held before an eye.");
    return;
  }
  act(act::Uncover{towards, travel_ms});
  hand_.leave_by_keys(towards);
}

void Session::nudge(double dx, double dy, double dz, double roll) {
  const OccluderState& o = live_.room().occluder;
  if (!o.before_face || o.leaving) {
    note("The occluder is not before the face.");
    return;
  }
  constexpr std::int32_t kNudgeMs = 60;
  const optics::OccluderPose& from = o.motion.travel_ms > 0 ? o.to : o.pose;
  act::MoveOccluder move;
  move.x_mm = from.x_mm + dx;
  move.y_mm = from.y_mm + dy;
  move.z_mm = std::clamp(from.z_mm + dz, -(optics::kCorneaToCentreMm + hand_values::kFarthest),
                         -(optics::kCorneaToCentreMm + hand_values::kNearest));
  move.roll_deg = std::clamp(from.roll_deg + roll, -180.0, 180.0);
  move.travel_ms = kNudgeMs;
  act(move);
  hand_.give_to_keys();
  hand_.set_distance(-move.z_mm - optics::kCorneaToCentreMm);
}

bool Session::order_occluder(const Order& order, bool slow) {
  const std::int32_t travel = slow ? settings_.slow_motion_ms : settings_.motion_ms;
  const bool by_pointer = hand_.grip() == Hand::Grip::held;
  switch (order.command) {
    case Command::cover_left_side:
    case Command::cover_right_side: {
      // The patient's right eye is on the left of the picture.
      const Eye eye = order.command == Command::cover_left_side ? Eye::right : Eye::left;
      if (covered_eye() == eye) {
        uncover(Side::temporal, travel);
      } else {
        cover(eye, travel);
      }
      return true;
    }
    case Command::take_upwards: uncover(Side::above, travel); return true;
    case Command::take_downwards: uncover(Side::below, travel); return true;
    case Command::transfer:
      cover(fellow(covered_eye().value_or(last_covered_)), travel);
      return true;
    case Command::move_occluder:
      if (!by_pointer) nudge(-order.first, order.second, 0, 0);
      return true;
    case Command::occluder_distance:
      if (by_pointer || !live_.room().occluder.before_face) {
        hand_.change_distance(order.first);
      } else {
        nudge(0, 0, -order.first, 0);
      }
      return true;
    case Command::occluder_roll:
      if (by_pointer) {
        hand_.change_roll(-order.first);
      } else {
        nudge(0, 0, 0, -order.first);
      }
      return true;
    case Command::other_occluder: {
      kind_ = kind_ == OccluderKind::opaque ? OccluderKind::translucent : OccluderKind::opaque;
      const OccluderState o = live_.room().occluder;
      if (!o.before_face) return true;
      // Exchanged where it is: the cover that has hardly begun gives way to the pose it had.
      act(act::Cover{o.pose.x_mm >= 0 ? Eye::right : Eye::left, kind_, Side::below, 60'000});
      const auto left = o.motion.travel_ms > 0 ? o.motion.start + o.motion.travel_ms - now() : 0;
      const optics::OccluderPose& to = left > 0 ? o.to : o.pose;
      act(act::MoveOccluder{to.x_mm, to.y_mm, to.z_mm, to.roll_deg,
                            static_cast<std::int32_t>(left)});
      if (o.leaving) uncover(hand_.left_towards(), travel);
      return true;
    }
    default: return false;
  }
}

bool Session::order_prism(const Order& order) {
  std::vector<ActContent> acts;
  std::string refusal;
  const PrismHand before = prisms_;
  const int first = static_cast<int>(order.first);
  switch (order.command) {
    case Command::prism_step:
      refusal = prisms_.step_by(first, now(), acts, settings_.captions);
      break;
    case Command::prism_jump:
      refusal = prisms_.jump_to(static_cast<std::size_t>(std::max(first, 0)), now(), acts);
      break;
    case Command::prism_base:
      prisms_.turn_base(static_cast<Base>(std::clamp(first, 0, 3)), now(), acts);
      break;
    case Command::prism_kind:
      prisms_.change_form(first, now(), acts);
      // The next form is the next that is here.
      for (std::size_t i = 1; first < 0 && i < kPrismForms; ++i) {
        if (find_refusal(settings_.instruments, prisms_).empty()) break;
        prisms_.change_form(first, now(), acts);
      }
      break;
    case Command::prism_take: prisms_.take_or_put_away(now(), acts); break;
    case Command::prism_other_eye: prisms_.other_eye(now(), acts); break;
    case Command::prism_split: prisms_.split_or_stack(now(), acts); break;
    case Command::prism_held:
      prisms_.hold_as(static_cast<PrismHold>(std::clamp(first, 0, 2)), now(), acts);
      break;
    default: return false;
  }
  if (const std::string missing = find_refusal(settings_.instruments, prisms_); !missing.empty()) {
    prisms_ = before;
    note(missing);
    return true;
  }
  act_all(acts);
  if (!refusal.empty()) note(refusal);
  return true;
}

void Session::show_target(std::int32_t travel_ms) {
  act::ShowTarget shown = target_;
  shown.travel_ms = travel_ms;
  act(shown);
}

void Session::stop_near_point() {
  if (!near_point_runs_) return;
  near_point_runs_ = false;
  target_.distance_m = std::round(live_.room().target.place.distance_m * 1000.0) / 1000.0;
}

bool Session::order_target(const Order& order) {
  const int first = static_cast<int>(order.first);
  constexpr std::int32_t kGazeTravelMs = 500;  // slow enough to be followed
  switch (order.command) {
    case Command::target_kind:
      stop_near_point();
      target_.kind = kTargets[static_cast<std::size_t>(std::clamp(first, 0, 3))].kind;
      show_target();
      return true;
    case Command::target_distance: {
      near_point_runs_ = false;
      const auto index =
          static_cast<std::size_t>(std::clamp(first, 0, static_cast<int>(kDistances.size()) - 1));
      const DistanceChoice& choice = kDistances[index];
      target_.distance_m = choice.name == DistanceName::screen ? case_.patient.screen_distance.value
                           : choice.name == DistanceName::working
                               ? case_.patient.near_working_distance.value
                               : choice.distance_m;
      show_target();
      return true;
    }
    case Command::target_distance_m:
      near_point_runs_ = false;
      target_.distance_m = std::clamp(order.first, kNearPointEnd, 100.0);
      show_target();
      return true;
    case Command::target_size:
      stop_near_point();
      target_.size_logmar = std::clamp(std::round(target_.size_logmar * 10.0 + order.first) / 10.0,
                                       kSmallestLogmar, kLargestLogmar);
      show_target();
      return true;
    case Command::target_logmar:
      stop_near_point();
      target_.size_logmar = std::clamp(order.first, kSmallestLogmar, kLargestLogmar);
      show_target();
      return true;
    case Command::gaze: {
      stop_near_point();
      const int column = (first - 1) % 3 - 1;  // as one faces the patient: 4 is the patient's right
      const int row = (first - 1) / 3 - 1;
      target_.horizontal_deg = -kGazeDeg * column;
      target_.vertical_deg = kGazeDeg * row;
      show_target(kGazeTravelMs);
      return true;
    }
    case Command::near_point:
      if (near_point_runs_) {
        stop_near_point();
        show_target();
        return true;
      }
      if (target_.distance_m > 0.5) {
        target_.distance_m = 0.4;
        show_target();
      }
      near_point_runs_ = true;
      {
        const double way = target_.distance_m - kNearPointEnd;
        target_.distance_m = kNearPointEnd;
        show_target(static_cast<std::int32_t>(std::max(1.0, 1000.0 * way / kNearPointSpeed)));
      }
      return true;
    case Command::spectacles: {
      const bool worn = first < 0 ? !live_.room().spectacles_worn : first > 0;
      if (worn && !case_.spectacles.owned()) {
        note("There are no spectacles to put on.");
        return true;
      }
      act(act::Spectacles{worn});
      return true;
    }
    case Command::trial_lens_right: lenses_d_.right = order.first; break;
    case Command::trial_lens_left: lenses_d_.left = order.first; break;
    case Command::trial_lenses: lenses_d_ = {order.first, order.first}; break;
    case Command::penlight: act(act::Penlight{!live_.room().penlight}); return true;
    case Command::head: {
      const auto pose = static_cast<std::size_t>(std::max(first, 0));
      if (pose >= kHeadPoses.size()) return true;
      const HeadPose& p = kHeadPoses[pose];
      act(act::TiltHead{p.roll_deg, p.turn_deg, p.chin_deg, kHeadTravelMs});
      note(pose == 0 ? "You hold the head straight."
                     : fmt::format("You hold the head: {}.", p.words));
      return true;
    }
    case Command::room_light: {
      const bool dim = first < 0 ? !live_.room().dim : first > 0;
      act(act::RoomLight{dim ? LightLevel::dim : LightLevel::bright});
      return true;
    }
    default: return false;
  }
  act(act::TrialLenses{lenses_d_});
  return true;
}

std::optional<std::size_t> Session::head_pose() const {
  const HeadState& head = live_.room().head.to;
  for (std::size_t i = 0; i < kHeadPoses.size(); ++i) {
    const HeadPose& p = kHeadPoses[i];
    if (head == HeadState{Degrees{p.roll_deg}, Degrees{p.turn_deg}, Degrees{p.chin_deg}}) return i;
  }
  return std::nullopt;
}

namespace {

// What the eyes move by, to judge other movements against.
std::string describe_line(const TargetState& target) {
  return fmt::format("The line is {:.1f} cm long: at {:g} m that is a movement of {:.1f}Δ.",
                     0.1 * calc_line_mm(target), target.place.distance_m, calc_line_pd(target));
}

}  // namespace

void Session::say(std::size_t index) {
  if (index >= kPhrases.size()) return;
  const Phrase& phrase = kPhrases[index];
  switch (phrase.kind) {
    case PhraseKind::instruct:
      act(act::Instruct{phrase.instruction});
      if (phrase.instruction == Instruction::line_ends) {
        messages_.say({now(), Voice::note, true, {}, describe_line(live_.room().target)});
      }
      break;
    case PhraseKind::ask:
    case PhraseKind::history: act(act::Ask{std::string(phrase.what)}); break;
    case PhraseKind::request: act(act::Request{std::string(phrase.what)}); break;
  }
  messages_.ask(now(), std::string(phrase.words));
  ++said_[index];
  last_phrase_ = index;
}

bool Session::order_speech(const Order& order) {
  if (order.command == Command::say) {
    say(static_cast<std::size_t>(std::max(order.first, 0.0)));
    return true;
  }
  if (order.command == Command::repeat) {
    say(last_phrase_.value_or(0));
    return true;
  }
  return false;
}

bool Session::order_view(const Order& order) {
  switch (order.command) {
    case Command::drawer: {
      const auto wanted = static_cast<Drawer>(std::clamp(static_cast<int>(order.first), 0, 8));
      drawer_ = drawer_ == wanted ? Drawer::none : wanted;
      return true;
    }
    case Command::close:
      if (drawer_ == Drawer::none) orders_.push_back(order);
      drawer_ = Drawer::none;
      return true;
    case Command::view:
    case Command::view_other_eye: {
      if (settings_.view_fixed) {
        note(settings_.view_fixed_words);
        return true;
      }
      if (occluder_is_moving() || hand_.grip() == Hand::Grip::held) {
        note("The view changes when the occluder is not in the hand and at rest.");
        return true;
      }
      const act::Magnify before = calc_magnify(closeness_, view_eye_);
      if (order.command == Command::view_other_eye) {
        view_eye_ = fellow(view_eye_);
      } else {
        const int next = order.first < 0 ? (static_cast<int>(closeness_) + 1) % 3
                                         : std::clamp(static_cast<int>(order.first), 0, 2);
        closeness_ = static_cast<Closeness>(next);
      }
      const act::Magnify now_seen = calc_magnify(closeness_, view_eye_);
      if (now_seen.across_mm != before.across_mm || now_seen.eye != before.eye) act(now_seen);
      point(now());
      return true;
    }
    case Command::lean:
    case Command::lean_back: {
      const bool back = order.command == Command::lean_back;
      lean_right_ =
          back ? 0.0 : std::clamp(lean_right_ + order.first, -kMostLeanRight, kMostLeanRight);
      lean_up_ = back ? 0.0 : std::clamp(lean_up_ + order.second, -kMostLeanUp, kMostLeanUp);
      lean_untold_ = true;
      point(now());
      return true;
    }
    default: return false;
  }
}

}  // namespace redress::screens::examine
