// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where an educator's cases come from and go to: patients drawn from published figures, packs taken
// in and handed on, another folder. What is inside is always shown, and chosen, before anything is
// written.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"

namespace redress::screens {

enum class SupplyPart : std::uint8_t { draw, take_in, hand_on, folder };
inline constexpr std::array<std::string_view, 4> kSupplyParts{"Draw patients", "Import a pack",
                                                              "Export a pack", "Another folder"};

/// One case that can be put somewhere, or not.
struct SupplyRow {
  bool chosen = true;
  std::string who;      ///< "Tamsin Oakley, 23"
  std::string words;    ///< the complaint
  std::string numbers;  ///< "−2Δ at 6 m, −9Δ at 40 cm · AC/A 2.1 · exophoria"; empty: none
  std::string file;     ///< "exophoria_7_0001.json"
};

inline constexpr int kMostDrawn = 500;  // at once

struct SupplyModel {
  SupplyPart part = SupplyPart::draw;
  // What is drawn.
  std::span<const std::string_view> diagnoses;  ///< the generator's words
  std::size_t diagnosis = 0;
  double difficulty_percent = 50;
  double seed = 1;
  double count = 5;
  bool working = false;   ///< something is drawn or read
  std::size_t drawn = 0;  ///< so far
  // Packs.
  std::string path;   ///< of the pack to read, the pack to write, or the folder to open
  std::string title;  ///< of a pack
  std::string note;
  // Folders.
  std::string own_folder;            ///< where new cases go
  std::vector<std::string> folders;  ///< inside the one at `path`
  std::string inside;                ///< what else is there: "10,000 case files"

  float form_height = 0;
  std::vector<SupplyRow> rows;  ///< of this part
  std::string done;             ///< "5 cases were put into …"; empty: nothing yet
  std::vector<std::string> problems;
};

enum class SupplyOrder : std::uint8_t {
  leave,
  draw,
  stop,
  look,       ///< into the pack at the path
  put,        ///< what is chosen into the own folder
  hand_on,    ///< what is chosen into the pack at the path
  open,       ///< the folder at the path is the own one from now on
  usual,      ///< and so is the usual one
  go_to_path  ///< another folder was named: what is in it
};

struct SupplyOutcome {
  std::optional<SupplyOrder> order;
  std::optional<SupplyPart> part;
};

struct SupplyLayout {
  bool compact = false;
  Rect bar;
  Rect form;
  Rect list;
};
SupplyLayout make_supply_layout(const WindowSize& window);

SupplyOutcome draw_supply(Ui& ui, const SupplyLayout& layout, SupplyModel& model);

}  // namespace redress::screens
