// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A controller alone: it reaches everything that can be pressed around the patient, in a drawer and
// on the card, and examines a patient from the story to the card that is handed in.
#include <algorithm>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <catch2/catch.hpp>

#include "render/screens/debrief/debrief_model.hpp"
#include "tests/render/room_on_screen.hpp"

using namespace redress;
using namespace redress::app;
using redress::screens::WindowSize;
using redress::test::RoomOnScreen;
using redress::window::PadAxis;
using redress::window::PadButton;
namespace ex = redress::screens::examine;

namespace {

constexpr WindowSize kSmall{1280, 720, 1};
constexpr WindowSize kCompact{1280, 720, 2};

class Pad {
 public:
  explicit Pad(WindowSize size) : on(size) {}

  void press(PadButton button, int times = 1) {
    for (int i = 0; i < times; ++i) {
      on.pad(on.now_ms(), button);
      on.run_for(60);
    }
  }
  void pass(double ms) { on.run_for(ms); }

  // --- hands ---
  /// Sides of the picture: the patient's right eye is on the left.
  void point_at(Eye eye) {
    constexpr double kReachMm = 45;
    constexpr double kEyeMm = 31.5;
    axis(PadAxis::right_x, (eye == Eye::right ? -1 : 1) * kEyeMm / kReachMm);
  }
  void hold(bool held) { axis(PadAxis::right_trigger, held ? 0.8 : 0.0); }
  void cover_and_uncover(int times) {
    for (int i = 0; i < times; ++i) {
      for (const Eye eye : kBothEyes) {
        point_at(eye);
        hold(true);
        pass(3300);
        hold(false);
        pass(3000);
      }
    }
  }
  /// The cover is on one eye already, or goes to the right one.
  void alternate(int transfers) {
    if (!covered_) {
      point_at(Eye::right);
      hold(true);
      covered_ = true;
      at_ = Eye::right;
      pass(3300);
    }
    for (int i = 0; i < transfers; ++i) {
      at_ = fellow(at_);
      point_at(at_);
      pass(1300);
    }
  }
  void open_both() {
    hold(false);
    covered_ = false;
    pass(2000);
  }
  void take_prism_or_put_away() {
    axis(PadAxis::left_trigger, 1);
    pass(500);
    axis(PadAxis::left_trigger, 0);
    pass(100);
  }
  /// Steps up to `label` and alternates at each from `first` on.
  void bracket(double first, double last) {
    while (label() < last) {
      press(PadButton::right_bumper);
      pass(200);
      if (label() >= first) alternate(4);
    }
  }
  [[nodiscard]] double label() const {
    const auto prisms = on.acts<act::HoldPrism>();
    return prisms.empty() ? 0.0 : prisms.back().power.value;
  }

  // --- parts ---
  void go_to(std::string_view label_or_id) {
    for (int i = 0; i < 200; ++i) {
      const auto* part = on.ui.probe().find(label_or_id);
      const std::string focused = on.ui.ui().focused();
      if (part != nullptr && part->id == focused) return;
      if (focused.ends_with("/" + std::string(label_or_id))) return;
      press(PadButton::pad_down);
    }
    FAIL("the pad does not come to " << label_or_id << " but to " << on.ui.ui().focused());
  }
  void choose(std::string_view label_or_id) {
    go_to(label_or_id);
    press(PadButton::lower);
    pass(200);
  }
  /// A row of choices, a value: so many steps to the right.
  void set(std::string_view id, int steps) {
    go_to(id);
    press(PadButton::pad_right, steps);
  }
  /// Whatever the pad comes to on its way round.
  std::set<std::string> go_round() {
    std::set<std::string> visited;
    for (int i = 0; i < 250; ++i) {
      press(PadButton::pad_down);
      if (!visited.insert(on.ui.ui().focused()).second) break;
    }
    return visited;
  }
  /// What can be used and was not come to; a choice is come to with its row.
  std::vector<std::string> find_missing(const std::set<std::string>& visited,
                                        bool on_card = false) const {
    const auto group_of = [](const std::string& id) { return id.substr(0, id.rfind('/')); };
    std::set<std::string> groups;
    for (const std::string& id : visited) {
      if (std::count(id.begin(), id.end(), '/') > 1) groups.insert(group_of(id));
    }
    std::vector<std::string> missing;
    for (const screens::ProbedPart& part : on.ui.probe().parts()) {
      const bool pressed = part.kind != screens::PartKind::drawing && part.available;
      if (!pressed || part.rect.empty() || visited.contains(part.id)) continue;
      if (part.id.starts_with("record") != on_card) continue;
      const bool with_its_row =
          groups.contains(group_of(part.id)) ||
          std::any_of(visited.begin(), visited.end(),
                      [&](const std::string& id) { return part.id.starts_with(id + "/"); });
      if (!with_its_row) missing.push_back(part.id);
    }
    return missing;
  }

  RoomOnScreen on;

 private:
  void axis(PadAxis which, double value) {
    on.at(on.now_ms(), window::input::PadMove{which, value});
    on.run_for(30);
  }
  bool covered_ = false;
  Eye at_ = Eye::right;
};

}  // namespace

TEST_CASE("a controller comes to everything that can be pressed in the room") {
  for (const WindowSize& size : {kSmall, kCompact}) {
    Pad pad(size);
    INFO("scale " << size.scale);
    pad.pass(1000);
    pad.press(PadButton::start);
    const auto around = pad.go_round();
    CHECK(pad.find_missing(around) == std::vector<std::string>{});
    pad.press(PadButton::start);
    CHECK(pad.on.ui.ui().focused().empty());
    pad.press(PadButton::upper);
    const auto card = pad.go_round();
    CHECK(card.size() > 15);
    CHECK(pad.find_missing(card, true) == std::vector<std::string>{});
    pad.press(PadButton::right, 2);
    REQUIRE(pad.on.ui.ui().place() == screens::Place::room);
    // And to what those open.
    for (const std::string_view place : {"prism", "correction", "view"}) {
      if (pad.on.ui.probe().find("shelf/" + std::string(place)) == nullptr) continue;
      INFO(place);
      pad.press(PadButton::start);
      pad.choose("shelf/" + std::string(place));
      REQUIRE(pad.on.room.session().drawer() != ex::Drawer::none);
      const auto inside = pad.go_round();
      CHECK(inside.size() >= 3);
      pad.press(PadButton::right);
      CHECK(pad.on.room.session().drawer() == ex::Drawer::none);
    }
  }
}

TEST_CASE("a controller answers whether the patient is left") {
  for (const std::string_view answer : {"Stay", "Leave"}) {
    Pad pad(kSmall);
    pad.press(PadButton::start);
    pad.choose("leave");
    REQUIRE(pad.on.ui.probe().find("Stay") != nullptr);
    pad.choose(answer == "Stay" ? "leaving/Stay" : "leaving/Leave");
    CHECK(pad.on.outcome.left == (answer == "Leave"));
    if (answer == "Stay") CHECK(pad.on.ui.probe().find("Stay") == nullptr);
  }
}

TEST_CASE("with the card beside the patient the upper button goes to it, then folds it") {
  Pad pad(kSmall);
  pad.press(PadButton::upper);
  CHECK(pad.on.ui.ui().place() == screens::Place::card);
  pad.press(PadButton::right);
  CHECK(pad.on.ui.ui().place() == screens::Place::room);
  CHECK(pad.on.ui.probe().find("Phoria") != nullptr);
  pad.press(PadButton::upper);
  pad.press(PadButton::upper);
  CHECK(pad.on.ui.probe().find("Phoria") == nullptr);
  pad.press(PadButton::upper);
  CHECK(pad.on.ui.ui().place() == screens::Place::card);
}

TEST_CASE("a whole examination by a controller alone") {
  Pad pad(kSmall);
  pad.press(PadButton::start);
  pad.choose("Story");
  CHECK(pad.on.room.session().drawer() == ex::Drawer::story);
  pad.press(PadButton::right);

  pad.press(PadButton::right);
  for (const std::string_view words : {"Beginning", "Tired eyes", "Look at the target"}) {
    pad.choose(words);
    pad.pass(2000);
  }
  pad.press(PadButton::right);
  pad.pass(3300);

  const auto write = [&](int neutral_steps, int reversal_steps) {
    pad.press(PadButton::upper);
    pad.set("movement", 2);  // none, phoria
    pad.set("across", 2);    // eso, exo
    pad.set("size/value", static_cast<int>(pad.on.room.session().target().distance_m < 1 ? 9 : 6));
    pad.set("recovery", 1);
    pad.set("neutral/value", neutral_steps);
    pad.set("in or out", 1);
    pad.set("reversal/value", reversal_steps);
    pad.press(PadButton::right, 2);
    CHECK(pad.on.ui.ui().place() == screens::Place::room);
  };

  // At 6 m: 1, 2, 4, 6, 8 base in.
  pad.cover_and_uncover(2);
  pad.alternate(8);
  pad.press(PadButton::pad_left);
  pad.take_prism_or_put_away();
  pad.bracket(4, 8);
  pad.open_both();
  pad.take_prism_or_put_away();
  write(4, 5);

  pad.press(PadButton::left);
  pad.choose("40 cm");
  pad.press(PadButton::right);
  pad.pass(2500);
  pad.cover_and_uncover(2);
  pad.alternate(8);
  pad.take_prism_or_put_away();
  pad.alternate(4);  // behind what the bar was left at
  pad.bracket(8, 12);
  pad.open_both();
  pad.take_prism_or_put_away();
  write(6, 7);

  pad.press(PadButton::upper);
  pad.choose("Impression and plan");
  pad.choose("impression exophoria");
  pad.choose("plan No treatment needed");
  pad.set("how soon", 1);
  pad.choose("Finish and see the debrief");
  REQUIRE(pad.on.outcome.finished);

  const auto debrief = screens::debrief::make_debrief(pad.on.room.record_text());
  REQUIRE(debrief.ok());
  for (const auto& mark : debrief.value().marks) {
    if (mark.marks < mark.max) UNSCOPED_INFO(mark.title << ": " << mark.marks << ", " << mark.why);
  }
  CHECK(debrief.value().total >= 95);
  // Nothing came from mouse or keys.
  CHECK(pad.on.acts<act::Cover>().empty());
}
