// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/invention.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "render/face/noise.hpp"
#include "render/face/pigments.hpp"

namespace redress::face {
namespace {

using scene::Colour;
using scene::PatientAppearance;

struct Range {
  float low;
  float high;
};

/// What goes together. Weights need not add up to one.
struct Stock {
  Range melanin;
  Range blood;
  Range yellow;
  std::array<float, 5> hair;  ///< black, brown, auburn, blond, grey as a colour of its own
  std::array<float, 6> iris;  ///< blue, grey, green, hazel, brown, dark
  Range crease_depth;
  Range epicanthus;
  Range fold_mm;
  Range tilt_mm;
  Range bridge;
  Range nose_width;
  Range circles;
  Range shine;
  Range brow_density;
  Range lash_mm;
  Range lash_curl;
  float freckled;  ///< chance
};

// Judgement throughout: looks, not anthropology.
constexpr std::array<Stock, 6> kStocks{{
    {{0.03F, 0.12F},
     {0.45F, 0.65F},
     {0.0F, 0.12F},
     {0.1F, 0.45F, 0.15F, 0.3F, 0.0F},
     {0.35F, 0.2F, 0.2F, 0.15F, 0.1F, 0.0F},
     {0.8F, 1.0F},
     {0.0F, 0.1F},
     {-0.4F, 0.8F},
     {0.6F, 2.6F},
     {0.45F, 0.85F},
     {0.25F, 0.55F},
     {0.2F, 0.5F},
     {0.4F, 0.55F},
     {0.7F, 1.05F},
     {6.6F, 8.0F},
     {0.55F, 0.8F},
     0.35F},
    {{0.14F, 0.30F},
     {0.42F, 0.58F},
     {0.15F, 0.38F},
     {0.45F, 0.5F, 0.03F, 0.02F, 0.0F},
     {0.03F, 0.04F, 0.13F, 0.25F, 0.4F, 0.15F},
     {0.85F, 1.0F},
     {0.0F, 0.1F},
     {-0.3F, 0.6F},
     {0.6F, 2.4F},
     {0.55F, 0.95F},
     {0.35F, 0.65F},
     {0.5F, 0.85F},
     {0.45F, 0.6F},
     {1.0F, 1.35F},
     {7.2F, 8.4F},
     {0.65F, 0.85F},
     0.06F},
    {{0.36F, 0.64F},
     {0.40F, 0.52F},
     {0.12F, 0.30F},
     {0.9F, 0.1F, 0.0F, 0.0F, 0.0F},
     {0.0F, 0.0F, 0.02F, 0.06F, 0.5F, 0.42F},
     {0.85F, 1.0F},
     {0.0F, 0.15F},
     {-0.2F, 0.6F},
     {0.8F, 2.8F},
     {0.45F, 0.85F},
     {0.4F, 0.7F},
     {0.55F, 0.95F},
     {0.45F, 0.6F},
     {0.95F, 1.3F},
     {7.4F, 8.6F},
     {0.7F, 0.9F},
     0.02F},
    {{0.74F, 1.0F},
     {0.32F, 0.42F},
     {0.0F, 0.15F},
     {1.0F, 0.0F, 0.0F, 0.0F, 0.0F},
     {0.0F, 0.0F, 0.0F, 0.01F, 0.2F, 0.79F},
     {0.8F, 1.0F},
     {0.0F, 0.2F},
     {0.0F, 0.9F},
     {1.4F, 2.8F},
     {0.08F, 0.35F},
     {0.75F, 1.0F},
     {0.3F, 0.6F},
     {0.52F, 0.68F},
     {0.7F, 1.05F},
     {6.6F, 8.2F},
     {0.75F, 0.95F},
     0.02F},
    {{0.15F, 0.32F},
     {0.34F, 0.46F},
     {0.38F, 0.55F},
     {0.97F, 0.03F, 0.0F, 0.0F, 0.0F},
     {0.0F, 0.0F, 0.0F, 0.0F, 0.25F, 0.75F},
     {0.0F, 0.75F},
     {0.35F, 0.95F},
     {0.9F, 2.2F},
     {1.8F, 3.0F},
     {0.08F, 0.38F},
     {0.45F, 0.72F},
     {0.3F, 0.6F},
     {0.42F, 0.55F},
     {0.62F, 0.9F},
     {5.0F, 6.4F},
     {0.22F, 0.42F},
     0.05F},
    {{0.24F, 0.46F},
     {0.40F, 0.52F},
     {0.2F, 0.36F},
     {0.75F, 0.25F, 0.0F, 0.0F, 0.0F},
     {0.0F, 0.0F, 0.04F, 0.12F, 0.5F, 0.34F},
     {0.6F, 1.0F},
     {0.05F, 0.4F},
     {0.2F, 1.2F},
     {1.2F, 2.6F},
     {0.3F, 0.65F},
     {0.45F, 0.78F},
     {0.35F, 0.65F},
     {0.45F, 0.6F},
     {0.85F, 1.15F},
     {6.4F, 7.8F},
     {0.5F, 0.75F},
     0.05F},
}};

float mix(float a, float b, float share) { return a + (b - a) * share; }
Range mix(Range a, Range b, float s) { return {mix(a.low, b.low, s), mix(a.high, b.high, s)}; }

template <std::size_t N>
std::array<float, N> mix(std::array<float, N> a, const std::array<float, N>& b, float s) {
  for (std::size_t i = 0; i < N; ++i) a[i] = mix(a[i], b[i], s);
  return a;
}

Stock mix(const Stock& a, const Stock& b, float s) {
  return {mix(a.melanin, b.melanin, s),
          mix(a.blood, b.blood, s),
          mix(a.yellow, b.yellow, s),
          mix(a.hair, b.hair, s),
          mix(a.iris, b.iris, s),
          mix(a.crease_depth, b.crease_depth, s),
          mix(a.epicanthus, b.epicanthus, s),
          mix(a.fold_mm, b.fold_mm, s),
          mix(a.tilt_mm, b.tilt_mm, s),
          mix(a.bridge, b.bridge, s),
          mix(a.nose_width, b.nose_width, s),
          mix(a.circles, b.circles, s),
          mix(a.shine, b.shine, s),
          mix(a.brow_density, b.brow_density, s),
          mix(a.lash_mm, b.lash_mm, s),
          mix(a.lash_curl, b.lash_curl, s),
          mix(a.freckled, b.freckled, s)};
}

struct AtAge {
  float years;
  float value;
};

/// Linear between the points of a table, constant outside.
template <std::size_t N>
float at_age(const std::array<AtAge, N>& table, float years) {
  if (years <= table.front().years) return table.front().value;
  for (std::size_t i = 1; i < N; ++i) {
    if (years > table[i].years) continue;
    const AtAge& a = table[i - 1];
    const AtAge& b = table[i];
    return mix(a.value, b.value, (years - a.years) / (b.years - a.years));
  }
  return table.back().value;
}

constexpr std::array<AtAge, 6> kScale{
    {{1, 0.72F}, {5, 0.82F}, {10, 0.90F}, {14, 0.95F}, {18, 1}, {90, 1.01F}}};
constexpr std::array<AtAge, 6> kPupils{
    {{1, 44}, {5, 51}, {10, 56}, {14, 59}, {18, 62.3F}, {90, 62.8F}}};
constexpr std::array<AtAge, 6> kFissure{
    {{1, 22.5F}, {5, 26}, {10, 27.6F}, {17, 29.2F}, {45, 29.2F}, {85, 27}}};
constexpr std::array<AtAge, 5> kUpper{{{1, 4.5F}, {10, 4.3F}, {30, 4.0F}, {60, 3.4F}, {85, 2.9F}}};
constexpr std::array<AtAge, 4> kLower{{{1, 5.3F}, {20, 5.4F}, {60, 5.8F}, {85, 6.1F}}};
constexpr std::array<AtAge, 5> kLines{{{22, 0}, {35, 0.22F}, {50, 0.5F}, {65, 0.8F}, {80, 1}}};
constexpr std::array<AtAge, 4> kCheek{{{1, 1}, {10, 0.85F}, {25, 0.58F}, {75, 0.3F}}};
constexpr std::array<AtAge, 4> kPores{{{6, 0.15F}, {14, 0.45F}, {30, 0.6F}, {70, 0.75F}}};
constexpr std::array<AtAge, 4> kMottling{{{3, 0.3F}, {20, 0.45F}, {50, 0.6F}, {75, 0.95F}}};
constexpr std::array<AtAge, 4> kGrown{{{1, 0}, {10, 0.25F}, {18, 1}, {90, 1}}};

class Maker {
 public:
  Maker(std::uint32_t seed, float age, std::optional<bool> male)
      : chance_(seed), age_(age), stock_(find_stock()) {
    a_.seed = seed;
    a_.age_years = age;
    male_ = chance_.even() < 0.5F;  // drawn in any case: what follows keeps its draws
    male_ = male.value_or(male_);
    grown_ = at_age(kGrown, age_);
  }

  // One draw after the other, in this order: a face keeps its looks when its age is changed.
  PatientAppearance make() {
    make_lids();
    make_shape();
    make_skin();
    make_hair();
    make_eyes();
    return a_;
  }

 private:
  Stock find_stock() {
    const std::size_t first = pick_index(kStocks.size());
    const std::size_t second = pick_index(kStocks.size());
    const float share = chance_.even();
    return share < 0.75F ? kStocks[first] : mix(kStocks[first], kStocks[second], 0.5F);
  }
  std::size_t pick_index(std::size_t count) {
    return std::min(static_cast<std::size_t>(chance_.even() * static_cast<float>(count)),
                    count - 1);
  }
  template <std::size_t N>
  std::size_t pick(const std::array<float, N>& weights) {
    float sum = 0;
    for (const float w : weights) sum += w;
    float left = chance_.even() * sum;
    for (std::size_t i = 0; i < N; ++i) {
      left -= weights[i];
      if (left < 0 && weights[i] > 0) return i;
    }
    return static_cast<std::size_t>(std::max_element(weights.begin(), weights.end()) -
                                    weights.begin());
  }
  float in(Range r) { return mix(r.low, r.high, chance_.even()); }
  float about(float value, float spread) { return value + spread * chance_.middle(); }
  /// 0..1: what comes with age, sooner to some.
  float with_age(float from, float to) {
    const float own = chance_.middle() * 8.0F;
    return std::clamp((age_ + own - from) / (to - from), 0.0F, 1.0F) *
           mix(0.5F, 1.0F, chance_.even());
  }

  void make_lids() {
    a_.face_scale = at_age(kScale, age_) * about(1, 0.03F);
    a_.interpupillary_mm = at_age(kPupils, age_) + (male_ ? 1.2F : -1.2F) * grown_ + about(0, 3.0F);
    const float upper = at_age(kUpper, age_) + about(0, 0.5F);
    a_.upper_margin_mm = {upper, upper + about(0, 0.3F)};
    const float lower = at_age(kLower, age_) + about(0, 0.3F);
    a_.lower_margin_mm = {lower, lower + about(0, 0.15F)};
    a_.fissure_length_mm = at_age(kFissure, age_) + about(0, 1.2F);
    a_.telecanthus_mm = std::max(0.0F, about(-0.6F, 1.4F));
    a_.canthal_tilt_mm = in(stock_.tilt_mm) * mix(1, 0.35F, with_age(45, 85));
    a_.prominence_mm = about(0, 0.8F);
    a_.iris_radius_mm = about(5.85F, 0.22F);  // 11.7 (SD 0.4) mm across: Ruefer 2005
    a_.crease_depth = in(stock_.crease_depth);
    a_.crease_show_mm = about(2.6F, 1.0F) * mix(0.8F, 1, grown_);
    const float child = 1 - grown_;
    a_.epicanthus = std::min(1.0F, in(stock_.epicanthus) + 0.3F * child);
    a_.fold_fullness_mm = in(stock_.fold_mm) + 0.7F * child - 0.9F * with_age(55, 85);
    a_.hooding = with_age(42, 78);
    a_.bags = with_age(38, 72);
    a_.wrinkles =
        std::clamp(at_age(kLines, age_) + about(0, 0.12F) * (age_ > 25 ? 1.0F : 0.0F), 0.0F, 1.0F);
  }

  void make_shape() {
    a_.brow_ridge = grown_ * std::clamp(about(male_ ? 0.6F : 0.22F, 0.18F), 0.0F, 1.0F);
    a_.nose_bridge = in(stock_.bridge) * mix(0.25F, 1, grown_);
    a_.nose_width = std::min(1.0F, in(stock_.nose_width) + (male_ ? 0.06F : -0.04F) * grown_);
    a_.cheek = std::clamp(at_age(kCheek, age_) + about(0, 0.12F), 0.0F, 1.0F);
  }

  void make_skin() {
    a_.melanin = in(stock_.melanin);
    a_.blood = in(stock_.blood);
    a_.yellow = in(stock_.yellow);
    const bool freckled = chance_.even() < stock_.freckled;
    a_.freckles = mix(freckled ? 0.35F : 0.0F, freckled ? 0.95F : 0.12F, chance_.even());
    if (age_ < 3) a_.freckles = 0;
    a_.mottling = std::clamp(at_age(kMottling, age_) + about(0, 0.1F), 0.0F, 1.0F);
    a_.shine = in(stock_.shine) * mix(0.85F, 1, grown_);
    a_.pores = std::clamp(at_age(kPores, age_) + about(0, 0.1F), 0.0F, 1.0F);
    a_.coarse_pores = grown_ * std::max(0.0F, about(0.1F, 0.45F));
    a_.circles = in(stock_.circles) * mix(0.3F, 1, grown_);
  }

  void make_hair() {
    constexpr std::array<Colour, 5> kHair{pigment::kBlack, pigment::kBrown, pigment::kAuburn,
                                          pigment::kBlond, pigment::kGrey};
    a_.hair = kHair[pick(stock_.hair)];
    a_.grey_hair = 0.75F * with_age(36, 80);
    if (a_.grey_hair > 0.55F) a_.hair = pigment::kGrey;
    const float man = male_ ? grown_ : 0.0F;
    a_.brow_start_mm = about(mix(14.3F, 12.4F, man), 0.9F) * mix(0.93F, 1, grown_);
    a_.brow_arch_mm = about(mix(4.7F, 3.3F, man), 0.8F) * mix(0.65F, 1, grown_);
    a_.brow_width_mm = about(mix(4.3F, 6.3F, man), 0.8F) * mix(0.9F, 1, grown_);
    a_.brow_density =
        in(stock_.brow_density) * mix(0.55F, 1, grown_) * (1 - 0.3F * with_age(60, 85));
    a_.brow_hair_mm =
        mix(5, about(mix(7, 7.8F, man), 0.8F), grown_) + 1.6F * man * with_age(55, 80);
    a_.brow_asymmetry_mm = about(0.3F, 1.3F);
    a_.brow_gap_mm = about(mix(9.6F, 8.4F, man), 1.2F) * a_.face_scale;
    a_.lash_mm = in(stock_.lash_mm) * mix(1, 0.94F, man) * (1 - 0.22F * with_age(55, 85));
    a_.lash_density = std::max(0.55F, about(1, 0.15F) - 0.3F * with_age(58, 85));
    a_.lash_curl = in(stock_.lash_curl);
    a_.scalp_hair = age_ < 2 ? 0.4F : (man > 0.9F && chance_.even() < 0.15F ? 0.0F : 1.0F);
  }

  void make_eyes() {
    const IrisColour iris = pigment::kIrises[pick(stock_.iris)];
    // Nobody's iris is quite another's.
    const float warmth = about(1, 0.12F);
    const float depth = about(1, 0.15F);
    a_.iris_outer = {iris.outer.red * depth * warmth, iris.outer.green * depth,
                     iris.outer.blue * depth / warmth};
    a_.iris_inner = {iris.inner.red * warmth, iris.inner.green, iris.inner.blue / warmth};
    a_.iris_fibre = std::clamp(about(iris.fibre, 0.12F), 0.4F, 1.0F);
    a_.limbal_ring = std::clamp(about(0.85F, 0.2F) - 0.4F * with_age(30, 70), 0.2F, 1.0F);
    a_.arcus = 0.85F * with_age(52, 85);
    a_.redness =
        std::max(0.03F, about(0.22F, 0.15F) * mix(0.3F, 1, grown_) + 0.2F * with_age(45, 80));
    a_.sclera_yellow =
        std::min(0.65F, 0.55F * a_.melanin * grown_ + 0.35F * with_age(40, 80) + 0.05F);
    // 5.46 (SD 1.33) degrees, 0.015 less a year of age: Hashemi 2010.
    a_.kappa_deg = about(5.46F - 0.015F * (age_ - 40), 2.6F);
  }

  Chance chance_;
  float age_;
  Stock stock_;
  PatientAppearance a_;
  bool male_ = false;
  float grown_ = 1;
};

}  // namespace

PatientAppearance invent_appearance(std::uint32_t seed, float age_years, std::optional<bool> male) {
  return Maker(seed, std::clamp(age_years, 1.0F, 90.0F), male).make();
}

}  // namespace redress::face
