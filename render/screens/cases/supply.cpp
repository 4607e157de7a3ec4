// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/cases/supply.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace redress::screens {

namespace {

constexpr float kFieldHigh = 34;

void draw_bar(Ui& ui, const SupplyLayout& layout, const SupplyModel& model,
              SupplyOutcome& outcome) {
  ui.begin_region("supply bar", layout.bar, Token::sheet);
  ui.line({layout.bar.x, layout.bar.bottom() - 1}, {layout.bar.right(), layout.bar.bottom() - 1},
          Token::line);
  Rect r = layout.bar.inset(16, 0);
  const ButtonLook back{.kind = ButtonKind::quiet, .icon = Icon::back};
  const Rect at = r.cut_left(measure_button(ui, "Cases", back));
  if (button(ui, {at.x, at.centre().y - 18, at.w, 36}, "Cases", back)) {
    outcome.order = SupplyOrder::leave;
  }
  r.cut_left(layout.compact ? 4 : 16);
  static constexpr std::array<std::string_view, 4> kShort{"Draw", "Import", "Export", "Folder"};
  const bool tight = measure_tabs(ui, kSupplyParts) > r.w;
  const std::span<const std::string_view> words =
      tight ? std::span<const std::string_view>(kShort) : kSupplyParts;
  const Rect place = r.cut_left(std::min(r.w, measure_tabs(ui, words)));
  if (const auto to = tabs(ui, place, "parts", words, static_cast<std::size_t>(model.part))) {
    outcome.part = static_cast<SupplyPart>(*to);
  }
  ui.end_region();
}

/// Pieces of the form, from the top down.
class Form {
 public:
  Form(Ui& ui, Rect rest) : ui_(ui), rest_(rest) {}

  void head(std::string_view words) {
    ui_.text_in(rest_.cut_top(30), TextStyle::head, Token::ink, words);
    rest_.cut_top(4);
  }
  void words(std::string_view words, Token token = Token::ink2) {
    const float high = ui_.measure_paragraph(rest_.w, TextStyle::small, words);
    ui_.paragraph(rest_.cut_top(high), TextStyle::small, token, words);
    rest_.cut_top(10);
  }
  void label(std::string_view words) {
    ui_.text_in(rest_.cut_top(20), TextStyle::small, Token::ink2, words);
    rest_.cut_top(2);
  }
  Rect row(float high, float after = 10) {
    const Rect r = rest_.cut_top(high);
    rest_.cut_top(after);
    return r;
  }
  /// Beside its words.
  void number(std::string_view id, std::string_view words, double& value, const Range& range) {
    Rect r = row(kFieldHigh);
    const Rect at = r.cut_right(std::min(168.0F, r.w * 0.56F));
    ui_.text_in(r, TextStyle::body, Token::ink, words);
    if (const auto now = stepper(ui_, at, id, value, range)) value = *now;
  }
  FieldEvent text(std::string_view id, std::string_view words, std::string& value,
                  std::string_view hint) {
    label(words);
    return field(ui_, row(kFieldHigh), id, value, {.hint = hint});
  }
  bool action(std::string_view words, const ButtonLook& look) {
    Rect r = row(36);
    return button(ui_, r.cut_left(std::min(r.w, measure_button(ui_, words, look))), words, look);
  }
  void outcome(const SupplyModel& model) {
    if (!model.done.empty()) words(model.done, Token::ink);
    for (const std::string& problem : model.problems) words(problem, Token::care);
  }
  [[nodiscard]] float bottom() const { return rest_.y; }

 private:
  Ui& ui_;
  Rect rest_;
};

std::size_t count_chosen(const SupplyModel& model) {
  return static_cast<std::size_t>(std::count_if(model.rows.begin(), model.rows.end(),
                                                [](const SupplyRow& r) { return r.chosen; }));
}

std::string write_count(std::size_t n) { return n == 1 ? "1 case" : fmt::format("{} cases", n); }

void draw_put(Form& form, const SupplyModel& model, SupplyOutcome& outcome) {
  const std::size_t chosen = count_chosen(model);
  if (form.action(fmt::format("Put {} into my folder", write_count(chosen)),
                  {.kind = ButtonKind::main,
                   .available = chosen > 0 && !model.working,
                   .why_not = model.working ? "Not while it is drawn." : "Nothing is chosen.",
                   .id = "put"})) {
    outcome.order = SupplyOrder::put;
  }
  form.words("My folder: " + model.own_folder);
}

void draw_drawing(Ui& ui, Form& form, SupplyModel& model, SupplyOutcome& outcome) {
  form.head("Draw patients");
  form.words(
      "Invented people, drawn from published figures. Each is examined by the engine and kept if "
      "it is what it claims to be.");
  form.label("What they have");
  // A chooser: one at a time, as the names are long.
  Rect r = form.row(kFieldHigh);
  const std::size_t last = model.diagnoses.size() - 1;
  if (button(ui, r.cut_left(36), "‹", {.available = model.diagnosis > 0, .id = "one before"}) &&
      model.diagnosis > 0) {
    --model.diagnosis;
  }
  if (button(ui, r.cut_right(36), "›", {.available = model.diagnosis < last, .id = "one after"}) &&
      model.diagnosis < last) {
    ++model.diagnosis;
  }
  r = r.inset(6, 0);
  ui.outline(r, Token::line, 1, kRadiusButton);
  const std::string_view what = model.diagnoses[model.diagnosis];
  const Rect inside = r.inset(8, 0);
  const bool fits = ui.measure_text(TextStyle::strong, what) <= inside.w;
  ui.text_in(inside, fits ? TextStyle::strong : TextStyle::small_strong, Token::ink, what,
             Align::centre);
  form.number("difficulty", "Difficulty", model.difficulty_percent, {0, 100, 10, 0, "%"});
  form.number("count", "How many", model.count, {1, kMostDrawn, 1, 0, ""});
  form.number("seed", "Seed", model.seed, {0, 999999, 1, 0, ""});
  if (model.working) {
    if (form.action(fmt::format("Stop ({} so far)", model.drawn), {.id = "stop"})) {
      outcome.order = SupplyOrder::stop;
    }
  } else if (form.action("Draw", {.id = "draw"})) {
    outcome.order = SupplyOrder::draw;
  }
  if (!model.rows.empty()) draw_put(form, model, outcome);
}

void draw_import(Form& form, SupplyModel& model, SupplyOutcome& outcome) {
  form.head("Import a pack");
  form.words(
      "First you see what is inside. Nothing is written before you say so, and nothing "
      "that stands in your folder is written over.");
  const FieldEvent event = form.text("path", "File", model.path, "/home/…/week1.json");
  if (form.action("Look inside", {.available = !model.path.empty() && !model.working,
                                  .why_not = "Name a file first.",
                                  .id = "look"}) ||
      (event.settled && !model.path.empty())) {
    outcome.order = SupplyOrder::look;
  }
  if (!model.title.empty()) form.words(model.title, Token::ink);
  if (!model.note.empty()) form.words(model.note);
  if (!model.rows.empty()) draw_put(form, model, outcome);
}

void draw_export(Form& form, SupplyModel& model, SupplyOutcome& outcome) {
  form.head("Export a pack");
  form.words(
      "One file with the chosen cases, byte for byte, and their checksums. The list is "
      "what search and filters left on the page of cases.");
  form.text("title", "Title", model.title, "Week 1");
  form.text("note", "Note", model.note, "For whom, what first");
  form.text("path", "File", model.path, "/home/…/week1.json");
  const std::size_t chosen = count_chosen(model);
  const bool ready = chosen > 0 && !model.title.empty() && !model.path.empty();
  if (form.action(fmt::format("Write {}", write_count(chosen)),
                  {.kind = ButtonKind::main,
                   .available = ready,
                   .why_not = chosen == 0 ? "Nothing is chosen." : "It needs a title and a file.",
                   .id = "write"}) &&
      ready) {
    outcome.order = SupplyOrder::hand_on;
  }
}

void draw_folder(Form& form, SupplyModel& model, SupplyOutcome& outcome) {
  form.head("Another folder");
  form.words(
      "The cases of one folder of your own stand before those that ship. New cases, drawn "
      "ones and copies go there.");
  const FieldEvent event = form.text("path", "Folder", model.path, "/home/…/cases");
  if (event.settled) outcome.order = SupplyOrder::go_to_path;
  if (!model.inside.empty()) form.words(model.inside, Token::ink);
  if (form.action("Open this folder", {.kind = ButtonKind::main,
                                       .available = !model.path.empty(),
                                       .why_not = "Name a folder first.",
                                       .id = "open"}) &&
      !model.path.empty()) {
    outcome.order = SupplyOrder::open;
  }
  if (form.action("Back to the usual one", {.kind = ButtonKind::quiet, .id = "usual"})) {
    outcome.order = SupplyOrder::usual;
  }
  form.words("Now: " + model.own_folder);
}

void draw_form(Ui& ui, const SupplyLayout& layout, SupplyModel& model, SupplyOutcome& outcome,
               float& height) {
  ui.begin_region("supply form", layout.form, Token::page);
  const float up = ui.begin_scroll("form", layout.form, height);
  const float margin = layout.compact ? 12 : 20;
  const float top = layout.form.y + 16 - up;
  Form form(ui, {layout.form.x + margin, top, layout.form.w - 2 * margin - 8, 4000});
  switch (model.part) {
    case SupplyPart::draw: draw_drawing(ui, form, model, outcome); break;
    case SupplyPart::take_in: draw_import(form, model, outcome); break;
    case SupplyPart::hand_on: draw_export(form, model, outcome); break;
    case SupplyPart::folder: draw_folder(form, model, outcome); break;
  }
  form.outcome(model);
  height = form.bottom() - top + 32;
  ui.end_scroll();
  ui.line({layout.form.right() - 1, layout.form.y}, {layout.form.right() - 1, layout.form.bottom()},
          Token::line);
  ui.end_region();
}

void draw_case(Ui& ui, Rect place, SupplyRow& row, std::size_t index) {
  Rect r = place.inset(12, 6);
  if (check(ui, Rect{r.x, r.y, r.w, 26}, row.who, row.chosen, fmt::format("case {}", index))) {
    row.chosen = !row.chosen;
  }
  r.cut_top(26);
  r.cut_left(30);
  ui.text_in(r.cut_top(20), TextStyle::small, Token::ink2, row.words);
  if (!row.numbers.empty()) {
    ui.text_in(r.cut_top(20), TextStyle::small, Token::ink, row.numbers);
  }
}

void draw_cases(Ui& ui, Rect inner, SupplyModel& model) {
  Rect head = inner.cut_top(44).inset(12, 5);
  const auto choose = [&](bool all) {
    for (SupplyRow& row : model.rows) row.chosen = all;
  };
  if (button(ui, head.cut_right(measure_button(ui, "None")), "None")) choose(false);
  head.cut_right(8);
  if (button(ui, head.cut_right(measure_button(ui, "All")), "All")) choose(true);
  ui.text_in(head, TextStyle::strong, Token::ink,
             fmt::format("{} of {} chosen", count_chosen(model), model.rows.size()));
  ui.line({inner.x, inner.y}, {inner.right(), inner.y}, Token::line);
  inner.cut_top(1);
  const bool numbers = std::any_of(model.rows.begin(), model.rows.end(),
                                   [](const SupplyRow& r) { return !r.numbers.empty(); });
  const float high = numbers ? 80 : 60;
  const float up = ui.begin_scroll("cases", inner, high * static_cast<float>(model.rows.size()));
  const auto first = static_cast<std::size_t>(std::max(0.0F, up / high - 1));
  const auto last = static_cast<std::size_t>((up + inner.h) / high + 2);
  for (std::size_t i = first; i < std::min(last, model.rows.size()); ++i) {
    const Rect place{inner.x, inner.y - up + high * static_cast<float>(i), inner.w - 8, high};
    draw_case(ui, place, model.rows[i], i);
    ui.line({place.x, place.bottom() - 1}, {place.right(), place.bottom() - 1}, Token::line);
  }
  ui.end_scroll();
}

void draw_folders(Ui& ui, Rect inner, SupplyModel& model, SupplyOutcome& outcome) {
  constexpr float kHigh = 34;
  const float up =
      ui.begin_scroll("folders", inner, kHigh * static_cast<float>(model.folders.size()) + 16);
  float y = inner.y + 8 - up;
  for (const std::string& name : model.folders) {
    const Rect place{inner.x + 8, y, inner.w - 24, kHigh - 2};
    if (list_row(ui, place, "folder " + name, name, false)) {
      if (name == "..") {
        const std::size_t slash = model.path.find_last_of('/');
        model.path = slash == std::string::npos || slash == 0 ? "/" : model.path.substr(0, slash);
      } else {
        model.path += (model.path.ends_with('/') ? "" : "/") + name;
      }
      outcome.order = SupplyOrder::go_to_path;
    }
    ui.text_in(place.inset(10, 0), TextStyle::body, Token::ink,
               name == ".." ? std::string_view{"One level up"} : std::string_view{name});
    y += kHigh;
  }
  ui.end_scroll();
}

void draw_list(Ui& ui, const SupplyLayout& layout, SupplyModel& model, SupplyOutcome& outcome) {
  ui.begin_region("supply list", layout.list, Token::page);
  const Rect r = layout.list.inset(layout.compact ? 8 : 20, layout.compact ? 8 : 16);
  sheet(ui, r);
  const Rect inner = r.inset(1);
  if (model.part == SupplyPart::folder) {
    draw_folders(ui, inner, model, outcome);
  } else if (model.rows.empty()) {
    static constexpr std::array<std::string_view, 3> kEmpty{
        "Nobody has been drawn yet.", "No pack has been looked into yet.",
        "There is no case on the page of cases."};
    ui.text_in(Rect{inner}.cut_top(56).inset(16, 0), TextStyle::body, Token::ink2,
               model.working ? "Drawing …" : kEmpty[static_cast<std::size_t>(model.part)]);
  } else {
    draw_cases(ui, inner, model);
  }
  ui.end_region();
}

}  // namespace

SupplyLayout make_supply_layout(const WindowSize& window) {
  const StudyLayout study = make_study_layout(window);
  SupplyLayout layout;
  layout.compact = study.compact;
  layout.bar = study.bar;
  Rect rest{0, study.bar.bottom(), std::max(kLeastWidth, window.width()),
            std::max(kLeastHeight, window.height()) - study.bar.bottom()};
  layout.form = rest.cut_left(study.compact ? 300.0F : 404.0F);
  layout.list = rest;
  return layout;
}

SupplyOutcome draw_supply(Ui& ui, const SupplyLayout& layout, SupplyModel& model) {
  SupplyOutcome outcome;
  ui.go_to(Place::study);
  draw_bar(ui, layout, model, outcome);
  draw_form(ui, layout, model, outcome, model.form_height);
  draw_list(ui, layout, model, outcome);
  return outcome;
}

}  // namespace redress::screens
