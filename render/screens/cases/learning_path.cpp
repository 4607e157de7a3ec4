// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The path of nine steps: what is practised in which order, and how far the learner has come.
#include <array>

#include <fmt/format.h>

#include "render/screens/cases/cases_parts.hpp"

namespace redress::screens {

namespace {

struct StepWords {
  std::string_view title;
  std::string_view words;
};
constexpr std::array<StepWords, kPathSteps> kSteps{{
    {"Hold still", "Fixation, occluder"},
    {"One eye alone", "Cover and uncover"},
    {"Which way", "Eso, exo, R/L, L/R"},
    {"How much", "Sizes 1Δ to 40Δ"},
    {"Latent or not", "Phoria and tropia"},
    {"With prism", "Neutral, reversal"},
    {"Comes and goes", "Control of a tropia"},
    {"Small, hidden", "Four-dioptre test"},
    {"Looking around", "Nine gazes"},
}};

void draw_step(Ui& ui, const Rect& cell, std::size_t index, const PathStep& step, bool here,
               bool done_before, const CasesModel& model, CasesOutcome& outcome) {
  constexpr float kRadius = 18;
  const Point middle{cell.centre().x, cell.y + kRadius + 2};
  const bool done = step.cases > 0 && step.firm == step.cases;
  // The way to it; full where the step before is done.
  if (index > 0) {
    ui.line({middle.x - cell.w + kRadius + 2, middle.y}, {middle.x - kRadius - 2, middle.y},
            done_before ? Token::act : Token::line, 2);
  }
  const Rect box{middle.x - kRadius - 4, cell.y - 2, 2 * kRadius + 8, 2 * kRadius + 8};
  const bool any = step.cases > 0 || model.reading;
  const Touch touch = ui.touch(fmt::format("step {}", index + 1), box, kSteps[index].title,
                               PartKind::button, step.cases > 0);
  if (touch.hovered && any) ui.disc(middle, kRadius, Token::well);
  if (touch.hovered && !any) ui.hint(box, "No case for this step yet.");
  if (touch.focused) ui.focus_ring(box, kRadius + 4);
  if (done) {
    ui.disc(middle, kRadius, Token::act);
    icon(ui, Icon::check, middle, Token::on_act, 18);
  } else {
    ui.ring(middle, kRadius,
            here  ? Token::act
            : any ? Token::edge
                  : Token::line,
            here ? 3.0F : 1.5F);
    const std::string number = fmt::format("{}", index + 1);
    ui.text_in({middle.x - 16, middle.y - 11, 32, 22},
               here ? TextStyle::strong : TextStyle::small_strong,
               here  ? Token::act
               : any ? Token::ink2
                     : Token::ink3,
               number, Align::centre);
  }
  float y = middle.y + kRadius + 10;
  ui.text_in({cell.x, y, cell.w, 20}, TextStyle::strong, any ? Token::ink : Token::ink2,
             kSteps[index].title, Align::centre);
  y += 21;
  ui.text_in({cell.x, y, cell.w, 18}, TextStyle::small, Token::ink2, kSteps[index].words,
             Align::centre);
  y += 19;
  if (here) {
    ui.text_in({cell.x, y, cell.w, 18}, TextStyle::small_strong, Token::act,
               fmt::format("you are here, {} of {}", step.firm, step.cases), Align::centre);
  } else if (!any) {
    ui.text_in({cell.x, y, cell.w, 18}, TextStyle::small, Token::ink3, "no case yet",
               Align::centre);
  }
  if (!touch.clicked) return;
  const int number = static_cast<int>(index) + 1;
  outcome.step = model.step == number ? 0 : number;
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    if (model.rows[i].step != number) continue;
    outcome.choose = i;
    return;
  }
}

}  // namespace

std::string_view title_of_step(std::size_t index) { return kSteps.at(index).title; }

void draw_path(Ui& ui, const Rect& r, CasesModel& model, CasesOutcome& outcome) {
  sheet(ui, r);
  Rect inner = r.inset(20, 0);
  Rect head = inner.cut_top(56);
  ui.text_in(head.cut_left(120), TextStyle::subhead, Token::ink, "Your path");
  draw_next(ui, head, model, true, false, outcome);
  inner.cut_top(8);
  const std::array<PathStep, kPathSteps> path = find_path(model);
  const std::optional<std::size_t> here = find_here(path);
  const float width = inner.w / static_cast<float>(kPathSteps);
  bool before = false;
  for (std::size_t i = 0; i < kPathSteps; ++i) {
    draw_step(ui, {inner.x + width * static_cast<float>(i), inner.y, width, inner.h}, i, path[i],
              here == i, before, model, outcome);
    // A step that has no case stands in nobody's way.
    if (path[i].cases > 0) before = path[i].firm == path[i].cases;
  }
}

std::array<PathStep, kPathSteps> find_path(const CasesModel& model) {
  std::array<PathStep, kPathSteps> path{};
  for (const CaseRow& row : model.rows) {
    if (row.step < 1 || row.step > static_cast<int>(kPathSteps)) continue;
    PathStep& step = path[static_cast<std::size_t>(row.step - 1)];
    ++step.cases;
    if (row.times_done > 0 && row.best.value_or(0) >= kGoodMarks) ++step.firm;
  }
  return path;
}

std::optional<std::size_t> find_here(const std::array<PathStep, kPathSteps>& path) {
  for (std::size_t i = 0; i < path.size(); ++i) {
    if (path[i].firm < path[i].cases) return i;
  }
  return std::nullopt;
}

}  // namespace redress::screens
