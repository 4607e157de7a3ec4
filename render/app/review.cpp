// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/review.hpp"

#include <chrono>
#include <utility>

#include "render/app/example.hpp"
#include "render/screens/debrief/reviewed.hpp"
#include "render/screens/examine/scene.hpp"

namespace redress::app {

namespace deb = screens::debrief;
namespace ex = screens::examine;
using screens::Rect;
using screens::TextStyle;
using screens::Token;

Review::Review(const ShelvedCase& shelved, std::string record_text, std::string record_path,
               std::string when, deb::CountedBy counted)
    : shelved_(shelved),
      record_path_(std::move(record_path)),
      when_(std::move(when)),
      column_(counted.column),
      making_(std::async(std::launch::async,
                         [text = std::move(record_text), counted = std::move(counted)] {
                           return Made{text, deb::make_debrief(text, counted)};
                         })) {}

Review::Review(const ShelvedCase& shelved)
    : shelved_(shelved),
      making_(std::async(std::launch::async,
                         [shelved] {
                           std::string text = make_example(shelved);
                           Result<deb::DebriefModel> model = deb::make_debrief(text);
                           return Made{std::move(text), std::move(model)};
                         })),
      example_(true) {}

void Review::take_model() {
  Made made = making_.get();
  record_text_ = std::move(made.record_text);
  if (!made.model.ok()) {
    const Problems& problems = made.model.problems();
    trouble_ = problems.empty() ? "The record cannot be read." : problems[0].message;
    return;
  }
  const auto estimates = state_.estimates;
  const bool for_assessor = state_.for_assessor;
  const bool blind = state_.blind;
  model_ = std::move(made.model).value();
  state_ = example_ ? deb::make_example_state(*model_) : deb::make_state(*model_);
  state_.estimates = estimates;
  state_.for_assessor = for_assessor;
  state_.blind = blind;
  // The first place shown would otherwise be where marks were lost.
  if (blind) {
    deb::show(*model_, 0, state_);
    state_.clear_occluder = false;
  }
}

std::vector<progress::ItemMark> Review::marks() const {
  std::vector<progress::ItemMark> marks;
  if (!model_) return marks;
  for (const deb::MarkLine& line : model_->marks) {
    marks.push_back({line.name, line.marks, line.max});
  }
  return marks;
}

bool Review::wants_what_if() const {
  return model_ && !what_if_ && !pricing_.valid() &&
         (state_.tab == deb::Tab::what_if || state_.narrow_tab == deb::NarrowTab::what_if);
}

void Review::take_what_if() { what_if_ = pricing_.get(); }

void Review::wait() {
  if (making_.valid()) take_model();
  if (pricing_.valid()) take_what_if();
}

std::optional<double> Review::take_total() {
  if (!model_ || total_told_ || example_) return std::nullopt;
  total_told_ = true;
  return model_->total;
}

const deb::PricedHabit* Review::watched_habit() const {
  const bool shown = state_.tab == deb::Tab::what_if && state_.side_by_side && what_if_;
  return shown && state_.habit < what_if_->habits.size() ? &what_if_->habits[state_.habit]
                                                         : nullptr;
}

void Review::obey(deb::Command command) {
  if (const deb::PricedHabit* habit = watched_habit()) {
    deb::apply_beside(command, habit->as_done.to_ms - habit->as_done.from_ms, state_);
  } else {
    deb::apply(*model_, command, state_);
  }
}

void Review::take_pad(window::PadButton button, const std::string& focused) {
  using window::PadButton;
  switch (button) {
    case PadButton::left_bumper: obey(deb::Command::movement_before); return;
    case PadButton::right_bumper: obey(deb::Command::movement_after); return;
    case PadButton::lower:
      if (focused.empty()) obey(deb::Command::play);
      return;
    case PadButton::pad_left:
      if (focused.empty()) obey(deb::Command::back_10_ms);
      return;
    case PadButton::pad_right:
      if (focused.empty()) obey(deb::Command::on_10_ms);
      return;
    case PadButton::left: obey(deb::Command::slower); return;
    case PadButton::upper: obey(deb::Command::faster); return;
    default: return;
  }
}

void Review::advance(const std::vector<window::InputEvent>& events, double now_ms, bool typing,
                     const std::string& focused) {
  if (making_.valid() && making_.wait_for(std::chrono::seconds{0}) == std::future_status::ready) {
    take_model();
  }
  if (wants_what_if()) {
    pricing_ = std::async(std::launch::async, [reviewed = model_->reviewed, column = column_] {
      return deb::make_what_if(*reviewed, column);
    });
  }
  if (pricing_.valid() && pricing_.wait_for(std::chrono::seconds{0}) == std::future_status::ready) {
    take_what_if();
  }
  const double passed = last_ms_ ? (now_ms - *last_ms_) / 1000 : 0;
  last_ms_ = now_ms;
  if (!model_) return;
  for (const window::InputEvent& event : events) {
    const auto* pad = std::get_if<window::input::PadPress>(&event.content);
    if (pad != nullptr && pad->down) take_pad(pad->button, focused);
    const auto* key = std::get_if<window::input::KeyChange>(&event.content);
    if (key == nullptr || !key->down || typing) continue;
    if (const auto command = deb::find_command(static_cast<ex::Scancode>(key->key))) {
      obey(*command);
    }
  }
  if (const deb::PricedHabit* habit = watched_habit()) {
    deb::advance_beside(passed, habit->as_done.to_ms - habit->as_done.from_ms, state_);
  } else if (state_.playing) {
    deb::advance(*model_, passed, state_);
  }
}

void Review::draw_patient(Stage& stage, const screens::WindowSize& window) {
  if (!model_) return;
  const auto draw = [&](const Rect& at, const deb::Playback& playback, double at_ms, bool clear) {
    if (at.empty()) return;
    const gl::PixelBox box = to_box(at, window.scale, window.height_px);
    ex::SceneChoice choice;
    choice.width_px = box.width;
    choice.height_px = box.height;
    choice.view = deb::find_view(*model_, state_, box.width, box.height);
    choice.transparent_occluder = clear;
    choice.fidgets = true;
    const ex::Moment moment = playback.moment_at(at_ms);
    stage.draw(ex::make_scene(moment.seen, moment.room, model_->reviewed->setup.room, choice), box);
  };
  if (const deb::PricedHabit* habit = watched_habit()) {
    for (const auto& [at, excerpt] : {std::pair{shown_.done_picture, &habit->as_done},
                                      std::pair{shown_.mended_picture, &habit->mended}}) {
      draw(at, excerpt->playback, excerpt->from_ms + state_.watched_ms, state_.clear_occluder);
    }
    return;
  }
  draw(shown_.picture, model_->playback, state_.now_ms, shown_.clear_occluder);
}

ReviewOutcome Review::draw_waiting(screens::Ui& ui, const screens::WindowSize& window) {
  ReviewOutcome outcome;
  const screens::StudyLayout layout = screens::make_study_layout(window);
  ui.begin_region("waiting", {0, 0, ui.size().x, ui.size().y}, Token::page);
  Rect r = layout.body;
  if (!told_.empty()) {
    ui.text_in(r.cut_top(30), TextStyle::strong, Token::ink, told_);
    r.cut_top(8);
  }
  if (trouble_.empty()) {
    ui.text_in(r.cut_top(32), TextStyle::head, Token::ink,
               example_ ? "The reference examiner is at work" : "Looking at what you did");
    ui.text_in(r.cut_top(30), TextStyle::body, Token::ink2,
               example_ ? "The same patient, examined by the book. A few seconds."
                        : "The examination is run once more and marked. A few seconds.");
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
  return {shown_.leave, shown_.again, shown_.show_me, shown_.rate};
}

}  // namespace redress::app
