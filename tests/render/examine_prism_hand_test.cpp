// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The other hand: bar and loose prisms. Values: the design of the screens, section 2 ("Both
// hands").
#include <vector>

#include <catch2/catch.hpp>

#include "render/screens/examine/prism_hand.hpp"

using namespace redress;
using namespace redress::screens::examine;

namespace {

struct Bench {
  PrismHand hand;
  Tick now = 0;
  std::vector<std::pair<Tick, ActContent>> told;

  template <class Order>
  void order(Order&& give) {
    std::vector<ActContent> acts;
    give(acts);
    keep(acts);
  }
  void run(Tick ticks) {
    for (const Tick end = now + ticks; now < end; ++now) {
      std::vector<ActContent> acts;
      hand.step(now, acts);
      keep(acts);
    }
  }
  void keep(const std::vector<ActContent>& acts) {
    for (const ActContent& a : acts) told.emplace_back(now, a);
  }
  void take() {
    order([&](auto& acts) { hand.take_or_put_away(now, acts); });
  }
  std::string step_by(int by) {
    std::string refusal;
    order([&](auto& acts) { refusal = hand.step_by(by, now, acts); });
    return refusal;
  }
  [[nodiscard]] const act::HoldPrism& held(std::size_t i) const {
    return std::get<act::HoldPrism>(told.at(i).second);
  }
};

}  // namespace

TEST_CASE("a base is where ISO 8429 says, before either eye") {
  CHECK(to_angle(Base::in, Eye::right).value == 0);
  CHECK(to_angle(Base::in, Eye::left).value == 180);
  CHECK(to_angle(Base::out, Eye::left).value == 0);
  CHECK(to_angle(Base::up, Eye::left).value == 90);
}

TEST_CASE("a step in the hand is no act, before the eye the bar is slid, 90 ms a step") {
  Bench bench;
  bench.step_by(1);  // 2
  CHECK(bench.told.empty());
  bench.take();
  REQUIRE(bench.told.size() == 1);
  CHECK(bench.held(0).power.value == 2);
  bench.step_by(1);  // 4
  bench.step_by(1);  // 6, while it slides
  CHECK(bench.hand.is_moving());
  bench.run(200);
  REQUIRE(bench.told.size() == 3);
  // The edge between the steps passes the eye half way.
  CHECK(bench.told[1].first == 45);
  CHECK(bench.held(1).power.value == 4);
  CHECK(bench.told[2].first == 135);
  CHECK(bench.held(2).power.value == 6);
  CHECK_FALSE(bench.hand.is_moving());
}

TEST_CASE("the drawn slide is continuous and goes the way of the steps") {
  Bench bench;
  bench.take();
  bench.order([&](auto& acts) { bench.hand.jump_to(3, bench.now, acts); });
  double before = 0;
  const auto place = [&] {
    const HeldPiece& p = bench.hand.active();
    return 22.5 * static_cast<double>(p.at) + PrismHand::slide_mm(p, bench.now, 22.5);
  };
  for (int i = 0; i < 300; ++i) {
    bench.run(1);
    CHECK(place() >= before - 1e-9);
    CHECK(place() - before < 0.6);
    before = place();
  }
  CHECK(before == Approx(3 * 22.5));
  bench.step_by(-1);
  bench.run(20);
  CHECK(place() < 3 * 22.5);
}

TEST_CASE("a loose prism is swapped: the eye is bare for 400 ms") {
  Bench bench;
  bench.order([&](auto& acts) { bench.hand.change_form(1, bench.now, acts); });
  bench.take();
  bench.step_by(1);
  bench.run(600);
  REQUIRE(bench.told.size() == 3);
  CHECK(std::holds_alternative<act::RemovePrism>(bench.told[1].second));
  CHECK(bench.told[1].first == 0);
  CHECK(bench.told[2].first == 400);
  CHECK(bench.held(2).power.value == 2);
}

TEST_CASE("the bar's ends are told, and how to go on") {
  Bench bench;
  CHECK(bench.step_by(-1).find("below 1Δ") != std::string::npos);
  bench.order([&](auto& acts) { bench.hand.jump_to(99, bench.now, acts); });
  const std::string refusal = bench.step_by(1);
  CHECK(refusal == "The bar has no step above 45Δ. Split it between both eyes with G.");
  bench.take();
  CHECK(bench.held(0).power.value == 45);
}

TEST_CASE("the other eye, the other base") {
  Bench bench;
  bench.take();
  bench.order([&](auto& acts) { bench.hand.other_eye(bench.now, acts); });
  bench.run(500);
  CHECK(bench.held(2).eye == Eye::left);
  CHECK(bench.held(2).base.value == 180);  // still base in
  bench.order([&](auto& acts) { bench.hand.turn_base(Base::up, bench.now, acts); });
  bench.run(500);
  CHECK(bench.held(4).base.value == 90);
}

TEST_CASE("split between both eyes, then stacked before one, then one again") {
  Bench bench;
  bench.take();
  bench.order([&](auto& acts) { bench.hand.split_or_stack(bench.now, acts); });
  bench.run(500);
  REQUIRE(bench.hand.pieces().size() == 2);
  CHECK(bench.held(1).eye == Eye::left);
  CHECK(bench.held(1).slot == 1);
  bench.order([&](auto& acts) { bench.hand.split_or_stack(bench.now, acts); });
  bench.run(500);
  const act::HoldPrism& stacked = std::get<act::HoldPrism>(bench.told.back().second);
  CHECK(stacked.eye == Eye::right);
  CHECK(stacked.slot == 2);
  CHECK(stacked.base.value == 90);
  bench.order([&](auto& acts) { bench.hand.split_or_stack(bench.now, acts); });
  CHECK(bench.hand.pieces().size() == 1);
  bench.take();
  CHECK_FALSE(bench.hand.active().taken);
  CHECK(std::holds_alternative<act::RemovePrism>(bench.told.back().second));
}
