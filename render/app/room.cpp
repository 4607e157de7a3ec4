// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/room.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <utility>

#include "render/app/departments.hpp"
#include "render/app/event_turns.hpp"
#include "render/app/room_scene.hpp"
#include "render/app/steering.hpp"
#include "render/screens/examine/reading.hpp"
#include "sim/examiners/coach.hpp"

namespace redress::app {

namespace {

namespace ex = screens::examine;
namespace rec = screens::record;
using screens::Place;
using screens::Rect;

constexpr double kPointerRestsMs = 2000;

/// Orders after which something else than the hands may have the keys.
bool leads_elsewhere(const std::optional<ex::Order>& order) {
  if (!order) return false;
  switch (order->command) {
    case ex::Command::drawer:
    case ex::Command::close:
    case ex::Command::record:
    case ex::Command::write_finding:
    case ex::Command::record_section:
    case ex::Command::leave: return true;
    default: return false;
  }
}

bool opens_card(const ex::Order& order) {
  return order.command == ex::Command::record || order.command == ex::Command::write_finding ||
         order.command == ex::Command::record_section;
}

bool is_key(const window::InputEvent& event, window::Key key) {
  const auto* change = std::get_if<window::input::KeyChange>(&event.content);
  return change != nullptr && change->down && !change->repeat && change->key == key;
}

}  // namespace

std::string Room::who() const {
  return fmt::format("{}, {:.0f}", shelved_.content.patient.name,
                     std::floor(shelved_.content.patient.age_years));
}

Tick Room::tick_at(double at_ms) const { return resumed_at_ + clock_.tick_at(at_ms); }

screens::ExamineLayout Room::layout_for(const screens::WindowSize& window) const {
  const bool compact = screens::make_examine_layout(window, false).compact;
  return screens::make_examine_layout(window, compact ? card_page_ : card_open_);
}

void Room::show_card(bool shown) { (compact_ ? card_page_ : card_open_) = shown; }

void Room::follow_focus(const window::InputEvent& event, screens::Ui& ui,
                        const RoomInputPlace& place) {
  if (is_key(event, window::Key::escape) && ui.place() == Place::card) {
    if (place.layout.compact) show_card(false);
    ui.go_to(Place::room);
    return;
  }
  // What Tab led to in the room gives the keys back to the hands.
  if (is_key(event, window::Key::escape) && ui.place() == Place::room) ui.drop_focus();
  const auto* button = std::get_if<window::input::PointerButton>(&event.content);
  if (button == nullptr || !button->down) return;
  const screens::Point at{static_cast<float>(button->x_px) / place.scale,
                          static_cast<float>(button->y_px) / place.scale};
  if (place.layout.card.contains(at)) {
    ui.go_to(Place::card);
  } else if (place.drawer_open && place.layout.drawer.contains(at)) {
    ui.go_to(Place::drawer);
  } else {
    ui.go_to(Place::room);
  }
}

void Room::use(const ex::KeyCaptions& captions) {
  captions_ = captions;
  settings_.captions = captions;
  session_.set_settings(settings_);
  card_state_.keys.card = captions.of('N');
  card_state_.keys.line = captions.of(ex::hid::kSlash);
  for (std::size_t i = 0; i < rec::kSectionCount; ++i) {
    const auto digit = static_cast<ex::Scancode>(ex::hid::kDigit1 + i);
    card_state_.keys.sections[i] = captions.of(digit, {.control = true});
  }
}

std::optional<ex::Order> Room::find_order(const window::InputEvent& event) const {
  const auto* change = std::get_if<window::input::KeyChange>(&event.content);
  if (change == nullptr || !change->down || change->repeat) return std::nullopt;
  const ex::Modifiers held{event.modifiers.shift, event.modifiers.control};
  return captions_.keys.find_order({static_cast<ex::Scancode>(change->key), held});
}

bool Room::take_record_key(const window::InputEvent& event, screens::Ui& ui, bool hands_have_keys) {
  const auto order = find_order(event);
  if (!order || order->command != ex::Command::record || ui.typing()) return false;
  // Two strokes shortly after another: write. The first one may have led to the card.
  constexpr double kTwiceMs = 400;
  if (event.at_ms - last_record_key_ms_ < kTwiceMs) {
    show_card(true);
    rec::write_finding(card_state_);
    ui.go_to(Place::card);
    last_record_key_ms_ = -10000;
    return true;
  }
  if (hands_have_keys) last_record_key_ms_ = event.at_ms;
  return false;
}

bool Room::take(const window::InputEvent& event, screens::Ui& ui, const RoomInputPlace& place) {
  if (std::holds_alternative<window::input::PointerMove>(event.content)) {
    pointer_moved_ms_ = event.at_ms;
    pointer_hidden_by_key_ = false;
  }
  if (std::holds_alternative<window::input::KeyChange>(event.content)) {
    pointer_hidden_by_key_ = true;
  }
  const bool was_card = ui.place() == Place::card;
  follow_focus(event, ui, place);
  const bool moves_focus = can_move_focus(event);
  if (asks_to_leave_) (void)steer(event, ui);
  if (!patient_is_there_ || asks_to_leave_) return moves_focus;
  RoomInputPlace now = place;
  now.keys_are_hands = !was_card && ui.place() != Place::card && !ui.typing() &&
                       (ui.place() == Place::drawer || ui.focused().empty());
  if (take_record_key(event, ui, now.keys_are_hands)) return true;
  if (steer_drawer(event, ui) || steer_card(event, ui) || steer_around(event, ui)) {
    return moves_focus;
  }
  for (const ex::Input& input : input_.take(event, tick_at(event.at_ms), now)) {
    session_.feed(input);
  }
  return moves_focus || (now.keys_are_hands && leads_elsewhere(find_order(event)));
}

void Room::take_on_page(const window::InputEvent& event, screens::Ui& ui,
                        const RoomInputPlace& place) {
  if (std::holds_alternative<window::input::WindowFocus>(event.content)) {
    (void)take(event, ui, place);
    return;
  }
  const bool escape = is_key(event, window::Key::escape);
  if (whole_card_) {
    // In a field Esc ends the typing first.
    if (escape && !ui.typing()) {
      asks_to_hand_in_ = false;
      whole_card_ = false;
      ui.go_to(Place::room);
    }
    (void)steer_card(event, ui);
    return;
  }
  if (help_state_.moving && std::holds_alternative<window::input::KeyChange>(event.content)) {
    RoomInputPlace all = place;
    all.keys_are_hands = true;
    for (const ex::Input& input : input_.take(event, session_.now(), all)) {
      const auto* key = std::get_if<ex::KeyPressed>(&input.content);
      if (key == nullptr || key->repeated) continue;
      ex::KeyCaptions changed = captions_;
      ex::take_new_key({key->key, key->modifiers}, changed, help_state_);
      use(changed);
    }
    return;
  }
  if (steer_drawer(event, ui)) return;
  const auto order = find_order(event);
  if (order && !shows_help() && opens_card(*order)) {
    session_.feed({session_.now(), ex::Chosen{{ex::Command::close}}});
    obey(*order, ui);
    last_record_key_ms_ = event.at_ms;
    return;
  }
  const bool turns_page =
      order && order->command == ex::Command::drawer &&
      (static_cast<ex::Drawer>(order->first) == session_.drawer() ||
       (!shows_help() && ex::is_reading(static_cast<ex::Drawer>(order->first))));
  if (escape || turns_page) (void)take(event, ui, place);
}

bool Room::shows_help() const { return session_.drawer() == ex::Drawer::help; }

bool Room::shows_page() const {
  return shows_help() || (compact_ && ex::is_reading(session_.drawer()));
}

void Room::obey(const ex::Order& order, screens::Ui& ui) {
  switch (order.command) {
    case ex::Command::record:
      show_card(!(compact_ ? card_page_ : card_open_));
      ui.go_to((compact_ ? card_page_ : card_open_) ? Place::card : Place::room);
      return;
    case ex::Command::write_finding:
      show_card(true);
      rec::write_finding(card_state_);
      ui.go_to(Place::card);
      return;
    case ex::Command::record_section:
      show_card(true);
      if (order.first >= 1 && order.first <= static_cast<double>(rec::kSectionCount)) {
        rec::show_section(card_state_,
                          static_cast<rec::Section>(static_cast<int>(order.first) - 1));
      }
      ui.go_to(Place::card);
      return;
    case ex::Command::leave:
      if (session_.drawer() != ex::Drawer::none) {
        session_.feed({session_.now(), ex::Chosen{{ex::Command::close}}});
      }
      if (station_) {
        session_.tell("A station is not left.", "It ends when you hand in, or when time is up.");
      } else {
        asks_to_leave_ = true;
      }
      return;
    case ex::Command::close: ui.drop_focus(); return;
    case ex::Command::coach:
      if (station_) {
        session_.tell("No coach.", "A station has none.");
      } else if (mode_ == Mode::exam_like) {
        session_.tell("No coach.", "An exam-like run has none.");
      } else {
        mode_ = mode_ == Mode::guided ? Mode::free : Mode::guided;
      }
      return;
    case ex::Command::coach_why: coach_shows_why_ = !coach_shows_why_; return;
    default: return;
  }
}

std::size_t Room::advance(const std::vector<window::InputEvent>& events, double now_ms,
                          bool patient_is_there, screens::Ui& ui,
                          const screens::WindowSize& window) {
  RoomInputPlace place;
  place.layout = layout_for(window);
  place.scale = window.scale;
  compact_ = place.layout.compact;
  ex::ViewFrame view = ex::to_frame(place.layout, window.scale);
  if (station_ && station_->pixels_per_mm) view.pixels_per_mm = *station_->pixels_per_mm;
  session_.set_frame(view);
  patient_is_there_ = patient_is_there_ || patient_is_there;
  const bool was_card = ui.place() == Place::card;
  std::size_t taken = events.size();
  for (std::size_t i = 0; i < taken; ++i) {
    bool moves_focus = can_move_focus(events[i]);
    if (whole_card_ || shows_page()) {
      take_on_page(events[i], ui, place);  // nobody acts on a patient that they do not see
    } else {
      place.layout = layout_for(window);
      place.drawer_open =
          session_.drawer() != ex::Drawer::none || asks_to_leave_ || asks_where_to_save();
      moves_focus = take(events[i], ui, place);
    }
    if (moves_focus) taken = std::min(taken, find_turn_end(events, i));
  }
  if (!patient_is_there_) return taken;
  // What waits has its turn at its own time all the same; what was taken has its tick.
  if (taken < events.size() && taken > 0) {
    now_ms = std::min(now_ms, std::max(events[taken].at_ms, events[taken - 1].at_ms + 1));
  }
  const bool drawer_was_open = session_.drawer() != ex::Drawer::none;
  const FrameClock::Due due = clock_.advance(now_ms);
  const Tick until = resumed_at_ + due.now_tick;
  session_.advance_to(station_ ? std::min(until, station_->time_ms) : until);
  share_ = due.share;
  const bool drawer_is_open = session_.drawer() != ex::Drawer::none;
  if (drawer_is_open && !drawer_was_open && ui.place() == Place::room) ui.go_to(Place::drawer);
  if (!drawer_is_open && ui.place() == Place::drawer) ui.go_to(Place::room);
  for (const ex::Order& order : session_.take_orders()) obey(order, ui);
  if (was_card && ui.place() != Place::card) settle_card();
  editor_.follow_room(session_.target().distance_m, session_.live().room().spectacles_worn);
  return taken;
}

// Who goes back to the patient has written what they wrote: what comes next is about another place.
void Room::settle_card() {
  editor_.settle();
  for (const Finding& finding : editor_.take_settled(session_.now())) {
    (void)session_.perform(act::Note{finding});
  }
}

std::optional<ex::CoachWords> Room::ask_coach() {
  if (station_ || mode_ != Mode::guided) return std::nullopt;
  constexpr Tick kRestMs = 600;
  const RoomState& room = session_.live().room();
  if (room.covered.right || room.covered.left || session_.occluder_is_moving()) {
    hands_moved_at_ = session_.now();
  }
  if (session_.now() - hands_moved_at_ < kRestMs) return std::nullopt;
  const examiners::Advice advice = examiners::advise(session_.live().evidence(), room);
  if (advice.next != coach_said_) coach_shows_why_ = false;
  coach_said_ = advice.next;
  return ex::CoachWords{advice.next, advice.why, coach_shows_why_};
}

void Room::tell_of_new_graphics() {
  session_.tell("The graphics driver started again.", "Nothing of the examination is lost.");
}

void Room::draw_patient(Stage& stage, const screens::WindowSize& window) {
  blinks_ = false;
  if (shows_help() && !help_state_.changes_keys) {
    const float width = ex::measure_gesture(screens::make_study_layout(window));
    gestures_.draw_next(stage, static_cast<int>(std::lround(width * window.scale)));
    help_state_.gestures = gestures_.textures();
  }
  if (whole_card_ || shows_page()) return;
  const screens::ExamineLayout layout = layout_for(window);
  // The part of the view that nothing covers; the picture does not move when that changes.
  Rect seen = layout.view;
  seen.w = layout.compact ? layout.view.w : layout.message.w;
  if (layout.compact && card_page_) return;
  const gl::PixelBox box = to_box(seen, window.scale, window.height_px);
  const scene::Scene scene = make_room_scene(session_, box.width, box.height, share_);
  for (std::size_t i = 0; i < lids_.size(); ++i) {
    constexpr double kMoved = 0.02;
    blinks_ = blinks_ || std::abs(scene.eyes[i].lid_open_fraction - lids_[i]) > kMoved;
    lids_[i] = scene.eyes[i].lid_open_fraction;
  }
  stage.draw(scene, box);
}

bool Room::hides_pointer(double now_ms) const {
  if (whole_card_ || shows_page() || asks_to_leave_ || !patient_is_there_) return false;
  return input_.holding() || pointer_hidden_by_key_ || now_ms - pointer_moved_ms_ > kPointerRestsMs;
}

void Room::note(const rec::RecordOutcome& outcome, RoomOutcome& answer) {
  for (const Finding& finding : outcome.notes) (void)session_.perform(act::Note{finding});
  if (outcome.whole) whole_card_ = true;
  if (outcome.back) whole_card_ = false;
  if (outcome.finish && (station_ ? station_->file != nullptr : mode_ == Mode::exam_like)) {
    asks_to_hand_in_ = true;
  } else if (outcome.finish) {
    finish();
    answer.finished = true;
  }
}

std::string Room::write_mode(bool brief) const {
  const ModeWords& words = words_of(mode_);
  const bool last = mode_ == Mode::exam_like && time_left() <= kLastMinuteMs;
  if (brief) return last ? "Last minute" : std::string{words.brief};
  return std::string{words.strip} + (last ? "  ·  last minute" : "");
}

void Room::finish() {
  editor_.settle_all();
  settle_card();
  session_.end();
  ended_ = true;
  if (saved_until_ > 0) {
    // What was saved elsewhere has its end now as well.
    std::ofstream out(record_path_, std::ios::binary | std::ios::trunc);
    if (out) (void)session_.live().save_elsewhere(out);
  }
}

std::string Room::record_text() const {
  std::ostringstream out;
  (void)session_.live().save_elsewhere(out);
  return out.str();
}

void Room::draw_help(screens::Ui& ui, const screens::WindowSize& window) {
  ui.go_to(Place::drawer);
  help_state_.one_key_at_a_time = hand_help_.one_key_at_a_time;
  help_state_.click_holds = hand_help_.click_holds;
  ex::KeyCaptions captions = captions_;
  const bool back =
      ex::draw_help_page(ui, screens::make_study_layout(window), captions, help_state_);
  if (captions.keys != captions_.keys) use(captions);
  hand_help_ = {help_state_.one_key_at_a_time, help_state_.click_holds};
  input_.use(hand_help_);
  if (back) session_.feed({session_.now(), ex::Chosen{{ex::Command::close}}});
}

RoomOutcome Room::draw(screens::Ui& ui, const screens::WindowSize& window,
                       std::optional<double> screen_pixels_per_mm) {
  RoomOutcome answer;
  if ((station_ || mode_ == Mode::exam_like) && !ended_ && time_left() <= 0) {
    finish();
    answer.finished = true;
    answer.time_was_up = true;
  }
  if (ui.place() == Place::study) ui.go_to(Place::room);
  if (station_) {
    // A practice minute is nobody's last.
    station_->words.last_minute = station_->file != nullptr && time_left() <= kLastMinuteMs;
    card_state_.clock = std::string(station_->words.last_minute ? "last minute " : "left ") +
                        ex::format_time_left(time_left());
  }
  if (whole_card_) {
    ui.go_to(Place::card);
    note(rec::draw_record_page(ui, screens::make_study_layout(window), who(), editor_, card_state_,
                               session_.now()),
         answer);
    if (!whole_card_) ui.go_to(Place::room);
    if (asks_to_hand_in_) draw_handing_in(ui, answer);
    return answer;
  }
  if (shows_help()) {
    draw_help(ui, window);
    draw_station_clock(ui);
    return answer;
  }
  const screens::ExamineLayout layout = layout_for(window);
  ex::RoomViewChoice choice;
  choice.captions = captions_;
  choice.coach = ask_coach();
  choice.mode = write_mode(false);
  choice.short_mode = write_mode(true);
  choice.practice = !station_ && mode_ != Mode::exam_like;
  if (station_) choice.station = station_->words;
  if (station_ || mode_ == Mode::exam_like) choice.time_left = time_left();
  choice.entries = editor_.card().entries.size();
  choice.screen_pixels_per_mm = screen_pixels_per_mm;
  const ex::ScreenOutcome outcome = ex::draw_examine(ui, layout, session_, choice, screen_state_);
  for (const ex::Order& order : outcome.orders) {
    session_.feed({session_.now(), ex::Chosen{order}});
  }
  if (!layout.card.empty()) {
    card_state_.kept_on_disk =
        station_ ? station_->words.all_kept : !session_.live().record_problem().has_value();
    note(rec::draw_record_card(ui, layout.card, editor_, card_state_, session_.now()), answer);
  }
  if (!patient_is_there_) draw_waiting(ui, layout);
  if (asks_to_leave_) {
    draw_leaving(ui, layout, answer);
  } else if (asks_where_to_save()) {
    draw_saving(ui, layout);
  }
  return answer;
}

}  // namespace redress::app
