// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A workstation of a small sealed circuit without a window: two stations and a rest between them,
// sat as by a candidate, at any frame rate.
#pragma once

#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>

#include "render/app/event_turns.hpp"
#include "render/app/sitting.hpp"
#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "tests/render/headless_ui.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

namespace redress::test {

inline constexpr const char* kSittingPassphrase = "larch under the north gate";

/// "day.sealed" in `folder`, cheap to open.
inline std::string seal_small_circuit(const std::string& folder,
                                      const nlohmann::json& second_instruments) {
  nlohmann::json json = nlohmann::json::parse(R"({
    "format": "redress-circuit", "version": 1, "title": "Two patients and a rest",
    "pass": {"standard": "fixed", "mark": 50, "stations": 1},
    "stations": [
      {"name": "Held straight", "case": "exophoria.json", "seeds": [7], "reading_s": 10,
       "tasks": ["Find and record any deviation at 6 m.", "Measure it with prism."],
       "procedures": ["cover_uncover"], "time_s": 120},
      {"rest_s": 30},
      {"name": "Turned in", "case": "right_esotropia.json", "seeds": [7], "reading_s": 0,
       "tasks": ["Say which eye turns."], "procedures": ["cover_uncover"], "time_s": 60}
    ]})");
  if (!second_instruments.is_null()) json["stations"][2]["instruments"] = second_instruments;
  const auto circuit = assessment::parse_circuit(json);
  if (!circuit) throw std::runtime_error(circuit.problems().front().message);
  std::vector<std::vector<assessment::Form>> forms(3);
  for (const std::size_t i : assessment::find_scored(circuit.value())) {
    forms[i] = assessment::find_forms(circuit.value(), i,
                                      [](const assessment::Station& station, std::uint64_t) {
                                        const std::string path = support::source_dir() +
                                                                 "/scenarios/" + station.case_path;
                                        return parse_json(read_file(path).value());
                                      })
                   .value();
  }
  const auto sealed =
      assessment::seal_circuit(circuit.value(), forms, kSittingPassphrase, assessment::kLeastCost);
  const std::string path = folder + "/day.sealed";
  if (write_whole_file(path, sealed.value())) throw std::runtime_error("cannot write " + path);
  return path;
}

class SittingOnScreen {
 public:
  explicit SittingOnScreen(const std::string& folder, bool resume = false,
                           screens::WindowSize size = {1440, 900, 1}, double frame_ms = 100,
                           std::function<assessment::ClockReading(double)> read_clocks = {})
      : ui(size), frame_ms_(frame_ms) {
    app::SittingOptions options;
    options.sealed_path = folder + "/day.sealed";
    options.kept_folder = folder + "/kept";
    options.workstation = "desk 3";
    options.resume = resume;
    options.is_played = true;
    options.read_clocks = std::move(read_clocks);
    sitting = std::make_unique<app::Sitting>(std::move(options));
    frame();
  }

  void at(double ms, window::InputContent content, window::Modifiers held = {}) {
    coming_.push_back({ms, held, std::move(content)});
  }
  void frame() {
    now_ms_ += frame_ms_;
    for (; !coming_.empty() && coming_.front().at_ms <= now_ms_; coming_.pop_front()) {
      turns_.add(coming_.front());
    }
    std::vector<window::InputEvent> events =
        turns_.take(ui.ui().keys_are_settled(), ui.ui().typing() && ui.has_more());
    turns_.put_back(events, sitting->advance(events, now_ms_, true, ui.ui(), ui.size(), 4.0));
    for (const window::InputEvent& event : events) {
      if (!ui.ui().typing() && std::holds_alternative<window::input::Text>(event.content)) continue;
      ui.take(event);
    }
    ui.frame([&](screens::Ui& u) {
      const app::SittingOutcome now = sitting->draw(u, ui.size());
      outcome.leave = outcome.leave || now.leave;
      outcome.calibrate = outcome.calibrate || now.calibrate;
      if (now.text_scale) outcome.text_scale = now.text_scale;
    });
  }
  /// No frame passes: the program was held, or the machine slept.
  void stand_still(double ms) { now_ms_ += ms; }
  void run_for(double ms) {
    for (const double end = now_ms_ + ms; now_ms_ < end;) frame();
  }
  void click(std::string_view label) {
    frame();
    const auto centre = ui.probe().find_centre(label);
    if (!centre) throw std::runtime_error("no part is labelled " + std::string{label});
    const double x = static_cast<double>(centre->x * ui.size().scale);
    const double y = static_cast<double>(centre->y * ui.size().scale);
    at(now_ms_, window::input::PointerMove{x, y});
    at(now_ms_, window::input::PointerButton{window::MouseButton::left, true, x, y});
    at(now_ms_, window::input::PointerButton{window::MouseButton::left, false, x, y});
    for (int i = 0; i < 6; ++i) frame();
  }
  void key(window::Key which, std::string_view letter = {}) {
    at(now_ms_, window::input::KeyChange{which, true, false});
    if (!letter.empty()) at(now_ms_, window::input::Text{std::string{letter}});
    at(now_ms_, window::input::KeyChange{which, false, false});
    for (int i = 0; i < 4; ++i) frame();
  }
  void type(std::string_view words) {
    at(now_ms_, window::input::Text{std::string{words}});
    for (int i = 0; i < 6; ++i) frame();
  }
  /// Into a field, instead of what stands there.
  void fill(std::string_view field, std::string_view words) {
    click(field);
    type(words);
  }
  void open(std::string_view passphrase = kSittingPassphrase) {
    fill("passphrase", passphrase);
    click("Open");
  }
  /// From the closed circuit to the first station's page.
  void begin(std::string_view candidate = "0417") {
    open();
    click("Ready for the candidate");
    fill("candidate", candidate);
    click("Begin the practice minute");
    run_for(61'500);
  }
  [[nodiscard]] bool shows(std::string_view words) const { return ui.probe().shows(words); }
  [[nodiscard]] double now_ms() const { return now_ms_; }

  HeadlessUi ui;
  std::unique_ptr<app::Sitting> sitting;
  app::SittingOutcome outcome;

 private:
  app::EventTurns turns_;
  std::deque<window::InputEvent> coming_;
  double frame_ms_ = 0;
  double now_ms_ = 0;
};

}  // namespace redress::test
