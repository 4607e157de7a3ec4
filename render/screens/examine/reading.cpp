// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/reading.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "render/screens/parts/parts.hpp"

namespace redress::screens::examine {

namespace {

/// Story at the left, what was asked and answered at the right; in a narrow drawer one below the
/// other.
void draw_story(Ui& ui, const Rect& r, const Session& session) {
  const std::string& story = session.the_case().patient.story;
  const std::string words = story.empty() ? "No story was given." : "“" + story + "”";
  const bool beside = r.w > 800;
  const float width = beside ? std::floor((r.w - 32) * 0.45F) : r.w - 12;
  const Rect right = beside ? Rect{r.x + width + 32, r.y, r.w - width - 32, r.h} : r;
  const float talk_width = beside ? right.w - 12 : width;

  const std::vector<Exchange>& talk = session.messages().talk();
  float talk_height = 28;
  for (const Exchange& e : talk) {
    talk_height += ui.measure_paragraph(talk_width, TextStyle::small, e.asked) + 6;
    if (!e.answered.empty()) {
      talk_height += ui.measure_paragraph(talk_width, TextStyle::body, e.answered);
    }
  }
  const float story_height = 28 + ui.measure_paragraph(width, TextStyle::body, words);
  const float content =
      beside ? std::max(story_height, talk_height) : story_height + 12 + talk_height;
  const float top = r.y - ui.begin_scroll("story", r, content, ScrollKeys::always);
  ui.text_in({r.x, top, width, 22}, TextStyle::strong, Token::ink, "Story");
  ui.paragraph({r.x, top + 28, width, 4000}, TextStyle::body, Token::ink, words);

  float y = beside ? top : top + story_height + 12;
  ui.text_in({right.x, y, talk_width, 22}, TextStyle::strong, Token::ink, "Asked so far");
  y += 28;
  if (talk.empty()) {
    ui.text_in({right.x, y, talk_width, 22}, TextStyle::body, Token::ink2, "Nothing yet.");
  }
  for (const Exchange& e : talk) {
    y += ui.paragraph({right.x, y, talk_width, 4000}, TextStyle::small, Token::ink3, e.asked);
    if (!e.answered.empty()) {
      y += ui.paragraph({right.x, y, talk_width, 4000}, TextStyle::body, Token::ink, e.answered);
    }
    y += 6;
  }
  ui.end_scroll();
}

struct Task {
  std::string_view what;
  std::string_view how;
};
// The routine as the lost marks are counted; common practice, no source. The same for everybody.
constexpr Task kTasks[] = {
    {"Story", "Since when? Is it ever double?"},
    {"Correction", "Look up what is worn, put it on."},
    {"Target", "For the poorer eye; 6 m, then near."},
    {"Look first", "Both eyes open for three seconds."},
    {"Cover and uncover", "One eye alone, twice; then the other."},
    {"Alternate", "Straight across, a second each."},
    {"Prism", "Until nothing moves; past it, and back."},
    {"Write", "With distance and correction."},
    {"Conclude", "Impression, plan, and how soon."},
};

/// As the circuit has them. Nothing ticks itself off: that would say what was seen to be done.
void draw_station_tasks(Ui& ui, const Rect& r, const Session& session) {
  const std::vector<std::string>& tasks = session.settings().tasks;
  const std::string key = session.settings().captions.of('J');
  const bool beside = r.w > 800;
  const float width = beside ? std::floor((r.w - 32) * 0.55F) : r.w - 12;
  constexpr float kNumber = 24;
  float content = 28;
  for (const std::string& task : tasks) {
    content += ui.measure_paragraph(width - kNumber, TextStyle::body, task) + 6;
  }
  constexpr std::string_view kRuns = "Open this at any time; the clock runs on.";
  constexpr std::string_view kEnds =
      "When time is up the station closes and your card is handed in as it stands.";
  const float aside = beside ? r.w - width - 44 : width;
  const float words = ui.measure_paragraph(aside, TextStyle::small, kRuns) + 6 +
                      ui.measure_paragraph(aside, TextStyle::small, kEnds) + 8;
  const float all = beside ? std::max(content, words) : content + words;
  const float top = r.y - ui.begin_scroll("tasks", r, all, ScrollKeys::always);
  ui.text_in({r.x, top, width, 22}, TextStyle::strong, Token::ink, "Tasks at this station");
  float y = top + 28;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    ui.text_in({r.x, y, kNumber, 22}, TextStyle::body, Token::ink2, fmt::format("{}", i + 1));
    y += ui.paragraph({r.x + kNumber, y, width - kNumber, 4000}, TextStyle::body, Token::ink,
                      tasks[i]) +
         6;
  }
  const float x = beside ? r.x + width + 32 : r.x;
  y = beside ? top : y + 4;
  if (beside) ui.line({x - 16, r.y}, {x - 16, r.bottom() - 8}, Token::line);
  y += ui.paragraph({x, y, aside, 4000}, TextStyle::small, Token::ink2, kRuns) + 6;
  ui.paragraph({x, y, aside, 4000}, TextStyle::small, Token::ink2, kEnds);
  ui.end_scroll();
}

void draw_tasks(Ui& ui, const Rect& r) {
  const int columns = r.w > 760 ? 2 : 1;
  constexpr float kName = 130;
  constexpr int kCount = static_cast<int>(std::size(kTasks));
  const int lines = (kCount + columns - 1) / columns;
  const float width =
      (r.w - 12 - 24 * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  std::vector<float> pitch(static_cast<std::size_t>(lines), 22);
  for (int i = 0; i < kCount; ++i) {
    float& high = pitch[static_cast<std::size_t>(i % lines)];
    high = std::max(high,
                    ui.measure_paragraph(width - 24 - kName, TextStyle::small, kTasks[i].how) + 4);
  }
  float content = 26;
  for (const float high : pitch) content += high;
  const float top = r.y - ui.begin_scroll("tasks", r, content, ScrollKeys::always);
  ui.text_in({r.x, top, r.w - 12, 22}, TextStyle::strong, Token::ink, "A whole examination");
  float y = top + 26;
  for (int i = 0; i < kCount; ++i) {
    if (i % lines == 0) y = top + 26;
    const float x = r.x + static_cast<float>(i / lines) * (width + 24);
    const float high = pitch[static_cast<std::size_t>(i % lines)];
    const Task& task = kTasks[i];
    ui.text_in({x, y, 20, 18}, TextStyle::small, Token::ink3, fmt::format("{}", i + 1));
    ui.text_in({x + 24, y, kName - 8, 18}, TextStyle::small_strong, Token::ink, task.what);
    ui.paragraph({x + 24 + kName, y, width - 24 - kName, high}, TextStyle::small, Token::ink2,
                 task.how);
    y += high;
  }
  ui.end_scroll();
}

}  // namespace

void draw_reading(Ui& ui, const Rect& area, const Session& session, Drawer which) {
  if (which == Drawer::story) {
    draw_story(ui, area, session);
  } else if (!session.settings().tasks.empty()) {
    draw_station_tasks(ui, area, session);
  } else {
    draw_tasks(ui, area);
  }
}

void draw_reading_page(Ui& ui, const Rect& page, const Session& session,
                       const KeyCaptions& captions, std::vector<Order>& orders) {
  constexpr float kHead = 44;
  constexpr float kMargin = 12;
  ui.begin_region("drawer", page, Token::page);
  Rect r = page.inset(kMargin, 0);
  Rect head = r.cut_top(kHead);
  const ButtonLook look{.kind = ButtonKind::quiet, .key = "Esc", .icon = Icon::back};
  constexpr std::string_view kBack = "Back to the patient";
  const Rect left = head.cut_left(measure_button(ui, kBack, look));
  if (button(ui, {left.x, head.centre().y - 18, left.w, 36}, kBack, look)) {
    orders.push_back({Command::close});
  }
  const Drawer now = session.drawer();
  const std::string story = "Story " + captions.of('H');
  const std::string tasks = "Tasks " + captions.of('J');
  const std::string_view both[] = {story, tasks};
  if (const auto tab = tabs(ui, head.cut_right(measure_tabs(ui, both)), "pages", both,
                            now == Drawer::story ? 0 : 1)) {
    orders.push_back(
        {Command::drawer, static_cast<double>(*tab == 0 ? Drawer::story : Drawer::tasks)});
  }
  ui.line({page.x, r.y}, {page.right(), r.y}, Token::line);
  draw_reading(ui, r.inset(8, 10), session, now);
  ui.end_region();
}

}  // namespace redress::screens::examine
