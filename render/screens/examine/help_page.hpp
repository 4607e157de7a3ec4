// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The help sheet as a page: the mouse hand, the keys where they lie on this keyboard, the
// controller.
#pragma once

#include <string>
#include <vector>

#include "render/screens/examine/captions.hpp"
#include "render/screens/layout.hpp"
#include "render/screens/parts/ui.hpp"

namespace redress::screens::examine {

struct HelpPageState {
  float height = 0;                ///< of the page, so that it scrolls where the window is low
  bool one_key_at_a_time = false;  ///< for the caller to follow
  bool click_holds = false;
};

/// True: back to the patient.
bool draw_help_page(Ui& ui, const StudyLayout& layout, const KeyCaptions& captions,
                    HelpPageState& state);

/// For a drawer, where there is no room for a page: which keys, and what they do.
struct HelpLine {
  std::string keys;
  std::string words;
};
std::vector<HelpLine> make_help_lines(const KeyCaptions& captions);

}  // namespace redress::screens::examine
