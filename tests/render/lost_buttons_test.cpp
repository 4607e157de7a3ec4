// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A button that goes up where nobody hears it: its next press counts all the same.
#include "render/window/lost_buttons.hpp"

#include <catch2/catch.hpp>

using namespace redress::window;
using Changes = std::vector<LostButtons::Change>;

namespace {
constexpr ButtonsDown kNone{};
constexpr ButtonsDown kLeft{true, false, false};
}  // namespace

TEST_CASE("a lost button goes up elsewhere and down again: both are told, once each") {
  LostButtons lost;
  lost.lose(kLeft);
  CHECK(lost.follow(kLeft, kLeft).empty());  // still held
  CHECK(lost.follow(kLeft, kNone) == Changes{{MouseButton::left, false}});
  CHECK(lost.follow(kLeft, kNone).empty());
  CHECK(lost.follow(kLeft, kLeft) == Changes{{MouseButton::left, true}});
  CHECK(lost.follow(kLeft, kLeft).empty());
  CHECK(lost.any());
  // The window library hears the next release itself.
  CHECK(lost.follow(kNone, kNone).empty());
  CHECK_FALSE(lost.any());
}

TEST_CASE("nothing is made up: where no button was down, and where the release was heard") {
  LostButtons lost;
  lost.lose(kNone);
  CHECK_FALSE(lost.any());
  CHECK(lost.follow(kNone, kLeft).empty());
  lost.lose(kLeft);
  CHECK(lost.follow(kNone, kNone).empty());
  CHECK(lost.follow(kNone, kLeft).empty());
}
