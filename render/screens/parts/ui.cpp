// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Frame, regions, shapes and touch; text is in ui_text.cpp.
#include "render/screens/parts/ui.hpp"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace redress::screens {

namespace {

constexpr float kWheelUnits = 60;  // a notch scrolls three lines

bool key_pressed(ImGuiKey key, bool repeat = true) {
  const int index = ImGui::GetIO().KeyMap[key];
  return index >= 0 && ImGui::IsKeyPressed(index, repeat);
}

}  // namespace

Ui::Ui(Theme theme, const Fonts& fonts) : theme_(theme), fonts_(fonts) {}

void Ui::begin_frame(Point size) {
  size_ = size;
  if (probe_ != nullptr) probe_->begin_frame();
  typing_next_ = false;
  if (field_awaited_ > 0) --field_awaited_;
  if (frames_followed_ > 0) --frames_followed_;
  pointer_over_part_ = false;
  round_.clear();
  plain_fills_.clear();
  hint_.reset();
  ImGuiStyle& style = ImGui::GetStyle();
  style.WindowPadding = style.FramePadding = style.ItemSpacing = {0, 0};
  style.WindowBorderSize = style.FrameBorderSize = style.WindowRounding = 0;
  style.WindowMinSize = {1, 1};
  style.AntiAliasedLinesUseTex = false;
  ImGui::GetIO().ConfigInputTextCursorBlink = false;
  ImGui::GetIO().IniFilename = nullptr;
}

void Ui::end_frame() {
  move_focus();
  typing_ = typing_next_;
  if (!hint_) return;
  const float width = std::min(measure_text(TextStyle::small, hint_->text) + 24, size_.x - 16);
  Rect r{hint_->beside.centre().x - width / 2, hint_->beside.y - 36, width, 30};
  if (r.y < 4) r.y = hint_->beside.bottom() + 6;
  r.x = std::clamp(r.x, 8.0F, std::max(8.0F, size_.x - 8 - width));
  begin_region("hint", r, Token::sheet);
  outline(r, Token::edge, 1, kRadiusKey);
  text_in(r.inset(12, 0), TextStyle::small, Token::ink, hint_->text);
  end_region();
}

void Ui::begin_region(std::string_view name, const Rect& rect, std::optional<Token> ground) {
  region_ = name;
  region_rect_ = rect;
  clips_.assign(1, rect);
  if (probe_ != nullptr) probe_->add(ProbedRegion{region_, rect});
  const ImVec2 a = to_pixels(Point{rect.x, rect.y});
  const ImVec2 b = to_pixels(Point{rect.right(), rect.bottom()});
  ImGui::SetNextWindowPos(a);
  ImGui::SetNextWindowSize({std::max(1.0F, b.x - a.x), std::max(1.0F, b.y - a.y)});
  ImGui::Begin(region_.c_str(), nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                   ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoNav |
                   ImGuiWindowFlags_NoScrollWithMouse | ImGuiWindowFlags_NoFocusOnAppearing);
  // Later regions lie over earlier ones, whichever was made first.
  ImGui::BringWindowToDisplayFront(ImGui::GetCurrentWindow());
  if (!ground) return;
  fill_plain(a, b, *ground);
  if (ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem)) {
    pointer_over_part_ = true;
  }
}

void Ui::end_region() {
  ImGui::End();
  region_.clear();
  clips_.clear();
}

float Ui::begin_scroll(std::string_view id, const Rect& rect, float content, ScrollKeys keys) {
  const std::string full = full_id(id);
  auto found = std::find_if(scrolls_.begin(), scrolls_.end(),
                            [&](const Scroll& each) { return each.id == full; });
  if (found == scrolls_.end()) found = scrolls_.insert(scrolls_.end(), Scroll{full, 0});
  const float most = std::max(0.0F, content - rect.h);
  const ImGuiIO& io = ImGui::GetIO();
  const bool over = ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem) &&
                    rect.contains(to_units(io.MousePos));
  if (over) found->offset -= io.MouseWheel * kWheelUnits;
  const bool read = keys == ScrollKeys::always;
  if ((over || read) && !typing_ && place_ != Place::room) {
    if (key_pressed(ImGuiKey_PageDown)) found->offset += rect.h - kWheelUnits;
    if (key_pressed(ImGuiKey_PageUp)) found->offset -= rect.h - kWheelUnits;
  }
  if (read && !typing_ && place_ != Place::room) {
    arrows_scroll_ = true;
    if (key_pressed(ImGuiKey_DownArrow)) found->offset += kWheelUnits;
    if (key_pressed(ImGuiKey_UpArrow)) found->offset -= kWheelUnits;
    found->offset += kWheelUnits * static_cast<float>(pad_scroll_);
  }
  // Of two that stand side by side in one region, the one that has it.
  const bool is_here = scroll_to_ && scroll_to_->region == region_ && rect.w > 0 &&
                       scroll_to_->rect.centre().x >= rect.x &&
                       scroll_to_->rect.centre().x < rect.right();
  if (is_here) {
    const Rect& wanted = scroll_to_->rect;
    if (wanted.bottom() > rect.bottom()) found->offset += wanted.bottom() - rect.bottom() + 8;
    if (wanted.y < rect.y) found->offset -= rect.y - wanted.y + 8;
    scroll_to_.reset();
  }
  found->offset = std::clamp(found->offset, 0.0F, most);
  const float offset = found->offset;
  if (most > 0) {
    const float height = std::max(24.0F, rect.h * rect.h / content);
    const float y = rect.y + (rect.h - height) * offset / most;
    fill({rect.right() - 4, y, 4, height}, Token::edge, 2);
  }
  push_clip(rect);
  clips_.back() = {rect.x, -1e6F, rect.w - (most > 0 ? 8 : 0), 2e6F};  // may go on below
  return offset;
}

void Ui::end_scroll() { pop_clip(); }

void Ui::set_scroll(std::string_view id, float offset) {
  const std::string full = full_id(id);
  for (Scroll& each : scrolls_) {
    if (each.id == full) each.offset = offset;
  }
}

void Ui::push_clip(const Rect& rect) {
  clips_.push_back(clips_.empty() ? rect : calc_overlap(clips_.back(), rect));
  ImGui::PushClipRect(to_pixels(Point{rect.x, rect.y}),
                      to_pixels(Point{rect.right(), rect.bottom()}), true);
}

void Ui::pop_clip() {
  ImGui::PopClipRect();
  clips_.pop_back();
}

void Ui::push_id(std::string_view id) { ids_.emplace_back(id); }
void Ui::pop_id() { ids_.pop_back(); }

std::string Ui::full_id(std::string_view id) const {
  std::string full = region_;
  for (const std::string& each : ids_) full.append("/").append(each);
  return full.append("/").append(id);
}

// --- shapes ---------------------------------------------------------------------------------

ImDrawList& Ui::draw_list() const { return *ImGui::GetWindowDrawList(); }

Rect Ui::calc_visible(const Rect& r) const {
  const ImDrawList& list = draw_list();
  const Point least = to_units(list.GetClipRectMin());
  const Point most = to_units(list.GetClipRectMax());
  return calc_overlap(r, {least.x, least.y, most.x - least.x, most.y - least.y});
}

std::uint32_t Ui::colour(Token token) const {
  const Rgb c = colour_of(theme_, token);
  return IM_COL32(c.red, c.green, c.blue, 255);
}

float Ui::to_pixels(float length) const { return length * fonts_.scale; }
ImVec2 Ui::to_pixels(Point p) const {
  return {std::round(p.x * fonts_.scale), std::round(p.y * fonts_.scale)};
}
Point Ui::to_units(ImVec2 pixels) const {
  return {pixels.x / fonts_.scale, pixels.y / fonts_.scale};
}

void Ui::fill_plain(const ImVec2& a, const ImVec2& b, Token token) {
  constexpr float kWorthwhile = 4096;  // pixels; smaller ones are no dearer than a change of state
  ImDrawList& list = draw_list();
  if (plain_painter_ == nullptr || (b.x - a.x) * (b.y - a.y) < kWorthwhile) {
    list.AddRectFilled(a, b, colour(token));
    return;
  }
  const ImVec2 least = list.GetClipRectMin();
  const ImVec2 most = list.GetClipRectMax();
  const PlainFill fill{static_cast<int>(std::max(a.x, least.x)),
                       static_cast<int>(std::max(a.y, least.y)),
                       static_cast<int>(std::min(b.x, most.x)),
                       static_cast<int>(std::min(b.y, most.y)), colour_of(theme_, token)};
  if (fill.right <= fill.left || fill.bottom <= fill.top) return;
  plain_fills_.push_back(fill);
  list.AddCallback(plain_painter_, &plain_fills_.back());
}

void Ui::fill(const Rect& r, Token token, float radius) {
  if (r.empty()) return;
  const ImVec2 a = to_pixels(Point{r.x, r.y});
  const ImVec2 b = to_pixels(Point{r.right(), r.bottom()});
  if (radius <= 0) {
    fill_plain(a, b, token);
    return;
  }
  // Of a sheet all but the ends is plain.
  constexpr float kSheet = 40'000;  // pixels
  const float round = std::round(to_pixels(radius));
  if (plain_painter_ == nullptr || (b.x - a.x) * (b.y - a.y) < kSheet || b.y - a.y < 4 * round) {
    draw_list().AddRectFilled(a, b, colour(token), to_pixels(radius));
    return;
  }
  fill_plain({a.x, a.y + round}, {b.x, b.y - round}, token);
  draw_list().AddRectFilled(a, {b.x, a.y + round}, colour(token), round,
                            ImDrawFlags_RoundCornersTop);
  draw_list().AddRectFilled({a.x, b.y - round}, b, colour(token), round,
                            ImDrawFlags_RoundCornersBottom);
}

void Ui::fill_ends(const Rect& r, Token token, float radius, bool left, bool right) {
  if (r.empty()) return;
  const ImDrawFlags ends = left && right ? ImDrawFlags_RoundCornersAll
                           : left        ? ImDrawFlags_RoundCornersLeft
                           : right       ? ImDrawFlags_RoundCornersRight
                                         : ImDrawFlags_RoundCornersNone;
  draw_list().AddRectFilled(to_pixels(Point{r.x, r.y}), to_pixels(Point{r.right(), r.bottom()}),
                            colour(token), to_pixels(radius), ends);
}

void Ui::outline(const Rect& r, Token token, float width, float radius) {
  if (r.empty()) return;
  if (probe_ != nullptr && token == Token::edge) {
    probe_->add(ProbedOutline{region_, r, calc_visible(r)});
  }
  // AddRect strokes along the middle of what it is given; the stroke belongs inside r.
  const float stroke = std::max(1.0F, std::round(to_pixels(width)));
  ImVec2 a = to_pixels(Point{r.x, r.y});
  ImVec2 b = to_pixels(Point{r.right(), r.bottom()});
  const float half = (stroke - 1) / 2;
  a = {a.x + half, a.y + half};
  b = {b.x - half, b.y - half};
  draw_list().AddRect(a, b, colour(token), to_pixels(radius), 0, stroke);
}

void Ui::line(Point a, Point b, Token token, float width) {
  const float stroke = std::max(1.0F, std::round(to_pixels(width)));
  if (a.x == b.x || a.y == b.y) {  // a box: sharp at every scale
    ImVec2 p = to_pixels(Point{std::min(a.x, b.x), std::min(a.y, b.y)});
    ImVec2 q = to_pixels(Point{std::max(a.x, b.x), std::max(a.y, b.y)});
    if (a.x == b.x) q.x = p.x + stroke;
    if (a.y == b.y) q.y = p.y + stroke;
    draw_list().AddRectFilled(p, q, colour(token));
    return;
  }
  draw_list().AddLine({a.x * scale(), a.y * scale()}, {b.x * scale(), b.y * scale()}, colour(token),
                      stroke);
}

void Ui::dashes(Point a, Point b, Token token, float width, float dash, float gap) {
  const float length = std::hypot(b.x - a.x, b.y - a.y);
  if (length <= 0) return;
  const Point step{(b.x - a.x) / length, (b.y - a.y) / length};
  for (float at = 0; at < length; at += dash + gap) {
    const float end = std::min(length, at + dash);
    line({a.x + step.x * at, a.y + step.y * at}, {a.x + step.x * end, a.y + step.y * end}, token,
         width);
  }
}

void Ui::disc(Point centre, float radius, Token token) {
  draw_list().AddCircleFilled({centre.x * scale(), centre.y * scale()}, to_pixels(radius),
                              colour(token));
}

void Ui::ring(Point centre, float radius, Token token, float width) {
  draw_list().AddCircle({centre.x * scale(), centre.y * scale()}, to_pixels(radius), colour(token),
                        0, to_pixels(width));
}

void Ui::polyline(const std::vector<Point>& points, Token token, float width) {
  if (points.size() < 2) return;
  ImDrawList& list = draw_list();
  for (const Point& p : points) list.PathLineTo({p.x * scale(), p.y * scale()});
  list.PathStroke(colour(token), 0, to_pixels(width));
}

void Ui::polygon(const std::vector<Point>& points, Token token) {
  ImDrawList& list = draw_list();
  for (const Point& p : points) list.PathLineTo({p.x * scale(), p.y * scale()});
  list.PathFillConvex(colour(token));
}

void Ui::picture(const Rect& r, std::uintptr_t texture, float radius) {
  draw_list().AddImageRounded(
      reinterpret_cast<ImTextureID>(texture),  // NOLINT(performance-no-int-to-ptr)
      to_pixels(Point{r.x, r.y}), to_pixels(Point{r.right(), r.bottom()}), {0, 1}, {1, 0},
      IM_COL32_WHITE, to_pixels(radius));
}

void Ui::hatch(const Rect& r, Token token) {
  if (r.empty()) return;
  push_clip(r);
  constexpr float kApart = 9.9F;  // along x: 7 from line to line
  // From a common origin, so that the hatches of two lanes are one.
  const float first = std::floor((r.x - r.h) / kApart) * kApart;
  for (float x = first; x < r.right(); x += kApart) {
    draw_list().AddLine({x * scale(), r.bottom() * scale()}, {(x + r.h) * scale(), r.y * scale()},
                        colour(token), to_pixels(2.0F));
  }
  pop_clip();
}

// --- touch ----------------------------------------------------------------------------------

Touch Ui::touch(std::string_view id, const Rect& r, std::string_view label, PartKind kind,
                bool available) {
  return touch_part(id, r, label, kind, available, true);
}

Touch Ui::touch_unfocused(std::string_view id, const Rect& r, std::string_view label, PartKind kind,
                          bool available) {
  return touch_part(id, r, label, kind, available, false);
}

Touch Ui::touch_part(std::string_view id, const Rect& r, std::string_view label, PartKind kind,
                     bool available, bool in_round) {
  Touch touch;
  const std::string full = full_id(id);
  if (probe_ != nullptr) {
    probe_->add(ProbedPart{std::string{label.empty() ? id : label}, full, kind, r, available});
  }
  if (r.empty()) return touch;
  const ImVec2 a = to_pixels(Point{r.x, r.y});
  const ImVec2 b = to_pixels(Point{r.right(), r.bottom()});
  const bool was_active = ImGui::GetActiveID() == ImGui::GetID(full.c_str());
  ImGui::SetCursorScreenPos(a);
  touch.clicked =
      ImGui::InvisibleButton(full.c_str(), {std::max(1.0F, b.x - a.x), std::max(1.0F, b.y - a.y)});
  touch.hovered = ImGui::IsItemHovered();
  touch.held = ImGui::IsItemActive();
  touch.pressed = touch.held && !was_active;
  const ImGuiIO& io = ImGui::GetIO();
  touch.pointer = to_units(io.MousePos);
  if (touch.held || touch.clicked) touch.dragged = to_units(ImGui::GetMouseDragDelta(0, 0.0F));
  if (touch.hovered) touch.wheel = io.MouseWheel;
  if (!available) {
    touch.clicked = touch.held = touch.pressed = false;
    return touch;
  }
  if (in_round && touch.pressed && place_ != Place::room) {
    focused_ = full;
    focus_shown_ = false;
  }
  if (in_round) {
    take_keys(full, r, touch);
    if (focused_ == full && kind != PartKind::stepper) arrows_are_free_ = true;
  }
  return touch;
}

Touch Ui::focus_only(std::string_view id, const Rect& r) {
  Touch touch;
  take_keys(full_id(id), r, touch);
  return touch;
}

void Ui::take_keys(const std::string& full, const Rect& r, Touch& touch) {
  round_.push_back(full);
  if (!focus_wanted_.empty() && focus_wanted_ == full) {
    focused_ = full;
    focus_wanted_.clear();
    focus_shown_ = true;
    frames_followed_ = kFollowed;
  }
  if (focused_ != full) return;
  keep_in_sight(r);
  touch.focused = focus_shown_;
  if (typing_) return;
  const bool enter = key_pressed(ImGuiKey_Enter, false) || key_pressed(ImGuiKey_KeyPadEnter, false);
  const bool space = place_ != Place::room && key_pressed(ImGuiKey_Space, false);
  touch.clicked = touch.clicked || enter || space || pad_press_;
  touch.left_key = key_pressed(ImGuiKey_LeftArrow) || pad_sideways_ < 0;
  touch.right_key = key_pressed(ImGuiKey_RightArrow) || pad_sideways_ > 0;
  touch.up_key = key_pressed(ImGuiKey_UpArrow);
  touch.down_key = key_pressed(ImGuiKey_DownArrow);
}

namespace {
// A pad goes round what belongs to who has the keys: a drawer, the card, what is around the
// patient.
bool is_on_pads_way(Place place, const std::string& id) {
  const bool around =
      id.starts_with("strip/") || id.starts_with("shelf/") || id.starts_with("message/");
  switch (place) {
    case Place::drawer: return id.starts_with("drawer/");
    case Place::card: return !around;
    case Place::room: return !id.starts_with("record/");
    case Place::study: break;
  }
  return true;
}
}  // namespace

void Ui::move_focus() {
  int by = 0;
  std::vector<std::string> round = round_;
  if (key_pressed(ImGuiKey_Tab) && !ImGui::GetIO().KeyCtrl) {
    by = ImGui::GetIO().KeyShift ? -1 : 1;
  } else if (pad_step_ != 0 || place_ == Place::drawer) {
    // In a drawer arrows go from part to part, except where they change a value.
    by = pad_step_;
    if (place_ == Place::drawer && (arrows_are_free_ || focused_.empty())) {
      const bool up = !arrows_scroll_ && key_pressed(ImGuiKey_UpArrow);
      const bool down = !arrows_scroll_ && key_pressed(ImGuiKey_DownArrow);
      const bool back = key_pressed(ImGuiKey_LeftArrow) || up;
      const bool on = key_pressed(ImGuiKey_RightArrow) || down;
      if (by == 0 && !typing_) by = pad_sideways_ != 0 ? pad_sideways_ : on ? 1 : back ? -1 : 0;
    }
    if (by != 0) {
      std::erase_if(round, [&](const std::string& id) { return !is_on_pads_way(place_, id); });
    }
  }
  pad_step_ = pad_sideways_ = 0;
  pad_scroll_ = 0;
  pad_press_ = arrows_are_free_ = arrows_scroll_ = false;
  if (by == 0 || round.empty()) return;
  const auto at = std::find(round.begin(), round.end(), focused_);
  std::size_t next = by < 0 ? round.size() - 1 : 0;
  if (at != round.end()) {
    const auto index = static_cast<std::size_t>(at - round.begin());
    next = (index + (by < 0 ? round.size() - 1 : 1)) % round.size();
  }
  if (typing_) ImGui::ClearActiveID();
  focus(round[next]);
}

void Ui::focus_ring(const Rect& r, float radius) {
  outline(r.inset(-2 * kRing), Token::act, kRing, radius + 2 * kRing);
}

void Ui::hint(const Rect& beside, std::string_view text) {
  if (!text.empty()) hint_ = Hint{beside, std::string{text}};
}

void Ui::go_to(Place place) {
  if (place == place_) return;
  place_ = place;
  drop_focus();
}

void Ui::focus(std::string_view full_id) {
  focus_wanted_ = full_id;
  focused_.clear();
}

void Ui::drop_focus() {
  focused_.clear();
  focus_wanted_.clear();
  if (typing_) ImGui::ClearActiveID();
}

bool Ui::take_focus(std::string_view id, bool in_round, const Rect& r) {
  const std::string full = full_id(id);
  if (in_round) round_.push_back(full);
  if (focus_wanted_ != full) {
    if (focused_ == full) keep_in_sight(r);
    return false;
  }
  constexpr int kAwaited = 4;  // Dear ImGui gives it two frames later
  field_awaited_ = kAwaited;
  frames_followed_ = kFollowed;
  focused_ = full;
  focus_wanted_.clear();
  focus_shown_ = true;
  keep_in_sight(r);
  return true;
}

void Ui::keep_in_sight(const Rect& r) {
  if (frames_followed_ > 0 && clips_.size() > 1) scroll_to_ = ScrollTo{region_, r};
}

void Ui::mark_focused(std::string_view id) { focused_ = full_id(id); }

std::string* Ui::find_edit(std::string_view id) {
  return edit_ && edit_->id == full_id(id) ? &edit_->text : nullptr;
}

void Ui::begin_edit(std::string_view id, std::string text) {
  edit_ = Edit{full_id(id), std::move(text)};
}

}  // namespace redress::screens
