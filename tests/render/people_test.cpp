// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Invented faces: as many as are wanted, each its own, within what people's faces measure.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "render/face/invention.hpp"
#include "render/face/people.hpp"

using namespace redress::face;
using redress::scene::PatientAppearance;

namespace {

// What one sees at once, each in steps that can just be told apart (judgement).
std::vector<float> features(const PatientAppearance& a) {
  return {a.melanin / 0.08F,          a.yellow / 0.15F,           a.iris_outer.red / 0.02F,
          a.iris_outer.blue / 0.03F,  a.hair.red / 0.04F,         a.grey_hair / 0.2F,
          a.crease_depth / 0.3F,      a.epicanthus / 0.25F,       a.nose_width / 0.2F,
          a.nose_bridge / 0.25F,      a.brow_width_mm / 1.2F,     a.brow_arch_mm / 1.2F,
          a.wrinkles / 0.25F,         a.interpupillary_mm / 3.0F, a.face_scale / 0.06F,
          a.fissure_length_mm / 1.5F, a.freckles / 0.3F,          a.upper_margin_mm[1] / 0.8F};
}

float distance(const PatientAppearance& a, const PatientAppearance& b) {
  const std::vector<float> x = features(a);
  const std::vector<float> y = features(b);
  float sum = 0;
  for (std::size_t i = 0; i < x.size(); ++i) sum += (x[i] - y[i]) * (x[i] - y[i]);
  return std::sqrt(sum);
}

}  // namespace

TEST_CASE("thirty-two people ship, from infancy to old age, and no two look alike") {
  const std::vector<Person>& all = people();
  REQUIRE(all.size() == 32);
  std::set<std::string> keys;
  float youngest = 100;
  float oldest = 0;
  int light = 0;
  int dark = 0;
  int single_lids = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    INFO(all[i].key);
    CHECK(keys.insert(std::string(all[i].key)).second);
    CHECK_FALSE(all[i].description.empty());
    youngest = std::min(youngest, all[i].look.age_years);
    oldest = std::max(oldest, all[i].look.age_years);
    light += all[i].look.melanin < 0.15F ? 1 : 0;
    dark += all[i].look.melanin > 0.7F ? 1 : 0;
    single_lids += all[i].look.crease_depth < 0.6F ? 1 : 0;
    for (std::size_t k = 0; k < i; ++k) {
      INFO(all[k].key);
      CHECK(distance(all[i].look, all[k].look) > 2.0F);
    }
  }
  CHECK(youngest < 2);
  CHECK(oldest > 85);
  CHECK(light >= 5);
  CHECK(dark >= 3);
  CHECK(single_lids >= 3);
}

TEST_CASE("a seed is a face, and with another age the same face grown older") {
  const PatientAppearance young = invent_appearance(7, 24);
  CHECK(young == invent_appearance(7, 24));
  CHECK_FALSE(young == invent_appearance(8, 24));
  const PatientAppearance old = invent_appearance(7, 80);
  CHECK(old.melanin == young.melanin);
  CHECK(old.iris_fibre == young.iris_fibre);
  CHECK(old.wrinkles > young.wrinkles + 0.4F);
  CHECK(old.grey_hair > young.grey_hair);
  CHECK(old.upper_margin_mm[0] < young.upper_margin_mm[0]);
  const PatientAppearance child = invent_appearance(7, 4);
  CHECK(child.face_scale < 0.87F);
  CHECK(child.interpupillary_mm < young.interpupillary_mm - 7);
  CHECK(child.wrinkles == 0.0F);
}

TEST_CASE("a thousand invented adults measure what adults measure") {
  double pupils = 0;
  double pupils_squared = 0;
  double iris = 0;
  double kappa = 0;
  constexpr int kPeople = 1000;
  for (int s = 0; s < kPeople; ++s) {
    const PatientAppearance a = invent_appearance(static_cast<unsigned>(s), 30);
    const double between = static_cast<double>(a.interpupillary_mm);
    pupils += between;
    pupils_squared += between * between;
    iris += 2.0 * static_cast<double>(a.iris_radius_mm);
    kappa += static_cast<double>(a.kappa_deg);
    CHECK(a.upper_margin_mm[0] > 3.0F);  // MRD1 3.5 in the mean, Rana 2023
    CHECK(a.upper_margin_mm[0] < 5.0F);
    CHECK(a.fissure_length_mm > 26.5F);
    CHECK(a.fissure_length_mm < 31.5F);
  }
  const double mean = pupils / kPeople;
  const double sd = std::sqrt(pupils_squared / kPeople - mean * mean);
  CHECK(mean == Approx(63.0).margin(1.0));  // Dodgson 2004: 63
  CHECK(sd > 1.0);
  CHECK(sd < 4.0);
  CHECK(iris / kPeople == Approx(11.71).margin(0.05));  // Ruefer 2005: 11.71
  CHECK(kappa / kPeople == Approx(5.6).margin(0.2));    // Hashemi 2010: 5.46 at 40, more when young
}

TEST_CASE("ages beyond 1 to 90 are held to them") {
  CHECK(invent_appearance(3, -5) == invent_appearance(3, 1));
  CHECK(invent_appearance(3, 300) == invent_appearance(3, 90));
}
