// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/review.hpp"

#include <chrono>
#include <utility>

#include "render/screens/examine/scene.hpp"
#include "sim/cases/setup.hpp"

namespace redress::app {

namespace deb = screens::debrief;
namespace ex = screens::examine;
using screens::Rect;
using screens::TextStyle;
using screens::Token;

Review::Review(const ShelvedCase& shelved, std::string record_text, std::string record_path,
               std::string when)
    : shelved_(shelved),
      record_path_(std::move(record_path)),
      when_(std::move(when)),
      room_parameters_(setup_of(shelved.content).room),
      record_text_(std::move(record_text)),
      making_(std::async(std::launch::async,
                         [text = record_text_] { return deb::make_debrief(text); })) {}

void Review::take_model() {
  Result<deb::DebriefModel> made = making_.get();
  if (!made.ok()) {
    trouble_ = made.problems().empty() ? "The record cannot be read." : made.problems()[0].message;
    return;
  }
  model_ = std::move(made).value();
  state_ = deb::make_state(*model_);
}

bool Review::wants_what_if() const {
  return model_ && !what_if_ && !pricing_.valid() &&
         (state_.tab == deb::Tab::what_if || state_.narrow_tab == deb::NarrowTab::what_if);
}

void Review::take_what_if() {
  Result<deb::WhatIfModel> made = pricing_.get();
  // What could be marked can be priced: the same record was read.
  what_if_ = made.ok() ? std::move(made).value() : deb::WhatIfModel{};
}

void Review::wait() {
  if (making_.valid()) take_model();
  if (pricing_.valid()) take_what_if();
}

std::optional<double> Review::take_total() {
  if (!model_ || total_told_) return std::nullopt;
  total_told_ = true;
  return model_->total;
}

void Review::advance(const std::vector<window::InputEvent>& events, double now_ms, bool typing) {
  if (making_.valid() && making_.wait_for(std::chrono::seconds{0}) == std::future_status::ready) {
    take_model();
  }
  if (wants_what_if()) {
    pricing_ =
        std::async(std::launch::async, [text = record_text_] { return deb::make_what_if(text); });
  }
  if (pricing_.valid() && pricing_.wait_for(std::chrono::seconds{0}) == std::future_status::ready) {
    take_what_if();
  }
  const double passed = last_ms_ ? (now_ms - *last_ms_) / 1000 : 0;
  last_ms_ = now_ms;
  if (!model_) return;
  for (const window::InputEvent& event : events) {
    const auto* key = std::get_if<window::input::KeyChange>(&event.content);
    if (key == nullptr || !key->down || typing) continue;
    if (const auto command = deb::find_command(static_cast<ex::Scancode>(key->key))) {
      deb::apply(*model_, *command, state_);
    }
  }
  if (state_.playing) deb::advance(*model_, passed, state_);
}

void Review::draw_patient(Stage& stage, const screens::WindowSize& window) {
  if (!model_ || shown_.picture.empty()) return;
  const gl::PixelBox box = to_box(shown_.picture, window.scale, window.height_px);
  ex::SceneChoice choice;
  choice.width_px = box.width;
  choice.height_px = box.height;
  choice.view = deb::find_view(*model_, state_, box.width, box.height);
  choice.transparent_occluder = shown_.clear_occluder;
  const ex::Moment moment = model_->playback.moment_at(state_.now_ms);
  stage.draw(ex::make_scene(moment.seen, moment.room, room_parameters_, choice), box);
}

ReviewOutcome Review::draw_waiting(screens::Ui& ui, const screens::WindowSize& window) {
  ReviewOutcome outcome;
  const screens::StudyLayout layout = screens::make_study_layout(window);
  ui.begin_region("waiting", {0, 0, ui.size().x, ui.size().y}, Token::page);
  Rect r = layout.body;
  if (trouble_.empty()) {
    ui.text_in(r.cut_top(32), TextStyle::head, Token::ink, "Looking at what you did");
    ui.text_in(r.cut_top(30), TextStyle::body, Token::ink2,
               "The examination is run once more and marked. A few seconds.");
  } else {
    ui.text_in(r.cut_top(32), TextStyle::head, Token::ink, "This examination cannot be marked");
    r.cut_top(6);
    const float height = ui.measure_paragraph(r.w, TextStyle::body, trouble_);
    ui.paragraph(r.cut_top(height), TextStyle::body, Token::ink2, trouble_);
    r.cut_top(16);
    const screens::ButtonLook main{.kind = screens::ButtonKind::main};
    Rect row = r.cut_top(36);
    const std::string_view words = "Back to the cases";
    outcome.leave =
        screens::button(ui, row.cut_left(screens::measure_button(ui, words, main)), words, main);
  }
  ui.end_region();
  return outcome;
}

ReviewOutcome Review::draw(screens::Ui& ui, const screens::WindowSize& window) {
  ui.go_to(screens::Place::study);
  if (!model_) return draw_waiting(ui, window);
  shown_ = deb::draw_debrief(ui, screens::make_debrief_layout(window), *model_, state_, when_,
                             what_if_ ? &*what_if_ : nullptr);
  return {shown_.leave, shown_.again};
}

}  // namespace redress::app
