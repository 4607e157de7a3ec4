// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One procedure, one story: what somebody does, and what the eyes and the record of it show. Covers
// and prisms; the others are in further_procedures_test.cpp. Noise off unless said. Signs: eso +,
// exo -, as a deviation.
#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/findings/evidence.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::findings;
using namespace redress::tests;

namespace {

Evidence watch(const Case& c, const std::vector<Act>& acts, Tick until, double noise = 0.0) {
  return gather_evidence(setup_of(c), acts, Chance{1, noise, true}, until);
}

/// The cover crosses over, `transfers` times, 1.5 s on each eye; both open at the end.
void alternate(std::vector<Act>& acts, Tick& t, int transfers) {
  for (int i = 0; i <= transfers; ++i, t += 1500) {
    acts.push_back(cover(t, i % 2 == 0 ? Eye::right : Eye::left));
  }
}

const Case& constant_right_eso() {
  static const Case c = case_with(R"("deviation": {"distance_pd": 20, "near_pd": 20},
    "fusion": {"present": false},
    "sensory": {"preferred_eye": "left", "preference": 1.0,
                "suppression": {"eye": "right", "scotoma_diameter_deg": 5}})");
  return c;
}

double spread_deg(const Trace& trace, Eye eye, Tick from, Tick to) {
  double sum = 0.0;
  double squares = 0.0;
  for (Tick t = from; t < to; ++t) {
    const double x = trace.at(t).eye[eye].horizontal_deg;
    sum += x;
    squares += x * x;
  }
  const auto n = static_cast<double>(to - from);
  return std::sqrt(std::max(0.0, squares / n - sum / n * sum / n));
}

}  // namespace

TEST_CASE("story: fixation is checked before anything else", "[story]") {
  // Letters of 0.2 at 6 m. A healthy eye holds them within a fifth of a degree or so (fixation SD
  // 0.1 to 0.3 degrees, from memory); with its fellow covered, an eye of 1.3 logMAR cannot make
  // them out and wanders. Practice (2.10, a design target) asks for 1 degree rms; this patient
  // wanders by 0.56 across, so that what is held here is that anybody sees the difference.
  const std::vector<Act> acts{show(0, 6.0), cover(1000, Eye::left)};
  const Trace healthy = run_story(case_with_deviation(0, 0), acts, 15'000, 1.0);
  const double held = spread_deg(healthy, Eye::right, 4000, 14'000);
  CHECK(held < 0.3);
  const Case poor = case_with(R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "refraction": {"right": {"acuity_logmar": 1.3}, "left": {"acuity_logmar": 0.0}})");
  const Trace wandering = run_story(poor, acts, 15'000, 1.0);
  CHECK(spread_deg(wandering, Eye::right, 4000, 14'000) > 3.0 * held);
}

TEST_CASE("story: cover and uncover of a latent deviation", "[story]") {
  // Exophoria of 6: the eye left free does not move, the covered one goes out under cover and comes
  // back when it is freed.
  std::vector<Act> acts{show(0, 6.0)};
  Tick t = 4000;
  for (const Eye eye : {Eye::right, Eye::left}) {
    acts.push_back(cover(t, eye));
    acts.push_back(uncover(t + 5000));
    t += 10'000;
  }
  const Evidence e = watch(case_with_deviation(-6, -6), acts, t);
  REQUIRE(e.covers.size() == 2);
  int back = 0;
  for (const Movement& m : e.movements) {
    const bool fellow_on_cover = m.cause == Cause::cover && !m.under_cover;
    CHECK_FALSE(fellow_on_cover);
    if (m.cause != Cause::uncover || m.eye != e.covers[static_cast<std::size_t>(back)].eye)
      continue;
    CHECK(m.shown_horizontal_pd() == Approx(-6.0).margin(0.5));
    ++back;
    if (back == 2) break;
  }
  CHECK(back == 2);
  for (const CoverSpan& span : e.covers) {
    CHECK(span.regained_ms.has_value());
    CHECK(span.view_on_uncover > 0.9);
  }
}

TEST_CASE("story: cover and uncover of a constant squint", "[story]") {
  // Right esotropia of 20: covering the left eye makes the right one come out by 20; covering the
  // right moves nothing.
  const std::vector<Act> acts{show(0, 6.0), cover(4000, Eye::right), uncover(8000),
                              cover(12'000, Eye::left), uncover(16'000)};
  const Evidence e = watch(constant_right_eso(), acts, 20'000);
  bool moved = false;
  for (const Movement& m : e.movements) {
    if (m.cause != Cause::cover || m.under_cover) continue;
    CHECK(m.eye == Eye::right);
    CHECK(m.shown_horizontal_pd() == Approx(20.0).margin(1.0));
    CHECK(m.event_ms > 11'000);
    moved = true;
  }
  CHECK(moved);
}

TEST_CASE("story: the alternating cover shows all there is", "[story]") {
  std::vector<Act> acts{show(0, 6.0)};
  Tick t = 4000;
  alternate(acts, t, 8);
  acts.push_back(uncover(t));
  const Evidence e = watch(case_with_deviation(-8, -8), acts, t + 3000);
  // Short covers show less than 1 below the whole (clinical notes, section 9, [61b]).
  double last = 0.0;
  for (const Movement& m : e.movements) {
    if (m.cause == Cause::transfer && !m.under_cover) last = m.shown_horizontal_pd();
  }
  CHECK(last == Approx(-8.0).margin(1.0));
  int transfers = 0;
  for (const CoverSpan& span : e.covers) {
    transfers += span.transfer_in ? 1 : 0;
    CHECK_FALSE(span.fused_in_glimpse);
  }
  CHECK(transfers == 8);
}

TEST_CASE("story: prism and alternating cover, bracketed to reversal", "[story]") {
  // Practice, 3.5: base in 0, 4, 8 and 10 on an exophoria of 8 leave 8, 4, 0 and the reverse of 2.
  std::vector<Act> acts{show(0, 6.0)};
  Tick t = 4000;
  alternate(acts, t, 4);
  for (const double label : {4.0, 8.0, 10.0}) {
    acts.push_back(hold_prism(t, Eye::right, label, base_in(Eye::right)));
    t += 300;
    alternate(acts, t, 5);
  }
  acts.push_back(uncover(t));
  const Evidence e = watch(case_with_deviation(-8, -8), acts, t + 2000);
  REQUIRE(e.prisms.size() == 3);
  const double left[] = {-4.0, 0.0, 2.0};
  for (std::size_t i = 0; i < 3; ++i) {
    INFO("label " << e.prisms[i].horizontal_pd);
    CHECK(e.prisms[i].transfers >= 4);
    CHECK(e.prisms[i].residual_horizontal_pd == Approx(left[i]).margin(0.5));
    CHECK_FALSE(e.prisms[i].open);
  }
}

TEST_CASE("story: simultaneous prism and cover measures what is manifest", "[story]") {
  // Prism before the squinting eye as the cover comes before the other: with the right label it
  // does not move (Holmes et al. 2008 for what it measures); with half of it, half is left.
  for (const double label : {20.0, 10.0}) {
    INFO("label " << label);
    const std::vector<Act> acts{
        show(0, 6.0), hold_prism(4000, Eye::right, label, base_out(Eye::right)),
        cover(4000, Eye::left), uncover(8000), remove_prism(8000, Eye::right)};
    const Evidence e = watch(constant_right_eso(), acts, 12'000);
    REQUIRE(e.prisms.size() == 1);
    CHECK(e.prisms[0].with_cover);
    CHECK(e.prisms[0].transfers == 0);
    CHECK(e.prisms[0].left_with_cover_pd == Approx(20.0 - label).margin(1.2));
  }
}

TEST_CASE("story: four dioptres in and out, before each eye", "[story]") {
  // Out: both eyes go towards the apex and the fellow comes back (clinical notes, section 9). In is
  // the same the other way: the tested eye goes out.
  for (const Eye eye : kBothEyes) {
    for (const bool out : {true, false}) {
      INFO(name_of(eye) << (out ? ", base out" : ", base in"));
      const double base = out ? base_out(eye) : base_in(eye);
      const std::vector<Act> acts{show(0, 6.0), hold_prism(3000, eye, 4, base),
                                  remove_prism(6500, eye)};
      const Trace trace = run_story(case_with_deviation(0, 0), acts, 9000);
      const auto turned = [&](Eye e, Tick t) {
        return trace.at(t).eye[e].horizontal_deg - trace.at(2900).eye[e].horizontal_deg;
      };
      // 4 prism dioptres are 2.29 degrees. The tested eye ends there, the fellow where it was.
      const double way = (out ? -1.0 : 1.0) * side_of(eye) * 2.29;
      CHECK(turned(eye, 6400) == Approx(way).margin(0.3));
      CHECK(turned(fellow(eye), 6400) == Approx(0.0).margin(0.3));
      double furthest = 0.0;
      for (Tick t = 3000; t < 4000; ++t) {
        const double went = turned(fellow(eye), t) * (way > 0.0 ? 1.0 : -1.0);
        furthest = std::max(furthest, went);
      }
      CHECK(furthest > 0.9);  // the version that comes first
    }
  }
}

TEST_CASE("story: a cover with a gap shows nothing, and is told from a cover", "[story]") {
  // The occluder 6 mm beside the line of sight: the eye sees past it and the phoria stays fused
  // (practice, 2.8 d: less than 10 % of it appears).
  act::MoveOccluder hand;
  hand.x_mm = 31.5 + 25.0 + 6.0;
  hand.z_mm = -33.0;
  const std::vector<Act> acts{show(0, 6.0), {4000, hand}, uncover(9000)};
  const Case c = case_with_deviation(-8, -8);
  const Evidence e = watch(c, acts, 12'000);
  CHECK(e.covers.empty());
  REQUIRE(e.peeks.size() == 1);
  CHECK(e.peeks[0].eye == Eye::right);
  CHECK(e.peeks[0].to_ms - e.peeks[0].from_ms > 4000);
  const Trace trace = run_story(c, acts, 9000);
  CHECK(std::abs(trace.deviation_pd(8900)) < 0.8);
}

TEST_CASE("story: an occluder held far from the eye hides it from the practitioner", "[story]") {
  // 20 mm before the cornea the occluder is out of the way once it has left; 350 mm before it, most
  // of the way to the practitioner, one of the practitioner's own eyes loses the patient's other
  // eye.
  const auto lost = [](double z_mm) {
    act::MoveOccluder hand;
    hand.x_mm = 31.5;
    hand.z_mm = z_mm;
    const Evidence e =
        watch(case_with_deviation(-6, -6), {show(0, 6.0), {3000, hand}, uncover(8000)}, 10'000);
    REQUIRE(e.covers.size() == 1);
    CHECK(e.covers[0].eye == Eye::right);
    return e.covers[0].own_eye_lost_ms;
  };
  const PerEye<Tick> close = lost(-33.0);
  const PerEye<Tick> far = lost(-350.0);
  INFO("close " << close.right << ", " << close.left << "; far " << far.right << ", " << far.left);
  CHECK(close.right + close.left < 500);
  CHECK(std::max(far.right, far.left) >= 500);
}
