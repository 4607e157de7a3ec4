// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What lies on the message line of the room when something must be answered: leaving, saving
// elsewhere; and that the patient is on the way.
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "render/app/room.hpp"

namespace redress::app {

namespace ex = screens::examine;
using screens::Rect;
using screens::TextStyle;
using screens::Token;

namespace {

/// The same name where it can be hoped that there is room: at home, else among passing files.
std::string find_place_elsewhere(const std::string& record_path) {
  namespace fs = std::filesystem;
  const std::string name = fs::path(record_path).filename().string();
  std::error_code error;
  const char* const home = std::getenv("HOME");
  fs::path folder = home != nullptr ? fs::path(home) : fs::temp_directory_path(error);
  return (folder / (name.empty() ? std::string("examination.redress") : name)).string();
}

}  // namespace

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

void Room::draw_handing_in(screens::Ui& ui, RoomOutcome& answer) {
  // Over the whole of the card's own row of buttons.
  const float height = ui.size().y < 560 ? 64 : 88;
  const Rect r{0, ui.size().y - height, ui.size().x, height};
  ui.begin_region("handing in", r, Token::sheet);
  ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
  Rect row = r.inset(16, (height - 36) / 2);
  const screens::ButtonLook main{.kind = screens::ButtonKind::main};
  const std::string_view hand_in = "Hand in";
  const std::string_view on = "Go on";
  if (screens::button(ui, row.cut_right(screens::measure_button(ui, hand_in, main)), hand_in,
                      main)) {
    finish();
    answer.finished = true;
  }
  row.cut_right(12);
  if (screens::button(ui, row.cut_right(screens::measure_button(ui, on)), on)) {
    asks_to_hand_in_ = false;
  }
  row.cut_right(16);
  ui.text_in(row, TextStyle::body, Token::ink, "Hand the record in? It is handed in once.");
  ui.end_region();
}

void Room::draw_station_clock(screens::Ui& ui) {
  if (!station_) return;
  const float width = ui.measure_figures(TextStyle::strong, card_state_.clock) + 4;
  const Rect r{std::round((ui.size().x - width) / 2), 6, width, 30};
  ui.begin_region("station clock", r, std::nullopt);
  ui.figures_in(r, TextStyle::strong, Token::ink, card_state_.clock, screens::Align::centre);
  ui.end_region();
}

bool Room::asks_where_to_save() const {
  // What a station keeps goes nowhere else: there it would lie in clear.
  return !station_ && session_.live().record_problem().has_value() && saved_until_ < 0 &&
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

}  // namespace redress::app
