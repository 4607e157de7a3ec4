// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/assessment/desk_pages.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "render/screens/first_run/first_run.hpp"

namespace redress::screens::assessment {

namespace {

constexpr float kColumn = 640;
constexpr float kWide = 760;

/// A page of one column.
class Page {
 public:
  Page(Ui& ui, const StudyLayout& layout, float widest, PageState& state)
      : ui_(ui), begun_(begin(ui, layout)), column(ui, layout.body, widest, state) {}
  ~Page() {
    column.end();
    ui_.end_region();
  }
  Page(const Page&) = delete;
  Page& operator=(const Page&) = delete;

 private:
  static bool begin(Ui& ui, const StudyLayout& layout) {
    ui.begin_region("desk", layout.body, Token::page);
    return true;
  }
  Ui& ui_;
  bool begun_;

 public:
  Column column;
};

std::optional<std::size_t> choose_few(Ui& ui, Rect line, std::string_view id,
                                      std::span<const std::string_view> words, std::size_t chosen) {
  const float width = std::min(line.w, measure_one_of_few(ui, words));
  return one_of_few(ui, {line.x, line.centre().y - 17, width, 34}, id, words, chosen);
}

}  // namespace

DeskBarOutcome draw_desk_bar(Ui& ui, const StudyLayout& layout, const DeskBar& bar) {
  DeskBarOutcome outcome;
  ui.begin_region("desk bar", layout.bar, Token::sheet);
  const Rect& all = layout.bar;
  ui.line({all.x, all.bottom() - 1}, {all.right(), all.bottom() - 1}, Token::line);
  Rect r = all.inset(layout.compact ? 8 : 20, 0);
  if (bar.leaves) {
    const ButtonLook look{.kind = ButtonKind::quiet, .icon = Icon::back};
    constexpr std::string_view kCases = "Cases";
    const Rect at = Rect{r.cut_left(measure_button(ui, kCases, look))}.inset(0, 7);
    outcome.leave = button(ui, at, kCases, look);
    r.cut_left(12);
  }
  if (!bar.clock.empty()) {
    const float clock = ui.measure_figures(TextStyle::subhead, bar.clock);
    ui.figures_in(r.cut_right(clock), TextStyle::subhead, Token::ink, bar.clock, Align::right);
    r.cut_right(8);
    const float words = ui.measure_text(TextStyle::body, bar.clock_words);
    ui.text_in(r.cut_right(words), TextStyle::body, Token::ink2, bar.clock_words, Align::right);
    r.cut_right(20);
  }
  if (bar.tab) {
    static constexpr std::string_view kTabs[] = {"Sit a circuit", "Compose", "Results"};
    static constexpr std::string_view kShort[] = {"Sit", "Compose", "Results"};
    const std::span<const std::string_view> words = layout.compact
                                                        ? std::span<const std::string_view>{kShort}
                                                        : std::span<const std::string_view>{kTabs};
    const float width = measure_tabs(ui, words);
    const Rect place = layout.compact ? r.cut_left(width) : r.cut_right(width);
    const Rect row{place.x, all.y, width, all.h};
    if (const auto pick = tabs(ui, row, "tabs", words, static_cast<std::size_t>(*bar.tab))) {
      outcome.tab = static_cast<AssessmentTab>(*pick);
    }
    if (layout.compact) {
      ui.end_region();
      return outcome;
    }
    r.cut_right(20);
  }
  const float where = ui.measure_text(TextStyle::strong, bar.where);
  ui.text_in(r.cut_left(where), TextStyle::strong, Token::ink, bar.where);
  const float candidate = ui.measure_text(TextStyle::body, bar.candidate);
  if (!bar.candidate.empty() && candidate + 16 <= r.w) {
    r.cut_left(16);
    ui.text_in(r.cut_left(candidate), TextStyle::body, Token::ink2, bar.candidate);
  }
  if (bar.invigilator) {
    const ButtonLook look{.kind = ButtonKind::quiet, .key = "F11"};
    constexpr std::string_view kWho = "Invigilator";
    const float width = measure_button(ui, kWho, look);
    if (width + 12 <= r.w) {
      outcome.invigilator = button(ui, Rect{r.cut_right(width)}.inset(0, 7), kWho, look);
      r.cut_right(12);
    }
  }
  const float kept = ui.measure_text(TextStyle::small, bar.kept);
  if (!bar.kept.empty() && kept + 40 <= r.w) {
    ui.text_in(r.cut_right(kept), TextStyle::small, Token::ink2, bar.kept, Align::right);
  }
  ui.end_region();
  return outcome;
}

OpeningOutcome draw_opening(Ui& ui, const StudyLayout& layout, OpeningModel& model) {
  OpeningOutcome outcome;
  Page page(ui, layout, kColumn, model.page);
  Column& c = page.column;
  c.title("Open a sealed circuit");
  c.words(
      "The assessor opens it here, once. Until the program ends candidates can begin and end its "
      "stations, and see neither what is in it nor any mark.",
      TextStyle::body, Token::ink2);
  c.space(8);
  for (std::size_t i = 0; i < model.found.size(); ++i) {
    const Rect line = c.row(kHitHeight + 4);
    ui.push_id(fmt::format("found{}", i));
    const bool chosen = model.found[i] == model.path;
    if (radio(ui, line, model.found[i], chosen)) outcome.choose = i;
    ui.pop_id();
  }
  if (!model.found.empty()) c.space(8);
  (void)field(ui, c.labelled("Sealed circuit"), "sealed", model.path,
              {.hint = "a file that ends in .sealed", .longest = 1000});
  const FieldEvent typed = field(ui, c.labelled("Passphrase"), "passphrase", model.passphrase.typed,
                                 {.longest = 200, .masked = true});
  c.trouble(model.passphrase.trouble);
  const bool ready = !model.passphrase.busy && !model.passphrase.waits &&
                     !model.passphrase.typed.empty() && !model.path.empty();
  const int clicked = c.buttons({model.passphrase.busy ? "Opening" : "Open"}, ready);
  outcome.open = ready && (clicked == 0 || (typed.settled && !typed.escaped));
  c.words("It is opened into memory only. Nothing of it is written down.", TextStyle::small,
          Token::ink3);
  c.space(20);
  c.head("A debrief that was released to you");
  for (std::size_t i = 0; i < model.debriefs.size(); ++i) {
    ui.push_id(fmt::format("debrief{}", i));
    const bool chosen = model.debriefs[i] == model.debrief;
    if (radio(ui, c.row(kHitHeight + 4), model.debriefs[i], chosen)) outcome.choose_debrief = i;
    ui.pop_id();
  }
  Rect line = c.labelled("File");
  constexpr std::string_view kShow = "Show it";
  const Rect show = line.cut_right(measure_button(ui, kShow));
  line.cut_right(8);
  const FieldEvent file = field(ui, line, "debrief", model.debrief,
                                {.hint = "a file that ends in .debrief", .longest = 1000});
  const bool given = !model.debrief.empty();
  const bool clicked_show = button(
      ui, show, kShow, {.available = given, .why_not = "choose the file that you were given"});
  outcome.show_debrief = given && (clicked_show || (file.settled && !file.escaped));
  c.trouble(model.debrief_trouble);
  return outcome;
}

SetupOutcome draw_setup(Ui& ui, const StudyLayout& layout, SetupModel& model) {
  SetupOutcome outcome;
  Page page(ui, layout, kWide, model.page);
  Column& c = page.column;
  c.title("This workstation, for the assessor");
  c.words(model.circuit + ". " + model.stations, TextStyle::body, Token::ink2);
  c.trouble(model.trouble);
  if (!model.interrupted.empty()) {
    c.head("Interrupted here");
    for (std::size_t i = 0; i < model.interrupted.size(); ++i) {
      const Interrupted& each = model.interrupted[i];
      Rect line = c.row(42);
      const std::string label = fmt::format("Resume {}", each.candidate);
      const Rect at = line.cut_right(measure_button(ui, label));
      if (button(ui, at.inset(0, 3), label, {.id = fmt::format("resume{}", i)})) outcome.resume = i;
      line.cut_right(12);
      ui.text_in(line, TextStyle::body, Token::ink,
                 fmt::format("Candidate {}, station {}: {} used, at {}", each.candidate,
                             each.station + 1, each.used, each.workstation));
    }
    c.space(8);
  }
  c.head("The next candidate");
  (void)field(ui, c.labelled("Workstation"), "workstation", model.workstation, {.longest = 60});
  (void)field(ui, c.labelled("Kept in"), "kept in", model.folder, {.longest = 1000});
  static constexpr std::string_view kExtras[] = {"None", "25 %", "50 %", "100 %"};
  if (const auto pick = choose_few(ui, c.labelled("Extra time"), "extra", kExtras, model.extra)) {
    model.extra = *pick;
  }
  static constexpr std::string_view kSizes[] = {"Usual", "1.25", "1.5", "Double"};
  std::size_t sizes = 0;
  while (sizes < std::size(kSizes) && kTextScales[sizes] <= model.largest_scale) ++sizes;
  const std::span<const std::string_view> offered{kSizes, std::max<std::size_t>(1, sizes)};
  if (const auto pick = choose_few(ui, c.labelled("Size of text"), "size", offered,
                                   std::min(model.text_size, offered.size() - 1))) {
    model.text_size = *pick;
    outcome.text_size_changed = true;
  }
  Rect size = c.labelled("This screen");
  constexpr std::string_view kMeasure = "Measure it with a card";
  const Rect at = size.cut_right(measure_button(ui, kMeasure));
  if (at.w > 0) outcome.calibrate = button(ui, at, kMeasure);
  size.cut_right(12);
  if (ui.measure_text(TextStyle::body, model.size_on_screen) <= size.w) {
    ui.text_in(size, TextStyle::body, Token::ink2, model.size_on_screen);
  } else {
    c.words(model.size_on_screen, TextStyle::body, Token::ink2);
  }
  c.words(
      "Larger text does not make the eyes larger. Extra time is given to reading and stations "
      "alike, and stands in the record. Dim the room, so that neither lamp nor window shows in the "
      "screen.",
      TextStyle::small, Token::ink3);
  outcome.next = c.buttons({"Ready for the candidate"}, !model.workstation.empty()) == 0;
  return outcome;
}

bool draw_candidate(Ui& ui, const StudyLayout& layout, CandidateModel& model) {
  Page page(ui, layout, kColumn, model.page);
  Column& c = page.column;
  c.title("Who sits here");
  const FieldEvent typed = field(ui, c.labelled("Candidate number"), "candidate", model.candidate,
                                 {.hint = "as on your paper", .strong = true, .longest = 20});
  Range range{.least = 20, .most = 200, .step = 5, .decimals = 0, .unit = "cm"};
  const Rect distance = c.labelled("Eyes to the screen");
  if (const auto cm =
          stepper(ui, {distance.x, distance.y, std::min(distance.w, 200.0F), distance.h},
                  "distance", model.eye_distance_cm, range)) {
    model.eye_distance_cm = *cm;
  }
  c.trouble(model.trouble);
  c.words(model.magnification + " Sit so that your eyes are where you said.", TextStyle::body,
          Token::ink2);
  c.head("First a minute to get used to it");
  c.words(
      "The patient of the practice minute is the same for everybody. Nothing that you do there is "
      "kept. Mouse and keys are as at the stations; F12 shows them.");
  return c.buttons({"Begin the practice minute"}, !model.candidate.empty()) == 0 ||
         (typed.settled && !typed.escaped && !model.candidate.empty());
}

bool draw_before(Ui& ui, const StudyLayout& layout, BeforeModel& model) {
  Page page(ui, layout, kColumn, model.page);
  Column& c = page.column;
  c.title(model.title);
  c.words(model.words);
  return c.buttons({model.button}) == 0;
}

void draw_station_reading(Ui& ui, const StudyLayout& layout, ReadingModel& model) {
  Page page(ui, layout, kWide, model.page);
  Column& c = page.column;
  c.title(model.name + ", " + model.age);
  if (!model.notice.empty()) c.words(model.notice, TextStyle::small, Token::ink2);
  c.words(model.story.empty() ? "No story was given." : "“" + model.story + "”");
  c.head("Tasks at this station");
  c.numbered(model.tasks);
  c.space(8);
  c.words(
      "The patient comes in when the reading time is over. You can read story and tasks again at "
      "any time.",
      TextStyle::small, Token::ink3);
}

bool draw_rest(Ui& ui, const StudyLayout& layout, const std::string& next, PageState& page_state) {
  Page page(ui, layout, kColumn, page_state);
  Column& c = page.column;
  c.title("Rest");
  c.words("Nothing is asked of you here. " + next);
  return c.buttons({"Go on now"}) == 0;
}

bool draw_after(Ui& ui, const StudyLayout& layout, AfterModel& model) {
  Page page(ui, layout, kColumn, model.page);
  Column& c = page.column;
  c.title(model.title);
  c.words("Did anything go wrong with the workstation? The assessors read it.", TextStyle::body,
          Token::ink2);
  (void)field(ui, c.row(40), "comment", model.comment,
              {.hint = "a comment, if you have one", .longest = 1000});
  return c.buttons({model.button}) == 0;
}

void draw_notice(Ui& ui, const StudyLayout& layout, const std::string& title,
                 const std::string& words, PageState& page_state) {
  Page page(ui, layout, kColumn, page_state);
  page.column.title(title);
  page.column.words(words);
}

}  // namespace redress::screens::assessment
