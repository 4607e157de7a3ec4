// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands in each drawer: rows of choices with the order that each gives. Plain values; screen
// draws them. All choices are there for every patient and always live.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "render/screens/examine/captions.hpp"
#include "render/screens/examine/session.hpp"

namespace redress::screens::examine {

struct DrawerItem {
  enum class Kind : std::uint8_t { chip, stepper, words };
  Kind kind = Kind::chip;
  std::string label;  ///< of a stepper: what stands before it
  std::string key;
  bool chosen = false;
  bool done = false;  ///< was said or looked up
  Order order;        ///< of a stepper: its first argument becomes the value
  double value = 0;
  double least = 0;
  double most = 0;
  double step = 1;
  int decimals = 0;
  std::string unit;
};

struct DrawerRow {
  std::string label;
  std::vector<DrawerItem> items;
};

struct DrawerView {
  std::vector<DrawerRow> rows;
  std::optional<int> gaze;  ///< the pad of nine beside the rows, and which is chosen
  std::string hint;         ///< small, below the rows, where there is room
};

/// Of the open drawer; Drawer::story and Drawer::help have their own. Compact: the view's rows are
/// in the target's, and the pad is a row.
DrawerView make_drawer(const Session& session, Drawer drawer, bool compact,
                       const KeyCaptions& captions = {});

}  // namespace redress::screens::examine
