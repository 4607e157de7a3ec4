// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The parts that every screen is made of: each takes its state and gives the event back; it keeps
// nothing. Ids default to the label; give one where a label occurs twice in a region.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "render/screens/parts/icons.hpp"
#include "render/screens/parts/ui.hpp"

namespace redress::screens {

enum class ButtonKind : std::uint8_t {
  plain,
  main,   ///< one a screen
  quiet,  ///< act text, no outline
};

struct ButtonLook {
  ButtonKind kind = ButtonKind::plain;
  bool available = true;
  std::string_view why_not = {};  ///< said beside it when pointed at while unavailable
  std::string_view key = {};      ///< drawn as a key cap after the words
  Icon icon = Icon::none;         ///< before the words
  std::string_view id = {};
};
/// True: clicked.
bool button(Ui& ui, const Rect& r, std::string_view label, const ButtonLook& look = {});
[[nodiscard]] float measure_button(const Ui& ui, std::string_view label,
                                   const ButtonLook& look = {});

/// Joined row; nothing may be chosen at first. Returns what was newly chosen. `given` is shared
/// among the options by their widths if r.w > 0; see measure_one_of_few.
std::optional<std::size_t> one_of_few(Ui& ui, const Rect& r, std::string_view id,
                                      std::span<const std::string_view> options,
                                      std::optional<std::size_t> chosen, bool available = true);
[[nodiscard]] float measure_one_of_few(const Ui& ui, std::span<const std::string_view> options);

/// An option that stands alone: chosen or not, a key beside it. True: clicked.
struct ChipLook {
  bool chosen = false;
  bool done = false;  ///< a check before the words
  bool available = true;
  std::string_view key = {};
  std::string_view id = {};
};
bool chip(Ui& ui, const Rect& r, std::string_view label, const ChipLook& look = {});
[[nodiscard]] float measure_chip(const Ui& ui, std::string_view label, const ChipLook& look = {});

/// True: clicked (the caller turns the value over).
bool check(Ui& ui, const Rect& r, std::string_view label, bool on, std::string_view id = {});
bool radio(Ui& ui, const Rect& r, std::string_view label, bool on, std::string_view id = {});

/// Words of which one is underlined, along the bottom edge of a bar. Returns what was clicked.
std::optional<std::size_t> tabs(Ui& ui, const Rect& r, std::string_view id,
                                std::span<const std::string_view> words, std::size_t chosen);
[[nodiscard]] float measure_tabs(const Ui& ui, std::span<const std::string_view> words);

/// A letter on a key, 22 high; returns its width. `at` is its left end at mid height.
float key_cap(Ui& ui, Point at, std::string_view letter);
[[nodiscard]] float measure_key_cap(const Ui& ui, std::string_view letter);

/// A panel: sheet, hairline, radius 8.
void sheet(Ui& ui, const Rect& r);
/// A card that can be clicked and chosen: first run's "I am learning". True: clicked.
bool choice_card(Ui& ui, const Rect& r, std::string_view title, std::string_view key,
                 std::string_view words, bool chosen);
/// A row of a list; true: clicked. Draws its ground; the caller draws what is in it afterwards.
bool list_row(Ui& ui, const Rect& r, std::string_view id, std::string_view label, bool chosen);

// --- values ---

struct Range {
  double least = 0;
  double most = 100;
  double step = 1;
  int decimals = 0;
  std::string_view unit = {};
};
/// − value +; wheel, arrows, clicks and typing work. Returns a value that lies in the range.
std::optional<double> stepper(Ui& ui, const Rect& r, std::string_view id,
                              std::optional<double> value, const Range& range);

struct FieldLook {
  std::string_view hint = {};  ///< what stands there while it is empty, in ink3
  bool not_read = false;       ///< outlined in care with a caution sign
  std::string_view key = {};
  bool strong = false;        ///< SemiBold
  std::size_t longest = 400;  ///< bytes
  bool masked = false;        ///< a passphrase: dots, and not to be copied
  float room_below = 0;       ///< of what opens under it, scrolled into sight with it
};
struct FieldEvent {
  bool changed = false;  ///< at this key stroke
  bool settled = false;  ///< Enter, or the field was left after a change
  bool entered = false;  ///< Enter
  bool escaped = false;  ///< Esc
};
FieldEvent field(Ui& ui, const Rect& r, std::string_view id, std::string& text,
                 const FieldLook& look = {});

}  // namespace redress::screens
