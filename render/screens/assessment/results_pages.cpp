// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/assessment/results_pages.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace redress::screens::assessment {

namespace {

constexpr float kColumn = 700;
constexpr float kTable = 1180;
constexpr float kRow = 40;
constexpr std::array<std::string_view, 5> kRatings{"Fail", "Borderline", "Pass", "Good",
                                                   "Excellent"};

std::string cell_words(const ResultCell& cell) {
  if (!cell.there) return "–";
  std::string words = cell.seen             ? fmt::format("{:.1f}", cell.marks)
                      : cell.rating.empty() ? "Rate"
                                            : cell.rating;
  if (cell.seen && cell.unsafe) words += " unsafe";
  if (!cell.whole) words += " cut";
  return words;
}

struct TableWidths {
  float name = 120;
  float column = 150;
};

bool draw_cell(Ui& ui, const Rect& at, const ResultCell& cell, const std::string& id,
               const std::string& words) {
  if (!cell.there) {
    ui.text_in(at, TextStyle::body, Token::ink3, words);
    return false;
  }
  return button(ui, at, words, {.id = id});
}

constexpr float kPage = 64;
constexpr float kRelease = 84;

/// What can be written of one candidate once marks are shown.
void draw_writing(Ui& ui, Rect at, std::size_t row, const std::string& candidate,
                  ResultsOutcome& outcome) {
  const ButtonKind quiet = ButtonKind::quiet;
  if (button(ui, at.cut_left(kPage), "Page", {.kind = quiet, .id = "page of " + candidate})) {
    outcome.write_candidate = row;
  }
  if (button(ui, at.cut_left(kRelease), "Release", {.kind = quiet, .id = "release " + candidate})) {
    outcome.release = row;
  }
}

void draw_table(Ui& ui, Column& c, const ResultsModel& model, const TableWidths& widths,
                ResultsOutcome& outcome) {
  Rect head = c.row(26);
  ui.text_in(head.cut_left(widths.name), TextStyle::small, Token::ink2, "Candidate");
  for (const std::string& column : model.columns) {
    ui.text_in(head.cut_left(widths.column), TextStyle::small, Token::ink2, "Station " + column);
  }
  for (std::size_t r = 0; r < model.rows.size(); ++r) {
    const ResultRow& row = model.rows[r];
    Rect line = c.row(kRow);
    ui.line({line.x, line.y}, {line.right(), line.y}, Token::line);
    ui.text_in(line.cut_left(widths.name), TextStyle::strong, Token::ink, row.candidate);
    for (std::size_t k = 0; k < row.cells.size(); ++k) {
      const Rect at = Rect{line.cut_left(widths.column)}.inset(0, 4);
      const std::string words = cell_words(row.cells[k]);
      const float wide = std::min(at.w - 8, measure_button(ui, words));
      const std::string id = fmt::format("{} station {}", row.candidate, model.columns[k]);
      if (draw_cell(ui, {at.x, at.y, wide, at.h}, row.cells[k], id, words)) {
        outcome.open = std::pair{r, k};
      }
    }
    if (model.all_seen) {
      const Rect at = Rect{line.cut_left(kPage + kRelease)}.inset(0, 4);
      draw_writing(ui, at, r, row.candidate, outcome);
    }
  }
}

/// Where columns would be too narrow: a candidate a block, stations after another.
void draw_blocks(Ui& ui, Column& c, const ResultsModel& model, ResultsOutcome& outcome) {
  for (std::size_t r = 0; r < model.rows.size(); ++r) {
    const ResultRow& row = model.rows[r];
    Rect line = c.row(34);
    ui.line({line.x, line.y}, {line.right(), line.y}, Token::line);
    if (model.all_seen) {
      const Rect at = Rect{line.cut_right(kPage + kRelease)}.inset(0, 2);
      draw_writing(ui, at, r, row.candidate, outcome);
    }
    ui.text_in(line, TextStyle::strong, Token::ink, row.candidate);
    line = c.row(36);
    for (std::size_t k = 0; k < row.cells.size(); ++k) {
      const std::string words = model.columns[k] + ": " + cell_words(row.cells[k]);
      const float wide = measure_button(ui, words);
      if (line.w < wide) line = c.row(36);
      const std::string id = fmt::format("{} station {}", row.candidate, model.columns[k]);
      const Rect at = Rect{line.cut_left(wide)}.inset(0, 2);
      if (draw_cell(ui, at, row.cells[k], id, words)) outcome.open = std::pair{r, k};
      line.cut_left(8);
    }
    c.space(6);
  }
}

}  // namespace

bool draw_results_opening(Ui& ui, const StudyLayout& layout, ResultsOpeningModel& model) {
  ui.begin_region("desk", layout.body, Token::page);
  Column c(ui, layout.body, kColumn, model.page);
  c.title("Results of a circuit");
  (void)field(ui, c.labelled("Sealed circuit"), "sealed", model.sealed_path,
              {.hint = "a file that ends in .sealed", .longest = 1000});
  (void)field(ui, c.labelled("Store"), "store", model.store,
              {.hint = "a file, or postgresql://...", .longest = 1000});
  (void)field(ui, c.labelled("Take in from"), "kept folder", model.kept_folder,
              {.hint = "a folder of kept stations; none: leave it empty", .longest = 1000});
  if (check(ui, c.row(kHitHeight + 4), "Also what was cut short", model.cut_short_too)) {
    model.cut_short_too = !model.cut_short_too;
  }
  (void)field(ui, c.labelled("Assessor"), "assessor", model.assessor, {.longest = 100});
  (void)field(ui, c.labelled("Marks kept in"), "marks folder", model.marks_folder,
              {.longest = 1000});
  const FieldEvent typed = field(ui, c.labelled("Passphrase"), "passphrase", model.passphrase.typed,
                                 {.longest = 200, .masked = true});
  c.trouble(model.passphrase.trouble);
  const bool ready = !model.passphrase.busy && !model.passphrase.waits &&
                     !model.passphrase.typed.empty() && !model.store.empty() &&
                     !model.assessor.empty();
  const int clicked = c.buttons({model.passphrase.busy ? "Opening" : "Open"}, ready);
  c.words("What you overrule or rate is signed with your name and added to a ledger of your own.",
          TextStyle::small, Token::ink3);
  c.end();
  ui.end_region();
  return ready && (clicked == 0 || (typed.settled && !typed.escaped));
}

ResultsOutcome draw_results(Ui& ui, const StudyLayout& layout, ResultsModel& model, bool has_pdf) {
  ResultsOutcome outcome;
  ui.begin_region("desk", layout.body, Token::page);
  Column c(ui, layout.body, kTable, model.page, false);
  c.title(
      fmt::format("{} {}", model.rows.size(), model.rows.size() == 1 ? "candidate" : "candidates"));
  c.words(model.all_seen
              ? "All marks are shown. A rating given now would not be blind, and is not taken."
              : "Watch a station and rate it; its marks are shown when you have. Choose one.",
          TextStyle::body, Token::ink2);
  c.trouble(model.trouble);
  if (!model.told.empty()) c.words(model.told, TextStyle::strong);
  for (const std::string& remark : model.remarks) {
    c.words(remark, TextStyle::small, Token::ink2);
  }
  constexpr float kName = 120;
  const auto columns = static_cast<float>(std::max<std::size_t>(1, model.columns.size()));
  const float writing = kPage + kRelease;
  const float width = std::min(150.0F, (c.rest().w - kName - writing) / columns);
  constexpr float kLeastColumn = 96;
  if (width < kLeastColumn) {
    draw_blocks(ui, c, model, outcome);
  } else {
    draw_table(ui, c, model, {kName, width}, outcome);
  }
  c.space(12);
  if (!model.all_seen) {
    outcome.show_all = c.buttons({"Show all marks"}) == 0;
    c.words("After that nothing can be rated blind in this sitting. Reports need it.",
            TextStyle::small, Token::ink3);
  } else {
    constexpr std::string_view kHtml = "Cohort report, HTML";
    constexpr std::string_view kCsv = "Marks, CSV";
    constexpr std::string_view kMeeting = "For the meeting, CSV";
    constexpr std::string_view kDebriefs = "Release debriefs";
    constexpr std::string_view kPdf = "Cohort report, PDF";
    const int clicked = has_pdf ? c.buttons({kHtml, kCsv, kMeeting, kDebriefs, kPdf})
                                : c.buttons({kHtml, kCsv, kMeeting, kDebriefs});
    outcome.write_html = clicked == 0;
    outcome.write_csv = clicked == 1;
    outcome.write_moderation = clicked == 2;
    outcome.release_all = clicked == 3;
    outcome.write_pdf = clicked == 4;
    c.words(
        "A debrief shows its candidate what was there and every mark, with its evidence, what if "
        "included. Release it when nobody is still to sit this circuit; it is opened under “Sit a "
        "circuit”.",
        TextStyle::small, Token::ink2);
  }
  c.end();
  ui.end_region();
  return outcome;
}

namespace {

void draw_rating(Ui& ui, Column& c, StationMarksModel& model, StationMarksOutcome& outcome) {
  c.head("How was it, all in all?");
  if (!model.rating.empty()) {
    c.words("Your rating: " + model.rating + ".");
    return;
  }
  if (model.seen) {
    c.words("You have seen the marks: a rating would not be blind any more.", TextStyle::body,
            Token::ink2);
    return;
  }
  const Rect line = c.row(36);
  const float width = std::min(line.w, measure_one_of_few(ui, kRatings));
  outcome.rate = one_of_few(ui, {line.x, line.y, width, 34}, "rating", kRatings, std::nullopt);
  c.space(6);
  c.words("Given from the replay, before the marks are seen. It is signed and stands.",
          TextStyle::small, Token::ink3);
}

void draw_overruling(Ui& ui, Column& c, StationMarksModel& model, StationMarksOutcome& outcome) {
  const ItemRow& item = model.items[*model.overruling];
  Rect line = c.row(40);
  Range range{.least = 0, .most = item.max, .step = 0.5, .decimals = 1, .unit = {}};
  if (const auto marks = stepper(ui, line.cut_left(150), "marks", model.marks, range)) {
    model.marks = *marks;
  }
  line.cut_left(12);
  constexpr std::string_view kNo = "Do not";
  constexpr std::string_view kSign = "Sign";
  const Rect no = line.cut_right(measure_button(ui, kNo));
  line.cut_right(8);
  const Rect sign = line.cut_right(measure_button(ui, kSign));
  line.cut_right(8);
  (void)field(ui, line, "reason", model.reason,
              {.hint = "why the engine’s marks are not right", .longest = 1000});
  outcome.overrule =
      button(ui, sign, kSign, {.available = !model.reason.empty(), .why_not = "give a reason"});
  if (button(ui, no, kNo, {.id = "do not"})) model.overruling.reset();
  c.trouble(model.trouble);
  c.space(6);
}

}  // namespace

StationMarksOutcome draw_station_marks(Ui& ui, const StudyLayout& layout,
                                       StationMarksModel& model) {
  StationMarksOutcome outcome;
  ui.begin_region("desk", layout.body, Token::page);
  Column c(ui, layout.body, kColumn + 100, model.page, false);
  c.title(model.title);
  if (!model.events.empty()) c.words(model.events, TextStyle::small, Token::ink2);
  const int clicked = c.buttons({"Watch it", "Back to the list"});
  outcome.watch = clicked == 0;
  outcome.back = clicked == 1;
  draw_rating(ui, c, model, outcome);
  c.head("Marks");
  if (!model.seen) {
    c.words("Hidden until you have rated the station.", TextStyle::body, Token::ink2);
    const Rect r = c.row(36);
    constexpr std::string_view kShow = "Show them without rating";
    outcome.show = button(ui, {r.x, r.y, measure_button(ui, kShow), 34}, kShow);
  } else {
    std::string sum = fmt::format("{:.1f} of 100", model.total);
    if (model.total != model.engine_total) {
      sum += fmt::format(", by the engine {:.1f}", model.engine_total);
    }
    if (model.unsafe) sum += ". Unsafe";
    c.words(sum, TextStyle::strong, model.unsafe ? Token::care : Token::ink);
    for (std::size_t i = 0; i < model.items.size(); ++i) {
      const ItemRow& item = model.items[i];
      constexpr std::string_view kOver = "Overrule";
      constexpr float kName = 40;
      std::string marks = fmt::format("{:.1f} of {:.1f}", item.final, item.max);
      if (item.final != item.engine) marks += fmt::format(" (engine {:.1f})", item.engine);
      const float wide = ui.measure_figures(TextStyle::body, marks) + 4;
      const float over_wide = measure_button(ui, kOver);
      // A long title takes a second line.
      const float words = c.rest().w - kName - over_wide - wide - 24;
      const float high = ui.measure_paragraph(words, TextStyle::body, item.title);
      Rect line = c.row(std::max(36.0F, high + 12));
      ui.line({line.x, line.y}, {line.right(), line.y}, Token::line);
      ui.text_in(line.cut_left(kName), TextStyle::small_strong, Token::ink, item.name);
      const Rect over = line.cut_right(over_wide);
      line.cut_right(12);
      ui.figures_in(line.cut_right(wide), TextStyle::body, Token::ink, marks, Align::right);
      ui.paragraph({line.x, line.centre().y - high / 2, words, high}, TextStyle::body, Token::ink2,
                   item.title);
      if (button(ui, {over.x, over.centre().y - 15, over.w, 30}, kOver,
                 {.id = "overrule " + item.name})) {
        model.overruling = i;
        model.marks = item.final;
        model.reason.clear();
        model.trouble.clear();
      }
      for (const std::string& reason : item.reasons) {
        c.words(reason, TextStyle::small, Token::ink2);
      }
      if (model.overruling == i) draw_overruling(ui, c, model, outcome);
    }
  }
  c.end();
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens::assessment
