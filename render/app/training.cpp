// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/training.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "render/face/people.hpp"
#include "render/screens/examine/view.hpp"
#include "sim/optics/sight.hpp"
#include "sim/room/holding_hand.hpp"

namespace redress::app {

namespace {

using drill::Way;
using window::Key;
using window::PadButton;

constexpr double kToFellowMm = 44;  // from the eye to its fellow's outline, on the nose's side
constexpr double kMostAsideMm = 25;
constexpr double kOccluderMm = 20;  // before the cornea
constexpr double kAwayMm = 70;      // below: where a cover comes from
constexpr double kEyeLine = 0.43;

/// Of the picture: the same as in the room, in every view and at every text size.
double find_scale(const screens::WindowSize& window) {
  return screens::make_examine_layout(window, true).pixels_per_mm;
}

std::optional<int> digit_of(Key key) {
  if (key == Key::digit0) return 0;
  if (key >= Key::digit1 && key <= Key::digit9) {
    return static_cast<int>(key) - static_cast<int>(Key::digit1) + 1;
  }
  return std::nullopt;
}

}  // namespace

Training::Training(std::uint64_t seed) : drill_(seed) {}

const scene::PatientAppearance& Training::appearance() const {
  const auto& people = face::people();
  return people[drill_.seed() % people.size()].look;
}

void Training::answer() {
  if (drill_.done() || !shown_.over || !state_.complete()) return;
  drill_.take({*state_.second, *state_.way, *state_.said_pd});
  state_ = {};
  typed_.reset();
  shown_ = {};
  began_ms_.reset();
}

void Training::stop() {
  stopped_ = state_.stop_asked || drill_.answered().empty();
  state_.stop_asked = true;
}

void Training::take_key(Key key, double at_ms, const std::string& focused) {
  // Arrows belong to the group that Tab led to.
  const bool free = focused.empty() || focused.find("First") != std::string::npos ||
                    focused.find("Second") != std::string::npos ||
                    focused.find("next") != std::string::npos;
  if (key == Key::left && free) state_.second = false;
  if (key == Key::right && free) state_.second = true;
  if (key == Key::i) state_.way = Way::in;
  if (key == Key::o) state_.way = Way::out;
  if (key == Key::u) state_.way = Way::up;
  if (key == Key::d) state_.way = Way::down;
  if (const auto digit = digit_of(key)) {
    constexpr double kTogetherMs = 1200;  // two digits of one number
    typed_ = screens::type_said(at_ms - typed_at_ms_ < kTogetherMs ? typed_ : std::nullopt, *digit);
    typed_at_ms_ = at_ms;
    state_.said_pd = typed_;
  }
  if (key == Key::enter || key == Key::pad_enter) answer();
  if (key == Key::escape) stop();
}

void Training::take_pad(PadButton button) {
  switch (button) {
    case PadButton::left_bumper: state_.second = false; return;
    case PadButton::right_bumper: state_.second = true; return;
    // As it is seen: the nose of a right eye lies to the right in the picture.
    case PadButton::pad_right: state_.way = Way::in; return;
    case PadButton::pad_left: state_.way = Way::out; return;
    case PadButton::pad_up: state_.way = Way::up; return;
    case PadButton::pad_down: state_.way = Way::down; return;
    case PadButton::left: state_.said_pd = screens::step_said(state_.said_pd, -1); return;
    case PadButton::upper: state_.said_pd = screens::step_said(state_.said_pd, 1); return;
    case PadButton::lower: answer(); return;
    case PadButton::right: stop(); return;
    default: return;
  }
}

void Training::advance(const std::vector<window::InputEvent>& events, double now_ms,
                       bool patient_is_there, const std::string& focused) {
  patient_is_there_ = patient_is_there_ || patient_is_there;
  if (drill_.done() || !patient_is_there_) return;
  if (!began_ms_) began_ms_ = now_ms;
  shown_ = drill::calc_shown(drill_.current(), now_ms - *began_ms_);
  if (!shown_.over) return;  // nobody answers before both were seen
  for (const window::InputEvent& event : events) {
    const auto* key = std::get_if<window::input::KeyChange>(&event.content);
    if (key != nullptr && key->down && !key->repeat) take_key(key->key, event.at_ms, focused);
    const auto* pad = std::get_if<window::input::PadPress>(&event.content);
    if (pad != nullptr && pad->down) take_pad(pad->button);
  }
}

void Training::draw_patient(Stage& stage, const screens::WindowSize& window) const {
  const screens::DrillLayout layout = screens::make_drill_layout(window);
  const gl::PixelBox box = to_box(layout.picture, window.scale, window.height_px);
  const double half_mm = static_cast<double>(appearance().interpupillary_mm) / 2;
  scene::Scene scene;
  scene.eyes[0].horizontal_deg = shown_.horizontal_deg;
  scene.eyes[0].vertical_deg = shown_.vertical_deg;
  scene.view.pixels_per_mm = find_scale(window);
  // The fellow eye stays outside: nothing but the eye that is asked about is to be watched.
  const double reach_mm = box.width / scene.view.pixels_per_mm / 2;
  scene.view.centre_x_mm = half_mm + std::clamp(reach_mm - kToFellowMm, 0.0, kMostAsideMm);
  scene.view.centre_y_mm = -(0.5 - kEyeLine) * box.height / scene.view.pixels_per_mm;
  scene.occluder.present = true;
  scene.occluder.centre_mm = {half_mm, -kAwayMm * (1 - shown_.cover_share),
                              -(optics::kCorneaToCentreMm + kOccluderMm)};
  scene.occluder.handle_deg = kHandleLeanDeg;
  stage.draw(scene, box);
}

std::optional<progress::DrillEntry> Training::take_done() {
  if (!drill_.done() || told_) return std::nullopt;
  told_ = true;
  progress::DrillEntry entry;
  entry.seed = drill_.seed();
  entry.magnification = magnification_;
  entry.threshold = drill_.estimate();
  entry.answers = drill_.answered();
  return entry;
}

screens::DrillOutcome Training::draw(screens::Ui& ui, const screens::WindowSize& window,
                                     std::optional<double> screen_pixels_per_mm,
                                     const std::string& trouble) {
  screens::DrillView view;
  const std::vector<drill::Answered>& answered = drill_.answered();
  view.pairs = drill_.pairs();
  view.pair = std::min(view.pairs, answered.size() + 1);
  view.showing = !shown_.over;
  view.second_cover = shown_.second;
  view.patient_is_there = patient_is_there_;
  if (!answered.empty()) view.told = drill::describe_answer(answered.back());
  view.readout = "Size on this screen not known, fixed in this drill";
  if (screen_pixels_per_mm) {
    magnification_ = find_scale(window) / *screen_pixels_per_mm;
    view.readout =
        fmt::format("{:.1f}× life size, fixed in this drill  ·  1Δ = {:.2f} mm here",
                    magnification_, magnification_ * screens::examine::kMmPerPrismDioptre);
  }
  view.done = drill_.done();
  if (view.done) {
    const drill::ThresholdEstimate e = drill_.estimate();
    std::size_t found = 0;
    std::size_t seen = 0;
    for (const drill::Answered& each : answered) {
      if (each.found()) ++found;
      if (each.seen()) ++seen;
    }
    view.result = fmt::format("Your smallest visible movement: {:.1f}Δ ({:.1f} to {:.1f}Δ)", e.pd,
                              e.low, e.high);
    view.details = fmt::format(
        "Seen three times in four; the interval holds 95 %. You named {} of {} covers, {} of them "
        "with the way. The last: {}",
        found, answered.size(), seen, view.told);
    view.trouble = trouble;
  }
  screens::DrillOutcome outcome =
      screens::draw_drill(ui, screens::make_drill_layout(window), view, state_);
  if (outcome.next) answer();
  outcome.stop = outcome.stop || stopped_;
  return outcome;
}

}  // namespace redress::app
