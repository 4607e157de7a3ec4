// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/assessment/rehearsal_block.hpp"

#include <algorithm>
#include <numeric>

#include <fmt/format.h>

namespace redress::screens::assessment {

namespace as = redress::assessment;

namespace {

constexpr float kRow = 30;
constexpr std::array<std::string_view, as::kSkills.size()> kWho{"Novices", "Trainees", "Experts"};

std::string percent(double share) { return fmt::format("{:.0f} %", 100 * share); }

/// U+2212, as all signs on a screen.
std::string signed_figure(double value) {
  return (value < 0 ? "−" : "") + fmt::format("{:.2f}", std::abs(value));
}

/// Right edges of the columns of figures, from the right edge of a row.
struct Columns {
  float mean = 0, difficulty = 0, discrimination = 0, pass = 0, in_time = 0;
  float width = 0;
  float name = 0;  // where names end
};

Columns divide(float width) {
  Columns c;
  c.width = std::clamp((width - 150) / 5, 52.0F, 108.0F);
  c.in_time = width;
  c.pass = width - c.width;
  c.discrimination = width - 2 * c.width;
  c.difficulty = width - 3 * c.width;
  c.mean = width - 4 * c.width;
  c.name = width - 5 * c.width - 8;
  return c;
}

void draw_head(Ui& ui, const Rect& row, const Columns& at) {
  const bool wide = at.width > 100;
  const auto head = [&](float right, std::string_view words) {
    ui.text_in({row.x + right - at.width, row.y, at.width, row.h}, TextStyle::small, Token::ink2,
               words, Align::right);
  };
  ui.text_in({row.x, row.y, at.name, row.h}, TextStyle::small, Token::ink2, "Station");
  head(at.mean, "Mean");
  head(at.difficulty, wide ? "Difficulty" : "Diff.");
  head(at.discrimination, wide ? "Discriminates" : "Discr.");
  head(at.pass, "Pass");
  head(at.in_time, "In time");
}

void draw_station(Ui& ui, Column& c, const Columns& at, const as::StationFigures& s, Token ink) {
  // A name takes as many lines as it needs.
  const float name_width = at.name - 26;
  const float used = ui.measure_paragraph(name_width, TextStyle::small_strong, s.name);
  const Rect row = c.row(std::max(kRow, used + 8));
  ui.line({row.x, row.y}, {row.right(), row.y}, Token::line);
  const auto figure = [&](float right, const std::string& words) {
    ui.figures_in({row.x + right - at.width, row.y, at.width, row.h}, TextStyle::small, ink, words,
                  Align::right);
  };
  ui.text_in({row.x, row.y, 26, row.h}, TextStyle::small, Token::ink2,
             fmt::format("{}", s.station + 1));
  ui.paragraph({row.x + 26, row.centre().y - used / 2, name_width, used}, TextStyle::small_strong,
               ink, s.name);
  figure(at.mean, fmt::format("{:.0f}", s.mean));
  figure(at.difficulty, fmt::format("{:.2f}", s.difficulty));
  figure(at.discrimination, s.discrimination ? signed_figure(*s.discrimination) : "–");
  figure(at.pass, percent(s.share_passing));
  figure(at.in_time, percent(s.share_finishing));
  if (!s.look_at.empty()) {
    c.words(fmt::format("Look at station {}: {}.", s.station + 1, s.look_at), TextStyle::small,
            Token::ink2);
  }
}

void draw_figures(Ui& ui, Column& c, const RehearsalModel& model) {
  const as::CohortFigures& f = *model.figures;
  const bool pale = model.running || model.outdated;
  const Token ink = pale ? Token::ink3 : Token::ink;
  const double share = static_cast<double>(f.passed) / static_cast<double>(f.candidates);
  c.words(
      fmt::format("{} of {} candidates pass ({}; 95 %: {} to {}).", f.passed, f.candidates,
                  percent(share), percent(f.passed_interval.low), percent(f.passed_interval.high)),
      TextStyle::strong, ink);
  const std::string error =
      f.cut.error ? fmt::format(", with an error of {:.1f}", *f.cut.error) : std::string{};
  c.words(fmt::format("Pass mark {:.1f}{}; mean {:.1f}, standard deviation {:.1f}. The error of "
                      "measurement of a candidate’s mean is {:.1f}.",
                      f.cut.mark, error, f.mean, f.deviation, f.error_of_measurement),
          TextStyle::body, ink);
  std::string reliability = "No reliability can be told.";
  if (f.generalisability) {
    reliability = fmt::format("Reliability {:.2f} (generalisability)", *f.generalisability);
    if (f.alpha) reliability += fmt::format(", alpha {:.2f}", *f.alpha);
    reliability += f.stations_for_080
                       ? fmt::format(". 0.8 takes {} stations like these.", *f.stations_for_080)
                       : ". No number of stations like these reaches 0.8.";
  }
  c.words(reliability, TextStyle::body, ink);
  if (!f.standard_note.empty()) c.words(f.standard_note, TextStyle::small, Token::ink2);
  if (model.outdated) {
    c.words("Of the circuit before it was changed.", TextStyle::small_strong, Token::ink2);
  }
  const Columns at = divide(c.rest().w);
  draw_head(ui, c.row(26), at);
  for (const as::StationFigures& s : f.stations) draw_station(ui, c, at, s, ink);
  c.space(8);
}

void draw_wish(Ui& ui, Column& c, RehearsalWish& wish) {
  const auto number = [&](std::string_view label, double& value, const Range& range) {
    const Rect at = c.labelled(label);
    const Rect field{at.x, at.y, std::min(at.w, 190.0F), at.h};
    if (const auto now = stepper(ui, field, label, value, range)) value = *now;
  };
  number("Candidates", wish.candidates,
         {.least = 50, .most = 2000, .step = 50, .decimals = 0, .unit = {}});
  for (std::size_t i = 0; i < kWho.size(); ++i) {
    number(kWho[i], wish.parts[i],
           {.least = 0, .most = 100, .step = 10, .decimals = 0, .unit = "%"});
  }
}

}  // namespace

bool RehearsalWish::has_people() const {
  return std::accumulate(parts.begin(), parts.end(), 0.0) > 0;
}

RehearsalOutcome draw_rehearsal(Ui& ui, Column& c, RehearsalModel& model) {
  RehearsalOutcome outcome;
  c.head("Rehearsal");
  c.words(
      "Simulated candidates of stated skill sit the whole circuit. It compares stations; it does "
      "not tell what your candidates will get.",
      TextStyle::small, Token::ink2);
  draw_wish(ui, c, model.wish);
  c.space(4);
  Rect line = c.row(36);
  if (model.running) {
    constexpr std::string_view kStop = "Stop";
    outcome.stop = button(ui, line.cut_left(measure_button(ui, kStop)), kStop, {});
    line.cut_left(12);
    ui.figures_in(line, TextStyle::body, Token::ink2,
                  fmt::format("{} of {:.0f}", model.done, model.wish.candidates), Align::left);
  } else {
    constexpr std::string_view kBegin = "Rehearse";
    const bool available = model.ready && model.wish.has_people();
    outcome.begin = button(
        ui, line.cut_left(measure_button(ui, kBegin)), kBegin,
        {.available = available,
         .why_not = model.ready ? "say who sits it" : "every station is tried by itself first"});
    line.cut_left(8);
    constexpr std::string_view kReport = "Write its report";
    if (model.figures) {
      outcome.write = button(ui, line.cut_left(measure_button(ui, kReport)), kReport,
                             {.available = !model.outdated, .why_not = "rehearse it again first"});
    }
  }
  c.space(8);
  if (!model.told.empty()) c.words(model.told, TextStyle::small, Token::ink2);
  if (model.figures) draw_figures(ui, c, model);
  return outcome;
}

}  // namespace redress::screens::assessment
