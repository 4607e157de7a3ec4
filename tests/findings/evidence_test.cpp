// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What acts in the log could have shown.
#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

#include "sim/findings/evidence.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::findings;
using namespace redress::tests;

namespace {

Evidence gather(const Case& c, const std::vector<Act>& acts, Tick until) {
  return gather_evidence(setup_of(c), acts, Chance{1, 0.0, true}, until);
}

Act alternate(Tick at_ms, int i) { return cover(at_ms, i % 2 == 0 ? Eye::right : Eye::left); }

}  // namespace

TEST_CASE("covers are unilateral or of an alternating sequence", "[findings]") {
  std::vector<Act> acts{cover(4000, Eye::right), uncover(7000), cover(10000, Eye::left),
                        uncover(13000)};
  for (int i = 0; i < 6; ++i) acts.push_back(alternate(16000 + 1500 * i, i));
  acts.push_back(uncover(25000));
  acts.push_back(cover(29000, Eye::right));
  acts.push_back(uncover(32000));
  const Evidence e = gather(case_with_deviation(-6, -9), acts, 36000);

  REQUIRE(e.covers.size() == 9);
  CHECK(e.covers[0].unilateral());
  CHECK(e.covers[1].unilateral());
  CHECK(e.covers[0].eye == Eye::right);
  CHECK(e.covers[0].duration_ms() == Approx(3000).margin(150));
  CHECK(e.covers[0].before_alternating);
  CHECK(e.covers[0].open_after_ms == Approx(3000).margin(150));
  CHECK(e.covers[0].fused_before_next);
  CHECK(e.covers[0].regained_ms.has_value());
  for (std::size_t i = 2; i < 8; ++i) CHECK_FALSE(e.covers[i].unilateral());
  CHECK_FALSE(e.covers[2].transfer_in);
  CHECK(e.covers[2].transfer_out);
  CHECK(e.covers[3].transfer_in);
  CHECK(e.covers[3].glimpse_ms < 100);
  CHECK(e.covers[8].unilateral());
  CHECK_FALSE(e.covers[8].before_alternating);
  REQUIRE(e.first_cover_ms.has_value());
  CHECK(e.looked_ms == Approx(*e.first_cover_ms).margin(1));
}

TEST_CASE("a slow transfer is a glimpse with both eyes", "[findings]") {
  const Evidence e = gather(case_with_deviation(-6, -9),
                            {cover(1000, Eye::right), uncover(4000), cover(4300, Eye::left)}, 8000);
  REQUIRE(e.covers.size() == 2);
  CHECK(e.covers[1].transfer_in);
  CHECK(e.covers[1].glimpse_ms > 150);
}

TEST_CASE("the moving eye is in view, unless the head is where it cannot see", "[findings]") {
  const std::vector<Act> seen{cover(1000, Eye::right), uncover(4000)};
  const Evidence e = gather(case_with_deviation(-6, -9), seen, 6000);
  CHECK(e.covers.at(0).view_on_cover == Approx(1.0));
  CHECK(e.covers.at(0).view_on_uncover > 0.9);

  // From above the brow, 10 cm before it, the plate that leaves upwards stands in the way.
  act::MoveViewpoint up;
  up.x_mm = 31.0;
  up.y_mm = 100.0;
  up.z_mm = -60.0;
  std::vector<Act> hidden{{0, up}};
  act::Uncover slowly;
  slowly.travel_ms = 1500;
  hidden.push_back(cover(1000, Eye::right));
  hidden.push_back({4000, slowly});
  const Evidence h = gather(case_with_deviation(-6, -9), hidden, 8000);
  CHECK(h.covers.at(0).view_on_uncover < 0.5);
}

TEST_CASE("who looks at one eye alone has its fellow out of view", "[findings]") {
  const std::vector<Act> acts{{0, act::Magnify{75.0, Eye::left}},
                              cover(1000, Eye::right),
                              uncover(5000),
                              cover(9000, Eye::left),
                              uncover(13000),
                              {16000, act::Magnify{}},
                              cover(17000, Eye::left),
                              uncover(21000)};
  Case turned = case_with_deviation(20, 20);  // the right eye in, the left one preferred
  turned.fusion.present = false;
  turned.sensory.preferred_eye = Eye::left;
  const Evidence e = gather(turned, acts, 24000);
  REQUIRE(e.covers.size() == 3);
  // The left eye is watched as the right one is covered, the right one as the left one is.
  CHECK(e.covers[0].view_on_cover == Approx(1.0));
  CHECK(e.covers[0].view_on_uncover == Approx(0.0));
  CHECK(e.covers[1].view_on_cover == Approx(0.0));
  CHECK(e.covers[1].own_eye_lost_ms.right >= kOwnViewMs);
  CHECK(e.covers[2].view_on_cover == Approx(1.0));
  int unseen = 0;
  int seen = 0;
  for (const Movement& m : e.movements) {
    if (m.eye != Eye::right || m.cause != Cause::cover || m.under_cover) continue;
    ++(m.out_of_view ? unseen : seen);
  }
  CHECK(unseen == 1);
  CHECK(seen == 1);
}

TEST_CASE("what is left to move behind each prism is read off", "[findings]") {
  // Alternating cover of 8 exophoria with 0, 4, 8, 10 base in leaves 8, 4, 0, -2 (arithmetic);
  // fusion takes nothing away in between because both eyes never see for long.
  std::vector<Act> acts;
  Tick t = 2000;
  int i = 0;
  const auto alternate_for = [&](int transfers) {
    for (int k = 0; k < transfers; ++k, t += 2500) acts.push_back(alternate(t, i++));
  };
  alternate_for(6);
  for (const double label : {4.0, 8.0, 10.0}) {
    acts.push_back(hold_prism(t - 1000, Eye::left, label, base_in(Eye::left)));
    alternate_for(4);
  }
  const Evidence e = gather(case_with_deviation(-8, -8), acts, t + 1000);
  REQUIRE(e.prisms.size() == 3);
  const double labels[] = {-4.0, -8.0, -10.0};
  const double left[] = {-4.0, 0.0, 2.0};
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(e.prisms[k].horizontal_pd == Approx(labels[k]));
    CHECK(e.prisms[k].vertical_pd == Approx(0.0).margin(1e-9));
    CHECK(e.prisms[k].transfers >= 3);
    CHECK(e.prisms[k].residual_horizontal_pd == Approx(left[k]).margin(0.8));
    CHECK_FALSE(e.prisms[k].same_sense_stack);
  }
}

TEST_CASE("prisms stacked in the same sense and strong ones askew are lapses", "[findings]") {
  std::vector<Act> acts{hold_prism(1000, Eye::right, 10, 180)};
  act::HoldPrism second;
  second.eye = Eye::right;
  second.power = PrismDioptres{10};
  second.base = Degrees{180};
  second.slot = 2;
  acts.push_back({1500, second});
  acts.push_back(remove_prism(2000, Eye::right));
  act::HoldPrism askew;
  askew.eye = Eye::right;
  askew.power = PrismDioptres{35};
  askew.base = Degrees{180};
  askew.tilt = Degrees{15};
  acts.push_back({2500, askew});
  const Evidence e = gather(case_with_deviation(-6, -9), acts, 4000);
  REQUIRE(e.prisms.size() == 3);
  CHECK_FALSE(e.prisms[0].same_sense_stack);
  CHECK(e.prisms[1].same_sense_stack);
  CHECK(e.prisms[1].horizontal_pd == Approx(20.0));
  CHECK(e.prisms[2].held_askew);
}

TEST_CASE("four dioptres base out: what a normal patient and a scotoma show", "[findings]") {
  // Version and return; no movement of a suppressed eye (published pattern of the 4 prism test).
  const std::vector<Act> acts{
      hold_prism(3000, Eye::right, 4, base_out(Eye::right)), remove_prism(6500, Eye::right),
      hold_prism(9500, Eye::left, 4, base_out(Eye::left)), remove_prism(13000, Eye::left)};
  const Case micro = case_with(R"("deviation": {"distance_pd": 8, "near_pd": 9},
      "refraction": {"right": {"acuity_logmar": 0.3}},
      "fusion": {"distance": {"base_out_pd": [null, 10, 6], "base_in_pd": [null, 6, 3]},
                 "near": {"base_out_pd": [null, 14, 8], "base_in_pd": [null, 8, 4]}},
      "sensory": {"preferred_eye": "left", "preference": 1.0, "anomaly_pd": 4,
                  "suppression": {"eye": "right", "scotoma_diameter_deg": 3}})");
  const Evidence e = gather(micro, acts, 15000);
  REQUIRE(e.four_dioptre.size() == 2);
  CHECK(e.four_dioptre[0].seen == FourDioptreResponse::no_movement);
  CHECK(e.four_dioptre[1].seen == FourDioptreResponse::version_without_return);
}

TEST_CASE("distances are the same within a tenth", "[findings]") {
  CHECK(is_same_distance(0.43, 0.40));
  CHECK_FALSE(is_same_distance(0.33, 0.40));
  CHECK(is_same_distance(6.5, 6.0));
}

TEST_CASE("eyes under a lid that hangs are seen to move, and eyes that look down", "[findings]") {
  std::vector<Act> acts{cover(3000, Eye::right)};
  for (int i = 0; i < 4; ++i) acts.push_back(alternate(6000 + 2000 * i, i + 1));
  const auto moved = [](const Evidence& e) {
    int count = 0;
    for (const Movement& m : e.movements) {
      if (!m.under_cover && std::abs(m.shown_horizontal_pd()) > 4.0) ++count;
    }
    return count;
  };
  const Case open = case_with_deviation(-8, -9);
  Case hanging = open;
  hanging.lids.ptosis.left = Millimetres{3};
  const int usual = moved(gather(open, acts, 16000));
  CHECK(usual >= 4);
  CHECK(moved(gather(hanging, acts, 16000)) == usual);
  acts.insert(acts.begin(), show(0, 6.0, 0.0, -25.0));
  CHECK(moved(gather(open, acts, 16000)) == usual);
}
