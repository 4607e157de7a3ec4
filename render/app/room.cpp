// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/room.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <utility>

#include "render/app/room_scene.hpp"
#include "sim/examiners/coach.hpp"

namespace redress::app {

namespace {

namespace ex = screens::examine;
namespace rec = screens::record;
using screens::Place;
using screens::Rect;
using screens::TextStyle;
using screens::Token;

constexpr double kPointerRestsMs = 2000;

std::unique_ptr<std::ostream> open_record(const std::string& path) {
  if (path.empty()) return nullptr;
  auto out = std::make_unique<std::ofstream>(path, std::ios::binary | std::ios::trunc);
  // What cannot be opened is told by the session as what cannot be written.
  return out;
}

/// The same name where it can be hoped that there is room: at home, else among passing files.
std::string find_place_elsewhere(const std::string& record_path) {
  namespace fs = std::filesystem;
  const std::string name = fs::path(record_path).filename().string();
  std::error_code error;
  const char* const home = std::getenv("HOME");
  fs::path folder = home != nullptr ? fs::path(home) : fs::temp_directory_path(error);
  return (folder / (name.empty() ? std::string("examination.redress") : name)).string();
}

bool is_key(const window::InputEvent& event, window::Key key) {
  const auto* change = std::get_if<window::input::KeyChange>(&event.content);
  return change != nullptr && change->down && !change->repeat && change->key == key;
}

}  // namespace

Room::Room(const ShelvedCase& shelved, const RoomOptions& options)
    : shelved_(shelved),
      appearance_(ex::make_appearance(shelved.content)),
      record_path_(options.record_path),
      session_(shelved.content, shelved.written, ex::Draw{options.seed, 1.0},
               open_record(options.record_path), options.settings),
      card_open_(options.card_open) {
  hand_help_ = options.hand_help;
  coach_ = options.coach;
  input_.use(hand_help_);
  captions_ = {options.printed_keys, options.settings.mirrored};
  editor_.use(options.tradition);
  if (options.begin_ms) clock_.advance(*options.begin_ms);
}

Room::~Room() {
  if (!ended_) session_.end();
}

std::string Room::who() const {
  return fmt::format("{}, {:.0f}", shelved_.content.patient.name,
                     std::floor(shelved_.content.patient.age_years));
}

Tick Room::tick_at(double at_ms) const { return clock_.tick_at(at_ms); }

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

void Room::take(const window::InputEvent& event, screens::Ui& ui, const RoomInputPlace& place) {
  if (std::holds_alternative<window::input::PointerMove>(event.content)) {
    pointer_moved_ms_ = event.at_ms;
    pointer_hidden_by_key_ = false;
  }
  if (std::holds_alternative<window::input::KeyChange>(event.content)) {
    pointer_hidden_by_key_ = true;
  }
  const bool was_card = ui.place() == Place::card;
  follow_focus(event, ui, place);
  if (!patient_is_there_ || asks_to_leave_) return;
  RoomInputPlace now = place;
  now.keys_are_hands = !was_card && ui.place() != Place::card && !ui.typing() &&
                       (ui.place() == Place::drawer || ui.focused().empty());
  // Two strokes of N shortly after another: write.
  if (is_key(event, window::Key::n) && now.keys_are_hands) {
    constexpr double kTwiceMs = 400;
    if (event.at_ms - last_n_ms_ < kTwiceMs) {
      show_card(true);
      rec::write_finding(card_state_);
      ui.go_to(Place::card);
      last_n_ms_ = -10000;
      return;
    }
    last_n_ms_ = event.at_ms;
  }
  if (steer_drawer(event, ui)) return;
  for (const ex::Input& input : input_.take(event, tick_at(event.at_ms), now)) {
    session_.feed(input);
  }
}

bool Room::shows_help() const { return session_.drawer() == ex::Drawer::help && !compact_; }

bool Room::steer_drawer(const window::InputEvent& event, screens::Ui& ui) {
  const auto* pad = std::get_if<window::input::PadPress>(&event.content);
  if (pad == nullptr || session_.drawer() == ex::Drawer::none) return false;
  using window::PadButton;
  switch (pad->button) {
    case PadButton::pad_up:
      if (pad->down) ui.step_focus(-1);
      return true;
    case PadButton::pad_down:
      if (pad->down) ui.step_focus(1);
      return true;
    case PadButton::pad_left:
      if (pad->down) ui.press_sideways(-1);
      return true;
    case PadButton::pad_right:
      if (pad->down) ui.press_sideways(1);
      return true;
    case PadButton::lower:
      if (pad->down) ui.press_focused();
      return true;
    case PadButton::right:
      if (pad->down) session_.feed({tick_at(event.at_ms), ex::Chosen{{ex::Command::close}}});
      return true;
    default: return false;
  }
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
      asks_to_leave_ = true;
      return;
    case ex::Command::close: ui.drop_focus(); return;
    case ex::Command::coach: coach_ = !coach_; return;
    case ex::Command::coach_why: coach_shows_why_ = !coach_shows_why_; return;
    default: return;
  }
}

void Room::advance(const std::vector<window::InputEvent>& events, double now_ms,
                   bool patient_is_there, screens::Ui& ui, const screens::WindowSize& window) {
  RoomInputPlace place;
  place.layout = layout_for(window);
  place.scale = window.scale;
  compact_ = place.layout.compact;
  session_.set_frame(ex::to_frame(place.layout, window.scale));
  patient_is_there_ = patient_is_there_ || patient_is_there;
  if (whole_card_ || shows_help()) {
    // Nobody acts on a patient that they do not see.
    for (const window::InputEvent& event : events) {
      const bool leaves_help =
          shows_help() && (is_key(event, window::Key::escape) || is_key(event, window::Key::f12));
      if (leaves_help || std::holds_alternative<window::input::WindowFocus>(event.content)) {
        take(event, ui, place);
      }
    }
  } else {
    for (const window::InputEvent& event : events) {
      place.layout = layout_for(window);
      place.drawer_open =
          session_.drawer() != ex::Drawer::none || asks_to_leave_ || asks_where_to_save();
      take(event, ui, place);
    }
  }
  if (!patient_is_there_) return;
  const bool drawer_was_open = session_.drawer() != ex::Drawer::none;
  const FrameClock::Due due = clock_.advance(now_ms);
  session_.advance_to(due.now_tick);
  share_ = due.share;
  const bool drawer_is_open = session_.drawer() != ex::Drawer::none;
  if (drawer_is_open && !drawer_was_open && ui.place() == Place::room) ui.go_to(Place::drawer);
  if (!drawer_is_open && ui.place() == Place::drawer) ui.go_to(Place::room);
  for (const ex::Order& order : session_.take_orders()) obey(order, ui);
  editor_.follow_room(session_.target().distance_m, session_.live().room().spectacles_worn);
}

std::optional<ex::CoachWords> Room::ask_coach() {
  if (!coach_) return std::nullopt;
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

void Room::draw_patient(Stage& stage, const screens::WindowSize& window) {
  if (whole_card_ || shows_help()) return;
  const screens::ExamineLayout layout = layout_for(window);
  // The part of the view that nothing covers; the picture does not move when that changes.
  Rect seen = layout.view;
  seen.w = layout.compact ? layout.view.w : layout.message.w;
  if (layout.compact && card_page_) return;
  const gl::PixelBox box = to_box(seen, window.scale, window.height_px);
  stage.draw(make_room_scene(session_, box.width, box.height, share_), box);
}

bool Room::hides_pointer(double now_ms) const {
  if (whole_card_ || shows_help() || asks_to_leave_ || !patient_is_there_) return false;
  return input_.holding() || pointer_hidden_by_key_ || now_ms - pointer_moved_ms_ > kPointerRestsMs;
}

void Room::note(const rec::RecordOutcome& outcome, RoomOutcome& answer) {
  for (const Finding& finding : outcome.notes) (void)session_.perform(act::Note{finding});
  if (outcome.whole) whole_card_ = true;
  if (outcome.back) whole_card_ = false;
  if (outcome.finish) {
    finish();
    answer.finished = true;
  }
}

void Room::finish() {
  editor_.settle_all();
  for (const Finding& finding : editor_.take_settled(session_.now())) {
    (void)session_.perform(act::Note{finding});
  }
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

void Room::draw_leaving(screens::Ui& ui, const screens::ExamineLayout& layout,
                        RoomOutcome& answer) {
  const Rect r{0, layout.message.y - 64, layout.message.w, 64};
  ui.begin_region("leaving", r, Token::sheet);
  ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
  Rect row = r.inset(16, 14);
  const screens::ButtonLook main{.kind = screens::ButtonKind::main};
  const std::string_view leave = "Leave";
  const std::string_view stay = "Stay";
  if (screens::button(ui, row.cut_right(screens::measure_button(ui, leave, main)), leave, main)) {
    session_.end();
    ended_ = true;
    answer.left = true;
  }
  row.cut_right(12);
  if (screens::button(ui, row.cut_right(screens::measure_button(ui, stay)), stay)) {
    asks_to_leave_ = false;
  }
  row.cut_right(16);
  const std::string_view words = layout.compact
                                     ? "Leave? Nothing will be marked."
                                     : "Leave this patient? What you did is kept, but not marked.";
  ui.text_in(row, layout.compact ? TextStyle::small : TextStyle::body, Token::ink, words);
  ui.end_region();
}

bool Room::asks_where_to_save() const {
  return session_.live().record_problem().has_value() && saved_until_ < 0 &&
         session_.drawer() == ex::Drawer::none;
}

void Room::draw_saving(screens::Ui& ui, const screens::ExamineLayout& layout) {
  const Rect r{0, layout.message.y - 64, layout.message.w, 64};
  ui.begin_region("saving", r, Token::sheet);
  ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
  Rect row = r.inset(16, 14);
  const std::string_view save = "Save it elsewhere";
  const std::string_view later = "Later";
  const bool wanted = screens::button(ui, row.cut_right(screens::measure_button(ui, save)), save);
  row.cut_right(12);
  if (screens::button(ui, row.cut_right(screens::measure_button(ui, later)), later)) {
    saved_until_ = 0;
  }
  row.cut_right(16);
  if (save_path_.empty()) save_path_ = find_place_elsewhere(record_path_);
  screens::FieldLook look;
  look.hint = "a folder with room, and a name";
  look.not_read = !save_problem_.empty();
  const screens::FieldEvent typed = screens::field(ui, row, "where", save_path_, look);
  if (typed.changed) save_problem_.clear();
  ui.end_region();
  if (!wanted) return;
  std::ofstream out(save_path_, std::ios::binary | std::ios::trunc);
  const auto problem = out ? session_.live().save_elsewhere(out) : std::nullopt;
  out.flush();
  if (!out || problem) {
    save_problem_ = "Not saved there.";
    session_.tell("Not saved.", "That place cannot be written. Name another.");
    return;
  }
  saved_until_ = session_.now();
  record_path_ = save_path_;
  session_.tell("Saved.", "The record up to now is there; when you finish, it is written again.");
}

void Room::draw_waiting(screens::Ui& ui, const screens::ExamineLayout& layout) {
  const Rect r{0, layout.message.y - 40, layout.message.w, 40};
  ui.begin_region("waiting", r, Token::sheet);
  ui.text_in(r.inset(16, 0), TextStyle::body, Token::ink2, "The patient is coming in.");
  ui.end_region();
}

RoomOutcome Room::draw(screens::Ui& ui, const screens::WindowSize& window,
                       std::optional<double> screen_pixels_per_mm) {
  RoomOutcome answer;
  if (ui.place() == Place::study) ui.go_to(Place::room);
  if (whole_card_) {
    ui.go_to(Place::card);
    note(rec::draw_record_page(ui, screens::make_study_layout(window), who(), editor_, card_state_,
                               session_.now()),
         answer);
    if (!whole_card_) ui.go_to(Place::room);
    return answer;
  }
  if (shows_help()) {
    ui.go_to(Place::drawer);
    help_state_.one_key_at_a_time = hand_help_.one_key_at_a_time;
    help_state_.click_holds = hand_help_.click_holds;
    const bool back =
        ex::draw_help_page(ui, screens::make_study_layout(window), captions_, help_state_);
    hand_help_ = {help_state_.one_key_at_a_time, help_state_.click_holds};
    input_.use(hand_help_);
    if (back) {
      session_.feed({session_.now(), ex::Chosen{{ex::Command::close}}});
    }
    return answer;
  }
  const screens::ExamineLayout layout = layout_for(window);
  ex::RoomViewChoice choice;
  choice.captions = captions_;
  choice.coach = ask_coach();
  choice.mode = coach_ ? "Practice, guided" : "Practice, on my own";
  choice.entries = editor_.card().entries.size();
  choice.screen_pixels_per_mm = screen_pixels_per_mm;
  const ex::ScreenOutcome outcome = ex::draw_examine(ui, layout, session_, choice, screen_state_);
  for (const ex::Order& order : outcome.orders) {
    session_.feed({session_.now(), ex::Chosen{order}});
  }
  if (!layout.card.empty()) {
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
