// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/assessment/invigilator_page.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace redress::screens::assessment {

namespace {

constexpr float kColumn = 700;

InvigilatorAct draw_asking(Ui& ui, Column& c, PassphraseModel& model) {
  c.title("Invigilator");
  c.words("The clock runs on. This page opens with the circuit's passphrase.", TextStyle::body,
          Token::ink2);
  const FieldEvent typed = field(ui, c.labelled("Passphrase"), "passphrase", model.typed,
                                 {.longest = 200, .masked = true});
  c.trouble(model.trouble);
  const bool ready = !model.busy && !model.waits && !model.typed.empty();
  const int clicked = c.buttons({model.busy ? "Trying" : "Open", "Back to the candidate"}, ready);
  if (clicked == 1) return InvigilatorAct::close;
  const bool entered = typed.settled && !typed.escaped;
  return ready && (clicked == 0 || entered) ? InvigilatorAct::try_passphrase : InvigilatorAct::none;
}

InvigilatorAct draw_known(Ui& ui, Column& c, InvigilatorModel& model) {
  InvigilatorAct act = InvigilatorAct::none;
  c.title("Invigilator");
  c.words(model.paused ? "Paused. The patient waits and the clock stands."
                       : "The clock runs on until you pause.",
          TextStyle::body, Token::ink2);
  if (!model.told.empty()) c.words(model.told, TextStyle::strong);
  const int first = c.buttons({"Back to the candidate", model.paused ? "Go on" : "Pause"});
  if (first == 0) act = InvigilatorAct::close;
  if (first == 1) act = InvigilatorAct::pause;

  c.head("Why");
  c.words("A reason stands beside time that is given and beside a station that is aborted.",
          TextStyle::small, Token::ink2);
  (void)field(ui, c.row(38), "reason", model.reason,
              {.hint = "as it shall stand in the record", .longest = 400});
  c.space(10);
  Rect time = c.labelled("Give time");
  constexpr std::string_view kGive = "Give it";
  Range range{.least = 10, .most = 1800, .step = 10, .decimals = 0, .unit = "s"};
  const Rect amount = time.cut_left(std::min(180.0F, time.w * 0.6F));
  if (const auto s = stepper(ui, amount, "seconds", model.credit_s, range)) model.credit_s = *s;
  time.cut_left(12);
  const bool reasoned = model.at_station && !model.reason.empty();
  if (button(ui, time.cut_left(measure_button(ui, kGive)), kGive,
             {.available = reasoned, .why_not = "a station must run, and say why"})) {
    act = InvigilatorAct::give_time;
  }
  Rect log = c.labelled("Incident");
  constexpr std::string_view kNote = "Note it";
  const Rect note = log.cut_right(measure_button(ui, kNote));
  log.cut_right(12);
  (void)field(ui, log, "incident", model.incident,
              {.hint = "what happened, for the log", .longest = 1000});
  if (button(ui, note, kNote, {.available = !model.incident.empty(), .why_not = "say what"})) {
    act = InvigilatorAct::note_incident;
  }
  if (!model.happened.empty()) {
    c.head("At this desk so far");
    // Of many the last ones; all of them are in the record.
    constexpr std::size_t kMost = 8;
    const std::size_t first_shown = model.happened.size() - std::min(kMost, model.happened.size());
    if (first_shown > 0) {
      c.words(fmt::format("… and {} before", first_shown), TextStyle::small, Token::ink3);
    }
    for (std::size_t i = first_shown; i < model.happened.size(); ++i) {
      c.words(model.happened[i], TextStyle::small, Token::ink2);
    }
  }
  if (model.at_station) {
    c.head("Another workstation");
    c.words(model.moving, TextStyle::small, Token::ink2);
    c.head("Abort this station");
    if (!model.asks_to_abort) {
      const Rect r = c.row(36);
      constexpr std::string_view kAbort = "Abort ...";
      if (button(ui, {r.x, r.y, measure_button(ui, kAbort), r.h}, kAbort,
                 {.available = reasoned, .why_not = "say why"})) {
        model.asks_to_abort = true;
      }
    } else {
      c.words("The station ends here, its card is handed in as it stands. That cannot be undone.");
      Rect r = c.row(36);
      constexpr std::string_view kAbort = "Abort the station";
      constexpr std::string_view kNo = "Do not";
      if (button(ui, r.cut_left(measure_button(ui, kAbort)), kAbort, {})) {
        act = InvigilatorAct::abort;
      }
      r.cut_left(12);
      if (button(ui, r.cut_left(measure_button(ui, kNo)), kNo, {})) model.asks_to_abort = false;
    }
    c.space(8);
  }
  return act;
}

}  // namespace

InvigilatorAct draw_invigilator(Ui& ui, const StudyLayout& layout, InvigilatorModel& model) {
  ui.begin_region("desk", layout.body, Token::page);
  Column column(ui, layout.body, kColumn, model.page);
  const InvigilatorAct act =
      model.known ? draw_known(ui, column, model) : draw_asking(ui, column, model.passphrase);
  column.end();
  ui.end_region();
  return act;
}

}  // namespace redress::screens::assessment
