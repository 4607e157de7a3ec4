// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/layout.hpp"

#include <algorithm>
#include <cmath>

namespace redress::screens {

namespace {

// The window in which the numbers below were drawn: the compact layout begins under these, and the
// shelf loses its drawings under the third.
constexpr float kCompactHeight = 560;
constexpr float kCompactWidth = 1100;
constexpr float kTallHeight = 800;
constexpr float kNarrow = 1280;

// What of the patient must be in view, mm: 120 across, 50 high, of which 52 lie on one side of the
// midpoint of the eyes; the eye line is at 43 % of the height.
constexpr float kAcrossMm = 120;
constexpr float kHighMm = 50;
constexpr float kBesideMm = 52;
constexpr float kAboveMm = 18;
constexpr float kBelowMm = 16;
constexpr float kCompactAboveMm = 12;
constexpr float kEyeLine = 0.43F;

struct Heights {
  float strip, message, shelf, drawer;
};
constexpr Heights kCompact{36, 30, 48, 80};
constexpr Heights kSmall{44, 36, 82, 190};
constexpr Heights kFull{44, 36, 116, 300};

Point size_of(const WindowSize& window) {
  return {std::max(kLeastWidth, window.width()), std::max(kLeastHeight, window.height())};
}

bool is_compact(Point size) { return size.y < kCompactHeight || size.x < kCompactWidth; }

std::array<Rect, kShelfPlaces> divide_shelf(const Rect& shelf, bool compact) {
  // Widths of the places of a window of 1440; in compact they are equal. The first has all four
  // keys of the occluder at 1280, too.
  constexpr std::array<float, kShelfPlaces> kShares{230, 276, 302, 178, 302, 152};
  float whole = 0;
  for (const float share : kShares) whole += share;
  std::array<Rect, kShelfPlaces> places;
  float done = 0;
  for (std::size_t i = 0; i < kShelfPlaces; ++i) {
    const float share = compact ? whole / static_cast<float>(kShelfPlaces) : kShares[i];
    // From the running sum, so that edges meet after rounding.
    const float from = std::round(shelf.w * done / whole);
    done += share;
    const float to = i + 1 == kShelfPlaces ? shelf.w : std::round(shelf.w * done / whole);
    places[i] = {shelf.x + from, shelf.y, to - from, shelf.h};
  }
  return places;
}

Rect calc_quiet_zone(const ExamineLayout& layout, const Rect& free) {
  const auto mm = static_cast<float>(layout.pixels_per_mm);
  const float above = (layout.compact ? kCompactAboveMm : kAboveMm) * mm;
  const float below = (layout.compact ? kCompactAboveMm : kBelowMm) * mm;
  const Rect zone{layout.eyes.x - kBesideMm * mm, layout.eyes.y - above, 2 * kBesideMm * mm,
                  above + below};
  return calc_overlap(zone, free);
}

}  // namespace

ExamineLayout make_examine_layout(const WindowSize& window, bool card_open) {
  ExamineLayout layout;
  const Point size = size_of(window);
  layout.compact = is_compact(size);
  const bool tall = size.y >= kTallHeight;
  const Heights& heights = layout.compact ? kCompact : tall ? kFull : kSmall;
  layout.shelf_drawings = !layout.compact && tall;
  layout.card_open = card_open && !layout.compact;

  Rect rest{0, 0, size.x, size.y};
  layout.strip = rest.cut_top(heights.strip);
  layout.shelf = rest.cut_bottom(heights.shelf);
  layout.places = divide_shelf(layout.shelf, layout.compact);
  if (layout.compact) {
    layout.page = {0, heights.strip, size.x, size.y - heights.strip};
    if (card_open) layout.card = layout.page;
  } else {
    Rect beside = rest;
    if (card_open) {
      layout.card = beside.cut_right(kCardWidth);
    } else {
      layout.spine = beside.cut_right(kSpineWidth);
    }
    layout.message = beside.cut_bottom(heights.message);
  }
  if (layout.compact) layout.message = rest.cut_bottom(heights.message);
  layout.view = {0, heights.strip, size.x,
                 size.y - heights.strip - heights.shelf - heights.message};

  // The rule of the room: independent of whether the card is open.
  const float column = layout.compact ? 0 : kCardWidth;
  const float units_per_mm = std::min((size.x - column) / kAcrossMm, layout.view.h / kHighMm);
  const float eyes_x =
      layout.compact ? size.x / 2 : (size.x - column) * (1 - kBesideMm / kAcrossMm);
  layout.eyes = {eyes_x, layout.view.y + kEyeLine * layout.view.h};
  layout.pixels_per_mm = static_cast<double>(units_per_mm);  // in units until the end
  layout.quiet = calc_quiet_zone(layout, layout.view);

  const float space = layout.message.y - layout.quiet.bottom();
  const float height = std::min(heights.drawer, std::floor(space / 4) * 4);
  layout.drawer = {0, layout.message.y - height, layout.message.w, height};
  layout.pixels_per_mm *= static_cast<double>(window.scale);
  return layout;
}

StudyLayout make_study_layout(const WindowSize& window) {
  StudyLayout layout;
  const Point size = size_of(window);
  layout.narrow = size.x < kNarrow;
  layout.compact = is_compact(size);
  Rect rest{0, 0, size.x, size.y};
  layout.bar = rest.cut_top(layout.compact ? 44.0F : 52.0F);
  const float margin = layout.compact ? 12 : 24;
  layout.gutter = margin;
  layout.body = rest.inset(margin, layout.compact ? 8 : 16);
  return layout;
}

DebriefLayout make_debrief_layout(const WindowSize& window) {
  DebriefLayout layout;
  const StudyLayout study = make_study_layout(window);
  layout.narrow = study.narrow;
  layout.compact = study.compact;
  layout.bar = study.bar;
  Rect body = study.body;
  constexpr float kSide = 408;
  const float gap = study.compact ? 8 : 16;
  if (!study.narrow) {
    Rect side = body.cut_right(kSide);
    body.cut_right(study.gutter);
    const float free = side.h - 2 * gap;
    layout.side[0] = side.cut_top(std::round(free * 0.335F));
    side.cut_top(gap);
    layout.side[1] = side.cut_top(std::round(free * 0.345F));
    side.cut_top(gap);
    layout.side[2] = side;
  }
  Rect top = body.cut_top(std::round(body.h * (study.compact ? 0.4F : 0.37F)));
  if (study.compact) {
    layout.sight = top.cut_right(std::round(top.w * 0.3F));
  } else {
    layout.sight = top.cut_right(std::round(top.w * 0.36F));
  }
  top.cut_right(gap);
  layout.picture = top;
  layout.controls = body.cut_top(study.compact ? 44 : 68);
  if (study.narrow) {
    // The tabs of the right column take the place of the lanes when one is chosen.
    layout.lanes = body;
    layout.side.fill(body);
  } else {
    layout.lanes = body;
  }
  return layout;
}

FirstRunLayout make_first_run_layout(const WindowSize& window) {
  FirstRunLayout layout;
  const Point size = size_of(window);
  layout.compact = is_compact(size);
  Rect rest{0, 0, size.x, size.y};
  if (!layout.compact) {
    layout.picture = rest.cut_left(std::round(size.x * 0.36F));
    const float aside = std::clamp(rest.w * 0.087F, 32.0F, 120.0F);
    rest = rest.inset(aside, 0);
  } else {
    rest = rest.inset(16, 0);
  }
  layout.form = rest;
  return layout;
}

}  // namespace redress::screens
