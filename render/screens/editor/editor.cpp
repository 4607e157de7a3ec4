// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/editor/editor.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "sim/cases/defaults.hpp"

namespace redress::screens::editor {

namespace {

constexpr float kRow = 38;
constexpr float kLabel = 172;
constexpr std::string_view kNewTitle = "A new case";  // render/app/editing.cpp begins with it

bool has_problem(const CaseDraft& draft, Section section) {
  if (draft.content().ok()) return false;
  const Problems& problems = draft.content().problems();
  return std::any_of(problems.begin(), problems.end(),
                     [section](const Problem& p) { return section_of(p.place) == section; });
}

std::optional<EditorOrder> draw_bar(Ui& ui, const EditorLayout& layout, EditorModel& model,
                                    EditorState& state) {
  std::optional<EditorOrder> order;
  ui.begin_region("editor bar", layout.bar, Token::sheet);
  Rect r = layout.bar;
  ui.line({r.x, r.bottom() - 1}, {r.right(), r.bottom() - 1}, Token::line);
  r = r.inset(16, 0);
  const auto row = [](const Rect& in) { return Rect{in.x, in.centre().y - 18, in.w, 36}; };
  const ButtonLook back{.kind = ButtonKind::quiet, .icon = Icon::back};
  if (button(ui, row(r.cut_left(measure_button(ui, "Cases", back))), "Cases", back)) {
    order = EditorOrder::leave;
  }
  r.cut_left(12);
  const auto at_right = [&](std::string_view words, const ButtonLook& look) {
    const Rect at = row(r.cut_right(measure_button(ui, words, look)));
    r.cut_right(8);
    return button(ui, at, words, look);
  };
  CaseDraft& draft = model.draft;
  const bool good = draft.content().ok();
  if (at_right("Save", {.kind = ButtonKind::main})) order = EditorOrder::save;
  if (at_right(layout.narrow ? "Examine" : "Examine it myself",
               {.available = good, .why_not = "First mend what is not allowed."})) {
    order = EditorOrder::examine;
  }
  const auto named = [&](std::string_view verb, std::string_view what) {
    return layout.narrow || what.empty() ? std::string{verb} : fmt::format("{} “{}”", verb, what);
  };
  const bool can_redo = !draft.redo_name().empty();
  const bool can_undo = !draft.undo_name().empty();
  const bool redo =
      at_right(named("Redo", draft.redo_name()),
               {.available = can_redo, .why_not = "Nothing was taken back.", .id = "redo"});
  const bool undo =
      at_right(named("Undo", draft.undo_name()),
               {.available = can_undo, .why_not = "Nothing was changed.", .id = "undo"});
  if (redo && can_redo) draft.redo();
  if (undo && can_undo) draft.undo();
  if (redo || undo) {
    state.typed.clear();
    state.changed.clear();
  }
  if (!layout.narrow) {
    const float title = ui.measure_text(TextStyle::head, "Case editor");
    ui.text_in(r.cut_left(title), TextStyle::head, Token::ink, "Case editor");
    r.cut_left(12);
  }
  const std::string file = model.file.empty() ? "a new case" : model.file;
  const std::string since = model.changed ? " · changed since, kept safe" : "";
  // As much as there is room for.
  for (const std::string& words : {file + " · " + model.saved + since, model.saved + since,
                                   std::string{model.changed ? "Changed, kept" : model.saved}}) {
    if (ui.measure_text(TextStyle::small, words) > r.w) continue;
    ui.text_in(r, TextStyle::small, Token::ink2, words);
    break;
  }
  ui.end_region();
  return order;
}

void draw_sections(Ui& ui, const EditorLayout& layout, const EditorModel& model,
                   EditorState& state) {
  ui.begin_region("sections", layout.sections, Token::page);
  const auto choose = [&](Section section) {
    state.section = section;
    state.typed.clear();
    state.changed.clear();
  };
  const Rect r = layout.sections;
  if (layout.narrow) {
    constexpr float kStep = 40;
    Rect rest = r.inset(12, 4);
    if (layout.compact) {
      // What the button leads to.
      constexpr std::array<std::string_view, 3> kNext{"Findings", "Difficulty", "Fields"};
      const auto turn = static_cast<std::size_t>(state.turn);
      if (button(ui, rest.cut_right(100), kNext[turn], {.id = "turn"})) {
        state.turn = static_cast<Turn>((turn + 1) % kNext.size());
      }
      rest.cut_right(12);
    }
    const auto now = static_cast<std::size_t>(state.section);
    if (button(ui, rest.cut_left(kStep), "‹", {.available = now > 0, .id = "section before"}) &&
        now > 0) {
      choose(static_cast<Section>(now - 1));
    }
    if (button(ui, rest.cut_right(kStep), "›",
               {.available = now + 1 < kSections, .id = "section after"}) &&
        now + 1 < kSections) {
      choose(static_cast<Section>(now + 1));
    }
    const bool wrong = has_problem(model.draft, state.section);
    ui.text_in(rest.inset(12, 0), TextStyle::strong, wrong ? Token::care : Token::ink,
               fmt::format("{} ({} of {})", title_of(state.section), now + 1, kSections));
    ui.end_region();
    return;
  }
  float y = r.y + 12;
  for (std::size_t i = 0; i < kSections; ++i) {
    const auto section = static_cast<Section>(i);
    const Rect row{r.x + 12, y, r.w - 24, 34};
    const std::string_view title = title_of(section);
    if (list_row(ui, row, title, title, section == state.section)) choose(section);
    ui.text_in(row.inset(12, 0), section == state.section ? TextStyle::strong : TextStyle::body,
               section == state.section ? Token::ink : Token::ink2, title);
    if (has_problem(model.draft, section)) {
      icon(ui, Icon::caution, {row.right() - 16, row.centre().y}, Token::care, 16);
    }
    y += 36;
  }
  ui.line({r.right() - 1, r.y}, {r.right() - 1, r.bottom()}, Token::line);
  ui.end_region();
}

Typed* find_typed(EditorState& state, const std::string& pointer) {
  const auto found = std::find_if(state.typed.begin(), state.typed.end(),
                                  [&](const Typed& t) { return t.pointer == pointer; });
  return found == state.typed.end() ? nullptr : &*found;
}

void forget_typed(EditorState& state, const std::string& pointer) {
  std::erase_if(state.typed, [&](const Typed& t) { return t.pointer == pointer; });
}

void note_change(EditorState& state, const Field& field, const std::string& pointer,
                 const std::string& text) {
  state.changed = pointer;
  state.changed_name = text.empty() ? fmt::format("{}: default", field.label)
                                    : fmt::format("{}: {}", field.label, text);
}

/// Returns the height used: under the label if there is no room beside it.
float draw_choice(Ui& ui, Rect at, const Field& field, const std::string& pointer,
                  EditorModel& model, EditorState& state) {
  static constexpr std::string_view kYesNo[] = {"yes", "no"};
  const std::span<const std::string_view> values =
      field.kind == FieldKind::yes_no ? std::span<const std::string_view>(kYesNo) : field.choices;
  std::vector<std::string> shown;
  std::vector<std::string_view> words;
  for (const std::string_view value : values) {
    std::string label{value};
    std::replace(label.begin(), label.end(), '_', ' ');
    shown.push_back(std::move(label));
  }
  words.assign(shown.begin(), shown.end());
  const std::string now = default_text(model.draft, field, state.eye);
  const auto found = std::find(values.begin(), values.end(), now);
  std::optional<std::size_t> chosen;
  if (found != values.end()) chosen = static_cast<std::size_t>(found - values.begin());
  const float width = measure_one_of_few(ui, words);
  float used = kRow;
  if (width > at.w) {
    at = {at.x - kLabel, at.y + 30, at.w + kLabel, at.h};
    used += 32;
  }
  if (const auto which = one_of_few(ui, {at.x, at.y, width, at.h}, pointer, words, chosen)) {
    const std::string text{values[*which]};
    (void)write_text(model.draft, field, state.eye, text);
    model.draft.settle();
    note_change(state, field, pointer, shown[*which]);
  }
  return used;
}

/// Returns the height used.
float draw_field(Ui& ui, const Rect& row, const Field& field, EditorModel& model,
                 EditorState& state) {
  const std::string pointer = place_of(field, state.eye);
  const Rect label{row.x, row.y, kLabel - 8, 32};
  ui.text_in(label, model.draft.find(pointer) != nullptr ? TextStyle::strong : TextStyle::body,
             Token::ink, field.label);
  Rect at{row.x + kLabel, row.y, row.w - kLabel, 32};
  if (field.kind == FieldKind::choice || field.kind == FieldKind::yes_no) {
    return draw_choice(ui, at, field, pointer, model, state);
  }
  const bool short_one = field.kind == FieldKind::number;
  const bool long_one = field.kind == FieldKind::words || field.kind == FieldKind::list ||
                        field.kind == FieldKind::pairs;
  // What is written in words has the whole width, under its label.
  if (long_one) at = {row.x, row.y + 28, row.w, 32};
  const float used_at_least = long_one ? kRow + 30 : kRow;
  const Rect box = short_one ? at.cut_left(96) : Rect{at};
  const Typed* typed = find_typed(state, pointer);
  std::string text = typed != nullptr ? typed->text : written_text(model.draft, field, state.eye);
  const std::string hint = default_text(model.draft, field, state.eye);
  FieldLook look;
  look.hint = hint.empty() && !short_one ? field.unit : std::string_view{hint};
  if (!long_one) look.longest = 48;  // a value
  // What a new case is called until somebody gives it a name is no text to write on.
  const bool nameless = field.pointer == "/title" && text == kNewTitle;
  if (nameless) {
    text.clear();
    look.hint = kNewTitle;
  }
  look.not_read = typed != nullptr && !typed->problem.empty();
  const FieldEvent event = redress::screens::field(ui, box, pointer, text, look);
  if (event.changed) {
    Typed now{pointer, text, write_text(model.draft, field, state.eye, text)};
    note_change(state, field, pointer, text);
    if (Typed* before = find_typed(state, pointer)) {
      *before = std::move(now);
    } else {
      state.typed.push_back(std::move(now));
    }
  }
  if (event.settled || event.escaped) {
    model.draft.settle();
    const Typed* last = find_typed(state, pointer);
    if (event.escaped || (last != nullptr && last->problem.empty())) forget_typed(state, pointer);
  }
  if (short_one && !field.unit.empty()) {
    at.cut_left(8);
    const float used = ui.measure_paragraph(at.w, TextStyle::small, field.unit);
    ui.paragraph({at.x, at.centre().y - used / 2, at.w, used}, TextStyle::small, Token::ink3,
                 field.unit);
  }
  const Typed* after = find_typed(state, pointer);
  if (after == nullptr || after->problem.empty()) return used_at_least;
  const float left = long_one ? 0 : kLabel;
  const float used = ui.paragraph({row.x + left, row.y + used_at_least - 2, row.w - left, 60},
                                  TextStyle::small, Token::care, after->problem);
  return used_at_least + used + 4;
}

/// What the value does, where it comes from if it is not written.
float draw_sentence(Ui& ui, const Rect& row, const CaseDraft& draft, const EditorState& state) {
  for (const Field& field : fields()) {
    if (field.pointer.empty() || place_of(field, state.eye) != state.changed) continue;
    std::string words{field.does};
    const std::string_view source = find_default_source(state.changed);
    if (!source.empty() && draft.find(state.changed) == nullptr) {
      words += fmt::format("{}Not written: {}.", words.empty() ? "" : " ", source);
    }
    if (words.empty()) return 0;
    const float used = ui.measure_paragraph(row.w - 24, TextStyle::small, words);
    const Rect box{row.x, row.y, row.w, used + 42};
    ui.fill(box, Token::well, kRadiusButton);
    ui.text_in({box.x + 12, box.y + 8, box.w - 24, 22}, TextStyle::small_strong, Token::ink,
               state.changed_name);
    ui.paragraph({box.x + 12, box.y + 32, box.w - 24, used}, TextStyle::small, Token::ink2, words);
    return box.h + 12;
  }
  return 0;
}

void draw_fields(Ui& ui, const EditorLayout& layout, EditorModel& model, EditorState& state) {
  ui.begin_region("fields", layout.fields, Token::page);
  const float up = ui.begin_scroll("fields", layout.fields, state.height);
  const Rect area = layout.fields.inset(20, 0);
  float y = area.y + 16 - up;
  const float top = y;
  const float width = area.w - 8;
  ui.text_in({area.x, y, width, 28}, TextStyle::head, Token::ink, title_of(state.section));
  y += 32;
  y +=
      ui.paragraph({area.x, y, width, 60}, TextStyle::small, Token::ink2, words_of(state.section)) +
      10;
  if (has_eyes(state.section)) {
    static constexpr std::string_view kEyes[] = {"Right eye", "Left eye"};
    const std::size_t now = state.eye == Eye::right ? 0 : 1;
    const Rect at{area.x, y, measure_one_of_few(ui, kEyes), 34};
    if (const auto which = one_of_few(ui, at, "eye", kEyes, now)) {
      state.eye = *which == 0 ? Eye::right : Eye::left;
      state.typed.clear();
      state.changed.clear();
    }
    y += 46;
  }
  y += draw_sentence(ui, {area.x, y, width, 0}, model.draft, state);
  for (const Field& field : fields()) {
    if (field.section != state.section || !is_in_reach(model.draft, field)) continue;
    if (field.pointer.empty()) {
      y += 8;
      ui.text_in({area.x, y, width, 22}, TextStyle::strong, Token::ink, field.label);
      y += 30;
      continue;
    }
    ui.push_id(place_of(field, state.eye));
    y += draw_field(ui, {area.x, y, width, 32}, field, model, state);
    ui.pop_id();
  }
  state.height = y + 16 - top + 16;
  ui.end_scroll();
  ui.line({layout.fields.right() - 1, layout.fields.y},
          {layout.fields.right() - 1, layout.fields.bottom()}, Token::line);
  ui.end_region();
}

}  // namespace

EditorLayout make_editor_layout(const WindowSize& window) {
  EditorLayout layout;
  const StudyLayout study = make_study_layout(window);
  layout.narrow = study.narrow;
  layout.compact = study.compact;
  layout.bar = study.bar;
  Rect rest{0, study.bar.bottom(), std::max(kLeastWidth, window.width()),
            std::max(kLeastHeight, window.height()) - study.bar.bottom()};
  constexpr float kSectionList = 176;
  constexpr float kFieldColumn = 404;
  if (study.narrow) {
    layout.sections = rest.cut_top(44);
    layout.fields = study.compact ? rest : rest.cut_left(kFieldColumn);
  } else {
    layout.sections = rest.cut_left(kSectionList);
    layout.fields = rest.cut_left(kFieldColumn);
  }
  rest = rest.inset(study.compact ? 8 : 16, study.compact ? 8 : 14);
  const float gap = 12;
  if (rest.h > 420) {
    Rect top = rest.cut_top(std::round(rest.h * 0.26F));
    layout.picture = top.cut_left(std::round(top.w * 0.4F));
    top.cut_left(gap);
    layout.gazes = top;
    rest.cut_top(gap);
  }
  constexpr float kTraces = 168;
  if (rest.h > 2.5F * kTraces) {
    layout.traces = rest.cut_bottom(kTraces);
    rest.cut_bottom(gap);
  }
  // Beside what does not agree, as drawn; in a low window, where that is low as well, beside the
  // traces.
  constexpr float kBothHigh = 330;
  const float share = 0.44F;
  if (study.compact) {
    layout.difficulty = rest;
  } else if (rest.h < kBothHigh && !layout.traces.empty()) {
    layout.difficulty = layout.traces.cut_right(std::round(layout.traces.w * share));
    layout.traces.cut_right(gap);
  }
  layout.findings = rest.cut_top(std::round((rest.h - gap) * 0.56F));
  rest.cut_top(gap);
  if (layout.difficulty.empty()) {
    layout.difficulty = rest.cut_right(std::round(rest.w * share));
    rest.cut_right(gap);
  }
  layout.advice = rest;
  return layout;
}

std::optional<EditorOrder> draw_editor(Ui& ui, const EditorLayout& layout, EditorModel& model,
                                       EditorState& state) {
  std::optional<EditorOrder> order = draw_bar(ui, layout, model, state);
  draw_sections(ui, layout, model, state);
  const Turn turn = state.turn;
  if (!layout.compact || turn == Turn::fields) draw_fields(ui, layout, model, state);
  if (!layout.compact || turn == Turn::difficulty) draw_difficulty(ui, layout.difficulty, model);
  if (layout.compact && turn != Turn::findings) return order;
  if (const auto other = draw_study(ui, layout, model, state); other && !order) order = other;
  return order;
}

}  // namespace redress::screens::editor
