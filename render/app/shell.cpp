// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/shell.hpp"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "render/app/parts_file.hpp"
#include "render/draw/png.hpp"

namespace redress::app {

namespace {

// The smallest that the layouts are made for.
constexpr float kLeastUnitsAcross = 640;
constexpr float kLeastUnitsDown = 360;
float calc_usable(float wanted, int width_px, int height_px) {
  const float room = std::min(static_cast<float>(width_px) / kLeastUnitsAcross,
                              static_cast<float>(height_px) / kLeastUnitsDown);
  return std::clamp(wanted, 1.0F, std::max(1.0F, room));
}

bool is_modifier(window::Key key) {
  constexpr int kLeftControl = 224, kRightSuper = 231;  // HID usages, as all keys
  return static_cast<int>(key) >= kLeftControl && static_cast<int>(key) <= kRightSuper;
}

constexpr double kIdleMs = 100;  // how long a resting screen waits before it looks about

window::WindowOptions to_window_options(const ShellOptions& options) {
  window::WindowOptions window;
  window.width = options.width;
  window.height = options.height;
  window.wait_for_screen = options.step_ms <= 0 && options.led_path.empty();
  return window;
}

/// The back of the window is cleared where the rectangle is: a copy of one value.
void paint_plain(const ImDrawList*, const ImDrawCmd* command) {
  const auto& fill = *static_cast<const screens::PlainFill*>(command->UserCallbackData);
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  glEnable(GL_SCISSOR_TEST);
  glScissor(fill.left, static_cast<int>(size.y) - fill.bottom, fill.right - fill.left,
            fill.bottom - fill.top);
  glClearColor(static_cast<float>(fill.colour.red) / 255,
               static_cast<float>(fill.colour.green) / 255,
               static_cast<float>(fill.colour.blue) / 255, 1);
  glClear(GL_COLOR_BUFFER_BIT);
}

}  // namespace

Shell::Shell(const ShellOptions& options)
    : options_(options),
      atlas_(std::make_unique<ImFontAtlas>()),
      making_fonts_(std::async(std::launch::async,
                               [atlas = atlas_.get(),
                                scale = calc_usable(options.scale, options.width, options.height)] {
                                 return screens::make_fonts(*atlas, scale);
                               })),
      window_(to_window_options(options)),
      fonts_(making_fonts_.get()),
      link_(&window_, atlas_.get()),
      wanted_scale_(options.scale),
      chance_(options.jitter) {
  ui_.emplace(screens::Theme::light, fonts_);
  if (!options_.script.empty() || !options_.parts_path.empty()) ui_->use(&probe_);
  wants_picture_ = !options_.screenshot.empty();
  for (const ScriptStep& step : options_.script) {
    if (std::holds_alternative<TakePicture>(step.what)) wants_picture_ = true;
  }
  if (!options_.parts_path.empty()) {
    parts_.open(options_.parts_path, std::ios::binary | std::ios::app);
    if (!parts_) throw std::runtime_error("cannot write " + options_.parts_path);
  }
  if (!options_.led_path.empty()) led_.emplace(options_.led_path);
  now_ms_ = is_played() || led_ ? 0 : window_.now_ms();
  last_frame_ms_ = next_frame_ms_ = now_ms_;
}

float Shell::calc_usable_scale(float wanted) const {
  return calc_usable(wanted, window_.width_px(), window_.height_px());
}

float Shell::pixels_per_point() const {
  return played_ratio_.value_or(static_cast<float>(window_.pixels_per_point()));
}

void Shell::renew_graphics() {
  stamps_.reset();
  link_.forget_graphics();
  window_.renew_graphics();
  fonts_ = screens::make_fonts(*atlas_, fonts_.scale, fonts_.letters);
  ui_->use(fonts_);
  draw_again();
}

void Shell::set_scale(float scale) {
  wanted_scale_ = scale;
  const float usable = calc_usable_scale(scale * pixels_per_point());
  const screens::Letters letters = std::max(fonts_.letters, ui_->wanted_letters());
  if (usable == fonts_.scale && letters == fonts_.letters) return;
  fonts_ = screens::make_fonts(*atlas_, usable, letters);
  ui_->use(fonts_);
}

float Shell::find_largest_scale() const {
  constexpr float kUsual[] = {2.0F, 1.5F, 1.25F};
  for (const float each : kUsual) {
    if (calc_usable_scale(each) >= each) return each;
  }
  return 1;
}

screens::WindowSize Shell::size() const {
  return {std::max(1, window_.width_px()), std::max(1, window_.height_px()), fonts_.scale};
}

void Shell::play(double until_ms) {
  for (; script_at_ < options_.script.size(); ++script_at_) {
    const ScriptStep& step = options_.script[script_at_];
    if (step.at_ms > until_ms) return;
    if (const auto* content = std::get_if<window::InputContent>(&step.what)) {
      came_.push_back({step.at_ms, step.modifiers, *content});
      continue;
    }
    // Where parts are looked for, those of before must have had their turn.
    if (has_more_events()) return;
    if (const auto* shot = std::get_if<TakePicture>(&step.what)) {
      shots_.push_back(shot->path);
      continue;
    }
    if (std::holds_alternative<LoseGraphics>(step.what)) {
      window_.lose_graphics();
      continue;
    }
    if (const auto* moved = std::get_if<MoveToScreen>(&step.what)) {
      played_ratio_ = static_cast<float>(moved->pixels_per_point);
      continue;
    }
    const std::string& label = std::get<ClickLabel>(step.what).label;
    const auto at = probe_.find_centre(label);
    if (!at) throw std::runtime_error("the script clicks on what is not there: " + label);
    const double x = std::floor(static_cast<double>(at->x * fonts_.scale));
    const double y = std::floor(static_cast<double>(at->y * fonts_.scale));
    using window::MouseButton;
    came_.push_back({step.at_ms, {}, window::input::PointerMove{x, y}});
    came_.push_back({step.at_ms, {}, window::input::PointerButton{MouseButton::left, true, x, y}});
    came_.push_back({step.at_ms, {}, window::input::PointerButton{MouseButton::left, false, x, y}});
    ++script_at_;
    return;  // what follows may be about the screen that the click opens
  }
  constexpr double kAfterwardsMs = 100;  // what was done last is seen
  if (options_.frames == 0 && !options_.script.empty() && !has_more_events() &&
      until_ms > options_.script.back().at_ms + kAfterwardsMs) {
    leaving_ = true;
  }
}

void Shell::follow_leader() {
  constexpr double kLookMs = 4;
  constexpr int kLooksAFrame = 10;  // what is made meanwhile, a face, shows in the end
  for (int i = 0; i < kLooksAFrame; ++i) {
    led_->listen();
    window_.take_events(came_, i == 0 ? 0 : kLookMs);
    if (!came_.empty() || has_more_events() || led_->go_on()) break;
  }
  now_ms_ = led_->now_ms();
  for (window::InputEvent& event : came_) event.at_ms = now_ms_;
}

bool Shell::has_more_events() const { return link_.has_more() || turns_.has_more(); }

bool Shell::wait_for_frame(bool live) {
  came_.clear();
  events_.clear();
  if (is_played()) {
    double step = options_.step_ms;
    if (options_.jitter != 0) {
      std::uniform_real_distribution<double> part(0.2, 1.8);
      step *= part(chance_);
    }
    now_ms_ += step;
    window_.take_events(came_, 0);
    came_.clear();  // the machine's own pointer has no say in a test
    play(now_ms_);
  } else if (led_) {
    follow_leader();
  } else {
    const bool resting = !live && frames_wanted_ == 0 && !has_more_events() && options_.frames == 0;
    if (resting) {
      window_.take_events(came_, kIdleMs);
    } else {
      // Events are taken as they come, so that each has its own time, until the frame is due.
      const double due = next_frame_ms_;
      double left = due - window_.now_ms();
      do {
        window_.take_events(came_, std::clamp(left, 0.0, 50.0));
        left = due - window_.now_ms();
      } while (left >= 1);
    }
    now_ms_ = window_.now_ms();
    if (resting && came_.empty()) return false;
  }
  work_began_ms_ = window_.now_ms();
  if (options_.timings) processor_began_ms_ = read_processor_ms();
  blinks_ = false;
  next_frame_ms_ = std::max(next_frame_ms_ + 1000.0 / window_.refresh_hz(), now_ms_);
  for (const window::InputEvent& event : came_) {
    turns_.add(event);
    if (std::holds_alternative<window::input::CloseAsked>(event.content)) close_asked_ = true;
  }
  if (turns_.has_more()) frames_wanted_ = 3;
  if (!is_played() && !window_.is_shown()) {
    next_frame_ms_ = now_ms_ + 50;
    if (!live) return false;
  }
  events_ = turns_.take(ui_->keys_are_settled(), ui_->typing() && link_.has_more());
  return true;
}

void Shell::clear(screens::Theme theme, screens::Token ground) {
  set_scale(wanted_scale_);  // the window may have become smaller or larger
  if (options_.timings && !stamps_) stamps_.emplace();
  if (stamps_) stamps_->set(0);
  const screens::Rgb c = screens::colour_of(theme, ground);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  glViewport(0, 0, window_.width_px(), window_.height_px());
  glDisable(GL_SCISSOR_TEST);
  glClearColor(static_cast<float>(c.red) / 255, static_cast<float>(c.green) / 255,
               static_cast<float>(c.blue) / 255, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  if (stamps_) stamps_->set(1);
}

screens::Ui& Shell::begin_ui(screens::Theme theme) {
  if (stamps_) stamps_->set(2);
  const screens::WindowSize window = size();
  for (const window::InputEvent& event : events_) {
    // Letters that no field is there to take are the keys' own affair.
    if (!ui_->typing() && std::holds_alternative<window::input::Text>(event.content)) continue;
    link_.take(event);
  }
  link_.begin_frame(window.width_px, window.height_px, (now_ms_ - last_frame_ms_) / 1000);
  last_frame_ms_ = now_ms_;
  ui_->use(theme);
  ui_->begin_frame({std::max(window.width(), screens::kLeastWidth),
                    std::max(window.height(), screens::kLeastHeight)});
  return *ui_;
}

void Shell::end_ui() {
  ui_->end_frame();
  link_.end_frame_and_draw();
  if (stamps_) stamps_->set(3);
}

void Shell::take_picture(const std::string& path) {
  glFinish();
  if (!draw::write_png(path, draw::read_pixels(0, window_.width_px(), window_.height_px()))) {
    throw std::runtime_error("cannot write " + path);
  }
}

void Shell::tell_parts() {
  if (!parts_.is_open()) return;
  for (const window::InputEvent& event : events_) {
    using namespace window::input;
    const auto* key = std::get_if<KeyChange>(&event.content);
    if (key != nullptr && !key->down && !is_modifier(key->key)) ++keys_taken_;
    const auto* button = std::get_if<PointerButton>(&event.content);
    if (button != nullptr && !button->down) ++buttons_taken_;
  }
  if (led_ && (!led_->stands() || has_more_events())) return;
  std::string now = fmt::format(R"("keys":{},"buttons":{},{})", keys_taken_, buttons_taken_,
                                format_parts(*ui_, probe_));
  const bool later = led_ && now_ms_ != parts_told_ms_;
  if (now == parts_told_ && shots_.empty() && !later) return;
  parts_ << fmt::format(R"({{"frame":{},"at_ms":{:.1f},"shots":{},{}}})", frames_shown_, now_ms_,
                        nlohmann::json(shots_).dump(), now)
         << '\n';
  parts_.flush();
  parts_told_ = std::move(now);
  parts_told_ms_ = now_ms_;
}

void Shell::show() {
  if (frames_wanted_ > 0) --frames_wanted_;
  if (ui_->wanted_letters() > fonts_.letters) draw_again();
  ++frames_shown_;
  if (options_.frames > 0 && frames_shown_ >= options_.frames) leaving_ = true;
  for (const std::string& path : shots_) take_picture(path);
  if (leaving_ && !options_.screenshot.empty()) take_picture(options_.screenshot);
  if (options_.timings) {
    glFinish();
    frames_.push_back({window_.now_ms() - work_began_ms_, read_processor_ms() - processor_began_ms_,
                       stamps_->between_ms(0, 3),
                       stamps_->between_ms(0, 1) + stamps_->between_ms(2, 3), blinks_});
  }
  window_.show();
  if (options_.timings && frames_shown_ == 1) first_frame_ = read_process_figures();
  if (frames_shown_ == 1) {
    window_.look_for_controllers();
    // Clearing a part of the window wants a shader of the driver's own, which takes software longer
    // to compile than a first frame's rectangles to fill.
    ui_->use(&paint_plain);
  }
  tell_parts();
  shots_.clear();
}

namespace {

/// "median 4.2, 99 % 9.1, longest 12.0"
std::string describe_times(std::vector<double> times) {
  std::sort(times.begin(), times.end());
  return fmt::format("median {:.2f}, 99 % {:.2f}, longest {:.2f}", times[times.size() / 2],
                     times[times.size() * 99 / 100], times.back());
}

}  // namespace

void Shell::report_timings() const {
  if (!options_.timings || frames_.empty()) return;
  struct Times {
    std::vector<double> clock;
    std::vector<double> processor;
  };
  Times all_frames;
  Times blinks;
  Times others;  // without the first, in which the driver makes its machine code
  std::vector<double> graphics;
  std::vector<double> interface;
  double sum = 0;
  for (std::size_t i = 0; i < frames_.size(); ++i) {
    const FrameWork& frame = frames_[i];
    sum += frame.clock_ms;
    all_frames.clock.push_back(frame.clock_ms);
    if (i == 0) continue;
    Times& kind = frame.blinks ? blinks : others;
    graphics.push_back(frame.graphics_ms);
    interface.push_back(frame.interface_ms);
    kind.clock.push_back(frame.clock_ms);
    kind.processor.push_back(frame.processor_ms);
  }
  const ProcessFigures all = read_process_figures();
  fmt::print(stderr, "first frame after {:.0f} ms of clock, {:.0f} ms of processor\n",
             first_frame_.since_start_ms, first_frame_.processor_ms);
  fmt::print(stderr, "frames {}, mean {:.1f} ms, {}\n", frames_.size(),
             sum / static_cast<double>(frames_.size()), describe_times(all_frames.clock));
  const auto later = static_cast<double>(std::max<std::size_t>(frames_.size() - 1, 1));
  fmt::print(stderr, "processor {:.1f} ms a frame after the first\n",
             (all.processor_ms - first_frame_.processor_ms) / later);
  const auto tell = [](const char* what, const Times& times) {
    if (times.clock.empty()) return;
    fmt::print(stderr, "{} {}: clock {}; processor {}\n", what, times.clock.size(),
               describe_times(times.clock), describe_times(times.processor));
  };
  tell("frames without a blink", others);
  tell("frames of a blink", blinks);
  if (!graphics.empty()) {
    fmt::print(stderr, "graphics: {}; clearing and interface alone: {}\n", describe_times(graphics),
               describe_times(interface));
  }
  fmt::print(stderr, "memory {:.0f} MiB now, {:.0f} at most\n", all.resident_mib,
             all.most_resident_mib);
}

}  // namespace redress::app
