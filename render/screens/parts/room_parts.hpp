// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Parts of the room's furniture: places on the shelf, the bar, the occluder's distance, the line of
// what was said.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "render/screens/parts/parts.hpp"

namespace redress::screens {

/// Between the caps of a place, units.
inline constexpr float kCapGap = 3;

enum class PlaceState : std::uint8_t { rest, open, not_here };

/// One instrument on the shelf: what is there now is its label.
struct PlaceLook {
  std::string_view caption;  ///< "Target"
  std::span<const std::string_view> keys = {};
  std::string_view now;  ///< "Letter line, 0.2 logMAR"
  std::string_view detail = {};
  PlaceState state = PlaceState::rest;
  bool compact = false;  ///< caption and value only, keys without caps
};
/// True: clicked. `drawing`, if given, receives what is left below the words.
bool place(Ui& ui, const Rect& r, std::string_view id, const PlaceLook& look,
           Rect* drawing = nullptr);

/// The steps of a bar as wedges; the one before the eye in act. Returns the step clicked.
std::optional<std::size_t> bar_drawing(Ui& ui, const Rect& r, std::string_view id,
                                       std::span<const double> steps_pd,
                                       std::optional<std::size_t> at);

/// Profile, scale 0 ... 80 mm with a tick each 20 mm and the blade; `band`: 15 ... 30 mm marked
/// (practice only). `distance_mm` none: lowered, drawn at the far end.
void distance_drawing(Ui& ui, const Rect& r, std::optional<double> distance_mm, bool band);

enum class MessageKind : std::uint8_t { nothing, speech, caution, fault, note };
struct Message {
  MessageKind kind = MessageKind::nothing;
  std::string_view strong = {};  ///< "Disk full."
  std::string_view words = {};
};
/// One line; `right` (magnification) at its right end, which is never shortened.
void message_line(Ui& ui, const Rect& r, const Message& message, std::string_view right);

}  // namespace redress::screens
