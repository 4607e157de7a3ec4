// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The bar along the top of the study screens: which of them is shown, and who sits here.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"

namespace redress::screens {

enum class StudyTab : std::uint8_t { cases, train, progress, assessment };

struct StudyBar {
  StudyTab tab = StudyTab::cases;
  std::string user;   ///< empty: not said
  std::string role;   ///< "student"
  std::string aside;  ///< beside the name; left out where there is no room
  bool aside_is_button = false;
};

struct StudyBarOutcome {
  std::optional<StudyTab> tab;
  bool change_user = false;
  bool aside = false;
};

StudyBarOutcome draw_study_bar(Ui& ui, const StudyLayout& layout, const StudyBar& bar);

}  // namespace redress::screens
