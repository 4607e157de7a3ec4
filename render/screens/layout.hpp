// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where everything stands, from the size of the window and the scale alone. Rectangles in units
// (pixels at scale 1). Pure; tests hold that nothing meets the quiet zone and nothing overlaps.
#pragma once

#include <array>
#include <cstddef>

#include "render/screens/parts/geometry.hpp"

namespace redress::screens {

/// Of what is drawn into: pixels, and how many of them make a unit (1 ... 2).
struct WindowSize {
  int width_px = 1440;
  int height_px = 900;
  float scale = 1;

  [[nodiscard]] float width() const { return static_cast<float>(width_px) / scale; }
  [[nodiscard]] float height() const { return static_cast<float>(height_px) / scale; }
  bool operator==(const WindowSize&) const = default;
};

/// Smaller windows are laid out as if they were this large, units.
inline constexpr float kLeastWidth = 480;
inline constexpr float kLeastHeight = 320;
inline constexpr float kCardWidth = 420;
inline constexpr float kSpineWidth = 48;

/// Order of the places on the shelf.
enum class ShelfPlace : std::size_t { occluder, prism, target, correction, speech, last };
inline constexpr std::size_t kShelfPlaces = 6;

/// The room. Neither scale nor place of the picture depends on what is open.
struct ExamineLayout {
  bool compact = false;        ///< card, story and tasks are pages of their own
  bool shelf_drawings = true;  ///< room for bar and distance on the shelf
  bool card_open = false;      ///< beside the patient; never in compact
  Rect strip;                  ///< top: who, story, clock
  Rect view;                   ///< the patient; goes under card and spine
  Rect message;
  Rect shelf;
  Rect page;    ///< compact: what takes the place of the patient; else empty
  Rect card;    ///< open card; empty if folded. Compact: the page
  Rect spine;   ///< folded card; empty if open or compact
  Rect drawer;  ///< as high as a drawer may be; stands on the message line
  Rect quiet;   ///< nothing of the interface is ever drawn in it
  std::array<Rect, kShelfPlaces> places;  ///< ShelfPlace::last: view, in compact the card
  Point eyes;                             ///< midpoint of the eyes
  double pixels_per_mm = 8.5;             ///< of the picture, real pixels

  [[nodiscard]] const Rect& place(ShelfPlace which) const {
    return places[static_cast<std::size_t>(which)];
  }
};
ExamineLayout make_examine_layout(const WindowSize& window, bool card_open);

/// Cases, editor and the like: bar of 52, margin and gutters of 24.
struct StudyLayout {
  bool narrow = false;  ///< below 1280 units: columns become tabs
  bool compact = false;
  Rect bar;
  Rect body;  ///< inside the margin
  float gutter = 24;
};
StudyLayout make_study_layout(const WindowSize& window);

/// 960 + 408; narrow: one column, the right one becomes tabs.
struct DebriefLayout {
  bool narrow = false;
  bool compact = false;
  Rect bar;
  Rect picture;
  Rect sight;  ///< lines of sight from above
  Rect controls;
  Rect lanes;
  std::array<Rect, 3> side;  ///< written beside there, marks lost, next time; narrow: all = one tab
};
DebriefLayout make_debrief_layout(const WindowSize& window);

/// Picture at the left (empty if narrow), the questions at the right.
struct FirstRunLayout {
  bool compact = false;
  Rect picture;
  Rect form;
};
FirstRunLayout make_first_run_layout(const WindowSize& window);

}  // namespace redress::screens
