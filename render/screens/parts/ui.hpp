// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a screen draws with and is touched through. Everything in units; the Ui turns them into
// pixels, snapped so that lines are sharp. One frame:
//
//   ui.begin_frame({width, height});           // units; after ImGui::NewFrame()
//   ui.begin_region("shelf", rect, Token::sheet);
//   if (button(ui, r, "Finish", {.kind = ButtonKind::main})) outcome.finish = true;
//   ui.end_region();
//   ui.end_frame();
//
// Regions are borderless windows of Dear ImGui; parts inside are placed absolutely. Later regions
// lie over earlier ones.
#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "render/screens/parts/fonts.hpp"
#include "render/screens/parts/geometry.hpp"
#include "render/screens/parts/probe.hpp"
#include "render/screens/parts/tokens.hpp"

struct ImDrawCmd;
struct ImDrawList;
struct ImVec2;

namespace redress::screens {

enum class Align : std::uint8_t { left, centre, right };

/// Which of the three places has the keys. In the room, letters and Space belong to the hands.
enum class Place : std::uint8_t { room, drawer, card, study };

/// When Page Up and Page Down scroll a part. `always`: where all of a page is read, there the
/// arrows and a controller's pad scroll as well.
enum class ScrollKeys : std::uint8_t { under_pointer, always };

/// What the pointer and the keys did to one rectangle in this frame.
struct Touch {
  bool hovered = false;   ///< pointer over it and nothing above
  bool held = false;      ///< pressed here and still down
  bool pressed = false;   ///< went down here in this frame
  bool clicked = false;   ///< let go here, or Enter (or Space, outside the room) with focus
  bool focused = false;   ///< has the key focus
  Point pointer;          ///< units; meaningful while hovered or held
  Point dragged;          ///< since it was pressed
  float wheel = 0;        ///< notches while hovered; + away from the user
  bool left_key = false;  ///< arrows, with focus
  bool right_key = false;
  bool up_key = false;
  bool down_key = false;
};

/// A large rectangle of one colour, real pixels from the top left. Painting it through the fonts'
/// texture costs a software rasteriser most of a frame; whoever draws the lists may do it cheaper.
struct PlainFill {
  int left = 0;
  int top = 0;
  int right = 0;
  int bottom = 0;
  Rgb colour;
};
/// Called while the lists are drawn; ImDrawCmd::UserCallbackData points to a PlainFill.
using PlainFillPainter = void (*)(const ImDrawList*, const ImDrawCmd*);

class Ui {
 public:
  Ui(Theme theme, const Fonts& fonts);

  void use(Theme theme) { theme_ = theme; }
  void use(const Fonts& fonts) {
    fonts_ = fonts;
    wanted_letters_ = fonts.letters;
  }
  /// What the texts so far needed: if it is more than the fonts have, make them again, with these.
  [[nodiscard]] Letters wanted_letters() const { return wanted_letters_; }
  void use(UiProbe* probe) { probe_ = probe; }
  /// Null: plain fills are drawn like everything else.
  void use(PlainFillPainter painter) { plain_painter_ = painter; }
  [[nodiscard]] Theme theme() const { return theme_; }
  [[nodiscard]] float scale() const { return fonts_.scale; }
  [[nodiscard]] UiProbe* probe() const { return probe_; }

  // --- frame, regions ---
  void begin_frame(Point size);
  void end_frame();
  [[nodiscard]] Point size() const { return size_; }
  /// `ground` none: nothing is filled (the patient shows through, and the pointer passes through).
  void begin_region(std::string_view name, const Rect& rect, std::optional<Token> ground);
  void end_region();
  /// Inside a region: what follows is clipped to `rect` and scrolled by the wheel. Returns by how
  /// much to move content up (units). `content` is the height of all of it.
  float begin_scroll(std::string_view id, const Rect& rect, float content,
                     ScrollKeys keys = ScrollKeys::under_pointer);
  void end_scroll();
  /// From the next frame on that scroll part of this region begins `offset` units down, as far as
  /// there is anything.
  void set_scroll(std::string_view id, float offset);
  /// Everything until pop is clipped to it (units).
  void push_clip(const Rect& rect);
  void pop_clip();
  /// Ids until pop are inside this one; for rows of a list.
  void push_id(std::string_view id);
  void pop_id();

  // --- drawing ---
  void fill(const Rect& r, Token token, float radius = 0);
  /// Rounded only at the ends named.
  void fill_ends(const Rect& r, Token token, float radius, bool left, bool right);
  void outline(const Rect& r, Token token, float width = 1, float radius = 0);
  void line(Point a, Point b, Token token, float width = 1);
  void dashes(Point a, Point b, Token token, float width = 1, float dash = 4, float gap = 3);
  void disc(Point centre, float radius, Token token);
  void ring(Point centre, float radius, Token token, float width = 1);
  void polyline(const std::vector<Point>& points, Token token, float width = 2);
  void polygon(const std::vector<Point>& points, Token token);  ///< convex, filled
  /// A texture whose first row is the lowest.
  void picture(const Rect& r, std::uintptr_t texture, float radius = 0);
  /// 45 degree lines every 7 units, 2 wide, clipped to r.
  void hatch(const Rect& r, Token token);

  // --- text; y is the top of the line box ---
  void text(Point at, TextStyle style, Token token, std::string_view text);
  /// In one line inside r, middle of its height; shortened with "…" if it does not fit.
  void text_in(const Rect& r, TextStyle style, Token token, std::string_view text,
               Align align = Align::left);
  /// Wrapped to r.w; returns the height used. What does not fit in r.h is not drawn.
  float paragraph(const Rect& r, TextStyle style, Token token, std::string_view text);
  /// The lines of a paragraph of that width.
  [[nodiscard]] std::vector<std::string> wrap(float width, TextStyle style,
                                              std::string_view text) const;
  /// Height that paragraph() would use.
  [[nodiscard]] float measure_paragraph(float width, TextStyle style, std::string_view text) const;
  /// Digits each in a cell as wide as "0": clocks, readouts, columns. Returns the width.
  float figures(Point at, TextStyle style, Token token, std::string_view text);
  void figures_in(const Rect& r, TextStyle style, Token token, std::string_view text, Align align);
  [[nodiscard]] float measure_figures(TextStyle style, std::string_view text) const;
  [[nodiscard]] float measure_text(TextStyle style, std::string_view text) const;
  [[nodiscard]] static float line_height(TextStyle style) { return measure_of(style).line; }

  // --- touch ---
  /// A rectangle that can be clicked and focused. `label` is for the probe.
  Touch touch(std::string_view id, const Rect& r, std::string_view label, PartKind kind,
              bool available = true);
  /// The same without taking part in Tab's round.
  Touch touch_unfocused(std::string_view id, const Rect& r, std::string_view label, PartKind kind,
                        bool available = true);
  /// Only the keys' part of touch(): one stop of Tab for a group that has touch_unfocused() inside.
  Touch focus_only(std::string_view id, const Rect& r);
  /// The 2-unit ring outside r by 2.
  void focus_ring(const Rect& r, float radius);
  /// A word beside what the pointer rests on; used for "why not". Drawn at end_frame().
  void hint(const Rect& beside, std::string_view text);

  [[nodiscard]] Place place() const { return place_; }
  void go_to(Place place);
  /// A text field has the keys: letters are not commands.
  [[nodiscard]] bool typing() const { return typing_; }
  void set_typing() {
    typing_next_ = true;
    field_awaited_ = 0;
  }
  /// False while the focus is on its way to a part: what is typed then would go nowhere.
  [[nodiscard]] bool keys_are_settled() const {
    return focus_wanted_.empty() && field_awaited_ == 0;
  }
  /// Gives a field or part the focus, by id as it was passed inside its region ("region/id").
  void focus(std::string_view full_id);
  void drop_focus();
  [[nodiscard]] const std::string& focused() const { return focused_; }
  [[nodiscard]] std::string full_id(std::string_view id) const;
  /// What a controller does in a drawer, in the next frame: to the part before or after; choose;
  /// a step of a value, or to the part beside.
  void step_focus(int by) { pad_step_ = by; }
  void press_focused() { pad_press_ = true; }
  void press_sideways(int by) { pad_sideways_ = by; }
  /// On a page that is only read, in the next frame: so many steps on.
  void scroll_page(int steps) { pad_scroll_ = steps; }
  /// The pointer is over a region with a ground (not over the bare patient).
  [[nodiscard]] bool pointer_over_part() const { return pointer_over_part_; }

  // --- for parts ---
  [[nodiscard]] ImDrawList& draw_list() const;
  [[nodiscard]] std::uint32_t colour(Token token) const;  ///< as ImU32
  [[nodiscard]] ImVec2 to_pixels(Point p) const;
  [[nodiscard]] float to_pixels(float length) const;
  [[nodiscard]] Point to_units(ImVec2 pixels) const;
  void note_text(std::string_view text, const Rect& needed, const Rect& given);
  /// What of it Dear ImGui does not clip away here.
  [[nodiscard]] Rect calc_visible(const Rect& r) const;
  [[nodiscard]] const Fonts& fonts() const { return fonts_; }
  /// For fields, which Dear ImGui itself edits: takes part in Tab's round; true: the focus arrives.
  /// `r`: scrolled into sight then.
  bool take_focus(std::string_view id, bool in_round, const Rect& r);
  /// What has just got the focus is scrolled to, until the heights above it are known.
  void keep_in_sight(const Rect& r);
  void mark_focused(std::string_view id);
  /// The text of the one number being typed; null while this id is not being typed into.
  std::string* find_edit(std::string_view id);
  void begin_edit(std::string_view id, std::string text);
  void end_edit() { edit_.reset(); }

 private:
  Touch touch_part(std::string_view id, const Rect& r, std::string_view label, PartKind kind,
                   bool available, bool in_round);
  void take_keys(const std::string& full, const Rect& r, Touch& touch);
  void move_focus();
  void fill_plain(const ImVec2& a, const ImVec2& b, Token token);
  void draw_text(Point at, TextStyle style, Token token, std::string_view text);

  struct Hint {
    Rect beside;
    std::string text;
  };
  struct Scroll {
    std::string id;
    float offset = 0;
  };
  struct Edit {
    std::string id;
    std::string text;
  };
  struct ScrollTo {
    std::string region;
    Rect rect;
  };

  Theme theme_;
  Fonts fonts_;
  UiProbe* probe_ = nullptr;
  PlainFillPainter plain_painter_ = nullptr;
  std::deque<PlainFill> plain_fills_;  // until the lists are drawn; must not move
  Point size_;
  std::string region_;
  Rect region_rect_;
  std::vector<Rect> clips_;
  std::vector<std::string> ids_;
  std::vector<std::string> round_;  // what Tab goes through, in the order drawn
  std::vector<Scroll> scrolls_;
  std::string focused_;
  std::string focus_wanted_;
  Place place_ = Place::study;
  bool typing_ = false;
  bool typing_next_ = false;
  int field_awaited_ = 0;  // frames in which a field that was given the focus may take it
  // Some heights are those of the frame before: what got the focus is followed until they settle.
  static constexpr int kFollowed = 4;
  int frames_followed_ = 0;
  int pad_step_ = 0;
  int pad_sideways_ = 0;
  int pad_scroll_ = 0;
  bool pad_press_ = false;
  bool arrows_are_free_ = false;  // what has the focus does nothing with them
  bool arrows_scroll_ = false;    // up and down do
  bool focus_shown_ = false;      // by keys: the ring is drawn
  bool pointer_over_part_ = false;
  Letters wanted_letters_ = Letters::plain;
  std::optional<Hint> hint_;
  std::optional<ScrollTo> scroll_to_;
  std::optional<Edit> edit_;
};

}  // namespace redress::screens
