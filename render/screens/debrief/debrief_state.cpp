// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/debrief_state.hpp"

#include <algorithm>

namespace redress::screens::debrief {

namespace {

constexpr double kShownBefore = 0.3;  // of the window, before what is shown
constexpr double kTurnAt = 0.9;       // of the window, where playing turns the page
constexpr double kLeadMs = 300;       // before a movement begins
constexpr double kStepMs = 10;
constexpr double kChosenAfterMs = 600;
constexpr double kZoom = 1.5;
constexpr double kPan = 0.2;

double end_of(const DebriefModel& model) {
  return std::max(kShortestWindowMs, static_cast<double>(model.playback.end_ms()));
}

void set_window(const DebriefModel& model, double from, double length, DebriefState& state) {
  const double end = end_of(model);
  const double whole = std::clamp(length, kShortestWindowMs, end);
  state.from_ms = std::clamp(from, 0.0, end - whole);
  state.to_ms = state.from_ms + whole;
}

void keep_in_view(const DebriefModel& model, DebriefState& state) {
  if (state.now_ms >= state.from_ms && state.now_ms <= state.to_ms) return;
  const double length = state.to_ms - state.from_ms;
  set_window(model, state.now_ms - kShownBefore * length, length, state);
}

void go(const DebriefModel& model, double at_ms, DebriefState& state) {
  state.now_ms = std::clamp(at_ms, 0.0, end_of(model));
  keep_in_view(model, state);
}

void go_to_movement(const DebriefModel& model, bool after, DebriefState& state) {
  const auto onset = [](const MovementTag& tag) {
    return static_cast<double>(tag.movement.start_ms) - kLeadMs;
  };
  std::optional<double> found;
  const auto take = [&](double at) {
    if (after ? at > state.now_ms + 1 && (!found || at < *found)
              : at < state.now_ms - 1 && (!found || at > *found)) {
      found = at;
    }
  };
  if (state.blind) {  // from cover to cover: where an eye moved is not told yet
    for (const findings::CoveredInterval& cover : model.covers) {
      take(static_cast<double>(cover.from_ms) - kLeadMs);
    }
  } else {
    for (const MovementTag& tag : model.movements) take(onset(tag));
  }
  state.playing = false;
  if (found) go(model, *found, state);
}

}  // namespace

DebriefState make_state(const DebriefModel& model) {
  DebriefState state;
  double at = 0;
  if (!model.covers.empty()) at = static_cast<double>(model.covers.front().from_ms);
  for (const LostMark& mark : model.lost) {
    if (mark.at_ms.empty()) continue;
    at = static_cast<double>(mark.at_ms.front());
    break;
  }
  set_window(model, 0, kWindowMs, state);
  show(model, at, state);
  return state;
}

std::optional<Command> find_command(examine::Scancode key) {
  using namespace examine::hid;
  constexpr examine::Scancode kF10 = kF1 + 9;
  constexpr examine::Scancode kEquals = kMinus + 1;
  switch (key) {
    case letter('K'): return Command::play;
    case kComma: return Command::back_10_ms;
    case kPeriod: return Command::on_10_ms;
    case letter('J'): return Command::movement_before;
    case letter('L'): return Command::movement_after;
    case kMinus: return Command::slower;
    case kEquals: return Command::faster;
    case kUp: return Command::zoom_in;
    case kDown: return Command::zoom_out;
    case kLeft: return Command::pan_back;
    case kRight: return Command::pan_on;
    case kHome: return Command::whole;
    case kF10: return Command::numbers;
    case letter('V'): return Command::vertical;
    case letter('Z'): return Command::view;
    default: return std::nullopt;
  }
}

void apply(const DebriefModel& model, Command command, DebriefState& state) {
  const double length = state.to_ms - state.from_ms;
  switch (command) {
    case Command::play:
      if (state.now_ms >= end_of(model)) go(model, 0, state);
      state.playing = !state.playing;
      return;
    case Command::back_10_ms:
      state.playing = false;
      go(model, state.now_ms - kStepMs, state);
      return;
    case Command::on_10_ms:
      state.playing = false;
      go(model, state.now_ms + kStepMs, state);
      return;
    case Command::movement_before: go_to_movement(model, false, state); return;
    case Command::movement_after: go_to_movement(model, true, state); return;
    case Command::slower: state.speed -= state.speed > 0 ? 1 : 0; return;
    case Command::faster: state.speed = std::min(state.speed + 1, kSpeeds.size() - 1); return;
    case Command::zoom_in: zoom(model, state.now_ms, 1 / kZoom, state); return;
    case Command::zoom_out: zoom(model, state.now_ms, kZoom, state); return;
    case Command::pan_back: pan(model, -kPan * length, state); return;
    case Command::pan_on: pan(model, kPan * length, state); return;
    case Command::whole: set_window(model, 0, end_of(model), state); return;
    case Command::numbers: state.numbers = !state.numbers && !state.blind; return;
    case Command::vertical: state.vertical = !state.vertical; return;
    case Command::occluder: state.clear_occluder = !state.clear_occluder && !state.blind; return;
    case Command::view:
      // From the front ever closer, then from above.
      if (state.above || state.view != examine::Closeness::close) {
        state.view = state.above
                         ? examine::Closeness::both
                         : static_cast<examine::Closeness>(static_cast<int>(state.view) + 1);
        state.above = false;
      } else {
        state.above = !state.blind;
        state.view = examine::Closeness::both;  // the small picture shows both eyes
      }
      return;
  }
}

void apply_beside(Command command, double length_ms, DebriefState& state) {
  const auto step = [&](double by_ms) {
    state.playing = false;
    state.watched_ms = std::clamp(state.watched_ms + by_ms, 0.0, length_ms);
  };
  switch (command) {
    case Command::play:
      if (state.watched_ms >= length_ms) state.watched_ms = 0;
      state.playing = !state.playing;
      return;
    case Command::back_10_ms: step(-kStepMs); return;
    case Command::on_10_ms: step(kStepMs); return;
    case Command::whole: step(-length_ms); return;
    case Command::slower: state.speed -= state.speed > 0 ? 1 : 0; return;
    case Command::faster: state.speed = std::min(state.speed + 1, kSpeeds.size() - 1); return;
    default: return;
  }
}

void advance_beside(double seconds, double length_ms, DebriefState& state) {
  if (!state.playing || seconds <= 0) return;
  state.watched_ms = std::min(length_ms, state.watched_ms + 1000 * seconds * kSpeeds[state.speed]);
  if (state.watched_ms >= length_ms) state.playing = false;
}

DebriefState make_example_state(const DebriefModel& model) {
  DebriefState state;
  set_window(model, 0, kWindowMs, state);
  state.example = true;
  state.clear_occluder = false;
  constexpr std::size_t kRealTime = 3;
  static_assert(kSpeeds[kRealTime] == 1.0);
  state.speed = kRealTime;
  state.playing = true;
  return state;
}

void advance(const DebriefModel& model, double seconds, DebriefState& state) {
  if (!state.playing || seconds <= 0) return;
  state.now_ms += 1000 * seconds * kSpeeds[state.speed];
  if (state.now_ms >= end_of(model)) {
    state.now_ms = end_of(model);
    state.playing = false;
  }
  const double length = state.to_ms - state.from_ms;
  if (state.now_ms > state.from_ms + kTurnAt * length && state.to_ms < end_of(model)) {
    set_window(model, state.now_ms - (1 - kTurnAt) * length, length, state);
  }
  keep_in_view(model, state);
}

void show(const DebriefModel& model, double at_ms, DebriefState& state) {
  state.playing = false;
  state.tab = Tab::what_happened;
  const double length = std::min(state.to_ms - state.from_ms, kWindowMs);
  state.now_ms = std::clamp(at_ms, 0.0, end_of(model));
  set_window(model, state.now_ms - kShownBefore * length, length, state);
}

void zoom(const DebriefModel& model, double about_ms, double factor, DebriefState& state) {
  const double length = state.to_ms - state.from_ms;
  const double about = std::clamp(about_ms, state.from_ms, state.to_ms);
  const double wanted = std::clamp(length * factor, kShortestWindowMs, end_of(model));
  set_window(model, about - (about - state.from_ms) * wanted / length, wanted, state);
}

void pan(const DebriefModel& model, double by_ms, DebriefState& state) {
  set_window(model, state.from_ms + by_ms, state.to_ms - state.from_ms, state);
}

examine::ShownView find_view(const DebriefModel& model, const DebriefState& state, double width_px,
                             double height_px) {
  // What of the face has to be in the picture, mm.
  constexpr double kAcrossMm = 125;
  constexpr double kHighMm = 58;
  constexpr double kEyeLine = 0.45;
  const examine::ViewFrame frame{width_px, height_px, width_px / 2, kEyeLine * height_px,
                                 std::min(width_px / kAcrossMm, height_px / kHighMm)};
  const auto chosen = find_chosen(model, state.now_ms);
  const Eye eye = chosen ? model.movements[*chosen].movement.eye : Eye::right;
  return examine::calc_view(frame, state.view, eye, model.interpupillary_mm);
}

std::optional<std::size_t> find_chosen(const DebriefModel& model, double now_ms) {
  std::optional<std::size_t> found;
  for (std::size_t i = 0; i < model.movements.size(); ++i) {
    const findings::Movement& m = model.movements[i].movement;
    const double start = static_cast<double>(m.start_ms);
    if (start - kLeadMs > now_ms) break;
    if (now_ms <= static_cast<double>(m.end_ms) + kChosenAfterMs) found = i;
  }
  return found;
}

}  // namespace redress::screens::debrief
