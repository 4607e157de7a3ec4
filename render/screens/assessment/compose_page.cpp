// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/assessment/compose_page.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "render/screens/assessment/compose_station.hpp"
#include "sim/assessment/circuit_file.hpp"
#include "sim/basics/json_reader.hpp"

namespace redress::screens::assessment {

namespace as = redress::assessment;

namespace {

constexpr float kSide = 500;
constexpr float kRow = 46;
constexpr float kSealColumn = 640;

std::string minutes(std::int64_t seconds) {
  return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

std::string patient_words(const as::Station& station) {
  const std::string each = station.seeds.size() > 1 ? "one of several" : "same for all";
  return (station.family ? "Family, " : "Case, ") + each;
}

/// Where the columns of the table stand, from the left edge of a row.
struct Columns {
  float name = 34, patient = 0, time = 0, reading = 0, marks = 0, needs = 0, pass = 0;
  float pass_width = 0;
  bool has_patient = true;
};

Columns divide(float width) {
  Columns c;
  c.has_patient = width > 700;
  constexpr float kTime = 62;
  constexpr float kPass = 150;
  float right = width - kPass - 8;
  c.pass = right;
  c.pass_width = kPass;
  c.needs = right -= kTime;
  c.marks = right -= kTime + 14;
  c.reading = right -= kTime;
  c.time = right -= kTime - 4;
  c.patient = c.has_patient ? right - 160 : right;
  return c;
}

void draw_head(Ui& ui, const Rect& row, const Columns& at) {
  const auto head = [&](float x, float w, std::string_view words, Align align) {
    ui.text_in({row.x + x, row.y, w, row.h}, TextStyle::small, Token::ink2, words, align);
  };
  head(at.name, at.patient - at.name - 8, "Station", Align::left);
  if (at.has_patient) head(at.patient, 156, "Patient", Align::left);
  head(at.time, 54, "Time", Align::right);
  head(at.reading, 58, "Reading", Align::right);
  head(at.marks, 72, "Reference", Align::right);
  head(at.needs, 58, "needs", Align::right);
  head(at.pass + 12, at.pass_width - 12, "Predicted to pass", Align::left);
}

void draw_station_row(Ui& ui, const Rect& row, const Columns& at, std::size_t number,
                      const as::Station& station, const StationFigures& figures) {
  const auto figure = [&](float x, float w, const std::string& words, Token token) {
    ui.figures_in({row.x + x, row.y, w, row.h}, TextStyle::small, token, words, Align::right);
  };
  ui.text_in({row.x + 10, row.y, 22, row.h}, TextStyle::small, Token::ink2,
             fmt::format("{}", number + 1));
  const Rect name{row.x + at.name, row.y, at.patient - at.name - 8, row.h};
  if (station.rest) {
    ui.text_in(name, TextStyle::body, Token::ink2, "Rest");
    figure(at.time, 54, minutes(station.time_s), Token::ink);
    return;
  }
  ui.text_in(name, TextStyle::strong, Token::ink, station.name);
  if (at.has_patient) {
    ui.text_in({row.x + at.patient, row.y, 156, row.h}, TextStyle::small, Token::ink2,
               patient_words(station));
  }
  figure(at.time, 54, minutes(station.time_s), Token::ink);
  figure(at.reading, 58, minutes(station.reading_s), Token::ink);
  const Token fresh = figures.computing ? Token::ink3 : Token::ink;
  if (figures.reference_marks) {
    figure(at.marks, 72, fmt::format("{:.0f}", *figures.reference_marks), fresh);
  }
  if (figures.reference_ms) {
    const std::int64_t needs = (*figures.reference_ms + 999) / 1000;
    const bool tight = 10 * needs > 9 * station.time_s;
    figure(at.needs, 58, minutes(needs), tight ? Token::care : fresh);
  }
  Rect bar{row.x + at.pass + 12, row.centre().y - 6, at.pass_width - 70, 12};
  if (figures.share_passing) {
    const auto share = static_cast<float>(*figures.share_passing);
    ui.fill(bar, Token::well, 3);
    ui.fill({bar.x, bar.y, std::max(3.0F, bar.w * share), bar.h}, Token::act, 3);
    figure(at.pass + at.pass_width - 52, 50, fmt::format("{:.0f} %", 100 * share), fresh);
  } else if (figures.computing) {
    ui.text_in({row.x + at.pass + 12, row.y, at.pass_width - 12, row.h}, TextStyle::small,
               Token::ink3, "being tried");
  }
}

void change_order(const ComposeModel& model, int by, ComposeOutcome& outcome) {
  const auto to = static_cast<std::ptrdiff_t>(model.chosen) + by;
  if (to < 0 || to >= static_cast<std::ptrdiff_t>(model.circuit.stations.size())) return;
  as::Circuit changed = model.circuit;
  std::swap(changed.stations[model.chosen], changed.stations[static_cast<std::size_t>(to)]);
  outcome.changed = std::move(changed);
  outcome.choose = static_cast<std::size_t>(to);
}

void draw_row_buttons(Ui& ui, Rect line, const ComposeModel& model, ComposeOutcome& outcome) {
  const auto next = [&](std::string_view words, bool available, Icon sign = Icon::none) {
    const ButtonLook look{.available = available, .icon = sign};
    const Rect at = line.cut_left(measure_button(ui, words, look));
    line.cut_left(8);
    return at.w > 8 && button(ui, at, words, look);
  };
  as::Circuit changed = model.circuit;
  const auto after = changed.stations.begin() + static_cast<std::ptrdiff_t>(std::min(
                                                    model.chosen + 1, changed.stations.size()));
  if (next("Station", true, Icon::plus)) {
    as::Station fresh = changed.stations[as::find_scored(changed).front()];
    fresh.name = "New station";
    outcome.choose = static_cast<std::size_t>(after - changed.stations.begin());
    changed.stations.insert(after, std::move(fresh));
    outcome.changed = std::move(changed);
    return;
  }
  if (next("Rest", true, Icon::plus)) {
    as::Station rest;
    rest.name = "Rest";
    rest.rest = true;
    rest.reading_s = 0;
    rest.time_s = 120;
    outcome.choose = static_cast<std::size_t>(after - changed.stations.begin());
    changed.stations.insert(after, std::move(rest));
    outcome.changed = std::move(changed);
    return;
  }
  const bool last_patient =
      !model.circuit.stations[model.chosen].rest && as::find_scored(model.circuit).size() == 1;
  if (next("Up", model.chosen > 0)) change_order(model, -1, outcome);
  if (next("Down", model.chosen + 1 < model.circuit.stations.size())) {
    change_order(model, 1, outcome);
  }
  if (next("Remove", !last_patient && model.circuit.stations.size() > 1)) {
    changed.stations.erase(changed.stations.begin() + static_cast<std::ptrdiff_t>(model.chosen));
    outcome.choose = std::min(model.chosen, changed.stations.size() - 1);
    outcome.changed = std::move(changed);
  }
  if (next("Undo", model.can_undo)) outcome.undo = true;
}

void draw_remarks(Ui& ui, Column& c, const ComposeModel& model, ComposeOutcome& outcome) {
  for (std::size_t i = 0; i < model.remarks.size(); ++i) {
    const Remark& remark = model.remarks[i];
    const float button_width = remark.remedy.empty() ? 0 : measure_button(ui, remark.remedy) + 12;
    const float words = c.rest().w - 44 - button_width - 12;
    const std::string proposal = remark.remedy.empty() ? remark.proposal : "";
    const float height =
        ui.measure_paragraph(words, TextStyle::small_strong, remark.what) +
        (proposal.empty() ? 0 : ui.measure_paragraph(words, TextStyle::small, proposal));
    Rect box = c.row(std::max(48.0F, height + 20));
    c.space(8);
    sheet(ui, box);
    const float middle = box.centre().y;
    icon(ui, Icon::caution, {box.x + 22, middle}, remark.wrong ? Token::care : Token::ink2, 18);
    if (!remark.remedy.empty()) {
      const Rect at{box.right() - button_width, middle - 17, button_width - 12, 34};
      if (button(ui, at, remark.remedy, {.id = fmt::format("remedy{}", i)})) outcome.remedy = i;
    }
    const float top = middle - height / 2;
    const float used = ui.paragraph({box.x + 44, top, words, height}, TextStyle::small_strong,
                                    Token::ink, remark.what);
    if (!proposal.empty()) {
      ui.paragraph({box.x + 44, top + used, words, height - used}, TextStyle::small, Token::ink2,
                   proposal);
    }
  }
}

void draw_blueprint(Ui& ui, Column& c, const ComposeModel& model) {
  if (model.blueprint.empty()) return;
  c.head("Blueprint");
  c.words("Procedure, condition and how soon: what the circuit samples.", TextStyle::small,
          Token::ink2);
  const auto divide_line = [](Rect line) {
    struct {
      Rect procedure, condition, urgency, stations;
    } at;
    at.procedure = line.cut_left(line.w * 0.26F);
    at.stations = line.cut_right(80);
    at.urgency = line.cut_right(90);
    at.condition = line;
    return at;
  };
  const auto head = divide_line(c.row(26));
  ui.text_in(head.procedure, TextStyle::small, Token::ink2, "Procedure");
  ui.text_in(head.condition, TextStyle::small, Token::ink2, "Condition");
  ui.text_in(head.urgency, TextStyle::small, Token::ink2, "How soon");
  ui.text_in(head.stations, TextStyle::small, Token::ink2, "Stations", Align::right);
  for (const as::BlueprintCell& cell : model.blueprint) {
    const Rect line = c.row(26);
    ui.line({line.x, line.y}, {line.right(), line.y}, Token::line);
    std::string procedure(find_name(as::procedure_names(), cell.procedure));
    std::replace(procedure.begin(), procedure.end(), '_', ' ');
    const auto at = divide_line(line);
    ui.text_in(at.procedure, TextStyle::small, Token::ink, procedure);
    std::string numbers;
    for (const std::size_t s : cell.stations) {
      numbers += (numbers.empty() ? "" : ", ") + fmt::format("{}", s + 1);
    }
    ui.text_in(at.stations, TextStyle::small, Token::ink, numbers, Align::right);
    ui.text_in(at.urgency, TextStyle::small, Token::ink2, as::to_words(cell.urgency));
    ui.text_in(at.condition, TextStyle::small, Token::ink2, cell.condition);
  }
  c.space(10);
}

void draw_list(Ui& ui, Column& c, ComposeModel& model, ComposeOutcome& outcome) {
  const std::string before = model.circuit.title;
  as::Circuit titled = model.circuit;
  if (field(ui, c.row(40), "title", titled.title, {.strong = true, .longest = 200}).changed &&
      titled.title != before) {
    outcome.changed = titled;
  }
  c.space(6);
  const std::size_t count = model.circuit.stations.size();
  c.words(fmt::format("{} {}, {} with reading time", count, count == 1 ? "station" : "stations",
                      minutes(as::calc_length_s(model.circuit))),
          TextStyle::small, Token::ink2);
  const Columns at = divide(c.rest().w);
  draw_head(ui, c.row(26), at);
  for (std::size_t i = 0; i < model.circuit.stations.size(); ++i) {
    const as::Station& station = model.circuit.stations[i];
    const Rect row = c.row(kRow);
    const std::string label = station.rest ? "Rest" : station.name;
    if (list_row(ui, row, fmt::format("station{}", i), label, i == model.chosen)) {
      outcome.choose = i;
    }
    draw_station_row(ui, row, at, i, station,
                     i < model.figures.size() ? model.figures[i] : StationFigures{});
    ui.line({row.x, row.bottom()}, {row.right(), row.bottom()}, Token::line);
  }
  c.space(12);
  draw_row_buttons(ui, c.row(36), model, outcome);
  c.space(12);
  draw_remarks(ui, c, model, outcome);
  draw_blueprint(ui, c, model);
  outcome.rehearsal = draw_rehearsal(ui, c, model.rehearsal);
  c.head("File");
  (void)field(ui, c.row(36), "path", model.path, {.longest = 1000});
  c.trouble(model.trouble);
  if (!model.told.empty()) c.words(model.told, TextStyle::small, Token::ink2);
  const int clicked = c.buttons({"Seal ...", model.changed ? "Save" : "Save again", "New circuit"});
  if (clicked == 0) model.sealing = true;
  outcome.save = clicked == 1;
  outcome.fresh = clicked == 2;
  if (!model.found.empty()) {
    c.head("Open another circuit");
    for (std::size_t i = 0; i < model.found.size(); ++i) {
      if (list_row(ui, c.row(34), fmt::format("found{}", i), model.found[i], false)) {
        outcome.open = i;
      }
      const Rect& rest = c.rest();
      ui.text_in({rest.x + 10, rest.y - 34, rest.w - 20, 34}, TextStyle::small, Token::ink2,
                 model.found[i]);
    }
  }
  if (!model.not_circuits.empty()) c.words(model.not_circuits, TextStyle::small, Token::ink2);
}

void draw_sealing(Ui& ui, const StudyLayout& layout, ComposeModel& model, ComposeOutcome& outcome) {
  ui.begin_region("stations", layout.body, Token::page);
  Column c(ui, layout.body, kSealColumn, model.seal_page);
  c.title("Seal the circuit");
  c.words(
      "Once sealed, patients, truth and weights can be read only with this passphrase. It is kept "
      "nowhere: whoever loses it loses the results.",
      TextStyle::body, Token::ink2);
  (void)field(ui, c.labelled("Passphrase"), "new passphrase", model.passphrase,
              {.longest = 200, .masked = true});
  (void)field(ui, c.labelled("The same again"), "again", model.again,
              {.longest = 200, .masked = true});
  c.trouble(model.trouble);
  const bool ready = !model.busy && !model.passphrase.empty() && model.passphrase == model.again;
  const int clicked = c.buttons({model.busy ? "Sealing" : "Seal", "Not now"}, ready);
  c.words("At least 12 letters; a few words that nobody would guess are best.", TextStyle::small,
          Token::ink3);
  outcome.seal = clicked == 0 && ready;
  if (clicked == 1) model.sealing = false;
  c.end();
  ui.end_region();
}

}  // namespace

ComposeOutcome draw_compose(Ui& ui, const StudyLayout& layout, ComposeModel& model) {
  ComposeOutcome outcome;
  if (model.sealing) {
    draw_sealing(ui, layout, model, outcome);
    return outcome;
  }
  Rect body = layout.body;
  const bool beside = body.w >= kSide + 640;
  const Rect side = beside ? body.cut_right(kSide) : Rect{};
  if (beside) body.cut_right(layout.gutter);
  ui.begin_region("stations", body, Token::page);
  Column c(ui, body, 1000, model.list_page, false);
  draw_list(ui, c, model, outcome);
  if (!beside) draw_compose_station(ui, c, model, outcome);
  c.end();
  ui.end_region();
  if (beside) {
    ui.begin_region("station", side, Token::page);
    sheet(ui, side);
    Column s(ui, side.inset(16, 8), kSide, model.station_page, false);
    draw_compose_station(ui, s, model, outcome);
    s.end();
    ui.end_region();
  }
  return outcome;
}

}  // namespace redress::screens::assessment
