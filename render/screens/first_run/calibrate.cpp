// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The card against the outline. Its size on the screen says how many pixels a millimetre has.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screens/first_run/first_run.hpp"

namespace redress::screens {

namespace {

constexpr double kLeast = 1.5;   // pixels a millimetre: a wall screen of 1920 over 1.3 m
constexpr double kMost = 30;     // a telephone
constexpr double kStepMm = 0.1;  // of the outline's width, at one press

// The front of the iris turns 0.12 mm for a prism dioptre (12 mm from the centre of rotation).
constexpr double kMmPerPrismDioptre = 0.12;

void change_width(CalibrateModel& model, double by_mm) {
  model.pixels_per_mm =
      std::clamp(model.pixels_per_mm * (kCardWidthMm + by_mm) / kCardWidthMm, kLeast, kMost);
}

void draw_outline(Ui& ui, const Rect& ground, CalibrateModel& model) {
  ui.fill(ground, Token::well, kRadiusSheet);
  const float per_mm = static_cast<float>(model.pixels_per_mm) / ui.scale();
  const float wide = static_cast<float>(kCardWidthMm) * per_mm;
  const float high = static_cast<float>(kCardHeightMm) * per_mm;
  const Rect card{ground.centre().x - wide / 2, ground.centre().y - 12 - high / 2, wide, high};
  ui.push_clip(ground);
  const float corner = static_cast<float>(kCardCornerMm) * per_mm;
  ui.fill(card, Token::sheet, corner);
  ui.outline(card, Token::ink, 2, corner);
  ui.text_in(card, TextStyle::body, Token::ink2, "your card here", Align::centre);
  const float y = std::min(card.bottom() + 24, ground.bottom() - 16);
  const std::string width = fmt::format("{:.2f} mm", kCardWidthMm);
  const float half = ui.measure_text(TextStyle::strong, width) / 2 + 8;
  ui.line({card.x, y - 6}, {card.x, y + 6}, Token::edge);
  ui.line({card.right() - 1, y - 6}, {card.right() - 1, y + 6}, Token::edge);
  ui.line({card.x, y}, {card.centre().x - half, y}, Token::edge);
  ui.line({card.centre().x + half, y}, {card.right(), y}, Token::edge);
  ui.text_in({card.centre().x - half, y - 11, 2 * half, 22}, TextStyle::strong, Token::ink, width,
             Align::centre);
  ui.pop_clip();

  constexpr float kHandle = 18;
  const Rect handle{std::min(card.right(), ground.right() - kHandle) - kHandle,
                    std::min(card.bottom(), ground.bottom() - kHandle) - kHandle, 2 * kHandle,
                    2 * kHandle};
  const Touch touch = ui.touch("corner", handle, "corner", PartKind::drawing);
  ui.disc(handle.centre(), 13, Token::act);
  icon(ui, Icon::pull, handle.centre(), Token::on_act, 16);
  if (touch.focused) ui.ring(handle.centre(), 17, Token::act, kRing);
  if (touch.held) {
    // The outline stays where it is; the corner follows the pointer.
    const float wanted = 2 * (touch.pointer.x - ground.centre().x);
    model.pixels_per_mm =
        std::clamp(static_cast<double>(wanted * ui.scale()) / kCardWidthMm, kLeast, kMost);
  }
  if (touch.left_key || touch.down_key) change_width(model, -kStepMm);
  if (touch.right_key || touch.up_key) change_width(model, kStepMm);
}

void draw_fact(Ui& ui, Rect& r, std::string_view what, std::string_view value) {
  Rect row = r.cut_top(30);
  const float width = ui.measure_text(TextStyle::strong, value);
  ui.text_in(row.cut_right(width), TextStyle::strong, Token::ink, value);
  row.cut_right(8);
  ui.text_in(row, TextStyle::body, Token::ink2, what);
}

void draw_why(Ui& ui, Rect r, const CalibrateModel& model, bool short_of_room) {
  sheet(ui, r);
  r = r.inset(20, short_of_room ? 10 : 16);
  if (!short_of_room) {
    ui.text_in(r.cut_top(26), TextStyle::subhead, Token::ink, "Why it matters");
    r.cut_top(8);
    const Rect words = r.cut_top(66);
    ui.paragraph(words, TextStyle::body, Token::ink2,
                 "A movement of 1Δ turns the edge of the iris by 0.12 mm. Redress can then say how "
                 "large that is on your screen, and never has to guess.");
    r.cut_top(8);
    ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
    r.cut_top(6);
  }
  const ShownSize size = calc_shown_size(model.view_pixels_per_mm, model.pixels_per_mm);
  draw_fact(ui, r, "Both eyes in view", fmt::format("{:.1f}× life size", size.magnification));
  draw_fact(ui, r, "1Δ on this screen", fmt::format("{:.2f} mm", size.prism_dioptre_mm));
  draw_fact(ui, r,
            short_of_room
                ? fmt::format("from {:.0f} cm, as from", model.eye_distance_cm)
                : fmt::format("seen from {:.0f} cm, as large as from", model.eye_distance_cm),
            fmt::format("{:.0f} cm", model.eye_distance_cm / std::max(0.01, size.magnification)));
}

void draw_distance(Ui& ui, Rect r, CalibrateModel& model, bool short_of_room) {
  sheet(ui, r);
  r = r.inset(20, short_of_room ? 8 : 16);
  ui.text_in(r.cut_top(26), short_of_room ? TextStyle::strong : TextStyle::subhead, Token::ink,
             short_of_room ? "Your eye to the screen" : "How far is your eye from the screen?");
  r.cut_top(short_of_room ? 2 : 8);
  Rect row = r.cut_top(36);
  const Range range{20, 200, 1, 0, "cm"};
  if (const auto value =
          stepper(ui, row.cut_left(186), "eye distance", model.eye_distance_cm, range)) {
    model.eye_distance_cm = *value;
  }
  row.cut_left(12);
  if (!short_of_room) {
    ui.text_in(row, TextStyle::small, Token::ink2, "an arm’s length is about 60");
  }
}

CalibrateOutcome draw_end(Ui& ui, Rect row, const CalibrateModel& model) {
  CalibrateOutcome outcome;
  const std::string_view words = model.first_run ? "Done, show me a patient" : "Done";
  const ButtonLook main{.kind = ButtonKind::main};
  outcome.done = button(ui, row.cut_right(measure_button(ui, words, main) + 8), words, main);
  row.cut_right(12);
  const std::string_view later = model.first_run ? "Later" : "Leave it";
  outcome.later = button(ui, row.cut_right(measure_button(ui, later)), later);
  return outcome;
}

bool draw_bar(Ui& ui, const StudyLayout& layout, const CalibrateModel& model) {
  ui.begin_region("bar", layout.bar, Token::sheet);
  const Rect& bar = layout.bar;
  ui.line({bar.x, bar.bottom() - 1}, {bar.right(), bar.bottom() - 1}, Token::line);
  Rect r = bar.inset(layout.compact ? 6 : 12, 0);
  const ButtonLook look{.kind = ButtonKind::quiet, .icon = Icon::back};
  const Rect back = Rect{r.cut_left(measure_button(ui, "Back", look))}.inset(0, 6);
  const bool clicked = button(ui, back, "Back", look);
  r.cut_left(8);
  ui.line({r.x, r.centre().y - 12}, {r.x, r.centre().y + 12}, Token::line);
  r.cut_left(16);
  if (model.first_run) {
    ui.text_in(r.cut_right(84), TextStyle::small, Token::ink2, "Step 2 of 2", Align::right);
  }
  ui.text_in(r, TextStyle::subhead, Token::ink, "Make this screen true to size");
  ui.end_region();
  return clicked;
}

}  // namespace

ShownSize calc_shown_size(double view_pixels_per_mm, double screen_pixels_per_mm) {
  const double magnification = view_pixels_per_mm / screen_pixels_per_mm;
  return {magnification, magnification * kMmPerPrismDioptre};
}

CalibrateOutcome draw_calibrate(Ui& ui, const StudyLayout& layout, CalibrateModel& model) {
  ui.go_to(Place::study);
  const bool back = draw_bar(ui, layout, model);
  ui.begin_region("calibrate",
                  {0, layout.bar.bottom(), ui.size().x, ui.size().y - layout.bar.bottom()},
                  Token::page);
  const bool compact = layout.compact;
  Rect body = layout.body;
  if (!compact) body = body.inset(std::min(56.0F, body.w * 0.03F), ui.size().y < 800 ? 8 : 40);
  Rect right = body.cut_right(compact ? body.w * 0.46F : std::min(440.0F, body.w * 0.38F));
  body.cut_right(compact ? 12 : std::min(80.0F, body.w * 0.08F));

  CalibrateOutcome outcome;
  if (!compact) {
    ui.text_in(body.cut_top(36), TextStyle::head, Token::ink, "Hold a card against the outline");
    body.cut_top(4);
  }
  const std::string_view how =
      compact ? "Hold a bank card (ID-1) against it. Pull the corner until it fits."
              : "Any bank or identity card of the usual size (ID-1, 85.60 × 53.98 mm). Pull the "
                "corner, or press ← →, until the outline is exactly as large as the card.";
  const float words = ui.measure_paragraph(body.w, TextStyle::body, how);
  ui.paragraph(body.cut_top(words), TextStyle::body, Token::ink2, how);
  body.cut_top(compact ? 6 : 20);
  Rect steps = compact ? body.cut_bottom(36) : Rect{};
  if (compact) body.cut_bottom(6);
  // As high as the card needs, and some ground round it.
  const float high = static_cast<float>(kCardHeightMm * model.pixels_per_mm) / ui.scale() + 120;
  draw_outline(ui, body.cut_top(compact ? body.h : std::min(body.h - 56, std::max(328.0F, high))),
               model);
  if (!compact) {
    body.cut_top(20);
    steps = body.cut_top(36);
  }
  const ButtonLook less{.icon = Icon::minus, .id = "narrower"};
  const ButtonLook more{.icon = Icon::plus, .id = "wider"};
  const float wide = measure_button(ui, "0.1 mm", less);
  if (button(ui, steps.cut_left(wide), "0.1 mm", less)) change_width(model, -kStepMm);
  steps.cut_left(12);
  if (button(ui, steps.cut_left(wide), "0.1 mm", more)) change_width(model, kStepMm);
  steps.cut_left(16);
  const std::string pixels = fmt::format("{:.2f} px per mm", model.pixels_per_mm);
  const std::string whole =
      pixels + fmt::format("  ·  this screen is {:.0f} mm wide ({} px)",
                           model.screen_width_px / model.pixels_per_mm, model.screen_width_px);
  const bool fits = ui.measure_text(TextStyle::body, whole) <= steps.w;
  if (fits || ui.measure_text(TextStyle::body, pixels) <= steps.w) {
    ui.text_in(steps, TextStyle::body, Token::ink2, fits ? whole : pixels);
  }

  draw_why(ui, right.cut_top(compact ? 110 : 248), model, compact);
  right.cut_top(compact ? 8 : 16);
  draw_distance(ui, right.cut_top(compact ? 80 : 112), model, compact);
  right.cut_top(compact ? 8 : 12);
  if (!compact) {
    icon(ui, Icon::caution, {right.x + 8, right.y + 9}, Token::ink2, 16);
    const std::string_view caution =
        "A projector or a mirrored screen needs its own calibration. Without one, Redress writes "
        "“size on this screen not known”, and an assessment asks for it first.";
    const float height = ui.measure_paragraph(right.w - 24, TextStyle::small, caution);
    Rect note = right.cut_top(height);
    note.cut_left(24);
    ui.paragraph(note, TextStyle::small, Token::ink2, caution);
    right.cut_top(20);
  }
  const CalibrateOutcome end = draw_end(ui, right.cut_top(compact ? 36 : 42), model);
  outcome.later = end.later;
  outcome.done = end.done;
  outcome.back = back;
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens
