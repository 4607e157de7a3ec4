// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/assessment/compose_station.hpp"

#include <algorithm>
#include <array>
#include <iterator>

#include <fmt/format.h>

namespace redress::screens::assessment {

namespace as = redress::assessment;

namespace {

struct InstrumentWords {
  as::Instrument instrument;
  std::string_view words;
};
constexpr std::array<InstrumentWords, as::kInstrumentCount> kInstruments{{
    {as::Instrument::opaque_occluder, "Opaque occluder"},
    {as::Instrument::translucent_occluder, "Translucent"},
    {as::Instrument::horizontal_bar, "Horizontal bar"},
    {as::Instrument::vertical_bar, "Vertical bar"},
    {as::Instrument::loose_prisms, "Loose prisms"},
    {as::Instrument::trial_lenses, "Trial lenses"},
    {as::Instrument::spectacles, "Spectacles"},
    {as::Instrument::penlight, "Penlight"},
    {as::Instrument::ruler, "Ruler"},
}};

/// Minutes and seconds as a number of seconds; steps of 30.
std::optional<std::int64_t> seconds(Ui& ui, const Rect& r, std::string_view id, std::int64_t value,
                                    std::int64_t least, std::int64_t most) {
  Range range{.least = static_cast<double>(least),
              .most = static_cast<double>(most),
              .step = 30,
              .decimals = 0,
              .unit = "s"};
  const Rect at{r.x, r.y, std::min(r.w, 190.0F), r.h};
  const auto changed = stepper(ui, at, id, static_cast<double>(value), range);
  if (!changed) return std::nullopt;
  return static_cast<std::int64_t>(*changed);
}

bool draw_tasks(Ui& ui, Column& c, as::Station& station) {
  bool changed = false;
  c.head("Tasks, in the candidate’s words");
  for (std::size_t i = 0; i < station.tasks.size(); ++i) {
    Rect line = c.row(36);
    c.space(6);
    constexpr std::string_view kOut = "Remove";
    const Rect out = line.cut_right(measure_button(ui, kOut, {.kind = ButtonKind::quiet}));
    line.cut_right(6);
    changed = field(ui, line, fmt::format("task {}", i + 1), station.tasks[i], {.longest = 400})
                  .changed ||
              changed;
    if (station.tasks.size() > 1 &&
        button(ui, out, kOut,
               {.kind = ButtonKind::quiet, .id = fmt::format("remove task {}", i)})) {
      station.tasks.erase(station.tasks.begin() + static_cast<std::ptrdiff_t>(i));
      return true;
    }
  }
  constexpr std::string_view kAdd = "Task";
  const ButtonLook look{.icon = Icon::plus, .id = "add task"};
  const Rect line = c.row(34);
  if (button(ui, {line.x, line.y, measure_button(ui, kAdd, look), line.h}, kAdd, look)) {
    station.tasks.emplace_back("Say what is asked.");
    changed = true;
  }
  c.space(6);
  return changed;
}

bool draw_instruments(Ui& ui, Column& c, as::Station& station) {
  bool changed = false;
  c.head("Instruments allowed");
  const int columns = c.rest().w > 520 ? 3 : 2;
  const float width = c.rest().w / static_cast<float>(columns);
  Rect line;
  for (std::size_t i = 0; i < kInstruments.size(); ++i) {
    if (i % static_cast<std::size_t>(columns) == 0) line = c.row(kHitHeight + 4);
    const auto found = std::find(station.instruments.begin(), station.instruments.end(),
                                 kInstruments[i].instrument);
    const bool on = found != station.instruments.end();
    if (check(ui, line.cut_left(width), kInstruments[i].words, on)) {
      if (on) {
        station.instruments.erase(found);
      } else {
        station.instruments.push_back(kInstruments[i].instrument);
      }
      changed = true;
    }
  }
  c.space(6);
  return changed;
}

bool draw_weights(Ui& ui, Column& c, as::Station& station) {
  c.head("Weights");
  bool own = station.weights.has_value();
  if (check(ui, c.row(kHitHeight + 4), "Its own, instead of the rubric’s", own)) {
    station.weights = own ? std::nullopt : std::optional<as::Weights>({8, 6, 3, 3});
    return true;
  }
  if (!station.weights) return false;
  bool changed = false;
  const auto weigh = [&](std::string_view words, double& value) {
    Rect line = c.row(36);
    ui.text_in(line.cut_left(line.w - 150), TextStyle::body, Token::ink, words);
    Range range{.least = 0, .most = 100, .step = 1, .decimals = 0, .unit = {}};
    if (const auto now = stepper(ui, line, words, value, range)) {
      value = *now;
      changed = true;
    }
    c.space(4);
  };
  as::Weights& w = *station.weights;
  weigh("Findings against truth", w.findings);
  weigh("Technique", w.technique);
  weigh("Reasoning from the story", w.reasoning);
  weigh("Impression, plan, how soon", w.conclusion);
  return changed;
}

bool draw_patient_choice(Ui& ui, Column& c, as::Station& station) {
  if (!station.family) {
    return field(ui, c.labelled("Patient, a case"), "case", station.case_path, {.longest = 400})
        .changed;
  }
  bool changed = field(ui, c.labelled("Patient, drawn"), "diagnosis", station.family->diagnosis,
                       {.longest = 200})
                     .changed;
  Range range{.least = 0, .most = 1, .step = 0.1, .decimals = 1, .unit = {}};
  const Rect at = c.labelled("Difficulty");
  if (const auto now = stepper(ui, {at.x, at.y, std::min(at.w, 160.0F), at.h}, "difficulty",
                               station.family->difficulty, range)) {
    station.family->difficulty = *now;
    changed = true;
  }
  return changed;
}

}  // namespace

void draw_compose_station(Ui& ui, Column& c, const ComposeModel& model, ComposeOutcome& outcome) {
  as::Circuit circuit = model.circuit;
  as::Station& station = circuit.stations[model.chosen];
  bool changed = false;
  c.head(fmt::format("Station {}", model.chosen + 1));
  const auto take = [&](const std::optional<std::int64_t>& value, std::int64_t& into) {
    if (!value) return;
    into = *value;
    changed = true;
  };
  if (station.rest) {
    take(seconds(ui, c.labelled("Rest for"), "rest", station.time_s, 30, 7200), station.time_s);
  } else {
    changed = field(ui, c.labelled("Name, for assessors"), "name", station.name, {.longest = 200})
                  .changed;
    changed = draw_patient_choice(ui, c, station) || changed;
    take(seconds(ui, c.labelled("Time"), "time", station.time_s, 30, 7200), station.time_s);
    take(seconds(ui, c.labelled("Reading"), "reading", station.reading_s, 0, 900),
         station.reading_s);
    static constexpr std::string_view kTimes[] = {"1×", "2×", "3×"};
    std::optional<std::size_t> magnification;
    for (std::size_t i = 0; i < std::size(kTimes); ++i) {
      if (station.magnification == static_cast<double>(i + 1)) magnification = i;
    }
    Rect line = c.labelled("Magnification");
    const float width = measure_one_of_few(ui, kTimes);
    if (const auto pick = one_of_few(ui, {line.x, line.y + 1, width, 34}, "magnification", kTimes,
                                     magnification)) {
      station.magnification = static_cast<double>(*pick + 1);
      changed = true;
    }
    Range marks{.least = 0, .most = 100, .step = 5, .decimals = 0, .unit = {}};
    const Rect pass = c.labelled("Pass mark");
    if (const auto now = stepper(ui, {pass.x, pass.y, std::min(pass.w, 160.0F), pass.h},
                                 "pass mark", station.pass_mark, marks)) {
      station.pass_mark = *now;
      changed = true;
    }
    if (check(ui, c.row(kHitHeight + 4), "Safety station: must be passed outright",
              station.safety)) {
      station.safety = !station.safety;
      changed = true;
    }
    changed = draw_tasks(ui, c, station) || changed;
    changed = draw_instruments(ui, c, station) || changed;
    changed = draw_weights(ui, c, station) || changed;
  }
  c.space(16);
  if (changed && !outcome.changed) outcome.changed = std::move(circuit);
}

}  // namespace redress::screens::assessment
