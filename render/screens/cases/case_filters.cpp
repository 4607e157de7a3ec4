// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is searched for and shown: words, what was done, level, goal.
#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include <fmt/format.h>

#include "render/screens/cases/cases_parts.hpp"

namespace redress::screens {

namespace {

/// Lower case of ASCII, enough to find a name.
std::string fold(std::string_view text) {
  std::string folded{text};
  for (char& c : folded) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return folded;
}

std::vector<std::string> find_words(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : fold(text) + " ") {
    if (c != ' ') {
      word += c;
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  return words;
}

bool is_under(const CaseRow& row, std::size_t filter) {
  switch (filter) {
    case 1: return row.times_done == 0;
    case 2: return row.times_done > 0 && row.best.value_or(0) < kGoodMarks;
    case 3: return row.own;
    default: return true;
  }
}

bool holds_all(const std::string& text, const std::vector<std::string>& words) {
  return std::all_of(words.begin(), words.end(),
                     [&](const std::string& word) { return text.find(word) != std::string::npos; });
}

/// A heading of which one is chosen: a click chooses it. True: clicked. No count: not known yet.
bool draw_heading(Ui& ui, Rect row, std::string_view id, std::string_view words,
                  std::optional<std::size_t> count, bool on) {
  const bool clicked = list_row(ui, row, id, words, on);
  row = row.inset(8, 0);
  const Rect at = row.cut_right(44);
  if (count) {
    ui.figures_in(at, TextStyle::small, Token::ink2, fmt::format("{}", *count), Align::right);
  }
  ui.text_in(row, on ? TextStyle::strong : TextStyle::body, on ? Token::ink : Token::ink2, words);
  return clicked;
}

void draw_levels(Ui& ui, Rect row, const CasesModel& model, const CaseCounts& counts,
                 CasesOutcome& outcome) {
  static constexpr std::array<std::string_view, 5> kWords{"1", "2", "3", "4", "5"};
  for (int level = 1; level <= 5; ++level) {
    const auto i = static_cast<std::size_t>(level);
    const std::string id = fmt::format("level {}", level);
    const bool on = model.level == level;
    if (chip(ui, row.cut_left(38), kWords[i - 1],
             {.chosen = on, .available = on || counts.levels[i] > 0, .id = id})) {
      outcome.level = on ? 0 : level;
    }
    row.cut_left(6);
  }
}

}  // namespace

std::string make_searched(const CaseRow& row) {
  return fold(row.name + " " + row.complaint + " " + row.goal);
}

std::vector<std::size_t> find_shown(const CasesModel& model) {
  std::vector<std::size_t> shown;
  const std::vector<std::string> words = find_words(model.search);
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    const CaseRow& row = model.rows[i];
    if (!is_under(row, model.filter)) continue;
    if (model.level != 0 && row.level != model.level) continue;
    if (model.step != 0 && row.step != model.step) continue;
    if (words.empty() ||
        holds_all(row.searched.empty() ? make_searched(row) : row.searched, words)) {
      shown.push_back(i);
    }
  }
  return shown;
}

CaseCounts count_cases(const CasesModel& model) {
  CaseCounts counts;
  for (const CaseRow& row : model.rows) {
    for (std::size_t i = 0; i < counts.filters.size(); ++i) {
      if (is_under(row, i)) ++counts.filters[i];
    }
    const auto place = [](int n, std::size_t end) {
      return n > 0 && static_cast<std::size_t>(n) < end ? static_cast<std::size_t>(n) : 0;
    };
    ++counts.levels[place(row.level, counts.levels.size())];
    ++counts.steps[place(row.step, counts.steps.size())];
  }
  return counts;
}

void draw_sidebar(Ui& ui, Rect r, CasesModel& model, CasesOutcome& outcome) {
  field(ui, r.cut_top(36), "search", model.search, {.hint = "Name, complaint or goal"});
  r.cut_top(12);
  if (model.writes) {
    Rect row = r.cut_top(36);
    draw_writing(ui, row, model.chosen ? model.chosen : find_next(model), outcome);
    r.cut_top(12);
  }
  const CaseCounts counts = count_cases(model);
  constexpr float kHeading = 30;
  constexpr float kTitle = 24;
  constexpr std::string_view kAfter =
      "What a patient has is told after the card is finished, beside what you wrote.";
  std::size_t goals = 0;
  for (std::size_t i = 1; i <= kPathSteps; ++i) goals += counts.steps[i] > 0 ? 1U : 0U;
  const float words = ui.measure_paragraph(r.w - 12, TextStyle::small, kAfter);
  const float content =
      4 * kHeading + 3 * kTitle + 34 + 12 + 12 + 16 + words + kHeading * static_cast<float>(goals);
  const float up = ui.begin_scroll("filters", r, content);
  Rect rest{r.x, r.y - up, content > r.h ? r.w - 10 : r.w, content};
  ui.text_in(rest.cut_top(kTitle), TextStyle::small, Token::ink2, "Show");
  for (std::size_t i = 0; i < std::size(kCaseFilters); ++i) {
    const auto count = model.reading ? std::nullopt : std::optional(counts.filters[i]);
    if (draw_heading(ui, rest.cut_top(kHeading), kCaseFilters[i], kCaseFilters[i], count,
                     model.filter == i)) {
      outcome.filter = i;
    }
  }
  rest.cut_top(12);
  ui.text_in(rest.cut_top(kTitle), TextStyle::small, Token::ink2, "Level");
  draw_levels(ui, rest.cut_top(34), model, counts, outcome);
  rest.cut_top(12);
  if (goals > 0) {
    ui.text_in(rest.cut_top(kTitle), TextStyle::small, Token::ink2, "Goal");
    for (std::size_t i = 0; i < kPathSteps; ++i) {
      if (counts.steps[i + 1] == 0) continue;
      const int step = static_cast<int>(i) + 1;
      const bool on = model.step == step;
      if (draw_heading(ui, rest.cut_top(kHeading), fmt::format("goal {}", step), title_of_step(i),
                       counts.steps[i + 1], on)) {
        outcome.step = on ? 0 : step;
      }
    }
    rest.cut_top(12);
  }
  ui.paragraph(rest, TextStyle::small, Token::ink2, kAfter);
  ui.end_scroll();
}

}  // namespace redress::screens
