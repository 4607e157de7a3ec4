// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The help sheet as a page: the mouse hand, the keys where they lie on this keyboard, the
// controller; what helps hands that tire; and where each act can be put on another key.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/examine/captions.hpp"
#include "render/screens/layout.hpp"
#include "render/screens/parts/ui.hpp"

namespace redress::screens::examine {

/// What the mouse hand does with the occluder, each with a picture.
inline constexpr std::size_t kGestures = 4;
inline constexpr float kGestureAspect = 320.0F / 195.0F;  ///< width to height of a picture
inline constexpr double kGestureAcrossMm = 150;           ///< of the face, in a picture

struct HelpPageState {
  std::array<std::uintptr_t, kGestures> gestures{};  ///< textures; 0: not drawn yet
  float height = 0;                ///< of the page, so that it scrolls where the window is low
  bool one_key_at_a_time = false;  ///< for the caller to follow
  bool click_holds = false;
  bool changes_keys = false;          ///< the list of acts and their keys
  std::optional<std::size_t> moving;  ///< this act waits for its new key
  std::string refusal;                ///< why the last key was not taken
  std::string moved;                  ///< what was done instead
};

/// How wide a picture is there, units.
float measure_gesture(const StudyLayout& layout);

/// True: back to the patient. `captions.keys` change as the user wants it.
bool draw_help_page(Ui& ui, const StudyLayout& layout, KeyCaptions& captions, HelpPageState& state);

/// A key was pressed for the act that waits for one; Esc leaves it where it was.
void take_new_key(const Chord& pressed, KeyCaptions& captions, HelpPageState& state);

/// Which keys, and what they do.
struct HelpLine {
  std::string keys;
  std::string words;
};
std::vector<HelpLine> make_help_lines(const KeyCaptions& captions);

// --- for the page itself ---

/// What to do, and what went wrong; stays in view while the list below it is scrolled, and has the
/// same height whatever it says, so that no row moves. Both return the height used.
float draw_key_top(Ui& ui, const Rect& area, KeyCaptions& captions, HelpPageState& state);
float draw_key_list(Ui& ui, const Rect& area, KeyCaptions& captions, HelpPageState& state);

}  // namespace redress::screens::examine
